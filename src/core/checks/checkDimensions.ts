import { poseToPlan } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { NetworkCrossing, NetworkTurnout } from '../network/types.ts'
import type { Railway } from '../plan/types.ts'
import { checkDimensions as dimensionsOf, checkStandard, crossingChecked, gaugeOfBothChecks } from '../turnout/index.ts'
import type { CheckedWork } from '../turnout/index.ts'
import type { CheckDimension } from '../turnout/dimensions/types.ts'
import type { CrossingGeometry } from '../turnout/crossing/types.ts'
import type { TurnoutGeometry } from '../turnout/types.ts'
import type { Finding } from './types.ts'
import { crossingWork, turnoutWork, workFinding } from './workFinding.ts'
import type { FoundWork } from './workFinding.ts'

/** A gauge that is as wide as asked is wide enough: rounding of inches. */
const ROUNDING_MM = 1e-6

/**
 * Check dimensions of a turnout as laid that lie outside the standard of the railway's scale: gauge, check gauge, span, flangeways and
 * points, each at its worst on each route. measured and limit are that dimension's; measured null: the rail is not there.
 */
export function checkDimensions({ turnout, result }: NetworkTurnout, railway: Railway): readonly Finding[] {
  if (!result.ok) return []
  const { geometry, pose } = result
  return failingOf(geometry, railway, () => ({ ...geometry, measures: geometry.request })).map((dimension, index) =>
    dimensionFinding(turnoutWork(turnout), pose, railway, dimension, index),
  )
}

/**
 * The same of a crossing, each dimension once a route, where it is worst over all its frogs. How long its elbows hold no wheel is told by
 * crossingFault. Where a standard leaves check rails on both sides no flangeway at the gauge laid, that is a warning with the gauge that would do.
 */
export function crossingDimensions(crossing: NetworkCrossing, railway: Railway): readonly Finding[] {
  const { result, pose } = crossing
  if (!result.ok) return []
  const failing = failingOf(result.crossing, railway, () => crossingChecked(result.crossing)).filter(({ kind }) => kind !== 'elbow-open')
  const worst = new Map<string, CheckDimension>()
  for (const dimension of failing) {
    const key = `${dimension.route}:${dimension.kind}`
    const before = worst.get(key)
    if (before === undefined || brokenBy(dimension) > brokenBy(before)) worst.set(key, dimension)
  }
  return [...worst.values()].map((dimension) => dimensionFinding(crossingWork(crossing), pose, railway, dimension, null))
}

function dimensionFinding(work: FoundWork, pose: Pose, railway: Railway, dimension: CheckDimension, index: number | null): Finding {
  const { route, kind, at, valueMm } = dimension
  const standard = checkStandard(railway)
  const bothMm =
    work.table === 'crossings' && valueMm !== null && (kind === 'check-gauge' || kind === 'span') ? gaugeOfBothChecks(standard) : null
  const gaugeMm = bothMm !== null && bothMm > railway.gaugeMm + ROUNDING_MM ? bothMm : null
  return workFinding(work, poseToPlan(pose, at), {
    id: `check-dimensions:${work.record}:${route}:${kind}${index === null ? '' : `:${index}`}`,
    rule: 'check-dimensions',
    severity: gaugeMm === null ? 'error' : 'warning',
    measured: valueMm,
    limit: limitBroken(dimension),
    source: standard.source,
    problem: { kind: 'checkDimension', dimension: kind, route, gaugeMm },
  })
}

/** Measuring along every rail takes its time, and work that is only moved is the same geometry. Not part of any result. */
const known = new WeakMap<TurnoutGeometry | CrossingGeometry, { readonly railway: Railway; readonly failing: readonly CheckDimension[] }>()

function failingOf(geometry: TurnoutGeometry | CrossingGeometry, railway: Railway, work: () => CheckedWork): readonly CheckDimension[] {
  const before = known.get(geometry)
  if (before?.railway === railway) return before.failing
  const failing = dimensionsOf(work(), checkStandard(railway)).filter(({ isWithin }) => !isWithin)
  known.set(geometry, { railway, failing })
  return failing
}

function limitBroken({ valueMm, leastMm, mostMm }: CheckDimension): number | null {
  return valueMm !== null && mostMm !== null && valueMm > mostMm ? mostMm : (leastMm ?? mostMm)
}

/** How far outside its limit; a rail that is missing is the worst of all. */
function brokenBy(dimension: CheckDimension): number {
  const limit = limitBroken(dimension)
  return dimension.valueMm === null || limit === null ? Infinity : Math.abs(dimension.valueMm - limit)
}
