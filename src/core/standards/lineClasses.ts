import { curvatureRows } from './curvature.data.ts'
import { gaugeByKey } from './gauges.ts'
import type { GaugeRow } from './gauges.data.ts'
import { roadbedForClass } from './laying.ts'
import { NARROW_BELOW_MM, railwayForGauge } from './railway.ts'
import { JOINT_TIE_SPACING_IN, NARROW_TIE_SPACING_IN, tieRows, type TieRow } from './ties.data.ts'

export type LineClassKey = 'main' | 'branch' | 'siding' | 'yard'

/** A line class filled from the standards; same shape as the plan's own record. `id` is the key of the class. */
export interface StandardLineClass {
  readonly id: LineClassKey
  readonly name: string
  readonly minRadiusMm: number
  readonly usualRadiusMm: number
  readonly easement: { readonly kind: 'none' } | { readonly kind: 'shift'; readonly shiftMm: number }
  readonly minFrog: number
  readonly usualFrog: number
  readonly trackCentresMm: number
  readonly tieSpacingMm: number
  readonly maxGrade: number
  readonly cars: readonly []
  readonly minCurveMm: 0
  readonly widening: readonly []
  readonly rules: { readonly [rule: string]: never }
  readonly curveCarLengths: number
  readonly couplingCarLengths: number
  readonly rail: 'railway'
  readonly tie: 'railway'
  readonly jointTieSpacingMm: number | null
  readonly roadbed: ReturnType<typeof roadbedForClass>
  readonly superelevationMm: number
}

const HO_RATIO = 87.1
const STANDARD_GAUGE_MM = 1435

/**
 * A car runs well on a radius of 3 times its length over couplers, on 2 1/2 times where cars are alike, and couples by itself on 5 times. New
 * classes ask 2 1/2: the longest car that may come is not all that runs on the printed radii. None asks for coupling: 5 times the
 * length is more than most printed radii of industrial track, and the builder says where cars shall couple by themselves. [COMMON-PRACTICE]
 */
const CURVE_CAR_LENGTHS = 2.5

/** The four classes of a scale by its key; null: no such key. */
export function lineClassesForScale(key: string): readonly StandardLineClass[] | null {
  const row = gaugeByKey(key)
  return row ? lineClassesForGauge(row) : null
}

/**
 * Main, branch, siding and yard of a scale and gauge.
 *
 * minRadius     main and branch: the printed row of the ratio [NMRA-MRP-1.0]; scales without one take HO's 32 and 24 in by
 *               ratio, narrow gauges less in proportion of the gauge (derived). A siding keeps 7/8 of the main's radius,
 *               a yard the branch's [COMMON-PRACTICE].
 * usualRadius   an eighth more [COMMON-PRACTICE].
 * easement      shift 3/8 in (main, branch) and 1/4 in (siding) in HO, by ratio; yards none [COMMON-PRACTICE].
 * frogs         main as printed [NMRA-MRP-1.0]; branch and yard one lower, not under 4; N 6 on the main [COMMON-PRACTICE].
 * trackCentres  14 ft 6 in full size, 2 in in HO; narrow gauge 12 ft [COMMON-PRACTICE].
 * tieSpacing    by class [TIE-SPACING]; narrow gauge 22 in [COMMON-PRACTICE].
 * curves        2 1/2 car lengths [COMMON-PRACTICE].
 * joint ties    on mains, 17 1/2 in [TIE-SPACING].
 * maxGrade      2 % main and siding, 3 % branch, 0.5 % yard, where cars must stand [COMMON-PRACTICE].
 */
export function lineClassesForGauge(row: GaugeRow): readonly StandardLineClass[] {
  const isNarrow = row.prototypeGaugeMm < NARROW_BELOW_MM
  const printed = isNarrow ? undefined : curvatureRows.find((candidate) => gaugeByKey(candidate.scaleKey)?.ratio === row.ratio)
  const byRatio = (HO_RATIO / row.ratio) * (isNarrow ? row.prototypeGaugeMm / STANDARD_GAUGE_MM : 1)
  const main = printed?.mainRadiusMm ?? 812.8 * byRatio
  const branch = printed?.branchRadiusMm ?? 609.6 * byRatio
  const minFrog = printed?.minFrog ?? (isNarrow ? 5 : 6)
  const ho = (inchesInHo: number): number => (inchesInHo * 25.4 * HO_RATIO) / row.ratio
  const full = (inches: number): number => (inches * 25.4) / row.ratio
  const centres = full(isNarrow ? 144 : 174)
  const { tieLengthMm } = railwayForGauge(row)
  const spacing = (use: TieRow['use']): number =>
    full(isNarrow ? NARROW_TIE_SPACING_IN : (tieRows.find((tie) => tie.use === use)?.spacingIn ?? 0))
  const shift = (inchesInHo: number): StandardLineClass['easement'] => ({ kind: 'shift', shiftMm: tenth(ho(inchesInHo)) })
  const make = (
    id: LineClassKey,
    name: string,
    minRadiusMm: number,
    easement: StandardLineClass['easement'],
    frog: number,
    maxGrade: number,
  ): StandardLineClass => ({
    id,
    name,
    minRadiusMm: tenth(minRadiusMm),
    usualRadiusMm: tenth(minRadiusMm * 1.125),
    easement,
    minFrog: frog,
    usualFrog: Math.max(frog, id === 'main' ? 6 : frog),
    trackCentresMm: tenth(centres),
    tieSpacingMm: hundredth(spacing(id)),
    maxGrade,
    cars: [],
    minCurveMm: 0,
    widening: [],
    rules: {},
    curveCarLengths: CURVE_CAR_LENGTHS,
    couplingCarLengths: 0,
    rail: 'railway',
    tie: 'railway',
    jointTieSpacingMm: isNarrow || id !== 'main' ? null : hundredth(full(JOINT_TIE_SPACING_IN)),
    roadbed: roadbedForClass(id, row.ratio, tieLengthMm),
    superelevationMm: 0,
  })
  return [
    make('main', 'Main', main, shift(0.375), minFrog, 0.02),
    make('branch', 'Branch', branch, shift(0.375), Math.max(4, minFrog - 1), 0.03),
    make('siding', 'Siding', main * 0.875, shift(0.25), minFrog, 0.02),
    make('yard', 'Yard', branch, { kind: 'none' }, Math.max(4, minFrog - 1), 0.005),
  ]
}

const tenth = (mm: number): number => Math.round(mm * 10) / 10
const hundredth = (mm: number): number => Math.round(mm * 100) / 100
