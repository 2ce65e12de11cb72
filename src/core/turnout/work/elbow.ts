import { elementBetween, invariant, pathFromElements, pathIntersections, pathOffset, pathSlice, pathStart } from '../../geom/index.ts'
import type { Path } from '../../geom/types.ts'
import { frogDistances } from '../frog.ts'
import type { TurnoutRail } from '../types.ts'
import { flaredBoth } from './flare.ts'
import { checkFlangeway } from './checkFlangeway.ts'
import type { Meeting } from './meetings.ts'
import { railOf } from './railOf.ts'
import { pathElementsOf, sideSign } from './side.ts'
import type { WorkMeasures } from './types.ts'
import { meetingToleranceMm } from './meetings.ts'

/** A check rail in an elbow reaches this many knuckle lengths from the corner each way. Common practice, no source. */
const checkReach = 1.5

/**
 * The bent rail of an elbow: along the line that comes up to the crossing and on along the one that leaves it, with a bend
 * whose tangents are a rail head long. `enters` is the meeting of the line that is whole behind the crossing.
 */
export function elbowRail(enters: Meeting, fromMm: number, toMm: number, measures: WorkMeasures): TurnoutRail {
  const corner = cornerOf(enters.line.path, enters.stationMm, enters.other.path, enters.otherStationMm, {
    fromMm,
    toMm,
    tangentMm: measures.railHeadMm,
  })
  return railOf(measures, 'elbow', enters.line, corner, enters.line.side)
}

/**
 * The check rail inside an elbow: it holds each line where that line's own rail is interrupted. So it comes up along the line that
 * is interrupted behind the crossing, its flangeway off, and goes on along the other; open at both ends.
 */
export function checkRail(enters: Meeting, measures: WorkMeasures, gaugeMm: number): TurnoutRail {
  const { flangewayMm, railHeadMm } = measures
  const reach = checkReach * frogDistances(Math.abs(enters.angleRad), measures).knuckle
  const inward = -sideSign(enters.line.side) * checkFlangeway(measures, gaugeMm)
  const { line: ahead, other: behind, stationMm, otherStationMm } = enters
  const from = pathOffset(pathSlice(behind.path, Math.max(0, otherStationMm - reach), behind.path.lengthMm), inward)
  const to = pathOffset(pathSlice(ahead.path, 0, Math.min(ahead.path.lengthMm, stationMm + reach)), inward)
  const [meeting] = pathIntersections(from, to, meetingToleranceMm)
  invariant(meeting !== undefined, 'what lies as far off two lines that cross crosses too')
  const corner = cornerOf(from, meeting.stationA, to, meeting.stationB, { fromMm: 0, toMm: to.lengthMm, tangentMm: railHeadMm })
  const away = sideSign(enters.line.side) === 1 ? -1 : 1
  const path = flaredBoth(pathStart(corner), pathElementsOf(corner), away, flangewayMm, railHeadMm)
  return railOf(measures, 'check', enters.line, path, enters.line.side === 'left' ? 'right' : 'left')
}

interface Corner {
  readonly fromMm: number
  readonly toMm: number
  readonly tangentMm: number
}

function cornerOf(a: Path, stationA: number, b: Path, stationB: number, { fromMm, toMm, tangentMm }: Corner): Path {
  const tangent = Math.min(tangentMm, stationA - fromMm, toMm - stationB)
  const before = pathSlice(a, fromMm, stationA - tangent)
  const behind = pathSlice(b, stationB + tangent, toMm)
  const bent = elementBetween(before.end, pathStart(behind))
  invariant(bent !== null, 'an elbow bends by less than a right angle')
  return pathFromElements(pathStart(before), [...pathElementsOf(before), bent, ...pathElementsOf(behind)])
}

/**
 * A point of an elbow: the interrupted half from where it clears the other line by a flangeway, filed along that line until
 * the head is full.
 */
export function elbowPoint({ line, stationMm, angleRad }: Meeting, toMm: number, measures: WorkMeasures): TurnoutRail | null {
  const f = Math.abs(angleRad)
  const nose = stationMm + measures.flangewayMm / Math.sin(f)
  if (toMm <= nose) return null
  return railOf(measures, 'frog', line, pathSlice(line.path, nose, toMm), line.side, [
    { alongMm: 0, headMm: 0 },
    { alongMm: measures.railHeadMm / Math.tan(f), headMm: measures.railHeadMm },
  ])
}
