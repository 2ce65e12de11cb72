import { pathPoseAt, pathStart, poseAhead } from '../../geom/index.ts'
import type { Path, Point, StationPose } from '../../geom/types.ts'
import { sharpestCurvature } from './baseline.ts'
import { columns } from './columns.ts'
import { jointNameAt, pathJoints, stationsEven } from './joints.ts'
import { lengthValue } from './marks.ts'
import { groupsRefuse, ROWS_MAX, type GroupsResult } from './rows.ts'
import type { SetoutNote, SetoutRequest, SetoutRow, SetoutSubject } from './types.ts'

/*
 * A stick of length c lies with both ends on the line; its middle is read square to it, at station s. The place read is as far
 * from one end as from the other, so the ends a < s < b are found from
 *   |P(b) - P(a)|^2 = c^2   and   |P(s) - P(a)|^2 = |P(s) - P(b)|^2
 * by Newton's steps from a = s - c/2, b = s + c/2. On a circle this is R - sqrt(R^2 - c^2/4); on an easement it is exact as well.
 */

/** A stick over more than 120 degrees of a curve has its ends nearly side by side: no one reads that, and Newton may stray. */
const STICK_OVER_RADIUS = 2 * Math.sin(Math.PI / 3)

const MOST_STEPS = 40

export type StickResult = GroupsResult & { readonly notes?: readonly SetoutNote[] }

/** Mid-ordinates of a stick with its middle at each even step, on the centreline and along the outer rail. + : the line curves left. */
export function stickGroups(subject: SetoutSubject, request: SetoutRequest, chordMm: number, fromMm: number, toMm: number): StickResult {
  const { path, isClosed, gaugeMm } = subject
  if (chordMm > path.lengthMm) return groupsRefuse({ kind: 'stickLongerThanLine', chordMm, lengthMm: path.lengthMm })
  const sharpest = sharpestCurvature(path, Math.max(0, fromMm - chordMm), Math.min(path.lengthMm, toMm + chordMm))
  const mostMm = sharpest === 0 ? Infinity : STICK_OVER_RADIUS / sharpest
  if (chordMm > mostMm) return groupsRefuse({ kind: 'stickTooLong', chordMm, mostMm, radiusMm: 1 / sharpest })
  const asked = Math.ceil((toMm - fromMm) / request.stepMm)
  if (asked > ROWS_MAX) return groupsRefuse({ kind: 'tooManyRows', rows: asked, most: ROWS_MAX })
  const joints = pathJoints(path)
  const stations = stationsEven(fromMm, toMm, request.stepMm, [])
  const rows = stations.flatMap((stationMm): readonly SetoutRow[] => {
    const centre = stickAt(path, isClosed, stationMm, 0, chordMm)
    if (centre === null) return []
    // The outer rail of a curve to the left is the right one.
    const rail = stickAt(path, isClosed, stationMm, centre.ordinateMm >= 0 ? -gaugeMm / 2 : gaugeMm / 2, chordMm)
    if (rail === null) return []
    const values = [lengthValue(centre.ordinateMm, request.marks), lengthValue(rail.ordinateMm, request.marks)]
    return [
      {
        stationMm,
        name: jointNameAt(joints, stationMm),
        at: centre.at,
        values,
        // The point is plotted at the middle of the stick, so it is off by what the ordinate is off.
        errorMm: Math.max(...values.map(({ exact, rounded }) => Math.abs(rounded - exact))),
      },
    ]
  })
  if (rows.length === 0) return groupsRefuse({ kind: 'stickRunsOff', chordMm })
  const missed = stations.length - rows.length
  return {
    ok: true,
    groups: [
      {
        base: { kind: 'stick', chordMm },
        title: 'Both ends of the stick on the line, its middle at the station',
        facts: [],
        columns: [columns.ordinate, columns.outerRailOrdinate],
        rows,
      },
    ],
    notes: missed > 0 ? [{ kind: 'stickRunsOff', rows: missed }] : [],
  }
}

interface StickPlace {
  readonly at: Point
  readonly ordinateMm: number
  readonly a: Point
  readonly b: Point
}

/** The stick with its middle at a station of the line at an offset; null when an end runs off the line. */
export function stickAt(path: Path, isClosed: boolean, stationMm: number, offsetMm: number, chordMm: number): StickPlace | null {
  const s = railAt(path, isClosed, stationMm, offsetMm)
  let back = stationMm - chordMm / 2
  let ahead = stationMm + chordMm / 2
  for (let i = 0; i < MOST_STEPS; i += 1) {
    const a = railAt(path, isClosed, back, offsetMm)
    const b = railAt(path, isClosed, ahead, offsetMm)
    const [cx, cy] = [b.x - a.x, b.y - a.y]
    const [ax, ay] = [s.x - a.x, s.y - a.y]
    const [bx, by] = [s.x - b.x, s.y - b.y]
    const length = cx * cx + cy * cy - chordMm * chordMm
    const middle = ax * ax + ay * ay - bx * bx - by * by
    // Derivatives of both by the two stations; halved, as everything is squared.
    const lengthA = -(cx * a.tx + cy * a.ty)
    const lengthB = cx * b.tx + cy * b.ty
    const middleA = -(ax * a.tx + ay * a.ty)
    const middleB = bx * b.tx + by * b.ty
    const determinant = lengthA * middleB - lengthB * middleA
    if (determinant === 0) return null
    const stepA = (length * middleB - middle * lengthB) / (2 * determinant)
    const stepB = (middle * lengthA - length * middleA) / (2 * determinant)
    back -= stepA
    ahead -= stepB
    if (Math.abs(stepA) + Math.abs(stepB) < 1e-11 * chordMm) {
      if (!isClosed && (back < -1e-9 || ahead > path.lengthMm + 1e-9)) return null
      const ordinateMm = ((s.y - a.y) * cx - (s.x - a.x) * cy) / Math.hypot(cx, cy)
      return { at: { x: s.x, y: s.y }, ordinateMm: ordinateMm === 0 ? 0 : -ordinateMm, a: { x: a.x, y: a.y }, b: { x: b.x, y: b.y } }
    }
  }
  return null
}

interface RailPlace extends Point {
  /** Change of the place by station: not of unit length beside the centreline of a curve. */
  readonly tx: number
  readonly ty: number
}

/** A place of the line at an offset. A loop runs on; an open line runs on straight, so that Newton's steps have ground to stand on. */
function railAt(path: Path, isClosed: boolean, stationMm: number, offsetMm: number): RailPlace {
  const pose = runOnPose(path, isClosed, stationMm)
  const [cos, sin] = [Math.cos(pose.headingRad), Math.sin(pose.headingRad)]
  const stretch = 1 - pose.curvature * offsetMm
  return { x: pose.x - offsetMm * sin, y: pose.y + offsetMm * cos, tx: stretch * cos, ty: stretch * sin }
}

function runOnPose(path: Path, isClosed: boolean, stationMm: number): StationPose {
  const { lengthMm } = path
  if (isClosed) return pathPoseAt(path, stationMm - lengthMm * Math.floor(stationMm / lengthMm))
  if (stationMm < 0) return { ...poseAhead(pathStart(path), stationMm), stationMm, curvature: 0 }
  if (stationMm > lengthMm) return { ...poseAhead(path.end, stationMm - lengthMm), stationMm, curvature: 0 }
  return pathPoseAt(path, stationMm)
}
