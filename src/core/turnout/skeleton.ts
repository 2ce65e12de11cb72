import { elementEnd, pathFromElements } from '../geom/index.ts'
import type { CurveElement, Path, Point, Pose } from '../geom/types.ts'
import { arc, elementsOffset, straight } from './bend.ts'
import type { Closure } from './closure.ts'
import { frogDistances } from './frog.ts'
import type { Points } from './points.ts'
import type { TurnoutRequest } from './types.ts'

/**
 * The solved lines of a left-hand turnout, from which every rail and tie is laid. Frame: PS at the origin on the
 * centreline of the straight route, which runs along +x.
 */
export interface Skeleton {
  readonly request: TurnoutRequest
  readonly frogAngleRad: number
  readonly points: Points
  readonly closure: Closure
  readonly frog: ReturnType<typeof frogDistances>
  /** Gauge line of the diverging route's outer rail: curved point, curved closure, frog; from the tip to the frog's heel. */
  readonly outer: Path
  /** Its parts: the point, the closure, the straight through the frog. */
  readonly outerParts: readonly [CurveElement, CurveElement, CurveElement]
  readonly tip: Pose
  readonly heel: Pose
  readonly toe: Pose
  /** Theoretical frog point. */
  readonly frogPoint: Point
}

export function skeletonBuild(request: TurnoutRequest, frogAngleRad: number, points: Points, closure: Closure): Skeleton {
  const { gaugeMm, pointThicknessMm, pointLengthMm, toeLengthMm, heelLengthMm } = request
  const outerParts = [
    points.radiusMm === null ? straight(pointLengthMm) : arc(points.radiusMm, points.heelAngleRad - points.entryAngleRad),
    arc(closure.gaugeLineRadiusMm, frogAngleRad - points.heelAngleRad),
    straight(toeLengthMm + heelLengthMm),
  ] as const
  const tip: Pose = { x: 0, y: pointThicknessMm - gaugeMm / 2, headingRad: points.entryAngleRad }
  const heel = elementEnd(outerParts[0], tip)
  const toe = elementEnd(outerParts[1], heel)
  return {
    request,
    frogAngleRad,
    points,
    closure,
    frog: frogDistances(frogAngleRad, request),
    outer: pathFromElements(tip, outerParts),
    outerParts,
    tip,
    heel,
    toe,
    frogPoint: { x: closure.leadMm, y: gaugeMm / 2 },
  }
}

/**
 * The line at a constant distance to the left of the outer rail, mm: half the gauge gives the diverging centreline, the
 * gauge the opposite rail. It starts square to the tip, so with points that stand at an angle a little ahead of PS.
 */
export function outerOffset(skeleton: Skeleton, offsetMm: number): Path {
  const { request, points, outerParts } = skeleton
  const s = points.entryAngleRad
  return pathFromElements(
    {
      x: -offsetMm * Math.sin(s),
      y: request.pointThicknessMm - request.gaugeMm / 2 + offsetMm * Math.cos(s),
      headingRad: s,
    },
    elementsOffset(outerParts, offsetMm),
  )
}
