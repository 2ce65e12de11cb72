import { angleText, frogText } from './measure.ts'
import type { SlipChoice, TurnoutKind, TurnoutLeg } from '../core/plan/types.ts'

/** Kinds of turnouts, each in a word. */
export const turnoutKindChoices: readonly { readonly value: TurnoutKind['kind']; readonly text: string }[] = [
  { value: 'plain', text: 'plain' },
  { value: 'wye', text: 'wye' },
  { value: 'three-way', text: 'three-way' },
  { value: 'stub', text: 'stub' },
]

/** Slips of a crossing, seen along its first track. */
export const slipChoices: readonly { readonly value: SlipChoice; readonly text: string }[] = [
  { value: 'none', text: 'none' },
  { value: 'single-left', text: 'left' },
  { value: 'single-right', text: 'right' },
  { value: 'double', text: 'both' },
]

/** Whether tracks leave a turnout to both hands. */
export const hasTwoLegs = ({ kind }: TurnoutKind): boolean => kind === 'wye' || kind === 'three-way'

/** A leg as it is called where a turnout has more than one. */
export function legWord(leg: TurnoutLeg, hand: 'left' | 'right'): string {
  const side = leg === 'diverging' ? hand : hand === 'left' ? 'right' : 'left'
  return `${side} leg`
}

/** A turnout's kind where it is not the plain one, with a blank behind. */
export function kindPrefix({ kind }: TurnoutKind): string {
  return kind === 'plain' ? '' : `${kind} `
}

/** Steeper crossings are called by their angle. */
const leastCrossingNumber = 3

/** A flat crossing goes by its frog number, to a tenth, a steep one by its angle. */
export function crossingSizeText(number: number, angleRad: number): string {
  return number >= leastCrossingNumber ? frogText(Math.round(number * 10) / 10) : angleText(angleRad)
}

/** Frog numbers that can be built. */
export const frogsBuilt = { least: 4, most: 20 } as const

export const frogRangeText = `Frog numbers from ${frogsBuilt.least} to ${frogsBuilt.most} can be built here, fractions too.`

export function isFrogBuilt(frog: number): boolean {
  return frog >= frogsBuilt.least && frog <= frogsBuilt.most
}
