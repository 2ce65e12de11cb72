import { pathCurvatureAt, pathNearestWithin, pathPoseAt } from '../geom/index.ts'
import { runDemand, runDemandMost } from './demand.ts'
import { runEndTouched } from './run.ts'
import type { Run, Span } from './run.ts'

/** Nearer to a line than this a place is on neither side of it, mm: rounding, and nothing that a car could feel. */
export const ON_LINE_MM = 1e-3

/** How a station of one run stands to the nearest place of another (or of itself farther on). mm. */
export interface Nearness {
  /** Station on the other run. */
  readonly otherMm: number
  readonly distanceMm: number
  /** What both runs ask here together. */
  readonly limitMm: number
  /** Of the place, seen from the other run; + left. */
  readonly offsetMm: number
  /** Change of the distance by the mm along this run. */
  readonly slope: number
}

/** The nearest place of the other run between two of its stations, and what the two ask there. */
export function nearnessAt(run: Run, stationMm: number, other: Run, fromMm: number, toMm: number): Nearness {
  const here = pathPoseAt(run.path, stationMm)
  const there = pathNearestWithin(other.path, here, fromMm, toMm)
  const cos = Math.cos(here.headingRad)
  const sin = Math.sin(here.headingRad)
  const left = cos * (there.y - here.y) - sin * (there.x - here.x)
  const ahead = cos * (there.x - here.x) + sin * (there.y - here.y)
  const mine = demandBeside(run, here.curvature, left)
  const theirs = demandBeside(other, pathCurvatureAt(other.path, there.stationMm), there.offsetMm)
  const { distanceMm } = there
  return {
    otherMm: there.stationMm,
    distanceMm,
    limitMm: mine + theirs,
    offsetMm: there.offsetMm,
    slope: distanceMm === 0 ? 0 : -ahead / distanceMm,
  }
}

/** Nothing of the other run is on the level of this place. */
const nowhere: Nearness = { otherMm: 0, distanceMm: Infinity, limitMm: 0, offsetMm: 0, slope: 0 }

/**
 * The nearest place of the other run on the level of this one, from a station on where one is given. Where heights are not known
 * everything is on one level.
 */
export function nearnessOnLevel(run: Run, stationMm: number, other: Run, within?: Span): Nearness {
  const { fromMm, toMm } = within ?? { fromMm: 0, toMm: other.path.lengthMm }
  const span = stationsOnLevel(run, stationMm, other)
  if (span === null) return nowhere
  const [from, to] = [Math.max(fromMm, span.fromMm), Math.min(toMm, span.toMm)]
  return from > to ? nowhere : nearnessAt(run, stationMm, other, from, to)
}

function stationsOnLevel(run: Run, stationMm: number, other: Run): Span | null {
  if (run.level === null || other.level === null || run.level.helix !== other.level.helix) {
    return { fromMm: 0, toMm: other.path.lengthMm }
  }
  const apartMm = run.level.apartMm - Math.max(run.level.grade, other.level.grade) * reachAlong(run, other)
  const levelMm = run.level.levelAt(stationMm)
  return other.level.stationsBetween(levelMm - apartMm, levelMm + apartMm)
}

/**
 * How far along a curve a tangent of it is still within reach of its cars: the flat way in or out of a helix lies so far under or over a turn
 * that is not quite a whole one.
 */
function reachAlong(run: Run, other: Run): number {
  const mostMm = runDemandMost(run) + runDemandMost(other)
  const curvature = Math.max(run.mostCurvature, other.mostCurvature)
  return mostMm + (curvature === 0 ? 0 : Math.sqrt((2 * mostMm) / curvature))
}

/** What a run asks on the side of an offset, + left; the larger of both sides where the other lies on its very line. */
function demandBeside(run: Run, curvature: number, offsetMm: number): number {
  if (Math.abs(offsetMm) > ON_LINE_MM) return runDemand(run, curvature, offsetMm > 0 ? 1 : -1)
  return Math.max(runDemand(run, curvature, 1), runDemand(run, curvature, -1))
}

/** Longest stride over clear ground beside a neighbour, mm: a track that crosses or pokes in is too near for longer than this. */
const STRIDE_MM = 40

/** Curvature that stands for a straight line in a quotient: a radius of a kilometre. */
const STRAIGHTEST = 1e-6

/**
 * How far along a run is clear for certain while its neighbour keeps its present place: the distance changes by its slope, and the slope
 * by no more than both curvatures (at an end of the other, by 1 / distance).
 */
export function nearnessFree({ distanceMm, slope, otherMm }: Nearness, run: Run, other: Run, mostMm: number): number {
  const gapMm = distanceMm - mostMm
  if (gapMm <= 0) return 0
  const isAtEnd = otherMm === 0 || otherMm === other.path.lengthMm
  const bend = run.mostCurvature + Math.max(2 * other.mostCurvature, isAtEnd ? 1 / distanceMm : STRAIGHTEST)
  const strideMm = (Math.sqrt(slope * slope + 2 * bend * gapMm) - Math.abs(slope)) / bend
  return Math.max(gapMm, Math.min(STRIDE_MM, strideMm))
}

/** Step of the walk away from a junction, mm. */
const WALK_MM = 4

/** Separation must grow by at least this part of the way to count as parting: one in two hundred, a fifth of a No. 20 frog. */
const PARTING = 0.005

/**
 * Stretches of a run at its ends where it may come as near to the other as it likes, because they part at a turnout (or go on
 * end to end): from the junction to the fouling point, where their separation reaches what is asked; only as long as
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
  const lastMm = direction === 1 ? run.path.lengthMm : 0
  const mostMm = runDemandMost(run) + runDemandMost(other)
  const near = (stationMm: number): Nearness => nearnessOnLevel(run, stationMm, other)
  const onward = (stationMm: number): number =>
    direction === 1 ? Math.min(lastMm, stationMm + WALK_MM) : Math.max(lastMm, stationMm - WALK_MM)
  let stationMm = fromMm
  let here = near(stationMm)
  let foulingMm = stationMm
  while (here.distanceMm < mostMm && stationMm !== lastMm) {
    const nextMm = onward(stationMm)
    const next = near(nextMm)
    if (next.distanceMm - here.distanceMm <= PARTING * Math.abs(nextMm - stationMm)) break
    stationMm = nextMm
    here = next
    if (here.distanceMm < here.limitMm) foulingMm = onward(stationMm)
  }
  // One step more than the last that fouls, for seen from the other run the same place lies a little differently.
  return foulingMm
}
