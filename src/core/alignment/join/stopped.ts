import { angleWrap } from '../../geom/index.ts'
import { boundedLine, curvesRemembered, marginPlaced, shapeBetween } from './bounded.ts'
import type { JoinTask } from './bounded.ts'
import { joinCurve, joinCurveWith } from './curve.ts'
import { peakGolden } from '../golden.ts'
import { edgeBisect } from './search.ts'
import { shapeReach, shapes } from './shape.ts'
import type { Shape } from './shape.ts'
import type { JoinAlternative, JoinLimits, JoinStop } from './types.ts'

/** A limit that can be given way, from nothing (0) to what is asked (1). */
type Part = 'easement' | 'tangent' | 'curve'

/** A line within the limits is sought up to this many minimum radii: wider ones have no more room for easements. */
const WIDEST = 8

/** Margin of a shape at a radius as a function of the part of one limit that is kept; null where the rule gives no easement. */
function marginOfPart(task: JoinTask, shape: Shape, limit: Part, radiusMm: number): ((part: number) => number) | null {
  const { easement, shortestCurveMm } = task.request.limits
  const whole = joinCurve(radiusMm, { easement, shortestCurveMm })
  if (whole === null) return null
  const betweenMm = shapeBetween(shape, task)
  return (part) => {
    const kept = (of: Part, mm: number): number => (of === limit ? mm * part : mm)
    const curve = joinCurveWith(radiusMm, kept('easement', whole.easementMm), kept('curve', shortestCurveMm))
    return curve === null ? -Infinity : marginPlaced(task, shape, curve, curve, kept('tangent', betweenMm)).margin.marginMm
  }
}

/** Largest part of a limit with which a shape has a line of a radius; below zero, and rising with the radius, when there is none. */
function partAt(task: JoinTask, shape: Shape, limit: Part, radiusMm: number): number {
  const marginAt = marginOfPart(task, shape, limit, radiusMm)
  if (marginAt === null || !(marginAt(0) >= 0)) return -task.request.limits.minRadiusMm / radiusMm
  return marginAt(1) >= 0 ? 1 : edgeBisect((part) => marginAt(part) >= 0, 0, 1)
}

/** Radii from the minimum up that are tried first, each by this much larger. */
const TRIED = 16

/**
 * The radius, from the minimum up, at which something of it is largest: wider curves first make room for their easements and are longer,
 * and then do not fit any more. Below zero: there is none there, and that tells nothing of how far it is to one.
 */
function radiusBest(leastMm: number, worth: (radiusMm: number) => number): number {
  const radii = Array.from({ length: TRIED + 1 }, (_, i) => leastMm * WIDEST ** (i / TRIED))
  const worths = radii.map(worth)
  const best = worths.reduce((found, value, i) => (value > (worths[found] ?? -Infinity) ? i : found), 0)
  const at = radii[best] ?? leastMm
  if ((worths[best] ?? -1) < 0) return peakGolden(worth, leastMm, leastMm * WIDEST)
  const low = radii[best - 1] ?? at
  const next = radii[best + 1]
  if (next === undefined) return peakGolden(worth, low, at)
  // Up to where it ends altogether; it may be largest right there.
  const high = (worths[best + 1] ?? -1) < 0 ? edgeBisect((radiusMm) => worth(radiusMm) >= 0, at, next) : next
  return peakGolden(worth, low, high)
}

/** The largest part of a limit with which some shape has a line of the minimum radius or more. */
function partLargest(task: JoinTask, limit: Part, allowed: readonly Shape[]): { readonly part: number; readonly shape: Shape } | null {
  const leastMm = task.request.limits.minRadiusMm
  let best: { readonly part: number; readonly shape: Shape } | null = null
  for (const shape of allowed) {
    const leastPart: number = best?.part ?? 0
    // A shape that does not reach what is found already need not be searched.
    const margin = (radiusMm: number): number => {
      const value = marginOfPart(task, shape, limit, radiusMm)?.(leastPart) ?? -Infinity
      return value === -Infinity ? -1e15 / radiusMm : value
    }
    if (margin(radiusBest(leastMm, margin)) < 0) continue
    const worth = (radiusMm: number): number => partAt(task, shape, limit, radiusMm)
    const part = worth(radiusBest(leastMm, worth))
    if (part >= 0 && (best === null || part > best.part)) best = { part, shape }
  }
  return best
}

/**
 * Which limits stop a join, each with the nearest value of it that would do, the others kept as they are asked.
 *
 * Domain:     a task of which no alternative keeps all limits.
 * Outcome:    first the limit that has to give way least.
 * Exactness:  within 1e-8 of what is asked.
 */
export function joinStops(task: JoinTask, alternatives: readonly JoinAlternative[]): readonly JoinStop[] {
  const { limits, start } = task.request
  const stops: JoinStop[] = []
  const allowed = shapes.filter(({ family }) => family !== 'reverseBackToBack' || limits.isBackToBackAllowed)
  const best = alternatives.find(({ breaches }) => breaches.every(({ limit }) => limit === 'radius'))
  if (best !== undefined && best.minRadiusMm !== null)
    stops.push({ limit: 'radius', family: best.family, askedMm: limits.minRadiusMm, nearestMm: best.minRadiusMm, isBare: false })

  const ruleMm = joinCurve(limits.minRadiusMm, { easement: limits.easement, shortestCurveMm: 0 })?.easementMm ?? 0
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
  const curveOf = curvesRemembered({ easement: limits.easement, shortestCurveMm: 0 })
  const bare: JoinTask = { ...task, request: { ...task.request, limits }, curveOf }
  const lines = shapes.map((shape) => boundedLine(bare, shape)).filter((line) => line !== null)
  return lines.sort((a, b) => (b.minRadiusMm ?? 0) - (a.minRadiusMm ?? 0))[0] ?? null
}

/** How near to what is asked a limit could stay. */
function stopRatio(stop: JoinStop): number {
  return stop.limit === 'place' ? 0 : stop.nearestMm / stop.askedMm
}
