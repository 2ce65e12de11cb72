import { pathIntersections, pathPoseAt, poseAhead } from '../../geom/index.ts'
import type { Point, Pose } from '../../geom/types.ts'
import { frogDistances } from '../frog.ts'
import { checkFlangeway } from './checkFlangeway.ts'
import { lineReverse } from './side.ts'
import type { GaugeLine, LineName, WorkFrog, WorkMeasures } from './types.ts'

/** Lines pass this near or they do not meet. */
export const meetingToleranceMm = 1e-9
/** Lines that meet flatter than this do not cross, they run together: a No. 100 frog. */
const leastAngleRad = 0.01

/** One of the two lines of a frog as it runs through it. */
export interface Meeting {
  readonly frog: WorkFrog
  readonly line: GaugeLine
  readonly other: GaugeLine
  readonly stationMm: number
  readonly otherStationMm: number
  /** From this line's direction to the other's, rad. */
  readonly angleRad: number
  /** The half of this line whose head the other line's flanges run through. */
  readonly interrupted: 'behind' | 'ahead'
}

/**
 * All places where gauge lines cross, as frogs and as seen from each line.
 *
 * At a crossing a line's head lies, on one half of it, where the flanges of the other line run: that half stops a flangeway
 * short of the other line, at flangeway / sin F from the crossing. The other half runs up to the crossing itself. With a left
 * line and a right one both whole halves lie on the same side and make a point (vee); with two lines of one side they make
 * a corner (elbow).
 */
export function lineMeetings(lines: readonly GaugeLine[], measures: WorkMeasures, gaugeMm: number): readonly Meeting[] {
  return lines.flatMap((line, i) =>
    lines.slice(i + 1).flatMap((other) =>
      line.route === other.route && line.of === other.of
        ? []
        : pathIntersections(line.path, other.path, meetingToleranceMm)
            .filter(({ angleRad }) => Math.abs(angleRad) >= leastAngleRad)
            .filter(({ stationA, stationB }) => !liesAgainst(line, stationA, other) && !liesAgainst(other, stationB, line))
            .flatMap(({ stationA, stationB, at, angleRad }): readonly Meeting[] => {
              const frog = frogAt(line, stationA, other, stationB, at, angleRad, measures, gaugeMm)
              return [
                {
                  frog,
                  line,
                  other,
                  stationMm: stationA,
                  otherStationMm: stationB,
                  angleRad,
                  interrupted: interruptedHalf(angleRad, other),
                },
                {
                  frog,
                  line: other,
                  other: line,
                  stationMm: stationB,
                  otherStationMm: stationA,
                  angleRad: -angleRad,
                  interrupted: interruptedHalf(-angleRad, line),
                },
              ]
            }),
    ),
  )
}

/** Whether a line is the one of this name. */
export function isLine(line: LineName, { route, side, of }: LineName): boolean {
  return line.route === route && line.side === side && line.of === of
}

/** A point may touch the rail that it lies against, at an edge of no thickness: that is no crossing. */
function liesAgainst({ path, pointAtStart, pointAtEnd }: GaugeLine, stationMm: number, other: GaugeLine): boolean {
  const within = (point: GaugeLine['pointAtStart'], fromTipMm: number): boolean =>
    point !== null && isLine(other, point.against) && fromTipMm <= point.lengthMm
  return within(pointAtStart, stationMm) || within(pointAtEnd, path.lengthMm - stationMm)
}

/** Ahead of the crossing this line lies to the right of one that turns left from it; flanges run on the side without the head. */
function interruptedHalf(angleRad: number, other: GaugeLine): 'behind' | 'ahead' {
  return angleRad > 0 === (other.side === 'left') ? 'ahead' : 'behind'
}

function frogAt(
  line: GaugeLine,
  stationMm: number,
  other: GaugeLine,
  otherStationMm: number,
  at: Point,
  turnRad: number,
  measures: WorkMeasures,
  gaugeMm: number,
): WorkFrog {
  const angleRad = Math.abs(turnRad)
  const kind = line.side === other.side ? 'elbow' : 'vee'
  const mean = pathPoseAt(line.path, stationMm).headingRad + turnRad / 2
  const opensBack = kind === 'vee' && interruptedHalf(turnRad, other) === 'ahead'
  const opening: Pose = { ...at, headingRad: opensBack ? mean + Math.PI : mean }
  const blunt = poseAhead(opening, frogDistances(angleRad, measures).halfInch * Math.cos(angleRad / 2))
  return {
    kind,
    at,
    headingRad: opening.headingRad,
    angleRad,
    number: 1 / (2 * Math.tan(angleRad / 2)),
    lines: [
      { route: line.route, side: line.side, stationMm },
      { route: other.route, side: other.side, stationMm: otherStationMm },
    ],
    actualPoint: kind === 'vee' ? { x: blunt.x, y: blunt.y } : at,
    unguardedMm: kind === 'elbow' ? elbowUnguarded(angleRad, measures.flangewayMm, gaugeMm, checkFlangeway(measures, gaugeMm)) : 0,
  }
}

/**
 * Length of a line in an elbow frog over which nothing holds a wheel.
 *
 * The rail ends at the crossing, the point beyond begins at flangeway / sin F. In between the other wheel of the axle holds it off
 * the point, by its back against the check rail of the opposite elbow, up to where that check rail turns away: (G - its
 * flangeway) tan(F/2) behind this crossing. What is left:
 *
 *   flangeway / sin F - (G - its flangeway) tan(F/2)
 *
 * Full size, G 56 1/2 in and flangeways 1 3/4 in, that is 10.6 in for No. 8 and 14.8 in for No. 10, where a 33 in wheel with a
 * flange of 1 in is held over 11.7 in: the practice of fixed elbows down to No. 8 and movable points below.
 *
 * Units: mm, rad. Domain: 0 < F <= 90 deg. Exact for straight lines. Source: derived.
 */
export function elbowUnguarded(angleRad: number, flangewayMm: number, gaugeMm: number, checkFlangewayMm: number): number {
  return Math.max(0, flangewayMm / Math.sin(angleRad) - (gaugeMm - checkFlangewayMm) * Math.tan(angleRad / 2))
}

/** A meeting as seen by one who runs through its line from the end. */
export function meetingReverse(meeting: Meeting): Meeting {
  const { line, other, stationMm, otherStationMm, interrupted } = meeting
  return {
    ...meeting,
    line: lineReverse(line),
    other: lineReverse(other),
    stationMm: line.path.lengthMm - stationMm,
    otherStationMm: other.path.lengthMm - otherStationMm,
    interrupted: interrupted === 'behind' ? 'ahead' : 'behind',
  }
}

/** A meeting as seen by one who comes along the half of its line that is interrupted. */
export function meetingFromToe(meeting: Meeting): Meeting {
  return meeting.interrupted === 'behind' ? meeting : meetingReverse(meeting)
}
