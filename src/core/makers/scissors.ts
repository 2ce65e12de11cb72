import {
  pathFromElements,
  pathIntersections,
  pathMove,
  pathPoseAt,
  pathsJoined,
  pathStart,
  pointRotate,
  poseCompose,
  poseReverse,
  poseToLocal,
} from '../geom/index.ts'
import type { Path, Pose } from '../geom/types.ts'
import { keptOn } from '../plan/index.ts'
import { crossingRequest } from '../network/index.ts'
import { canJoin, crossingSolve, legWay, turnoutMirror, worksJoin } from '../turnout/index.ts'
import type { JoinArm, TurnoutGeometry } from '../turnout/index.ts'
import { crossoverFigures } from './figures.ts'

/** The two turnouts of a crossover, both left-hand: on the host, and on the other track. */
export type CrossoverPair = readonly [TurnoutGeometry, TurnoutGeometry]

/** Centres are tried wider by steps that double from this part of the gauge, and the least that do are told to so much. */
const firstStepGauges = 0.1
const mostSteps = 8
const halvings = 14
const meetingToleranceMm = 1e-9
const roundingMm = 1e-6

/** Railway and class of the diamond. */
type Measures = Parameters<typeof crossingRequest>[0]

/**
 * The least centres, no less than those asked, at which a scissors can be made. On each of its tracks two turnouts look at each other: their frogs'
 * heels must not lie in one place. And the diamond must have room between and beside the frogs of all four: it is built there, in one with them where
 * it reaches into them.
 *
 * Outcome:  null where it has none at any centres, which is for the crossing itself to tell. Exact to a thousandth of the gauge, on the side that does.
 */
export function scissorsCentres(railway: Measures, tieSpacingMm: number, pairs: readonly CrossoverPair[], askedMm: number): number | null {
  const [first, second] = pairs
  if (!first || !second) return null
  return centresKept(first[0], [railway, tieSpacingMm, ...first, ...second, askedMm], () =>
    leastCentres(railway, tieSpacingMm, [first, second], askedMm),
  )
}

/** A maker asks again at every step for centres that have not changed. */
const centresKept = keptOn<TurnoutGeometry, number | null>()

type BothPairs = readonly [CrossoverPair, CrossoverPair]

function leastCentres(railway: Measures, tieSpacingMm: number, pairs: BothPairs, askedMm: number): number | null {
  const [first, [a, b]] = pairs
  const crossed: BothPairs = [first, [turnoutMirror(a), turnoutMirror(b)]]
  const fits = (mm: number): boolean => scissorsFits(railway, tieSpacingMm, crossed, mm)
  const centresMm = Math.max(askedMm, heelsCentres(railway.gaugeMm, pairs))
  if (fits(centresMm)) return centresMm
  const tries = Array.from({ length: mostSteps }, (_, i) => centresMm + firstStepGauges * railway.gaugeMm * 2 ** i)
  const found = tries.findIndex(fits)
  if (found < 0) return null
  let [tight, wide] = [tries[found - 1] ?? centresMm, tries[found] ?? centresMm]
  for (let i = 0; i < halvings; i++) {
    const middle = (tight + wide) / 2
    if (fits(middle)) wide = middle
    else tight = middle
  }
  return wide
}

/** Centres at which the frogs' heels of the two turnouts on either track just meet. */
function heelsCentres(gaugeMm: number, [[a, b], second]: BothPairs): number {
  const needMm = Math.max(a.overallMm + second[0].overallMm, b.overallMm + second[1].overallMm)
  const frogToFrogMm = needMm - a.leadMm - b.leadMm
  return gaugeMm + frogToFrogMm * Math.tan(a.frogAngleRad) + gaugeMm / Math.cos(a.frogAngleRad)
}

/** Whether the diamond has room at these centres; the second pair is mirrored. */
function scissorsFits(railway: Measures, tieSpacingMm: number, [first, second]: BothPairs, centresMm: number): boolean {
  const one = crossoverArms(railway.gaugeMm, first, centresMm)
  const other = crossoverArms(railway.gaugeMm, second, centresMm)
  const [a, b] = [wayThrough(one), wayThrough(other)]
  const meeting = a && b && pathIntersections(a, b, meetingToleranceMm)[0]
  if (!a || !b || !meeting) return false
  const frame = pathPoseAt(a, meeting.stationA)
  const into = { ...pointRotate({ x: -frame.x, y: -frame.y }, -frame.headingRad), headingRad: -frame.headingRad }
  const solved = crossingSolve(
    crossingRequest(
      railway,
      tieSpacingMm,
      null,
      { path: pathMove(a, into), atMm: meeting.stationA },
      { path: pathMove(b, into), atMm: meeting.stationB },
    ),
  )
  if (!solved.ok) return false
  const { crossing } = solved
  const arms = [...one, ...other].map(
    ({ geometry, leg, pose }): JoinArm => ({
      geometry,
      leg,
      pose: { ...poseToLocal(frame, pose), headingRad: pose.headingRad - frame.headingRad },
    }),
  )
  const [start, end, otherStart, otherEnd] = arms
  if (!start || !end || !otherStart || !otherEnd) return false
  const wayMm = legWay(start, false)?.lengthMm ?? 0
  if (meeting.stationA + crossing.extents.first.fromMm >= wayMm - roundingMm) return true
  if (arms.some(({ geometry }) => !canJoin(crossing.request, geometry))) return false
  return worksJoin({ crossing, first: { start, end }, second: { start: otherStart, end: otherEnd } }).ok
}

/** The turnouts of a crossover from y = 0 up to the other track, its middle at x = 0. Of the mirrored pair the first stands on the right. */
function crossoverArms(gaugeMm: number, [a, b]: CrossoverPair, centresMm: number): readonly [JoinArm, JoinArm] {
  const { pointsToPointsMm } = crossoverFigures({
    gaugeMm,
    centresMm,
    frogAngleRad: a.frogAngleRad,
    leadMm: (a.leadMm + b.leadMm) / 2,
  })
  const side = a.request.hand === 'left' ? 1 : -1
  const low: Pose = { x: (-side * pointsToPointsMm) / 2, y: 0, headingRad: 0 }
  const high: Pose = { x: (side * pointsToPointsMm) / 2, y: centresMm, headingRad: 0 }
  const at = (geometry: TurnoutGeometry, pose: Pose, looksBack: boolean): JoinArm => ({
    geometry,
    leg: 'diverging',
    pose: looksBack ? poseReverse(pose) : pose,
  })
  // Both crossovers are run through from left to right.
  return side === 1 ? [at(a, low, false), at(b, high, true)] : [at(b, high, false), at(a, low, true)]
}

/** From points to points along a crossover; null: its legs leave nothing between them. */
function wayThrough([start, end]: readonly [JoinArm, JoinArm]): Path | null {
  const [before, behind] = [legWay(start, false), legWay(end, true)]
  if (!before || !behind) return null
  const from = poseCompose(start.pose, start.geometry.leg)
  const to = poseCompose(end.pose, end.geometry.leg)
  const lengthMm = Math.hypot(to.x - from.x, to.y - from.y)
  if (lengthMm <= roundingMm) return null
  const way = pathsJoined([before, pathFromElements(from, [{ lengthMm, k0: 0, k1: 0 }]), behind])
  return pathFromElements(
    poseCompose(start.pose, pathStart(before)),
    way.elements.map(({ lengthMm: length, k0, k1 }) => ({ lengthMm: length, k0, k1 })),
  )
}
