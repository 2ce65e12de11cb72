import { angleBetween, pathPoseAt, pointDistance, pointPolar, rootBrent } from '../../geom/index.ts'
import type { Path, Point, Pose } from '../../geom/types.ts'
import { sharpestCurvature } from './baseline.ts'
import { columns } from './columns.ts'
import { elementKind, jointNameAt, pathJoints, SAME_STATION_MM, type Joint } from './joints.ts'
import { angleValue, lengthValue } from './marks.ts'
import { groupsRefuse, ROWS_MAX, stationPoint, type GroupsResult } from './rows.ts'
import type { SetoutGroup, SetoutProblem, SetoutRequest, SetoutRow, SetoutSubject } from './types.ts'

/** A longer turn from one set-up and the sight runs along the chord instead of across its end. */
const SETUP_TURN_RAD = Math.PI / 2

/**
 * Largest angle between a chord and the sight that cuts its end. At 60 degrees an error of the chord is doubled; at 90 the
 * sight only grazes the circle of the chord.
 */
const FLAT_SIGHT_RAD = Math.PI / 3

interface Setup {
  readonly fromMm: number
  readonly toMm: number
}

/**
 * Deflection angles and chords. From each set-up the points follow each other at chords of one step, the last one shorter;
 * the angle is counted from the tangent at the instrument. Two ways to plot each point: sight and chord from the point before, as
 * in the field, or sight and distance from the instrument. The error stated is that of the worse way.
 */
export function deflectionGroups(
  subject: SetoutSubject,
  request: SetoutRequest,
  instrument: 'curves' | 'start',
  fromMm: number,
  toMm: number,
): GroupsResult {
  const { path } = subject
  const setups = instrument === 'start' ? [{ fromMm, toMm }] : curveSetups(path, fromMm, toMm)
  if (setups.length === 0) return groupsRefuse({ kind: 'noCurve' })
  const expected = setups.reduce((sum, setup) => sum + Math.ceil((setup.toMm - setup.fromMm) / request.stepMm), 0)
  if (expected > ROWS_MAX) return groupsRefuse({ kind: 'tooManyRows', rows: expected, most: ROWS_MAX })
  const joints = pathJoints(path)
  const groups: SetoutGroup[] = []
  for (const setup of setups) {
    const made = setupGroup(path, joints, request, setup)
    if (!made.ok) return groupsRefuse(made.problem)
    groups.push(made.group)
  }
  return { ok: true, groups }
}

/** One set-up where each curved element begins, more on one that turns far. */
function curveSetups(path: Path, fromMm: number, toMm: number): readonly Setup[] {
  return path.elements.flatMap((element) => {
    if (elementKind(element) === 'line') return []
    const first = Math.max(fromMm, element.startStationMm)
    const last = Math.min(toMm, element.startStationMm + element.lengthMm)
    if (last - first <= SAME_STATION_MM) return []
    const turn = sharpestCurvature(path, first, last) * (last - first)
    const count = Math.max(1, Math.ceil(turn / SETUP_TURN_RAD - 1e-9))
    return Array.from({ length: count }, (_, i) => ({
      fromMm: first + ((last - first) * i) / count,
      toMm: i + 1 === count ? last : first + ((last - first) * (i + 1)) / count,
    }))
  })
}

type SetupResult = { readonly ok: true; readonly group: SetoutGroup } | { readonly ok: false; readonly problem: SetoutProblem }

function setupGroup(path: Path, joints: readonly Joint[], request: SetoutRequest, setup: Setup): SetupResult {
  const pose = pathPoseAt(path, setup.fromMm)
  const frame: Pose = { x: pose.x, y: pose.y, headingRad: pose.headingRad }
  const rows: SetoutRow[] = []
  let before: Point = frame
  let beforeMm = setup.fromMm
  // As plotted with rounded values, chord after chord.
  let plotted: Point = frame
  while (setup.toMm - beforeMm > SAME_STATION_MM) {
    const stationMm = chordEnd(path, before, beforeMm, setup.toMm, request.stepMm)
    if (stationMm === null) return { ok: false, problem: { kind: 'stepTooLong', stepMm: request.stepMm, stationMm: beforeMm } }
    const at = stationPoint(path, stationMm)
    const direction = Math.atan2(at.y - frame.y, at.x - frame.x)
    const chordDirection = Math.atan2(at.y - before.y, at.x - before.x)
    if (Math.abs(angleBetween(direction, chordDirection)) > FLAT_SIGHT_RAD)
      return { ok: false, problem: { kind: 'sightTooFlat', stationMm: beforeMm } }
    const deflection = angleValue(angleBetween(frame.headingRad, direction), request.angleStepRad)
    const chord = lengthValue(pointDistance(before, at), request.marks)
    const longChord = lengthValue(pointDistance(frame, at), request.marks)
    const sight = frame.headingRad + deflection.rounded
    const polar = pointPolar(sight, longChord.rounded)
    plotted = sightOnCircle(frame, sight, plotted, chord.rounded)
    rows.push({
      stationMm,
      name: jointNameAt(joints, stationMm) || (stationMm === setup.toMm ? 'end' : ''),
      at,
      values: [deflection, chord, longChord],
      errorMm: Math.max(pointDistance(at, plotted), pointDistance(at, { x: frame.x + polar.x, y: frame.y + polar.y })),
    })
    before = at
    beforeMm = stationMm
  }
  const name = jointNameAt(joints, setup.fromMm) || 'a point on the line'
  return {
    ok: true,
    group: {
      base: { kind: 'instrument', name, stationMm: setup.fromMm, frame },
      title: `Instrument at ${name}, counted from the tangent there`,
      facts: [],
      columns: [columns.deflection, columns.chord, columns.longChord],
      rows,
    },
  }
}

/** Station at which a chord of the step from a point ends, the last station when that is nearer; null: no such chord fits the curve. */
function chordEnd(path: Path, from: Point, fromMm: number, lastMm: number, stepMm: number): number | null {
  const beyond = (station: number): number => pointDistance(from, stationPoint(path, station)) - stepMm
  // Half a circle is pi/2 of its chord; a line that has not come a chord away by then turns back.
  const farthest = Math.min(lastMm, fromMm + (Math.PI / 2) * stepMm)
  if (beyond(farthest) <= 1e-9) return farthest === lastMm ? lastMm : null
  const root = rootBrent(beyond, Math.min(fromMm + stepMm, farthest), farthest, 1e-12)
  return root.ok ? root.x : farthest
}

/** Where a sight cuts the circle of a chord, ahead; its nearest place when it passes by. */
function sightOnCircle(eye: Point, sightRad: number, centre: Point, chordMm: number): Point {
  const [cos, sin] = [Math.cos(sightRad), Math.sin(sightRad)]
  const [dx, dy] = [centre.x - eye.x, centre.y - eye.y]
  const along = dx * cos + dy * sin
  const across = dy * cos - dx * sin
  const reach = along + Math.sqrt(Math.max(0, chordMm * chordMm - across * across))
  return { x: eye.x + reach * cos, y: eye.y + reach * sin }
}
