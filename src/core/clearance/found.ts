import type { Network, NetworkTrack } from '../network/index.ts'
import type { Point } from '../geom/types.ts'
import type { Id } from '../plan/types.ts'
import type { RigidBody } from '../vehicles/index.ts'
import { bandKept } from './bandKeep.ts'
import type { BandKeep } from './bandKeep.ts'
import { trackGap } from './between.ts'
import { trainShapes } from './fixedThings.ts'
import { hurdlesOf } from './hurdles.ts'
import type { Hurdles } from './hurdles.ts'
import { clearanceTrace } from './trace.ts'
import type { TracePlace } from './trace.ts'
import type { Meeting, SweptTrack } from './types.ts'

/** What runs on every track sweeps, and what is free beside it. */
export interface Clearances {
  readonly limitMm: number
  readonly swept: ReadonlyMap<Id, SweptTrack>
  readonly hurdles: Hurdles
  readonly traces: ReadonlyMap<Id, readonly TracePlace[]>
  /** Whether two tracks meet at a station of the first: up to the fouling points what runs on one fouls the other. */
  readonly meets: (track: Id, other: Id, stationMm: number) => boolean
}

/** Stations of a band, mm: its edges lie off by their square over 8 R, 0.03 mm on the sharpest curves. */
const bandStepMm = 10
const traceEveryMm = 20
/** So much of the limit is looked at and shown. */
const limitsShown = 4

type BodiesOn = (track: NetworkTrack) => readonly RigidBody[]

/** What runs on every track sweeps, one track between two pauses; without those that are not solved or on which nothing runs. */
export function* tracksSwept(network: Network, bodiesOn: BodiesOn, keep: BandKeep): Generator<undefined, ReadonlyMap<Id, SweptTrack>> {
  const swept = new Map<Id, SweptTrack>()
  for (const track of network.tracks.values()) {
    const one = yield* bandKept(network, track.track.id, bodiesOn(track), bandStepMm, keep)
    if (one !== null) swept.set(track.track.id, one)
    yield undefined
  }
  return swept
}

/**
 * Bands, and what is free beside them, a little between two pauses, so that other work can go on meanwhile.
 *
 * benchRings: what all benchwork covers together, as trainShapes takes it.
 */
export function* clearancesFound(
  network: Network,
  bodiesOn: BodiesOn,
  benchRings: readonly (readonly Point[])[],
  keep: BandKeep,
): Generator<undefined, Clearances> {
  const { railway } = network.plan
  const limitMm = railway.runningClearanceMm
  const swept = yield* tracksSwept(network, bodiesOn, keep)
  const shapes = trainShapes(network.plan, benchRings)
  const hurdles = hurdlesOf(shapes, [...swept.values()], limitMm)
  const withinMm = limitsShown * Math.max(limitMm, 1)
  const meetings = new Map<string, readonly Meeting[]>()
  const meets = (track: Id, other: Id, stationMm: number): boolean => {
    const [a, b] = [swept.get(track), swept.get(other)]
    if (a === undefined || b === undefined) return false
    const key = `${track} ${other}`
    const known = meetings.get(key) ?? trackGap(a, b, { limitMm, gaugeMm: railway.gaugeMm, withinMm: limitMm }).meetings
    meetings.set(key, known)
    // A little beyond, where bands have only just parted and nothing is told that the fouling point does not tell.
    return known.some(({ fromMm, toMm }) => stationMm >= fromMm - withinMm && stationMm <= toMm + withinMm)
  }
  const traces = new Map<Id, readonly TracePlace[]>()
  for (const [id, one] of swept) {
    const isPassed = (other: Id, stationMm: number): boolean => meets(id, other, stationMm)
    traces.set(id, yield* clearanceTrace(one, hurdles, { everyMm: traceEveryMm, withinMm, isPassed }))
  }
  return { limitMm, swept, hurdles, traces, meets }
}

/** The tightest place of a stretch on which less than the running clearance is free to one side. */
export interface TightPlace {
  readonly track: Id
  readonly stationMm: number
  readonly side: 'left' | 'right'
  readonly gap: NonNullable<TracePlace['left']>
}

/** The tightest place of every such stretch of a track. What two tracks do to each other is told of the first by name, if both are asked. */
export function tightPlaces({ traces, limitMm }: Clearances, track: Id, isTold: (other: Id) => boolean): readonly TightPlace[] {
  const found: TightPlace[] = []
  for (const side of ['left', 'right'] as const) {
    let least: TightPlace | null = null
    for (const place of traces.get(track) ?? []) {
      const gap = place[side]
      if (gap === null || gap.gapMm >= limitMm || (gap.name.kind === 'tracks' && gap.name.record !== null && isTold(gap.name.record))) {
        if (least !== null) found.push(least)
        least = null
      } else if (least === null || gap.gapMm < least.gap.gapMm) least = { track, stationMm: place.stationMm, side, gap }
    }
    if (least !== null) found.push(least)
  }
  return found
}
