import { gaugeByKey } from './gauges.ts'
import type { GaugeRow } from './gauges.data.ts'
import { railByCode } from './rails.ts'
import { layingForRatio } from './laying.ts'
import {
  NARROW_TIE_OVER_GAUGE_IN,
  NARROW_TIE_THICKNESS_IN,
  NARROW_TIE_WIDTH_IN,
  TIE_LENGTH_IN,
  TIE_THICKNESS_IN,
  TIE_WIDTH_IN,
} from './ties.data.ts'

/** What a plan says of its railway, filled from a row of the standards. Same shape as the plan's own record. */
export interface StandardRailway {
  readonly title: string
  readonly northRad: null
  readonly scaleKey: string
  readonly ratio: number
  readonly gaugeMm: number
  readonly flangewayMm: number
  readonly checkGaugeMm: number
  readonly railCode: number
  readonly railHeadMm: number
  readonly railFootMm: number
  readonly frogDefinition: 'isosceles' | 'tangent'
  readonly tieLengthMm: number
  readonly tieWidthMm: number
  readonly tieThicknessMm: number
  readonly edgeMarginMm: number
  readonly runningClearanceMm: number
  readonly foulingMm: number
  readonly reachMm: number
  readonly aisleMm: number
  readonly hatchMm: number
  readonly laying: ReturnType<typeof layingForRatio>
}

// Full size, inches. All three are trade habit, stated in HO as 1 3/8 in, 1/4 in and 1.79 in. [COMMON-PRACTICE]
const EDGE_MARGIN_IN = 120
const RUNNING_CLEARANCE_IN = 22
const FOULING_IN = 156
const NARROW_FOULING_IN = 132

// A person is as large beside every scale. Reach 24, 28 or 30 in; an aisle for one; a hatch to stand up in. [COMMON-PRACTICE]
const REACH_IN = 30
const AISLE_IN = 24
const HATCH_IN = 20

/** Narrow gauge begins below this full-size gauge, as NEM 010 draws the line. [NEM-010 cl. 2] */
export const NARROW_BELOW_MM = 1250

/** Sizes of the European standards alone, whose turnouts are named by their slope, 1:9: tan F = 1/N. */
const slopeKeys = new Set(['Nm', 'TTm', 'TTe', 'H0', 'H0m', 'H0e', 'H0i', 'S-NEM', '0', '0m', '0e'])

/** A railway of a scale by its key; null: no such key. */
export function railwayForScale(key: string): StandardRailway | null {
  const row = gaugeByKey(key)
  return row ? railwayForGauge(row) : null
}

/**
 * A railway of a scale and gauge: ties 8 ft 6 in x 9 in (narrow: gauge + 3 ft 6 in, 8 in wide), margins and fouling
 * separation brought down from full size.
 *
 * Units: mm on the model. Source: ties [TIE-SPACING]; margins [COMMON-PRACTICE].
 */
export function railwayForGauge(row: GaugeRow): StandardRailway {
  const isNarrow = row.prototypeGaugeMm < NARROW_BELOW_MM
  const rail = railByCode(row.railCode)
  const model = (inches: number): number => Math.round(((inches * 25.4) / row.ratio) * 1000) / 1000
  return {
    title: '',
    northRad: null,
    scaleKey: row.key,
    ratio: row.ratio,
    gaugeMm: row.gaugeMm,
    flangewayMm: row.flangewayMm,
    checkGaugeMm: row.checkGaugeMm,
    railCode: row.railCode,
    railHeadMm: rail?.headMm ?? 0,
    railFootMm: rail?.footMm ?? 0,
    frogDefinition: slopeKeys.has(row.key) ? 'tangent' : 'isosceles',
    tieLengthMm: model(isNarrow ? row.prototypeGaugeMm / 25.4 + NARROW_TIE_OVER_GAUGE_IN : TIE_LENGTH_IN),
    tieWidthMm: model(isNarrow ? NARROW_TIE_WIDTH_IN : TIE_WIDTH_IN),
    tieThicknessMm: model(isNarrow ? NARROW_TIE_THICKNESS_IN : TIE_THICKNESS_IN),
    edgeMarginMm: model(EDGE_MARGIN_IN),
    runningClearanceMm: model(RUNNING_CLEARANCE_IN),
    foulingMm: model(isNarrow ? NARROW_FOULING_IN : FOULING_IN),
    reachMm: REACH_IN * 25.4,
    aisleMm: AISLE_IN * 25.4,
    hatchMm: HATCH_IN * 25.4,
    laying: layingForRatio(row.ratio),
  }
}
