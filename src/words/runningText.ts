import type { HurdleName } from '../core/clearance/index.ts'
import type { Lined, RouteEnd } from '../core/network/index.ts'
import type { Plan } from '../core/plan/types.ts'
import { lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { recordName } from './names.ts'

/** What a car comes near. */
export function hurdleText({ kind, record }: HurdleName, plan: Plan): string {
  if (record === null) return 'the edge of the benchwork'
  return kind === 'tracks' ? `what runs on ${recordName(plan, kind, record)}` : recordName(plan, kind, record)
}

/** Why a train goes no farther. */
export function routeEndText(end: RouteEnd, plan: Plan): string {
  switch (end.kind) {
    case 'trackEnd':
      return `${recordName(plan, 'tracks', end.track)} ends here.`
    case 'legEnd':
      return `No track leaves the ${end.leg} leg of ${recordName(plan, 'turnouts', end.turnout)} yet.`
    case 'goesOn':
      return 'The line here is not solved.'
  }
}

/** How points lie. */
export function linedText(lined: Lined): string {
  switch (lined) {
    case 'straight':
      return 'straight'
    case 'diverging':
      return 'diverging'
    case 'other':
      return 'other leg'
  }
}

/** Room to stand is known to about a centimetre, on the free side: it is told to the quarter inch or the five millimetres below. */
const roomGrainMm = { imperial: 25.4 / 4, metric: 5, both: 1 } as const

/** How long a room to stand is. */
export function roomLengthText(lengthMm: number, prefs: MeasurePrefs): string {
  const grainMm = roomGrainMm[prefs.units]
  return lengthText(Math.floor(lengthMm / grainMm + 1e-9) * grainMm, prefs, 'room')
}

/** How much of a track is clear of others, and how many cars of a kind stand there. */
export function roomText(lengthMm: number, cars: { readonly name: string; readonly count: number } | null, prefs: MeasurePrefs): string {
  return `${roomLengthText(lengthMm, prefs)} clear${cars === null ? '' : ` · ${cars.count} × ${cars.name}`}`
}
