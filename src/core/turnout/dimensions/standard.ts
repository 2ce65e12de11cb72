import type { Railway } from '../../plan/types.ts'
import { gaugeByKey } from '../../standards/index.ts'
import type { GaugeLimit } from '../../standards/index.ts'
import { checkFlangeway } from '../work/checkFlangeway.ts'
import type { WorkMeasures } from '../work/types.ts'
import type { CheckStandard } from './types.ts'

/**
 * A flange passes this part of a flangeway: the standards let one be 0.73 of its target [NMRA-S-3.2-2010], points are thrown to leave as much, and
 * what they leave is known to first order in the switch angle.
 */
const flangePerFlangeway = 0.7

const open: GaugeLimit = { targetMm: null, minMm: null, maxMm: null }

/**
 * The limits that a railway's track is judged by: those printed for its scale. A scale of one's own has none printed; there the railway's own
 * gauge and check gauge are the least, and its flangeway the most.
 */
export function checkStandard({ scaleKey, gaugeMm, checkGaugeMm, flangewayMm }: CheckedRailway): CheckStandard {
  const row = gaugeByKey(scaleKey)
  const flangeWayMm = flangePerFlangeway * (row?.flangewayMm ?? flangewayMm)
  if (row === null) {
    return {
      gauge: { ...open, minMm: gaugeMm },
      checkGauge: { ...open, minMm: checkGaugeMm },
      span: { ...open, maxMm: checkGaugeMm - flangewayMm },
      flangeway: { ...open, maxMm: flangewayMm },
      pointsSpread: open,
      flangeWayMm,
      source: 'railway',
      clause: '',
      status: 'derived',
    }
  }
  const { source, clause, status, limits } = row
  return { ...limits, flangeWayMm, source, clause, status }
}

/**
 * Flangeway of check rails on both sides of a track by which check gauge and span are both within a standard, as near to the usual one as they
 * allow; where no flangeway does, the span is kept, without which no wheel passes at all. Gauge of the track; mm.
 */
export function checkFlangewayWithin(
  { checkGauge, span }: CheckStandard,
  measures: Pick<WorkMeasures, 'flangewayMm' | 'checkGaugeMm'>,
  gaugeMm: number,
): number {
  const most = checkGauge.minMm === null ? Infinity : gaugeMm - checkGauge.minMm
  const least = span.maxMm === null ? 0 : (gaugeMm - span.maxMm) / 2
  return Math.max(least, Math.min(most, checkFlangeway(measures, gaugeMm)))
}

/** The least gauge at which check rails on both sides keep check gauge and span of a standard; null: it prints none. mm. */
export function gaugeOfBothChecks({ checkGauge, span }: CheckStandard): number | null {
  return checkGauge.minMm === null || span.maxMm === null ? null : 2 * checkGauge.minMm - span.maxMm
}

type CheckedRailway = Pick<Railway, 'scaleKey' | 'gaugeMm' | 'checkGaugeMm' | 'flangewayMm'>
