import { pathPoseAt } from '../../geom/index.ts'
import type { Path, Point, Pose } from '../../geom/types.ts'
import type { RigidBody, Support } from './types.ts'

/** Distances along the line are closed in on to this, mm. */
const toleranceMm = 1e-10
/** Each step leaves a small part of the miss, for lines that bend as tracks do; a line on which so many are not enough holds no car. */
const mostSteps = 40

/** Stations between which the middle of a support may lie so that its axles stand on the path. */
export function supportRange(path: Path, { wheelbaseMm }: Support): { readonly fromMm: number; readonly toMm: number } {
  return { fromMm: wheelbaseMm / 2, toMm: path.lengthMm - wheelbaseMm / 2 }
}

/**
 * Pivot of a support whose middle is at a station: half way between its axles, which stand a straight wheelbase apart on the line,
 * as far behind the station as ahead of it.
 *
 * Exactness: axle distance to 1e-10 mm. Null when an axle would stand beyond an end of the path.
 */
export function supportPivot(path: Path, { wheelbaseMm }: Support, stationMm: number): Point | null {
  if (wheelbaseMm === 0) return stationMm >= 0 && stationMm <= path.lengthMm ? pathPoseAt(path, stationMm) : null
  let half = wheelbaseMm / 2
  for (let step = 0; step < mostSteps; step++) {
    if (stationMm - half < 0 || stationMm + half > path.lengthMm) return null
    const a = pathPoseAt(path, stationMm - half)
    const b = pathPoseAt(path, stationMm + half)
    const missing = wheelbaseMm - Math.hypot(b.x - a.x, b.y - a.y)
    if (Math.abs(missing) <= toleranceMm) return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }
    // Both ends move: the chord grows by twice the step, nearly.
    half += missing / 2
  }
  return null
}

/**
 * Pose of a body's middle when its front support is at a station: both pivots on their lines, a straight pivot distance apart.
 *
 * Exactness:  pivot distance to 1e-10 mm.
 * Outcome:    null when a support would stand beyond an end of the path, or no chord of that length ends on it.
 */
export function bodyStance(path: Path, body: RigidBody, frontStationMm: number): Pose | null {
  const front = supportPivot(path, body.front, frontStationMm)
  if (front === null) return null
  const apart = body.front.xMm - body.rear.xMm
  let station = frontStationMm - apart
  for (let step = 0; step < mostSteps; step++) {
    const rear = supportPivot(path, body.rear, station)
    if (rear === null) return null
    const missing = apart - Math.hypot(front.x - rear.x, front.y - rear.y)
    if (Math.abs(missing) <= toleranceMm) {
      const headingRad = Math.atan2(front.y - rear.y, front.x - rear.x)
      return {
        x: front.x - body.front.xMm * Math.cos(headingRad),
        y: front.y - body.front.xMm * Math.sin(headingRad),
        headingRad,
      }
    }
    station -= missing
  }
  return null
}
