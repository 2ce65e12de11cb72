import { poseToPlan } from '../geom/index.ts'
import type { NetworkTurnout } from '../network/types.ts'
import type { Railway } from '../plan/types.ts'
import { checkDimensions as dimensionsOf, checkStandard } from '../turnout/index.ts'
import type { CheckDimension } from '../turnout/dimensions/types.ts'
import type { TurnoutGeometry } from '../turnout/types.ts'
import type { Finding } from './types.ts'

/**
 * Check dimensions of a turnout as laid that lie outside the standard of the railway's scale: gauge, check gauge, span, flangeways and
 * points, each at its worst on each route. measured and limit are that dimension's; measured null: the rail is not there.
 */
export function checkDimensions({ turnout, result }: NetworkTurnout, railway: Railway): readonly Finding[] {
  if (!result.ok) return []
  const { geometry, pose } = result
  const standard = checkStandard(railway)
  return failingOf(geometry, railway, standard).map((dimension, index) => {
    const { x, y } = poseToPlan(pose, dimension.at)
    return {
      id: `check-dimensions:${turnout.id}:${dimension.route}:${dimension.kind}:${index}`,
      rule: 'check-dimensions',
      severity: 'error',
      stage: 'turnouts',
      table: 'turnouts',
      record: turnout.id,
      otherRecord: null,
      corner: null,
      stationFromMm: turnout.stationMm,
      stationToMm: turnout.stationMm,
      x,
      y,
      measured: dimension.valueMm,
      limit: limitBroken(dimension),
      unit: 'mm',
      source: standard.source,
      problem: { kind: 'checkDimension', dimension: dimension.kind, route: dimension.route },
      cure: null,
    }
  })
}

/** Measuring along every rail takes its time, and a turnout that is only moved is the same geometry. Not part of any result. */
const known = new WeakMap<TurnoutGeometry, { readonly railway: Railway; readonly failing: readonly CheckDimension[] }>()

function failingOf(geometry: TurnoutGeometry, railway: Railway, standard: ReturnType<typeof checkStandard>): readonly CheckDimension[] {
  const before = known.get(geometry)
  if (before?.railway === railway) return before.failing
  const failing = dimensionsOf({ ...geometry, measures: geometry.request }, standard).filter(({ isWithin }) => !isWithin)
  known.set(geometry, { railway, failing })
  return failing
}

function limitBroken({ valueMm, leastMm, mostMm }: CheckDimension): number | null {
  return valueMm !== null && mostMm !== null && valueMm > mostMm ? mostMm : (leastMm ?? mostMm)
}
