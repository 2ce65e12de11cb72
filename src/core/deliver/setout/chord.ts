import { pointDistance } from '../../geom/index.ts'
import type { Pose } from '../../geom/types.ts'
import { basePieces } from './baseline.ts'
import { columns } from './columns.ts'
import { jointNameAt, pathJoints } from './joints.ts'
import { lengthValue } from './marks.ts'
import {
  alongAndOffset,
  evenSteps,
  groupsRefuse,
  offsetRow,
  ROWS_MAX,
  rowsMerged,
  stationPoint,
  stepRows,
  type GroupsResult,
} from './rows.ts'
import type { SetoutRequest, SetoutSubject } from './types.ts'

/** Ends of a chord nearer than this give it no direction that a string could hold, mm. */
const LEAST_CHORD_MM = 1

/** Ordinates at even steps along the chord between two stations. */
export function chordGroups(subject: SetoutSubject, request: SetoutRequest, fromMm: number, toMm: number): GroupsResult {
  const { path } = subject
  const a = stationPoint(path, fromMm)
  const b = stationPoint(path, toMm)
  const lengthMm = pointDistance(a, b)
  if (lengthMm < LEAST_CHORD_MM) return groupsRefuse({ kind: 'chordWithoutLength' })
  const frame: Pose = { ...a, headingRad: Math.atan2(b.y - a.y, b.x - a.x) }
  const pieces = basePieces(path, frame, fromMm, toMm)
  const second = pieces[1]
  if (second) return groupsRefuse({ kind: 'chordFolds', stationMm: second.fromMm })
  const steps = evenSteps(0, lengthMm, request.stepMm)
  if (steps === null) return groupsRefuse({ kind: 'tooManyRows', rows: Math.ceil(lengthMm / request.stepMm), most: ROWS_MAX })
  const joints = pathJoints(path)
  const inner = joints.map(({ stationMm }) => stationMm).filter((at) => at > fromMm && at < toMm)
  const named = [fromMm, ...inner, toMm].map((at) =>
    offsetRow(path, frame, at, jointNameAt(joints, at) || (at === fromMm ? 'from' : 'to'), request.marks),
  )
  return {
    ok: true,
    groups: [
      {
        base: { kind: 'chord', frame },
        title: 'Along the chord from the first point to the last',
        facts: [{ column: columns.longChord, ...lengthValue(lengthMm, request.marks) }].map((fact) => ({
          ...fact,
          column: { ...fact.column, words: 'Chord' },
        })),
        columns: alongAndOffset,
        rows: rowsMerged([...stepRows(path, frame, pieces, steps, request.marks), ...named]),
      },
    ],
  }
}
