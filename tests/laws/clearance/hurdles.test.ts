import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { clearanceTrace, hurdleDepth, hurdleGap, hurdlesOf, sweptTrack } from '../../../src/core/clearance/index.ts'
import type { FixedShape, TracePlace, TrackLine } from '../../../src/core/clearance/index.ts'
import { pathFromElements, pointDistance, ringContains } from '../../../src/core/geom/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { bodyOfCar } from '../../../src/core/vehicles/index.ts'

const seed = 611

function traced(...asked: Parameters<typeof clearanceTrace>): readonly TracePlace[] {
  const work = clearanceTrace(...asked)
  for (let step = work.next(); ; step = work.next()) if (step.done === true) return step.value
}
const car = bodyOfCar({ bodyLengthMm: 297.5, bodyWidthMm: 35, truckCentresMm: 208.3, truckWheelbaseMm: 31.5 })

const box = (x: number, y: number, width: number, height: number): readonly Point[] => [
  { x, y },
  { x: x + width, y },
  { x: x + width, y: y + height },
  { x, y: y + height },
]

const obstacle = (record: string, ring: readonly Point[]): FixedShape => ({ kind: 'obstacles', record, rings: [ring], isRoom: false })

const along = (ring: readonly Point[], count: number): readonly Point[] =>
  ring.flatMap((a, i) => {
    const b = ring[(i + 1) % ring.length] ?? a
    return Array.from({ length: count }, (_, j) => ({ x: a.x + ((b.x - a.x) * j) / count, y: a.y + ((b.y - a.y) * j) / count }))
  })

const line = (k: number, lengthMm: number): TrackLine => ({
  track: 'one',
  path: pathFromElements({ x: 0, y: 0, headingRad: 0 }, [{ lengthMm, k0: k, k1: k }]),
  isClosed: false,
  span: { fromMm: 0, toMm: lengthMm },
  startMm: 0,
  endMm: lengthMm,
  level: null,
})

describe('the tightest gap round a body', () => {
  it('is that of a count over close points of both outlines', () => {
    const number = fc.double({ min: -300, max: 300, noNaN: true })
    const size = fc.double({ min: 5, max: 120, noNaN: true })
    fc.assert(
      fc.property(number, number, size, size, fc.double({ min: 0, max: 3, noNaN: true }), (x, y, width, height, turn) => {
        const ring = box(x, y, width, height)
        const body = box(-40, -10, 80, 20).map((p) => ({
          x: p.x * Math.cos(turn) - p.y * Math.sin(turn),
          y: p.x * Math.sin(turn) + p.y * Math.cos(turn),
        }))
        const gap = hurdleGap(hurdlesOf([obstacle('post', ring)], [], 0), body, { withinMm: 1000, isPassed: () => false, place: null })
        const isIn = ring.some((p) => ringContains(body, p)) || ringContains(ring, { x: 0, y: 0 })
        const [mine, theirs] = [along(body, 40), along(ring, 40)]
        const counted = isIn ? 0 : Math.min(...mine.map((p) => Math.min(...theirs.map((q) => pointDistance(p, q)))))
        expect(gap?.gapMm ?? Infinity).toBeLessThanOrEqual(counted + 1e-9)
        // Points of the count lie 3 mm apart at most on both outlines, half of that away from the nearest places.
        expect(counted - (gap?.gapMm ?? 0)).toBeLessThan(3)
        if (gap !== null) expect(Math.abs(pointDistance(gap.from, gap.to) - gap.gapMm)).toBeLessThan(1e-9)
      }),
      { seed, numRuns: 60 },
    )
  })

  it('is nothing where the body stands in a wall or off the benchwork', () => {
    const body = box(-40, -10, 80, 20)
    const options = { withinMm: 100, isPassed: () => false, place: null }
    expect(hurdleGap(hurdlesOf([obstacle('pier', box(-500, -500, 1000, 1000))], [], 0), body, options)?.gapMm).toBe(0)
    const bench: FixedShape = { kind: 'benchworks', record: null, rings: [box(200, 200, 500, 500)], isRoom: true }
    expect(hurdleGap(hurdlesOf([bench], [], 0), body, options)?.gapMm).toBe(0)
  })

  it('is as deep as the body stands in what it stands in', () => {
    const other = sweptTrack({ ...line(0, 600), track: 'two' }, [car], 10)
    const pier = obstacle('pier', box(400, 100, 30, 300))
    const post = obstacle('post', box(230, -330, 4, 4))
    const bench: FixedShape = { kind: 'benchworks', record: null, rings: [box(-500, -400, 2000, 800)], isRoom: true }
    const at = { swept: new Map([['two', other]]), hurdles: hurdlesOf([pier, post, bench], [other], 0) }
    // The band's side lies 17.5 mm below the line: a body whose upper side lies 12 mm below it reaches 5.5 mm in.
    expect(hurdleDepth(at, box(200, -32, 80, 20), { kind: 'tracks', record: 'two' })?.depthMm).toBeCloseTo(5.5, 6)
    expect(hurdleDepth(at, box(200, -60, 80, 20), { kind: 'tracks', record: 'two' })).toBeNull()
    expect(hurdleDepth(at, box(326, 150, 80, 20), { kind: 'obstacles', record: 'pier' })?.depthMm).toBeCloseTo(6, 6)
    // A post of 4 mm wholly under it: its upper corners lie 9 mm from the nearer side.
    expect(hurdleDepth(at, box(200, -335, 80, 18), { kind: 'obstacles', record: 'post' })?.depthMm).toBeCloseTo(9, 6)
    expect(hurdleDepth(at, box(1450, 0, 80, 20), { kind: 'benchworks', record: null })?.depthMm).toBeCloseTo(30, 6)
  })

  it('passes over the tracks that it is told to', () => {
    const other = sweptTrack({ ...line(0, 600), track: 'two' }, [car], 10)
    const hurdles = hurdlesOf([], [other], 0)
    const body = box(200, -60, 80, 20)
    // Side of the band 17.5 mm below its line, side of the body 40 mm below: 22.5 mm.
    expect(hurdleGap(hurdles, body, { withinMm: 100, isPassed: () => false, place: null })?.gapMm).toBeCloseTo(22.5, 6)
    expect(hurdleGap(hurdles, body, { withinMm: 100, isPassed: (track) => track === 'two', place: null })).toBeNull()
  })
})

describe('the clearance trace of a track', () => {
  it('has on a straight half the width to both sides, and what is left to a wall', () => {
    const swept = sweptTrack(line(0, 1000), [car], 10)
    const wall = obstacle('wall', box(-500, 40, 2000, 20))
    const trace = traced(swept, hurdlesOf([wall], [], 0), { everyMm: 20, withinMm: 100, isPassed: () => false })
    expect(trace.length).toBeGreaterThan(40)
    for (const { leftMm, rightMm, left, right } of trace) {
      expect(leftMm).toBeCloseTo(17.5, 6)
      expect(rightMm).toBeCloseTo(17.5, 6)
      expect(left?.gapMm).toBeCloseTo(22.5, 6)
      expect(right).toBeNull()
    }
  })

  it('is negative by how much a post stands in the band', () => {
    const swept = sweptTrack(line(0, 1000), [car], 10)
    const post = obstacle('post', box(480, -30, 40, 20))
    const trace = traced(swept, hurdlesOf([post], [], 0), { everyMm: 10, withinMm: 100, isPassed: () => false })
    // The post's near side lies 10 mm to the right, the band reaches 17.5 mm: 7.5 mm in it.
    const least = Math.min(...trace.map(({ right }) => right?.gapMm ?? Infinity))
    expect(least).toBeCloseTo(-7.5, 6)
    expect(trace.every(({ left }) => left === null)).toBe(true)
  })

  it('never grows when the wall moves nearer', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1 / 600, max: 1 / 600, noNaN: true }),
        fc.double({ min: 60, max: 200, noNaN: true }),
        fc.double({ min: 0, max: 40, noNaN: true }),
        (k, awayMm, nearerMm) => {
          const swept = sweptTrack(line(k, 700), [car], 10)
          const leastWith = (y: number): number => {
            const trace = traced(swept, hurdlesOf([obstacle('wall', box(-200, y, 1200, 30))], [], 0), {
              everyMm: 10,
              withinMm: 400,
              isPassed: () => false,
            })
            return Math.min(...trace.flatMap(({ left, right }) => [left?.gapMm ?? Infinity, right?.gapMm ?? Infinity]))
          }
          fc.pre(k < 0)
          expect(leastWith(awayMm - nearerMm)).toBeLessThanOrEqual(leastWith(awayMm) + 1e-9)
        },
      ),
      { seed, numRuns: 25 },
    )
  })
})
