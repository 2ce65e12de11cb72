import { pathFromElements, pathStart } from '../geom/index.ts'
import type { CurveElement, Path, Pose } from '../geom/types.ts'
import { arc, bend, chainStart, straight } from './bend.ts'
import { outerOffset } from './skeleton.ts'
import type { Skeleton } from './skeleton.ts'

/** The curved stock rail from where it leaves the straight: a bend or a set, then the gauge off the outer rail. */
interface StockCurve {
  readonly start: Pose
  readonly elements: readonly CurveElement[]
}

/**
 * The stock rail of the diverging route keeps the gauge off the curved point from its tip on. The point stands t off the
 * other stock rail there, so this one has to be moved out: it is bent ahead of PS.
 *
 *   straight points   one bend by S. The straight at S, G off the point's, meets the straight stock rail
 *                     G tan(S/2) + t / tan S ahead of PS.
 *   curved points     where the arc, G off the point's, meets the straight stock rail behind PS: one bend there.
 *                     Where it passes outside (a point nearly tangent at its tip): a set, out by the point's mean angle
 *                     and back to its entry angle at the tip.
 *
 * Every bend is an arc with tangents of one rail head; gauge is exact from the tip, and for straight points from the bend.
 */
function stockCurve(skeleton: Skeleton): StockCurve {
  const { request, points } = skeleton
  const { gaugeMm: gauge, pointThicknessMm: t, pointLengthMm: a, railHeadMm: head } = request
  const inner = outerOffset(skeleton, gauge)
  const [point, ...rest] = inner.elements
  const q = pathStart(inner)
  const stockY = gauge / 2
  if (points.radiusMm === null) {
    const s = points.heelAngleRad
    const vertexX = -gauge * Math.tan(s / 2) - t / Math.tan(s)
    const beyondVertex = a - (vertexX - q.x) / Math.cos(s)
    const tangent = Math.min(head, beyondVertex / 2)
    return {
      start: { x: vertexX - tangent, y: stockY, headingRad: 0 },
      elements: [bend(s, tangent), straight(beyondVertex - tangent), ...rest],
    }
  }
  const radius = points.radiusMm - gauge
  const entry = points.entryAngleRad
  const out = q.y - stockY
  if (out <= 0) {
    // The bend goes over into the arc at `joined`, which a sharp bend keeps near the crossing and short of the heel.
    const crossing = Math.acos(Math.min(1, Math.cos(entry) + out / radius))
    const heel = Math.cos(points.heelAngleRad)
    const room = (radius * (Math.cos(crossing) - heel)) / (1 - heel)
    const bendRadius = Math.min(radius / 2, head / Math.tan(crossing / 2), room)
    const joined = Math.acos(Math.min(1, (radius * Math.cos(crossing) - bendRadius) / (radius - bendRadius)))
    const x = q.x + radius * (Math.sin(joined) - Math.sin(entry)) - bendRadius * Math.sin(joined)
    return {
      start: { x, y: stockY, headingRad: 0 },
      elements: [arc(bendRadius, joined), arc(radius, points.heelAngleRad - joined), ...rest],
    }
  }
  const set = Math.asin((request.heelSpreadMm - t) / a)
  const riseOfBends = 1 - Math.cos(set) + (Math.cos(entry) - Math.cos(set))
  const bendRadius = Math.min(head / Math.tan(set / 2), out / riseOfBends)
  const jog = [arc(bendRadius, set), straight(Math.max(0, out - bendRadius * riseOfBends) / Math.sin(set)), arc(bendRadius, entry - set)]
  return { start: { ...chainStart(jog, q), y: stockY }, elements: [...jog, ...(point ? [point] : []), ...rest] }
}

/**
 * Gauge lines of both stock rails, from the same place ahead of PS to opposite the frog's heels.
 *
 * frontX: the place, one tie spacing ahead of PS or where the bend begins, whichever is farther.
 */
export function stockRails(skeleton: Skeleton): { readonly straight: Path; readonly curved: Path; readonly frontX: number } {
  const { request, closure } = skeleton
  const curve = stockCurve(skeleton)
  const frontX = Math.min(-request.tieSpacingMm, curve.start.x)
  const front: Pose = { x: frontX, y: -request.gaugeMm / 2, headingRad: 0 }
  return {
    straight: pathFromElements(front, [straight(closure.leadMm + request.heelLengthMm - frontX)]),
    curved: pathFromElements({ ...front, y: request.gaugeMm / 2 }, [straight(curve.start.x - frontX), ...curve.elements]),
    frontX,
  }
}
