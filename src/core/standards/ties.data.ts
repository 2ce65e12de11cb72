import type { Sourced } from './source.ts'

/** Ties of full-size track by what runs over them. Inches, full size. */
export interface TieRow extends Sourced {
  readonly use: 'main' | 'branch' | 'siding' | 'yard' | 'turnout'
  readonly spacingIn: number
  readonly widthIn: number
  readonly thicknessIn: number
}

const row = (use: TieRow['use'], spacingIn: number, widthIn: number, thicknessIn: number, clause: string): TieRow => ({
  use,
  spacingIn,
  widthIn,
  thicknessIn,
  source: 'TIE-SPACING',
  clause,
  status: 'read',
})

/** Standard gauge, North America, from the 1920s. */
export const tieRows: readonly TieRow[] = [
  row('main', 19.5, 9, 7, '24 to a 39 ft rail'),
  row('branch', 22.5625, 9, 7, 'one road’s book of 1929'),
  row('siding', 22.5625, 9, 7, 'one road’s book of 1929'),
  row('yard', 25.75, 8, 6, 'one road’s book of 1929'),
  row('turnout', 20, 9, 7, '17 to 21 in by place; 20 taken'),
]

/** Under jointed rail ends, full size: 17 to 18 in. [TIE-SPACING] */
export const JOINT_TIE_SPACING_IN = 17.5

/** Length of a standard gauge tie, full size: 8 ft 6 in. */
export const TIE_LENGTH_IN = 102
export const TIE_WIDTH_IN = 9
export const TIE_THICKNESS_IN = 7
/** Narrow gauge ties reach 21 in beyond each rail: 3 ft gauge gives 6 ft 6 in. [COMMON-PRACTICE] */
export const NARROW_TIE_OVER_GAUGE_IN = 42
export const NARROW_TIE_WIDTH_IN = 8
export const NARROW_TIE_THICKNESS_IN = 6
/** Narrow gauge tie spacing on every class of line. [COMMON-PRACTICE] */
export const NARROW_TIE_SPACING_IN = 22

/** Ties of a time and a kind of railway, full size, inches. lengthIn null: the gauge and so much beyond each rail. */
export interface TiePreset extends Sourced {
  readonly key: 'main-1920s' | 'siding-1920s' | 'yard-1920s' | 'early' | 'narrow'
  readonly name: string
  readonly spacingIn: number
  readonly lengthIn: number | null
  readonly widthIn: number
  readonly thicknessIn: number
  /** Beside rail joints; null: as elsewhere. */
  readonly jointSpacingIn: number | null
}

/** A row of the table as a preset, with standard gauge's length. */
function presetOf(key: TiePreset['key'], name: string, use: TieRow['use'], jointSpacingIn: number | null): readonly TiePreset[] {
  return tieRows.flatMap(({ use: of, ...sizes }) => (of === use ? { key, name, lengthIn: TIE_LENGTH_IN, jointSpacingIn, ...sizes } : []))
}

/** What a builder starts from; a second size of tie for each time is seen. */
export const tiePresets: readonly TiePreset[] = [
  ...presetOf('main-1920s', 'Main line, from the 1920s', 'main', JOINT_TIE_SPACING_IN),
  ...presetOf('siding-1920s', 'Passing siding or branch, from the 1920s', 'siding', null),
  ...presetOf('yard-1920s', 'Yard or spur, from the 1920s', 'yard', null),
  {
    key: 'early',
    name: 'Light rail of the 1860s',
    spacingIn: 36,
    lengthIn: 96,
    widthIn: 8,
    thicknessIn: 6,
    jointSpacingIn: null,
    source: 'COMMON-PRACTICE',
    clause: 'ties of 8 ft, up to 36 in apart',
    status: 'from-memory',
  },
  {
    key: 'narrow',
    name: 'Narrow gauge',
    spacingIn: NARROW_TIE_SPACING_IN,
    lengthIn: null,
    widthIn: NARROW_TIE_WIDTH_IN,
    thicknessIn: NARROW_TIE_THICKNESS_IN,
    jointSpacingIn: null,
    source: 'COMMON-PRACTICE',
    clause: '6 ft 6 in for 3 ft gauge, 22 in apart',
    status: 'from-memory',
  },
]
