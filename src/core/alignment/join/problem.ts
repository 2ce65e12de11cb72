import { stationSlackMm } from '../../geom/index.ts'
import type { JoinProblem, JoinRequest } from './types.ts'

/** Larger numbers, a million kilometres, are taken for infinite, as in a traverse. */
const MOST = 1e12

/** The first number of a request that cannot be worked with; null when all are good. */
export function joinRequestProblem({ start, target, limits }: JoinRequest): JoinProblem | null {
  const leg = target.kind === 'pose' ? target.pose : target.leg
  const legName = target.kind === 'pose' ? 'end' : 'leg'
  const ruleMm =
    limits.easement.kind === 'length' ? limits.easement.lengthMm : limits.easement.kind === 'shift' ? limits.easement.shiftMm : 0
  const lengths: readonly [string, number][] = [
    ['easement', ruleMm],
    ['shortest curve', limits.shortestCurveMm],
    ['tangent between', limits.tangentBetweenMm],
  ]
  const stations: readonly [string, number][] =
    target.kind === 'along'
      ? [
          ['from', target.fromMm],
          ['to', target.toMm],
        ]
      : []
  const named: readonly [string, number][] = [
    ['start x', start.x],
    ['start y', start.y],
    ['start heading', start.headingRad],
    [`${legName} x`, leg.x],
    [`${legName} y`, leg.y],
    [`${legName} heading`, leg.headingRad],
    ['minimum radius', limits.minRadiusMm],
    ...lengths,
    ...stations,
  ]
  for (const [where, value] of named) if (!(Math.abs(value) <= MOST)) return { kind: 'notFinite', where }
  // Radii far below a thousandth of a millimetre would overflow as curvatures.
  if (!(limits.minRadiusMm >= 1 / MOST)) return { kind: 'notPositive', where: 'minimum radius', value: limits.minRadiusMm }
  const mostMm = limits.mostRadiusMm ?? null
  if (mostMm !== null && !(Math.abs(mostMm) <= MOST)) return { kind: 'notFinite', where: 'largest radius' }
  if (mostMm !== null && !(mostMm >= 1 / MOST)) return { kind: 'notPositive', where: 'largest radius', value: mostMm }
  for (const [where, value] of lengths) if (value < 0) return { kind: 'negative', where, value }
  if (target.kind === 'pose') return null
  const { fromMm, toMm, path } = target
  const isOn = fromMm >= -stationSlackMm && fromMm <= toMm && toMm <= path.lengthMm + stationSlackMm
  return isOn ? null : { kind: 'outsidePath', fromMm, toMm, lengthMm: path.lengthMm }
}
