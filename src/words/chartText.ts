import type { Corner, Track } from '../core/plan/types.ts'
import { lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { cornerName, nameRead } from './names.ts'

/** What draws a hand on the chart to a value, or forbids it. */
export type PullReason = 'byClass' | 'classMinimum' | 'noEasement' | 'otherSide' | 'tooFlat'

export function pullReasonText(reason: PullReason, className: string, flattestMm: number, prefs: MeasurePrefs): string {
  switch (reason) {
    case 'byClass':
      return `as ${className} has it`
    case 'classMinimum':
      return `the least of ${className}`
    case 'noEasement':
      return 'no easement'
    case 'otherSide':
      return 'To which side it turns the PIs say: move one of them on the plan.'
    case 'tooFlat':
      return `Flatter than ${lengthText(flattestMm, prefs, 'room')} nothing is pulled here: type it.`
  }
}

/** One radius of a curve; of several each by its number. */
export function radiusName(track: Track, index: number, arc: number): string {
  const isOneOfSeveral = typeof track.corners[index]?.radius === 'object'
  return isOneOfSeveral ? `Radius ${arc + 1} of ${cornerName(track, index)}` : `Radius of ${cornerName(track, index)}`
}

export function easementName(track: Track, index: number, side: 'in' | 'out'): string {
  return `Easement ${side} of ${cornerName(track, index)}`
}

/** A radius with what its class asks: the sign of a breach is a word too. */
export function radiusSays(mm: number, lineClass: { readonly name: string; readonly minRadiusMm: number }, prefs: MeasurePrefs): string {
  const isUnder = mm < lineClass.minRadiusMm - 1e-6
  return `${lengthText(mm, prefs)}, ${isUnder ? 'under' : 'within'} the ${lengthText(lineClass.minRadiusMm, prefs)} that ${nameRead(lineClass.name)} asks`
}

export function easementSays(mm: number, given: Corner['easementIn'], prefs: MeasurePrefs): string {
  if (mm === 0 && given !== 'class') return 'none'
  return given === 'class' ? `${lengthText(mm, prefs)}, by class` : lengthText(mm, prefs)
}
