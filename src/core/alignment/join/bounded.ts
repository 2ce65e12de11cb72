import { joinCurve } from './curve.ts'
import type { CurveRule, JoinCurve } from './curve.ts'
import { lineAlternative, shapeTurn } from './line.ts'
import { NO_ROOM } from './margin.ts'
import type { Margin } from './margin.ts'
import { targetPlaceBest } from './place.ts'
import type { TargetPlace } from './place.ts'
import { radiusLargest } from './search.ts'
import { shapeMargin, shapeReach } from './shape.ts'
import type { Shape } from './shape.ts'
import type { JoinAlternative, JoinRequest } from './types.ts'

/** What all the shapes of one request share. */
export interface JoinTask {
  readonly request: JoinRequest
  readonly places: readonly TargetPlace[]
  readonly radii: readonly number[]
  readonly sizeMm: number
  /** Curves by radius with the whole easement of the rule; the same radii come again for every shape. */
  readonly curveOf: (radiusMm: number) => JoinCurve | null
}

export function curvesRemembered(rule: CurveRule): (radiusMm: number) => JoinCurve | null {
  const known = new Map<number, JoinCurve | null>()
  return (radiusMm) => {
    const before = known.get(radiusMm)
    if (before !== undefined) return before
    const curve = joinCurve(radiusMm, rule)
    known.set(radiusMm, curve)
    return curve
  }
}

export interface Placed {
  readonly place: TargetPlace
  readonly margin: Margin
}

/** The place of the target with the largest margin for curves of given radii. */
export function marginPlaced(task: JoinTask, shape: Shape, first: JoinCurve, second: JoinCurve, betweenMm: number): Placed {
  const { start, target } = task.request
  const margin = (place: TargetPlace): Margin => shapeMargin(shape, first, second, betweenMm, shapeReach(shape, start, place.end))
  const place = targetPlaceBest(target, task.places, (candidate) => margin(candidate).marginMm)
  return { place, margin: margin(place) }
}

/**
 * How far inside its largest radius a line is laid, part of the radius. The first is rounding only; where many numbers of
 * unlike size meet in the polygon, a larger one is needed. The last is a thousandth of a millimetre in a kilometre.
 */
const INSIDE = [1e-12, 1e-11, 1e-10, 1e-9]

/** The tangent that a shape must have between its curves. */
export const shapeBetween = (shape: Shape, task: JoinTask): number =>
  shape.family === 'sameWay' || shape.family === 'reverse' ? task.request.limits.tangentBetweenMm : 0

/**
 * The line of largest minimum radius of a shape whose headings stay within half a turn.
 *
 * Outcome: null when there is none at any radius.
 */
export function boundedLine(task: JoinTask, shape: Shape): JoinAlternative | null {
  const betweenMm = shapeBetween(shape, task)
  const placedAt = (radiusMm: number): Placed | null => {
    const curve = task.curveOf(radiusMm)
    return curve && marginPlaced(task, shape, curve, curve, betweenMm)
  }
  const mostMm = task.request.limits.mostRadiusMm ?? Infinity
  const radii = mostMm === Infinity ? task.radii : [mostMm, ...task.radii.filter((radiusMm) => radiusMm < mostMm)]
  const largest = radiusLargest((radiusMm) => placedAt(radiusMm)?.margin.marginMm ?? NO_ROOM.marginMm, radii)
  if (largest === null) return null
  // Well inside of what fits the very radius is laid.
  for (const inside of largest === mostMm ? [0, ...INSIDE] : INSIDE) {
    const curve = task.curveOf(largest * (1 - inside))
    if (curve === null) continue
    const { place, margin } = marginPlaced(task, shape, curve, curve, betweenMm)
    if (margin.marginMm === NO_ROOM.marginMm) continue
    const reach = shapeReach(shape, task.request.start, place.end)
    const turnRad = shapeTurn(shape, reach)
    const choice = { shape, first: curve, second: curve, firstTurnRad: margin.firstTurnRad, turnRad, betweenMm, reach }
    const { start, target, limits } = task.request
    const context = { start, place, isAlong: target.kind === 'along', limits, isRadiusFree: false }
    const line = lineAlternative(choice, context)
    if (line !== null) return line
  }
  return null
}
