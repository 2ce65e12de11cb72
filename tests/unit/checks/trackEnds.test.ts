import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { trackEndsCreate } from '../../../src/core/checks/trackEnds.ts'
import type { TrackEnds } from '../../../src/core/checks/trackEnds.ts'
import { pathFromElements, pathStart, pointDistance } from '../../../src/core/geom/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import type { NetworkTrack } from '../../../src/core/network/index.ts'

/** A straight line, as much of a track as its ends are read from; null: one that is not solved. */
function trackOf(line: { readonly from: Point; readonly to: Point } | null): NetworkTrack {
  if (line === null) return { alignment: { ok: false } } as unknown as NetworkTrack
  const { from, to } = line
  const start = { ...from, headingRad: Math.atan2(to.y - from.y, to.x - from.x) }
  const path = pathFromElements(start, [{ lengthMm: pointDistance(from, to), k0: 0, k1: 0 }])
  return { alignment: { ok: true, isClosed: false, path } } as unknown as NetworkTrack
}

const both = ['start', 'end'] as const

const endOf = ({ alignment }: NetworkTrack, at: 'start' | 'end'): Point | null =>
  alignment.ok ? (at === 'start' ? pathStart(alignment.path) : alignment.path.end) : null

/** Which ends see which tracks, by place. */
const seen = ({ tracks, near }: TrackEnds) => tracks.map((_, place) => both.map((at) => near(place, at)))

/** How near others have to end to be among them, and how far away none is told any more, mm. */
const [nearMm, farMm] = [5, 20]

function expectRight(ends: TrackEnds): void {
  const { tracks, places, near } = ends
  for (const [place, track] of tracks.entries()) {
    for (const at of both) {
      const here = endOf(track, at)
      const distances = tracks.map((other) =>
        Math.min(...both.map((there) => pointDistance(here ?? { x: 1e9, y: 1e9 }, endOf(other, there) ?? { x: -1e9, y: -1e9 }))),
      )
      const told = near(place, at)
      expect(told).toEqual(told.toSorted((a, b) => a - b))
      expect(told).not.toContain(place)
      expect(told.filter((other) => (distances[other] ?? Infinity) > farMm)).toEqual([])
      const meant = distances.flatMap((mm, other) => (other !== place && mm <= nearMm ? other : []))
      expect(told).toEqual(expect.arrayContaining(meant))
    }
  }
  expect(places).toEqual(tracks.flatMap((_, place) => (both.some((at) => near(place, at).length > 0) ? place : [])))
}

/** So little room that ends meet often, and on both sides of zero. */
const coordinate = fc.integer({ min: -60, max: 60 }).map((half) => half / 2)
const point = fc.record({ x: coordinate, y: coordinate })
const track = fc.option(fc.record({ from: point, to: point }), { freq: 8 }).map(trackOf)

type Change = (tracks: readonly NetworkTrack[]) => readonly NetworkTrack[]

const change: fc.Arbitrary<Change> = fc.oneof(
  {
    weight: 5,
    arbitrary: fc.array(fc.tuple(fc.nat(), track), { minLength: 1, maxLength: 4 }).map((others) => (tracks: readonly NetworkTrack[]) => {
      const next = [...tracks]
      for (const [at, other] of others) next[at % next.length] = other
      return next
    }),
  },
  { weight: 1, arbitrary: track.map((more) => (tracks: readonly NetworkTrack[]) => [...tracks, more]) },
  {
    weight: 1,
    arbitrary: fc
      .nat()
      .map((at) => (tracks: readonly NetworkTrack[]) => (tracks.length === 1 ? tracks : tracks.toSpliced(at % tracks.length, 1))),
  },
)

describe('ends of tracks', () => {
  test('have the same company after changes as when looked up anew, and it is all that end near', () => {
    const counts = { came: 0, went: 0 }
    fc.assert(
      fc.property(fc.array(track, { minLength: 6, maxLength: 10 }), fc.array(change, { minLength: 6, maxLength: 20 }), (first, changes) => {
        const endsOf = trackEndsCreate()
        let tracks: readonly NetworkTrack[] = first
        let before = endsOf(tracks).places.length
        for (const one of changes) {
          tracks = one(tracks)
          const kept = endsOf(tracks)
          expectRight(kept)
          expect(seen(kept)).toEqual(seen(trackEndsCreate()(tracks)))
          if (kept.places.length > before) counts.came++
          if (kept.places.length < before) counts.went++
          before = kept.places.length
        }
      }),
      { seed: 20261204, numRuns: 60 },
    )
    expect(Math.min(counts.came, counts.went)).toBeGreaterThan(50)
  })

  test('see each other from both sides, wherever one moves by a little', () => {
    const still = trackOf({ from: { x: 12, y: 0 }, to: { x: 500, y: 0 } })
    const upTo = (x: number): NetworkTrack => trackOf({ from: { x: -500, y: 0 }, to: { x, y: 0 } })
    const endsOf = trackEndsCreate()
    const from = endsOf([upTo(0.5), still])
    expect(from.places).toEqual([])
    for (const x of [3, 6, 8, 9.5]) {
      const { near, places } = endsOf([upTo(x), still])
      if (12 - x <= nearMm) expect([near(0, 'end'), near(1, 'start'), places]).toEqual([[1], [0], [0, 1]])
    }
    expect(endsOf([upTo(-40), still]).places).toEqual([])
  })

  test('keep the list of those with company where none came or went', () => {
    const pair = [trackOf({ from: { x: -500, y: 0 }, to: { x: 0, y: 0 } }), trackOf({ from: { x: 1, y: 0 }, to: { x: 500, y: 0 } })]
    const lone = (y: number): NetworkTrack => trackOf({ from: { x: 0, y }, to: { x: 500, y } })
    const endsOf = trackEndsCreate()
    const { places } = endsOf([...pair, lone(300)])
    expect(places).toEqual([0, 1])
    expect(endsOf([...pair, lone(400)]).places).toBe(places)
    expect(endsOf([...pair, lone(2)]).places).toEqual([0, 1, 2])
  })
})
