import { invariant, pathCurvatureAt, pathFromElements, pathPoseAt, pathSlice } from '../../geom/index.ts'
import type { Path, Point } from '../../geom/types.ts'
import { sweepReach } from './reach.ts'
import type { Reach, RigidBody } from './types.ts'

export interface SweepAlongOptions {
  /** Stations lie at most this far apart; the joins of elements are among them. */
  readonly stepMm: number
  /** The path ends where it starts; cars run on past station zero. */
  readonly isClosed: boolean
  /** Stretch whose reaches are wanted; absent: the whole path. The rest is there for the cars to stand on. */
  readonly fromMm?: number
  readonly toMm?: number
}

/** What bodies sweep along a line: the line, and their reach at stations that rise from the first one to the last one. */
export interface SweptBand {
  readonly path: Path
  readonly isClosed: boolean
  readonly reaches: readonly Reach[]
  /** Stretches over which a body cannot stand: too sharp for it, or too short; the reaches there say nothing. */
  readonly unreached: readonly { readonly fromMm: number; readonly toMm: number }[]
}

/**
 * The reach of bodies along a whole line, wherever they stand on it.
 *
 * Domain:     stepMm > 0; from and to on the path, for a loop all of it.
 * Exactness:  at each station as sweepReach; between stations a straight line, off by the step's square over 8 R.
 * Throws:     InvariantError outside of the domain.
 */
export function sweepAlong(path: Path, bodies: readonly RigidBody[], options: SweepAlongOptions): SweptBand {
  const { stepMm, isClosed, fromMm = 0, toMm = path.lengthMm } = options
  invariant(stepMm > 0, 'a step must be above 0')
  invariant(fromMm <= toMm, 'a stretch must not run backwards')
  const stations = sweepStations(path, fromMm, toMm, stepMm)
  const overMm = isClosed ? Math.min(path.lengthMm, Math.max(0, ...bodies.map(bodyLength)) * runOnLengths) : 0
  const line = overMm > 0 ? loopRunOn(path, overMm) : path
  const reaches = sweepReach({ path: line, bodies, stations: stations.map((station) => station + overMm) }).map((reach, i) => ({
    ...reach,
    stationMm: stations[i] ?? 0,
  }))
  return { path, isClosed, reaches, unreached: unreachedOf(path, bodies, reaches) }
}

/** Bodies over a station stand within their length of it; half as much again, so that none of them meets an end. */
const runOnLengths = 1.5

function bodyLength({ front, rear, ribs }: RigidBody): number {
  const places = [front.xMm + front.wheelbaseMm / 2, rear.xMm - rear.wheelbaseMm / 2, ...ribs.map(({ xMm }) => xMm)]
  return Math.max(...places) - Math.min(...places)
}

/** A loop with so much of its end before its start and of its start behind its end. */
function loopRunOn(path: Path, overMm: number): Path {
  const before = pathSlice(path, path.lengthMm - overMm, path.lengthMm)
  const behind = pathSlice(path, 0, overMm)
  const { x, y, headingRad } = pathPoseAt(path, path.lengthMm - overMm)
  return pathFromElements({ x, y, headingRad }, [...before.elements, ...path.elements, ...behind.elements])
}

/** Stations of a sweep: even ones and the joins of elements, at most a step apart, both ends among them. */
export function sweepStations({ elements }: Pick<Path, 'elements'>, fromMm: number, toMm: number, stepMm: number): readonly number[] {
  const joins = elements.map(({ startStationMm }) => startStationMm).filter((station) => station > fromMm && station < toMm)
  const stations = [fromMm]
  for (const next of [...joins, toMm]) {
    const last = stations[stations.length - 1] ?? fromMm
    const count = Math.max(1, Math.ceil((next - last) / stepMm - 1e-9))
    for (let i = 1; i < count; i++) stations.push(last + ((next - last) * i) / count)
    if (next > last) stations.push(next)
  }
  return stations
}

/** The radius at which the inner side of a body passes through the curve's centre; a body needs more. [see swing] */
function leastRadius({ front, rear, ribs }: RigidBody): number {
  const widest = Math.max(0, ...ribs.map(({ halfWidthMm }) => halfWidthMm))
  return Math.hypot((front.xMm - rear.xMm) / 2, Math.max(front.wheelbaseMm, rear.wheelbaseMm) / 2, widest)
}

function unreachedOf(path: Path, bodies: readonly RigidBody[], reaches: readonly Reach[]): SweptBand['unreached'] {
  const leastMm = Math.max(0, ...bodies.map(leastRadius))
  const spans: { fromMm: number; toMm: number }[] = []
  let wasReached = true
  for (const { stationMm, leftMm, rightMm } of reaches) {
    const isReached = leftMm + rightMm > 0 && Math.abs(pathCurvatureAt(path, stationMm)) * leastMm < 1
    const last = spans[spans.length - 1]
    if (!isReached && wasReached) spans.push({ fromMm: stationMm, toMm: stationMm })
    else if (!isReached && last) last.toMm = stationMm
    wasReached = isReached
  }
  return spans
}

/** Both edges of a swept band as points, by rising station. */
export interface BandEdges {
  readonly left: readonly Point[]
  readonly right: readonly Point[]
}

export function bandEdges({ path, reaches }: SweptBand): BandEdges {
  const poses = reaches.map(({ stationMm }) => pathPoseAt(path, stationMm))
  const edge = (side: 1 | -1): readonly Point[] =>
    poses.map((pose, i) => {
      const reach = reaches[i]
      const away = side * ((side === 1 ? reach?.leftMm : reach?.rightMm) ?? 0)
      return { x: pose.x - away * Math.sin(pose.headingRad), y: pose.y + away * Math.cos(pose.headingRad) }
    })
  return { left: edge(1), right: edge(-1) }
}

/** A swept band as rings, inside by the even-odd rule: one round an open line, two round a loop. */
export function sweepBand(band: SweptBand): readonly (readonly Point[])[] {
  const { left, right } = bandEdges(band)
  return band.isClosed ? [right.slice(0, -1), left.slice(0, -1)] : [[...right, ...left.toReversed()]]
}
