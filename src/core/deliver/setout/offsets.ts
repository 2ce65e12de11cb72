import { pathPoseAt, poseReverse } from '../../geom/index.ts'
import type { Pose } from '../../geom/types.ts'
import type { CornerPlace } from '../../alignment/types.ts'
import { baseMeasure, basePieces, headingStation } from './baseline.ts'
import { columns } from './columns.ts'
import { jointNameAt, pathJoints, SAME_STATION_MM } from './joints.ts'
import { angleValue, lengthValue } from './marks.ts'
import { alongAndOffset, evenSteps, groupsRefuse, offsetRow, ROWS_MAX, rowsMerged, stepRows, type GroupsResult } from './rows.ts'
import type { SetoutGroup, SetoutRequest, SetoutSubject } from './types.ts'

/** A corner that turns less than this is straight: nothing stands off its tangents. */
const STRAIGHT_RAD = 1e-9

/**
 * Offsets from the tangents of every corner in the stretch: its first half from the tangent in, the other from the tangent
 * out. The halves meet where the curve has turned half of its deflection, so neither turns more than 90 degrees from its
 * tangent and each step along the tangent meets it once.
 */
export function offsetGroups(
  subject: SetoutSubject,
  request: SetoutRequest,
  datum: 'TS' | 'PI',
  fromMm: number,
  toMm: number,
): GroupsResult {
  const { path, corners } = subject
  const joints = pathJoints(path)
  const groups: SetoutGroup[] = []
  let count = 0
  for (const [corner, place] of corners.entries()) {
    if (Math.abs(place.solution.deflectionRad) < STRAIGHT_RAD || place.stMm <= fromMm || place.tsMm >= toMm) continue
    const middleMm = headingStation(
      path,
      place.tsMm,
      place.stMm,
      pathPoseAt(path, place.tsMm).headingRad + place.solution.deflectionRad / 2,
    )
    for (const side of ['in', 'out'] as const) {
      const first = Math.max(side === 'in' ? place.tsMm : middleMm, fromMm)
      const last = Math.min(side === 'in' ? middleMm : place.stMm, toMm)
      if (last - first <= SAME_STATION_MM) continue
      const end = pathPoseAt(path, side === 'in' ? place.tsMm : place.stMm)
      const frame = tangentFrame(end, place, side, datum)
      const measures = [baseMeasure(path, frame, first).x, baseMeasure(path, frame, last).x]
      const steps = evenSteps(Math.min(...measures), Math.max(...measures), request.stepMm)
      count += steps?.length ?? Math.ceil((last - first) / request.stepMm)
      if (steps === null || count > ROWS_MAX) return groupsRefuse({ kind: 'tooManyRows', rows: count, most: ROWS_MAX })
      const named = [first, ...joints.map(({ stationMm }) => stationMm).filter((at) => at > first && at < last), last]
      const rows = rowsMerged([
        ...stepRows(path, frame, basePieces(path, frame, first, last), steps, request.marks),
        ...named.map((at) => {
          const name = jointNameAt(joints, at) || (Math.abs(at - middleMm) <= SAME_STATION_MM ? 'middle' : at === first ? 'from' : 'to')
          return offsetRow(path, frame, at, name, request.marks)
        }),
      ])
      const endName = side === 'in' ? 'TS' : 'ST'
      const endWords = jointNameAt(joints, side === 'in' ? place.tsMm : place.stMm) || endName
      groups.push({
        base: { kind: 'tangent', corner, side, datum: datum === 'PI' ? 'PI' : endWords, frame },
        title:
          datum === 'PI'
            ? `At PI ${corner + 1}, along the tangent from the PI back to ${endWords}`
            : `At PI ${corner + 1}, along the tangent from ${endWords} to the PI`,
        facts: [
          {
            column: columns.tangent,
            ...lengthValue(side === 'in' ? place.solution.tangentInMm : place.solution.tangentOutMm, request.marks),
          },
          { column: columns.turn, ...angleValue(place.solution.deflectionRad, request.angleStepRad) },
        ],
        columns: alongAndOffset,
        rows,
      })
    }
  }
  return groups.length > 0 ? { ok: true, groups } : groupsRefuse({ kind: 'noCorner' })
}

/** From TS (ST) towards the PI, or from the PI back towards TS (ST). */
function tangentFrame(end: Pose, place: CornerPlace, side: 'in' | 'out', datum: 'TS' | 'PI'): Pose {
  const ahead: Pose = { x: end.x, y: end.y, headingRad: end.headingRad }
  const toPi = side === 'in' ? ahead : poseReverse(ahead)
  return datum === 'TS' ? toPi : { ...poseReverse(toPi), x: place.pi.x, y: place.pi.y }
}
