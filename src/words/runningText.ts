import type { HurdleGap, HurdleName } from '../core/clearance/index.ts'
import type { Lined, RouteEnd } from '../core/network/index.ts'
import type { Plan } from '../core/plan/types.ts'
import { lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { nameRead, recordName } from './names.ts'

/** What a car comes near. */
function hurdleText({ kind, record }: HurdleName, plan: Plan): string {
  if (record === null) return 'the edge of the benchwork'
  return kind === 'tracks' ? `what runs on ${recordName(plan, kind, record)}` : recordName(plan, kind, record)
}

/** Deeper than this one stands in the other and does not only touch it, mm. */
const touchMm = 0.1

/** A gap, short. */
export function gapText(gapMm: number, prefs: MeasurePrefs): string {
  if (gapMm > 0) return lengthText(gapMm, prefs)
  return gapMm < -touchMm ? `${lengthText(-gapMm, prefs)} overlap` : 'touches'
}

/** How near something comes to a hurdle, or how far it reaches into it. */
export function tightestText({ gapMm, name }: Pick<HurdleGap, 'gapMm' | 'name'>, plan: Plan, prefs: MeasurePrefs): string {
  const what = hurdleText(name, plan)
  if (gapMm > 0) return `Tightest gap ${lengthText(gapMm, prefs)} to ${what}`
  return gapMm < -touchMm ? `Reaches ${lengthText(-gapMm, prefs)} into ${what}` : `Touches ${what}`
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
  return `${roomLengthText(lengthMm, prefs)} clear${cars === null ? '' : ` · ${cars.count} × ${nameRead(cars.name)}`}`
}
