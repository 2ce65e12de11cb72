import { endsHoldMm } from '../core/network/index.ts'
import type { EndMet } from '../core/network/index.ts'
import type { Plan, TrackEnd, TrackStart } from '../core/plan/types.ts'
import { angleText, lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { recordName } from './names.ts'

/** A turn in a joint that shows in the third digit is told, rad: a hundredth of a degree. */
const noKinkRad = 1.75e-4

/** What holds an end of a track. met: the end of another track that it meets; null: none. */
export function endText(end: TrackStart | TrackEnd, met: EndMet | null, plan: Plan, prefs: MeasurePrefs): string {
  switch (end.kind) {
    case 'free':
      return met === null ? 'free' : metText(met, plan, prefs)
    case 'leg':
      return `leg of ${recordName(plan, 'turnouts', end.turnout)}`
    case 'closed':
      return 'returns to the start'
  }
}

function metText({ track, gapMm, kinkRad }: EndMet, plan: Plan, prefs: MeasurePrefs): string {
  const name = recordName(plan, 'tracks', track)
  if (gapMm > endsHoldMm) return `free, ${lengthText(gapMm, prefs)} from ${name}`
  const kink = Math.abs(kinkRad) < noKinkRad ? '' : `, with a kink of ${angleText(kinkRad)}`
  return `joined: goes on into ${name}${kink}`
}
