import { sideOfReach } from '../clearance/index.ts'
import type { LineSide } from '../clearance/index.ts'
import { pathNearestWithin, pathPoseAt } from '../geom/index.ts'
import type { NearestStation, StationPose } from '../geom/types.ts'
import { alongTangent, stationsOnLevel } from '../levels/index.ts'
import type { SideReach } from '../vehicles/index.ts'
import { runDemandMost } from './demand.ts'
import { runEndTouched } from './run.ts'
import type { Run, Span } from './run.ts'

/** Nearer to a line than this a place is on neither side of it, mm: rounding, and nothing that a car could feel. */
export const ON_LINE_MM = 1e-3

/** How a station of one run stands to the nearest place of another (or of itself farther on). mm. */
export interface Nearness {
  readonly run: Run
  readonly other: Run
  /** The station and the pose there. */
  readonly here: StationPose
  /** The nearest place of the other, its distance, and on which side of the other this one lies. */
  readonly there: NearestStation
  /** Stations of the other among which it is the nearest. */
  readonly within: Span
  /** On which side of the run the other lies; 0: not beside it. */
  readonly side: LineSide | 0
  /** How far both reach towards each other at most. */
  readonly roomMm: number
  /** What is left for certain of the distance when both reach as far as they do anywhere near, less what is asked between them. */
  readonly freeMm: number
  /** Change of the distance by the mm along this run. */
  readonly slope: number
}

/** mm. */
export interface Left {
  /** Negative where the bands overlap; of what is clear for certain, what cars would leave there on a straight. */
  readonly gapMm: number
  /** How far both reach towards each other here; gap and room together are the distance, but for the slant of one line to the other. */
  readonly roomMm: number
}

/** A place whose way to the other line is this nearly square to the run lies beside it; the other one lies on that side alone. */
const BESIDE = 0.95

/** The nearest place of the other run between two of its stations. */
export function nearnessAt(run: Run, stationMm: number, other: Run, within: Span): Nearness {
  const here = pathPoseAt(run.path, stationMm)
  const there = pathNearestWithin(other.path, here, within.fromMm, within.toMm)
  const cos = Math.cos(here.headingRad)
  const sin = Math.sin(here.headingRad)
  const left = cos * (there.y - here.y) - sin * (there.x - here.x)
  const ahead = cos * (there.x - here.x) + sin * (there.y - here.y)
  const { distanceMm, offsetMm } = there
  const isBeside = distanceMm > ON_LINE_MM && Math.abs(left) > BESIDE * distanceMm && Math.abs(offsetMm) > BESIDE * distanceMm
  const side: LineSide | 0 = isBeside ? (left > 0 ? 1 : -1) : 0
  const otherSide: LineSide | 0 = isBeside ? (offsetMm > 0 ? 1 : -1) : 0
  const { clearanceMm } = run
  let roomMm = run.reach.mostMm + other.reach.mostMm
  if (distanceMm - roomMm < clearanceMm) {
    roomMm = mostOfReach(run.reach.mostAt(stationMm), side) + mostOfReach(other.reach.mostAt(there.stationMm), otherSide)
  }
  const freeMm = distanceMm - roomMm - clearanceMm
  const slope = distanceMm === 0 ? 0 : -ahead / distanceMm
  return { run, other, here, there, within, side, roomMm, freeMm, slope }
}

/**
 * What is left between the bands that the cars of both sweep. Asked only where it matters, for bands cost more than lines: most places are
 * clear whatever the cars do there, and no band has to be swept for them.
 */
export function nearnessLeft(near: Nearness): Left {
  return near.freeMm >= 0 ? clearFor(near) : bandsApart(near)
}

function clearFor({ run, other, there, roomMm }: Nearness): Left {
  const straightMm = run.reach.halfMm + other.reach.halfMm
  return { gapMm: there.distanceMm - Math.min(roomMm, straightMm), roomMm: straightMm }
}

/** To one side, or (0) to the one where it is more. */
function mostOfReach(reach: SideReach, side: LineSide | 0): number {
  return side === 0 ? Math.max(reach.leftMm, reach.rightMm) : sideOfReach(reach, side)
}

const oneSide = { 1: [1], [-1]: [-1], 0: [1, -1] } as const

/**
 * The gap between the edges of both bands at a station: from the edge of the one square to the line of the other, less what that one reaches.
 * Edges lean by a few hundredths at most, which this leaves out: less than a thousandth of the gap.
 */
function bandsApart({ run, other, here, there, within, side: towards }: Nearness): Left {
  const facing: LineSide = there.offsetMm >= 0 ? 1 : -1
  let [gapMm, roomMm] = [Infinity, 0]
  for (const side of oneSide[towards]) {
    const mine = run.reach.sideAt(here.stationMm, side)
    const edge = { x: here.x - side * mine * Math.sin(here.headingRad), y: here.y + side * mine * Math.cos(here.headingRad) }
    // On an open line the nearest place of the edge is near that of the centreline.
    const windowMm = other.isClosed ? other.path.lengthMm : 4 * (there.distanceMm + mine) + 20
    const near = pathNearestWithin(
      other.path,
      edge,
      Math.max(within.fromMm, there.stationMm - windowMm),
      Math.min(within.toMm, there.stationMm + windowMm),
    )
    const theirs = other.reach.sideAt(near.stationMm, facing)
    const besideMm = facing * near.offsetMm - theirs
    // Beyond an end the band is cut off square.
    const beyondMm = Math.sqrt(Math.max(0, near.distanceMm ** 2 - near.offsetMm ** 2))
    const apartMm = beyondMm > ON_LINE_MM ? Math.hypot(beyondMm, Math.max(0, besideMm)) : besideMm
    if (apartMm < gapMm) [gapMm, roomMm] = [apartMm, mine + theirs]
  }
  return { gapMm, roomMm }
}

/**
 * The nearest place of the other run on the level of this one, from a station on where one is given. Where heights are not known
 * everything is on one level. null: nothing of it is on the level of this place.
 */
export function nearnessOnLevel(run: Run, stationMm: number, other: Run, within: Span): Nearness | null {
  if (run.level === null || other.level === null) return nearnessAt(run, stationMm, other, within)
  const span = stationsOnLevel(run.level, stationMm, other.level, reachAlong(run, other))
  if (span === null) return null
  const [fromMm, toMm] = [Math.max(within.fromMm, span.fromMm), Math.min(within.toMm, span.toMm)]
  return fromMm > toMm ? null : nearnessAt(run, stationMm, other, { fromMm, toMm })
}

/** All stations of a run. */
export const wholeSpan = ({ path }: Run): Span => ({ fromMm: 0, toMm: path.lengthMm })

/** How far along a run what is near in plan to another may lie. */
function reachAlong(run: Run, other: Run): number {
  return alongTangent(runDemandMost(run) + runDemandMost(other), Math.max(run.mostCurvature, other.mostCurvature))
}

/** Longest stride over clear ground beside a neighbour, mm: a track that crosses or pokes in is too near for longer than this. */
const STRIDE_MM = 40

/** Curvature that stands for a straight line in a quotient: a radius of a kilometre. */
const STRAIGHTEST = 1e-6

/**
 * How far along a run is clear for certain while its neighbour keeps its present place: the distance changes by its slope, and the slope
 * by no more than both curvatures (at an end of the other, by 1 / distance).
 */
export function nearnessFree(here: Nearness, run: Run, other: Run, mostMm: number): number {
  const { distanceMm, stationMm: otherMm } = here.there
  // What is known of the bands nearby holds for about as far as they reach.
  const overallMm = distanceMm - mostMm
  const gapMm = overallMm > 0 ? overallMm : here.freeMm
  if (gapMm <= 0) return 0
  const isAtEnd = otherMm === 0 || otherMm === other.path.lengthMm
  const bend = run.mostCurvature + Math.max(2 * other.mostCurvature, isAtEnd ? 1 / distanceMm : STRAIGHTEST)
  const strideMm = (Math.sqrt(here.slope ** 2 + 2 * bend * gapMm) - Math.abs(here.slope)) / bend
  const nearbyMm = Math.min(run.reach.mostMm, other.reach.mostMm)
  return overallMm > 0 ? Math.max(overallMm, Math.min(STRIDE_MM, strideMm)) : Math.min(nearbyMm, STRIDE_MM, strideMm)
}

/** Step of the walk away from a junction, mm; and as long as no band could be clear of the other. */
const WALK_MM = 4
const WALK_FAR_MM = 16

/** Part of two half widths within which cars foul each other, whatever the curve and the slant, a stride ahead as well. */
const SURELY_FOUL = 0.8

/** Separation must grow by at least this part of the way to count as parting: one in two hundred, a fifth of a No. 20 frog. */
const PARTING = 0.005

/**
 * Stretches of a run at its ends where it may come as near to the other as it likes, because they part at a turnout (or go on
 * end to end): from the junction to the fouling point, where the gap between their cars reaches the running clearance; only as long as
 * they do part. Where a run leaves another host than `other`, nearness at PS is that host's.
 */
export function runPartings(run: Run, other: Run): readonly Span[] {
  const { lengthMm } = run.path
  const spans: Span[] = []
  const start = partingFrom(run, other, run.startTurnout, 0)
  if (start !== null) spans.push({ fromMm: 0, toMm: walk(run, other, start, 1) })
  const end = partingFrom(run, other, run.endTurnout, lengthMm)
  if (end !== null) spans.push({ fromMm: walk(run, other, end, -1), toMm: lengthMm })
  return spans
}

/** Where the walk from an end begins: behind the diverging route when the other is its host, else at the end itself; null: no junction. */
function partingFrom(run: Run, other: Run, turnout: Run['startTurnout'], endMm: number): number | null {
  if (turnout !== null) {
    // Routes of one turnout part from its points, as that of a wye does from its host, which ends there.
    if (other.table !== 'tracks' || other.record !== turnout.host) return endMm
    return endMm === 0 ? turnout.routeMm : endMm - turnout.routeMm
  }
  if (run.isClosed || other.isClosed) return null
  return runEndTouched(run, endMm, other) === null ? null : endMm
}

/**
 * How far from a junction two runs are still parting: to the last station of the walk at which they are nearer than asked. It goes on
 * over places that are already clear, for a curve behind them may ask for more again.
 */
function walk(run: Run, other: Run, fromMm: number, direction: 1 | -1): number {
  const whole = wholeSpan(other)
  const { walked, onward, foulMm } = walkAway(run, fromMm, direction, {
    other,
    near: (stationMm) => nearnessOnLevel(run, stationMm, other, whole),
  })
  // Looked at from where they are clear for certain; most of the way they foul each other, and nobody has to know by how much.
  const last = walked.findLast((here) => here.there.distanceMm < foulMm || nearnessLeft(here).gapMm < run.clearanceMm)
  // One step more than the last that fouls, for seen from the other run the same place lies a little differently.
  return last === undefined ? fromMm : onward(last.here.stationMm)
}

/** Where two runs that part from a station on, one way along the first, part no more though what runs on them might still meet; null: nowhere. */
export function partingEnd(run: Run, fromMm: number, direction: 1 | -1, beside: Beside): number | null {
  return walkAway(run, fromMm, direction, beside).endMm
}

/** Another run, or the same one farther on, and how a station stands to it. */
export interface Beside {
  readonly other: Run
  readonly near: (stationMm: number) => Nearness | null
}

/** Places beyond a station, as long as two runs part and might meet. */
interface Walk {
  readonly walked: readonly Nearness[]
  /** Where they stop to part before they are clear for certain. */
  readonly endMm: number | null
  /** Nearer than this cars foul each other whatever they do; only beyond it the bands tell where that ends. */
  readonly foulMm: number
  readonly onward: (stationMm: number, stepMm?: number) => number
}

function walkAway(run: Run, fromMm: number, direction: 1 | -1, { other, near }: Beside): Walk {
  const lastMm = direction === 1 ? run.path.lengthMm : 0
  const mostMm = runDemandMost(run) + runDemandMost(other)
  const foulMm = SURELY_FOUL * (run.reach.halfMm + other.reach.halfMm)
  const onward = (stationMm: number, stepMm = WALK_MM): number =>
    direction === 1 ? Math.min(lastMm, stationMm + stepMm) : Math.max(lastMm, stationMm - stepMm)
  let stationMm = fromMm
  let here = near(stationMm)
  const walked: Nearness[] = []
  while (here !== null && here.there.distanceMm < mostMm && stationMm !== lastMm) {
    const nextMm = onward(stationMm, here.there.distanceMm < foulMm ? WALK_FAR_MM : WALK_MM)
    const next = near(nextMm)
    // On another level they have parted.
    if (next === null) break
    const isParting = next.there.distanceMm - here.there.distanceMm > PARTING * Math.abs(nextMm - stationMm)
    if (!isParting) return { walked, endMm: stationMm, foulMm, onward }
    stationMm = nextMm
    here = next
    walked.push(here)
  }
  return { walked, endMm: null, foulMm, onward }
}
