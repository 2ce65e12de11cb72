import type { RuleName } from '../core/checks/types.ts'
import type { LineClass } from '../core/plan/types.ts'

/** Rules that a line class can have told otherwise, in the order in which they are shown. */
export const classRules: readonly { readonly rule: RuleName; readonly text: string }[] = [
  { rule: 'minimum-radius', text: 'Curve under class radius' },
  { rule: 'car-radius', text: 'Curve sharp for the longest car' },
  { rule: 'coupling-radius', text: 'Curve too sharp to couple on' },
  { rule: 'short-curve', text: 'Curve too short' },
  { rule: 'easement-short', text: 'Easement too short' },
  { rule: 'easement-fit', text: 'Curve or easements do not fit' },
  { rule: 'reverse-curve', text: 'Reverse curve' },
  { rule: 'broken-back', text: 'Broken-back curve' },
  { rule: 'coupler-swing', text: 'Couplers swing too far' },
  { rule: 'benchwork-edge', text: 'Track near the edge' },
  { rule: 'roadbed-edge', text: 'Roadbed past the edge' },
  { rule: 'roadbed-overlap', text: 'Roadbeds overlap' },
  { rule: 'track-clearance', text: 'Tracks too close' },
  { rule: 'fixed-clearance', text: 'Cars too close to the room' },
  { rule: 'reach', text: 'Track out of reach' },
  { rule: 'minimum-frog', text: 'Frog under class number' },
  { rule: 'check-dimensions', text: 'Check dimensions' },
  { rule: 'crossing-build', text: 'Crossings' },
  { rule: 'throw-room', text: 'Joist below the throw' },
]

export type RuleTold = LineClass['rules'][string] | 'usual'

export const toldChoices: readonly { readonly value: RuleTold; readonly text: string }[] = [
  { value: 'usual', text: 'as usual' },
  { value: 'error', text: 'as an error' },
  { value: 'warning', text: 'as a warning' },
  { value: 'off', text: 'not at all' },
]
