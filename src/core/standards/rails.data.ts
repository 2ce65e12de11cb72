import type { Sourced } from './source.ts'

/** A rail section; the code is its height in thousandths of an inch. Inches, as printed. */
export interface RailSection extends Sourced {
  readonly code: number
  readonly heightIn: number
  readonly baseIn: number
  readonly headIn: number
}

const row = (code: number, heightIn: number, baseIn: number, headIn: number): RailSection => ({
  code,
  heightIn,
  baseIn,
  headIn,
  source: 'NMRA-RP-15.1',
  clause: 'table 1',
  status: 'read',
})

/** Printed sections, low to high. */
export const railSections: readonly RailSection[] = [
  row(32, 0.032, 0.032, 0.016),
  row(40, 0.04, 0.04, 0.02),
  row(55, 0.055, 0.055, 0.028),
  row(70, 0.07, 0.07, 0.035),
  row(83, 0.083, 0.08, 0.04),
  row(100, 0.1, 0.09, 0.045),
  row(125, 0.125, 0.125, 0.063),
  row(148, 0.148, 0.132, 0.066),
  row(172, 0.172, 0.156, 0.078),
  row(208, 0.208, 0.188, 0.094),
  row(250, 0.25, 0.224, 0.112),
  row(297, 0.297, 0.25, 0.125),
]
