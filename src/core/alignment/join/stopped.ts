import { angleWrap } from '../../geom/index.ts'
import { boundedLine, curvesRemembered, marginPlaced, shapeBetween } from './bounded.ts'
import type { JoinTask } from './bounded.ts'
import { joinCurve } from './curve.ts'
import type { CurveRule } from './curve.ts'
import { bisectPart } from './search.ts'
import { shapeReach, shapes } from './shape.ts'
import type { Shape } from './shape.ts'
import type { JoinAlternative, JoinLimits, JoinStop } from './types.ts'

/** A limit that can be given way, from nothing (0) to what is asked (1). */
type Part = 'easement' | 'tangent' | 'curve'

/** Whether a shape has a line at the minimum radius when this part of one limit is kept. */
function fitsWith(task: JoinTask, shape: Shape, limit: Part, part: number): boolean {
  const { limits } = task.request
  const rule: CurveRule = {
    easement: limits.easement,
    factor: limit === 'easement' ? part : 1,
    shortestCurveMm: limits.shortestCurveMm * (limit === 'curve' ? part : 1),
  }
  const curve = joinCurve(limits.minRadiusMm, rule)
  if (curve === null) return false
  const betweenMm = shapeBetween(shape, task) * (limit === 'tangent' ? part : 1)
  return marginPlaced(task, shape, curve, curve, betweenMm).margin.marginMm >= 0
}

/** The largest part of a limit with which some shape has a line at the minimum radius. */
function partLargest(task: JoinTask, limit: Part, allowed: readonly Shape[]): { readonly part: number; readonly shape: Shape } | null {
  let best: { readonly part: number; readonly shape: Shape } | null = null
  for (const shape of allowed) {
    // A shape that does not reach what is found already need not be searched.
    if (!fitsWith(task, shape, limit, best?.part ?? 0)) continue
    const part: number = fitsWith(task, shape, limit, 1)
      ? 1
      : bisectPart((value) => fitsWith(task, shape, limit, value), best?.part ?? 0, 1)
    if (best === null || part > best.part) best = { part, shape }
  }
  return best
}

/**
 * Which limits stop a join, each with the nearest value of it that would do, the others kept as they are asked.
 *
 * Domain:     a task of which no alternative keeps all limits.
 * Outcome:    first the limit that has to give way least.
 * Exactness:  within 1e-12 of what is asked.
 */
export function joinStops(task: JoinTask, alternatives: readonly JoinAlternative[]): readonly JoinStop[] {
  const { limits, start } = task.request
  const stops: JoinStop[] = []
  const allowed = shapes.filter(({ family }) => family !== 'reverseBackToBack' || limits.isBackToBackAllowed)
  const best = alternatives.find(({ breaches }) => breaches.every(({ limit }) => limit === 'radius'))
  if (best !== undefined && best.minRadiusMm !== null)
    stops.push({ limit: 'radius', family: best.family, askedMm: limits.minRadiusMm, nearestMm: best.minRadiusMm, isBare: false })

  const ruleMm = joinCurve(limits.minRadiusMm, { easement: limits.easement, factor: 1, shortestCurveMm: 0 })?.easementMm ?? 0
  const easement = ruleMm > 0 ? partLargest(task, 'easement', allowed) : null
  if (easement !== null) {
    const { part, shape } = easement
    stops.push({ limit: 'easement', family: shape.family, askedMm: ruleMm, nearestMm: ruleMm * part, factor: part })
  }
  const tangent =
    limits.tangentBetweenMm > 0
      ? partLargest(
          task,
          'tangent',
          shapes.filter(({ family }) => family === 'reverse'),
        )
      : null
  if (tangent !== null) {
    const nearestMm = limits.tangentBetweenMm * tangent.part
    stops.push({ limit: 'tangent', family: tangent.shape.family, askedMm: limits.tangentBetweenMm, nearestMm })
  }
  const curve = limits.shortestCurveMm > 0 ? partLargest(task, 'curve', allowed) : null
  if (curve !== null) {
    const nearestMm = limits.shortestCurveMm * curve.part
    stops.push({ limit: 'curve', family: curve.shape.family, askedMm: limits.shortestCurveMm, nearestMm })
  }
  if (stops.length > 0) return stops.sort((a, b) => stopRatio(b) - stopRatio(a))

  const bare = bareLine(task)
  if (bare !== null && bare.minRadiusMm !== null)
    return [{ limit: 'radius', family: bare.family, askedMm: limits.minRadiusMm, nearestMm: bare.minRadiusMm, isBare: true }]
  const place = task.places[0]
  if (place === undefined) return []
  const { x, y, turnRad } = shapeReach({ family: 'oneCurve', first: 'left' }, start, place.end)
  return [
    {
      limit: 'place',
      reason: Math.hypot(x, y) <= COINCIDENT_MM ? 'coincident' : 'behind',
      aheadMm: x,
      leftMm: y,
      turnRad: angleWrap(turnRad),
    },
  ]
}

/** Points nearer than this are one point. */
const COINCIDENT_MM = 1e-6

/** The widest line of bare curves. */
function bareLine(task: JoinTask): JoinAlternative | null {
  const limits: JoinLimits = { ...task.request.limits, easement: { kind: 'none' }, shortestCurveMm: 0, tangentBetweenMm: 0 }
  const curveOf = curvesRemembered({ easement: limits.easement, factor: 1, shortestCurveMm: 0 })
  const bare: JoinTask = { ...task, request: { ...task.request, limits }, curveOf }
  const lines = shapes.map((shape) => boundedLine(bare, shape)).filter((line) => line !== null)
  return lines.sort((a, b) => (b.minRadiusMm ?? 0) - (a.minRadiusMm ?? 0))[0] ?? null
}

/** How near to what is asked a limit could stay. */
function stopRatio(stop: JoinStop): number {
  return stop.limit === 'place' ? 0 : stop.nearestMm / stop.askedMm
}
