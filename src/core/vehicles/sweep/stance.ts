import { elementCurvatureAt, pathElementIndex, pathPoseInto, poseSlot } from '../../geom/index.ts'
import type { PoseSlot } from '../../geom/index.ts'
import type { Path, Pose } from '../../geom/types.ts'
import type { RigidBody, Support } from './types.ts'

/** Distances along the line are closed in on to this, mm. */
const toleranceMm = 1e-10
/** Each step leaves a small part of the miss, for lines that bend as tracks do; a line on which so many are not enough holds no car. */
const mostSteps = 40

/** Stations between which the middle of a support may lie so that its axles stand on the path. */
export function supportRange(path: Path, { wheelbaseMm }: Support): { readonly fromMm: number; readonly toMm: number } {
  return { fromMm: wheelbaseMm / 2, toMm: path.lengthMm - wheelbaseMm / 2 }
}

/** Where both axles stand, and both pivots; one of each serves every stance, for none is found within another. */
const [axleA, axleB] = [poseSlot(), poseSlot()]
const [frontPivot, rearPivot] = [poseSlot(), poseSlot()]

/** Curvature where a search begins, 1/mm: exact on a bend, and near enough elsewhere. */
function curvatureNear(path: Path, stationMm: number): number {
  const element = path.elements[pathElementIndex(path, stationMm)]
  if (element === undefined) return 0
  return elementCurvatureAt(element, Math.min(Math.max(stationMm - element.startStationMm, 0), element.lengthMm))
}

/** Way along a circle between two places whose chord has a length, from one radius to another about its centre; the chord where there is none. */
function wayOver(chordMm: number, curvature: number, fromMm: number, toMm: number): number {
  const sine = Math.sqrt((chordMm * chordMm - (fromMm - toMm) ** 2) / (4 * fromMm * toMm))
  return sine < 1 ? (2 * Math.asin(sine)) / Math.abs(curvature) : chordMm
}

/** Radius on which the pivot of a support runs where its axles run on a bend. */
const pivotRadius = (curvature: number, { wheelbaseMm }: Support): number => Math.sqrt(1 / curvature ** 2 - (wheelbaseMm / 2) ** 2)

/**
 * Pivot of a support whose middle is at a station: half way between its axles, which stand a straight wheelbase apart on the line,
 * as far behind the station as ahead of it. False when an axle would stand beyond an end of the path.
 *
 * Exactness: axle distance to 1e-10 mm. The search begins with what holds on a bend, where one look shows it to be right.
 */
function supportPivot(pivot: PoseSlot, path: Path, { wheelbaseMm }: Support, stationMm: number): boolean {
  if (wheelbaseMm === 0) {
    if (stationMm < 0 || stationMm > path.lengthMm) return false
    pathPoseInto(pivot, path, stationMm)
    return true
  }
  const curvature = curvatureNear(path, stationMm)
  let half = curvature === 0 ? wheelbaseMm / 2 : wayOver(wheelbaseMm, curvature, 1 / curvature, 1 / curvature) / 2
  for (let step = 0; step < mostSteps; step++) {
    if (stationMm - half < 0 || stationMm + half > path.lengthMm) return false
    pathPoseInto(axleA, path, stationMm - half)
    pathPoseInto(axleB, path, stationMm + half)
    const [ax, ay, bx, by] = [axleA[0] ?? 0, axleA[1] ?? 0, axleB[0] ?? 0, axleB[1] ?? 0]
    const missing = wheelbaseMm - Math.sqrt((bx - ax) ** 2 + (by - ay) ** 2)
    if (Math.abs(missing) <= toleranceMm) {
      pivot[0] = (ax + bx) / 2
      pivot[1] = (ay + by) / 2
      return true
    }
    // Both ends move: the chord grows by twice the step, nearly.
    half += missing / 2
  }
  return false
}

/** How far behind the front support the rear one stands along a bend. */
function supportsApart(path: Path, { front, rear }: RigidBody, frontStationMm: number): number {
  const apartMm = front.xMm - rear.xMm
  const curvature = curvatureNear(path, frontStationMm - apartMm / 2)
  if (curvature === 0) return apartMm
  const wayMm = wayOver(apartMm, curvature, pivotRadius(curvature, front), pivotRadius(curvature, rear))
  return Number.isNaN(wayMm) ? apartMm : wayMm
}

/**
 * Pose of a body's middle when its front support is at a station: both pivots on their lines, a straight pivot distance apart.
 *
 * Exactness:  pivot distance to 1e-10 mm.
 * Outcome:    null when a support would stand beyond an end of the path, or no chord of that length ends on it.
 */
export function bodyStance(path: Path, body: RigidBody, frontStationMm: number): Pose | null {
  if (!supportPivot(frontPivot, path, body.front, frontStationMm)) return null
  const [frontX, frontY] = [frontPivot[0] ?? 0, frontPivot[1] ?? 0]
  const apart = body.front.xMm - body.rear.xMm
  let station = frontStationMm - supportsApart(path, body, frontStationMm)
  for (let step = 0; step < mostSteps; step++) {
    if (!supportPivot(rearPivot, path, body.rear, station)) return null
    const [dx, dy] = [frontX - (rearPivot[0] ?? 0), frontY - (rearPivot[1] ?? 0)]
    const missing = apart - Math.sqrt(dx * dx + dy * dy)
    if (Math.abs(missing) <= toleranceMm) {
      const headingRad = Math.atan2(dy, dx)
      return {
        x: frontX - body.front.xMm * Math.cos(headingRad),
        y: frontY - body.front.xMm * Math.sin(headingRad),
        headingRad,
      }
    }
    station -= missing
  }
  return null
}
