import { pathNearestWithin, pathPoseAt } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import { spanOnLevel } from './line.ts'
import { bandPlace, strideOn, sweptAlong } from './swept.ts'
import type { Meeting, SweptTrack, TrackGap } from './types.ts'

export interface TrackGapOptions {
  /** Bands nearer than this foul each other, mm: the running clearance. */
  readonly limitMm: number
  /** Tracks nearer than this are still within one turnout: the gauge. */
  readonly gaugeMm: number
  /** Gaps wider than this are not looked for. */
  readonly withinMm: number
}

/** alongMm: sweptAlong of both. */
interface Asked extends TrackGapOptions {
  readonly alongMm: number
}

/** One station of a band beside another track's. */
interface Sample extends Point {
  readonly index: number
  readonly stationMm: number
  readonly gapMm: number
  readonly otherStationMm: number
}

/** Between centrelines. isSquare: the other does not end before it gets here. */
interface Centre {
  readonly distanceMm: number
  readonly offsetMm: number
  readonly isSquare: boolean
}

/** Separation must grow by at least this part of the way to count as parting: a fifth of a No. 20 frog. [COMMON-PRACTICE] */
const parting = 0.005
/** An end this near to another centreline lies on it. */
const onLineMm = 1

/**
 * How near the swept bands of two tracks come to each other.
 *
 * Tracks that meet foul each other up to their fouling points; from a joint or a crossing on that is taken for granted as long as their
 * centrelines part. All other places count.
 *
 * Exactness:  the distance of both bands' edges as chords of their step. Where they overlap: how far the edge of one lies in the other.
 * Limits:     what is not known to lie over the other is on one level with it; a track is not held against itself.
 */
export function trackGap(a: SweptTrack, b: SweptTrack, options: TrackGapOptions): TrackGap {
  const asked = { ...options, alongMm: sweptAlong([a, b], options.limitMm) }
  const mine = lookAlong(a, b, asked)
  const theirs = lookAlong(b, a, asked)
  const seen = [
    ...mine.samples.map((sample) => ({
      ...sample,
      stationMm: sample.stationMm - a.line.startMm,
      otherStationMm: sample.otherStationMm - b.line.startMm,
    })),
    ...theirs.samples.map((sample) => ({
      ...sample,
      stationMm: sample.otherStationMm - a.line.startMm,
      otherStationMm: sample.stationMm - b.line.startMm,
    })),
  ]
  let least: (typeof seen)[number] | null = null
  for (const sample of seen) if (sample.gapMm <= options.withinMm && (least === null || sample.gapMm < least.gapMm)) least = sample
  return {
    track: a.line.track,
    other: b.line.track,
    least: least && { gapMm: least.gapMm, stationMm: least.stationMm, otherStationMm: least.otherStationMm, x: least.x, y: least.y },
    meetings: mine.meetings.map(({ kind, fromMm, toMm }) => ({ kind, fromMm: fromMm - a.line.startMm, toMm: toMm - a.line.startMm })),
  }
}

/** A band looked at from its own stations: samples away from the meetings, and the meetings. */
function lookAlong(
  a: SweptTrack,
  b: SweptTrack,
  options: Asked,
): { readonly samples: readonly Sample[]; readonly meetings: readonly Meeting[] } {
  const samples = samplesAlong(a, b, options)
  const near = new Map(samples.filter(({ gapMm }) => gapMm < options.limitMm).map((sample) => [sample.index, sample]))
  if (near.size === 0) return { samples, meetings: [] }
  const centres = new Map<number, Centre>()
  const centreAt = (index: number): Centre => {
    const before = centres.get(index)
    if (before) return before
    const stationMm = a.band.reaches[index]?.stationMm ?? 0
    const within = spanOnLevel(a.line, stationMm, b.line, options.alongMm)
    const found = within && pathNearestWithin(b.line.path, pathPoseAt(a.line.path, stationMm), within.fromMm, within.toMm)
    const { distanceMm, offsetMm } = found ?? { distanceMm: Infinity, offsetMm: 0 }
    const centre = { distanceMm, offsetMm, isSquare: distanceMm - Math.abs(offsetMm) < 1e-6 }
    centres.set(index, centre)
    return centre
  }
  const fouled = new Set<number>()
  const meetings: Meeting[] = []
  const meet = (kind: Meeting['kind'], from: number): void => {
    if (fouled.has(from)) return
    const [low, high] = [-1, 1].map((step) => walk(from, step, near, centreAt, options.gaugeMm))
    for (let i = low ?? from; i <= (high ?? from); i++) fouled.add(i)
    const stationOf = (index: number | undefined): number => a.band.reaches[index ?? from]?.stationMm ?? 0
    meetings.push({ kind, fromMm: stationOf(low), toMm: stationOf(high) })
  }
  for (const index of jointsOf(a, b, options)) {
    // A joint lies between two stations; where they come near the limit it may be the farther one alone that fouls.
    const fouling = [index, index - 1, index + 1].find((one) => near.has(one))
    if (fouling !== undefined) meet('joined', fouling)
  }
  for (const { index } of near.values()) {
    if (!near.has(index + 1) || fouled.has(index) || fouled.has(index + 1)) continue
    const [one, next] = [centreAt(index), centreAt(index + 1)]
    if (one.isSquare && next.isSquare && one.offsetMm > 0 !== next.offsetMm > 0) meet('crossing', index)
  }
  return {
    samples: samples.filter(({ index }) => !fouled.has(index)),
    meetings: meetings.toSorted((one, next) => one.fromMm - next.fromMm),
  }
}

/** To the last station from a meeting on at which the bands foul each other while the centrelines part. */
function walk(from: number, step: number, near: ReadonlyMap<number, Sample>, centreAt: (index: number) => Centre, gaugeMm: number): number {
  let index = from
  while (near.has(index + step)) {
    const [here, next] = [centreAt(index), centreAt(index + step)]
    const alongMm = Math.abs((near.get(index + step)?.stationMm ?? 0) - (near.get(index)?.stationMm ?? 0))
    if (next.distanceMm > gaugeMm && next.distanceMm - here.distanceMm <= parting * alongMm) break
    index += step
  }
  return index
}

/**
 * Stations of the first band at which an end of one track lies on the other's line; or at which points that one hangs on foul the other,
 * for there the track that they lie in is the one to be told of.
 */
function jointsOf(a: SweptTrack, b: SweptTrack, asked: Asked): readonly number[] {
  const joints: number[] = []
  for (const { index, stationMm, isLeg } of endsOf(b)) {
    const end = pathPoseAt(b.line.path, stationMm)
    const within = spanOnLevel(b.line, stationMm, a.line, asked.alongMm)
    if (within === null) continue
    const there = pathNearestWithin(a.line.path, end, within.fromMm, within.toMm)
    if (there.distanceMm < onLineMm || (isLeg && fouls(b, a, index, asked))) joints.push(nearestIndex(a, there.stationMm))
  }
  for (const { index, stationMm, isLeg } of endsOf(a)) {
    const end = pathPoseAt(a.line.path, stationMm)
    const within = spanOnLevel(a.line, stationMm, b.line, asked.alongMm)
    if (within === null) continue
    const { distanceMm } = pathNearestWithin(b.line.path, end, within.fromMm, within.toMm)
    if (distanceMm < onLineMm || (isLeg && fouls(a, b, index, asked))) joints.push(index)
  }
  return joints
}

function fouls(a: SweptTrack, b: SweptTrack, index: number, asked: Asked): boolean {
  return (sampleAt(a, b, index, asked.alongMm)?.gapMm ?? Infinity) < asked.limitMm
}

interface LineEnd {
  readonly index: number
  readonly stationMm: number
  /** Whether the line begins there at the points of a turnout. */
  readonly isLeg: boolean
}

function endsOf({ line: { span, startMm, endMm }, band }: SweptTrack): readonly LineEnd[] {
  if (band.isClosed) return []
  return [
    { index: 0, stationMm: span.fromMm, isLeg: span.fromMm < startMm },
    { index: band.reaches.length - 1, stationMm: span.toMm, isLeg: span.toMm > endMm },
  ]
}

function nearestIndex({ band }: SweptTrack, stationMm: number): number {
  let best = 0
  for (const [i, reach] of band.reaches.entries()) {
    if (Math.abs(reach.stationMm - stationMm) < Math.abs((band.reaches[best]?.stationMm ?? 0) - stationMm)) best = i
  }
  return best
}

/** Stations of a band that come as near to another as the limit, or as the nearest so far; over what is farther it strides. */
function samplesAlong(a: SweptTrack, b: SweptTrack, { limitMm, withinMm, alongMm }: Asked): readonly Sample[] {
  const samples: Sample[] = []
  let least = withinMm
  const { reaches } = a.band
  for (let index = 0; index < reaches.length; ) {
    const sample = sampleAt(a, b, index, alongMm)
    if (sample === null) return samples
    samples.push(sample)
    least = Math.min(least, sample.gapMm)
    // What is on one level moves along with a climbing line, as fast as that.
    const freeMm = (sample.gapMm - Math.max(limitMm, least)) / (alongMm > 0 ? 2 : 1)
    index = strideOn(reaches, index, Number.isFinite(sample.gapMm) ? freeMm : 0)
  }
  return samples
}

/** The nearer one of a band's two edges at a station; endlessly far where the other is on no level with it. */
function sampleAt(a: SweptTrack, b: SweptTrack, index: number, alongMm: number): Sample | null {
  const [left, right, reach] = [a.edges.left[index], a.edges.right[index], a.band.reaches[index]]
  if (!left || !right || !reach) return null
  const within = spanOnLevel(a.line, reach.stationMm, b.line, alongMm)
  if (within === null) return { index, stationMm: reach.stationMm, gapMm: Infinity, otherStationMm: 0, x: left.x, y: left.y }
  const [onLeft, onRight] = [bandPlace(b, left, within), bandPlace(b, right, within)]
  const isLeft = onLeft.gapMm <= onRight.gapMm
  const [point, place] = isLeft ? [left, onLeft] : [right, onRight]
  // Where no body stands there is no edge; how far it is to the next one is not known.
  const gapMm = reach.leftMm + reach.rightMm === 0 ? Infinity : place.gapMm
  return { index, stationMm: reach.stationMm, gapMm, otherStationMm: place.nearest.stationMm, x: point.x, y: point.y }
}
