import { pathPoseAt, poseAhead } from '../../geom/index.ts'
import type { Pose } from '../../geom/types.ts'
import type { Corner } from '../../plan/types.ts'
import { STRAIGHT_RAD, cornerSolve } from '../corner.ts'
import type { CornerPlace } from '../types.ts'
import { STATION_ROUNDING_MM } from './parts.ts'
import type { TakenStretch, TrackInPlan, TrackOperationProblem } from './types.ts'

/** A track in two at a station: the corners on either side, and where it was cut. */
export interface Cut {
  readonly at: Pose
  readonly before: readonly Corner[]
  readonly behind: readonly Corner[]
}

export type CutResult = { readonly ok: true; readonly cut: Cut } | { readonly ok: false; readonly problem: TrackOperationProblem }

/** Less arc than this beside a cut is too little to be a curve of its own. */
const LEAST_ARC_MM = 1e-3

/**
 * The corners of a track on both sides of a station, such that each part lies where it lay.
 *
 * Domain:     a station within the track, on a tangent or in the arc of a plain curve, not in a turnout.
 * Exactness:  on a tangent nothing changes; an arc that is cut becomes two curves that meet without easement, within 1e-9 mm.
 */
export function trackCut({ track, alignment }: TrackInPlan, stationMm: number, taken: readonly TakenStretch[]): CutResult {
  const { path, corners: places, isClosed } = alignment
  const fail = (problem: TrackOperationProblem): CutResult => ({ ok: false, problem })
  if (!Number.isFinite(stationMm)) return fail({ kind: 'notFinite', where: 'station' })
  if (stationMm < 0 || stationMm > path.lengthMm) return fail({ kind: 'offTrack', stationMm, lengthMm: path.lengthMm })
  const isEnd = stationMm < STATION_ROUNDING_MM || stationMm > path.lengthMm - STATION_ROUNDING_MM
  if (isEnd && !isClosed) return fail({ kind: 'atEnd', stationMm })
  const lapsMm = isClosed ? [0, path.lengthMm, -path.lengthMm] : [0]
  const inside = taken.find(({ fromMm, toMm }) =>
    lapsMm.some((lapMm) => stationMm + lapMm > fromMm + STATION_ROUNDING_MM && stationMm + lapMm < toMm - STATION_ROUNDING_MM),
  )
  if (inside !== undefined) return fail({ kind: 'inTurnout', ...inside })

  const at = pathPoseAt(path, stationMm)
  const pose: Pose = { x: at.x, y: at.y, headingRad: at.headingRad }
  const index = places.findIndex(({ tsMm, stMm }) => stationMm > tsMm + STATION_ROUNDING_MM && stationMm < stMm - STATION_ROUNDING_MM)
  const place = places[index]
  const corner = track.corners[index]
  if (place === undefined || corner === undefined) {
    const count = places.filter(({ stMm }) => stMm <= stationMm + STATION_ROUNDING_MM).length
    return { ok: true, cut: { at: pose, before: track.corners.slice(0, count), behind: track.corners.slice(count) } }
  }
  const halves = cornerCut(corner, place, stationMm, pose)
  if (halves === null) {
    const isArc = place.joins.length === 0 && place.csMm - place.scMm > 2 * LEAST_ARC_MM
    const beforeMm = isArc && stationMm > place.csMm ? place.csMm - LEAST_ARC_MM : place.tsMm
    const behindMm = isArc && stationMm < place.scMm ? place.scMm + LEAST_ARC_MM : place.stMm
    return fail({ kind: 'inEasement', stationMm, beforeMm, behindMm })
  }
  return {
    ok: true,
    cut: {
      at: pose,
      before: [...track.corners.slice(0, index), halves.before],
      behind: [halves.behind, ...track.corners.slice(index + 1)],
    },
  }
}

/** The two curves that a plain one becomes when it is cut in its arc; null where that cannot be. */
function cornerCut(
  corner: Corner,
  { solution, scMm, csMm, joins }: CornerPlace,
  stationMm: number,
  at: Pose,
): { readonly before: Corner; readonly behind: Corner } | null {
  if (joins.length > 0 || stationMm < scMm + LEAST_ARC_MM || stationMm > csMm - LEAST_ARC_MM) return null
  const { radiusMm, easementInMm, easementOutMm, deflectionRad } = solution
  const hand = Math.sign(deflectionRad)
  const beforeRad = solution.spiralAngleInRad + (stationMm - scMm) / radiusMm
  const before = cornerSolve({ deflectionRad: hand * beforeRad, radiusMm, easementInMm, easementOutMm: 0 })
  const behind = cornerSolve({ deflectionRad: deflectionRad - hand * beforeRad, radiusMm, easementInMm: 0, easementOutMm })
  if (!before.ok || !behind.ok || beforeRad < STRAIGHT_RAD) return null
  const first = poseAhead(at, -before.corner.tangentOutMm)
  const second = poseAhead(at, behind.corner.tangentInMm)
  return {
    before: { ...corner, x: first.x, y: first.y, easementOut: 0 },
    behind: { ...corner, x: second.x, y: second.y, easementIn: 0 },
  }
}
