import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { pathFromElements, pathPoseAt, pathReverse, ringContains, ringNearest } from '../../../src/core/geom/index.ts'
import type { CurveElement, Path, Point, Pose } from '../../../src/core/geom/index.ts'
import {
  bodyOfCar,
  bodyStance,
  bodyTurned,
  sweepAlong,
  sweepBand,
  swing,
  vehicleBodies,
  vehicleByKey,
} from '../../../src/core/vehicles/index.ts'
import type { CarShape, RigidBody, SweptBand } from '../../../src/core/vehicles/index.ts'

const long: CarShape = { bodyLengthMm: 297.5, bodyWidthMm: 35, truckCentresMm: 208.3, truckWheelbaseMm: 31.5 }
const origin: Pose = { x: 0, y: 0, headingRad: 0 }

const bodiesOf = (key: string): readonly RigidBody[] => {
  const row = vehicleByKey(key)
  if (!row) throw new Error(`no vehicle ${key}`)
  return vehicleBodies(row, 87.1)
}

const eased = (k: number, easementMm: number): Path =>
  pathFromElements(origin, [
    { lengthMm: 500, k0: 0, k1: 0 },
    { lengthMm: easementMm, k0: 0, k1: k },
    { lengthMm: 400, k0: k, k1: k },
    { lengthMm: easementMm, k0: k, k1: 0 },
    { lengthMm: 80, k0: 0, k1: 0 },
    { lengthMm: easementMm, k0: 0, k1: -k },
    { lengthMm: 400, k0: -k, k1: -k },
  ])

/** An oval of two straights and two half turns with easements; closed because it is the same twice. */
function oval(straightMm: number, radiusMm: number, easementMm: number): readonly CurveElement[] {
  const k = 1 / radiusMm
  const half = [
    { lengthMm: straightMm, k0: 0, k1: 0 },
    { lengthMm: easementMm, k0: 0, k1: k },
    { lengthMm: Math.PI * radiusMm - easementMm, k0: k, k1: k },
    { lengthMm: easementMm, k0: k, k1: 0 },
  ]
  return [...half, ...half]
}

/** Corners of a body set down in a pose. */
const corners = ({ ribs }: RigidBody, pose: Pose): readonly Point[] =>
  ribs.flatMap(({ xMm, halfWidthMm }) =>
    [1, -1].map((side) => ({
      x: pose.x + xMm * Math.cos(pose.headingRad) - side * halfWidthMm * Math.sin(pose.headingRad),
      y: pose.y + xMm * Math.sin(pose.headingRad) + side * halfWidthMm * Math.cos(pose.headingRad),
    })),
  )

/** How far bodies set down at places a step apart cut a station's normal: from below, and without any search. */
function bruteReach(path: Path, bodies: readonly RigidBody[], stationMm: number, stepMm: number): { left: number; right: number } {
  const line = pathPoseAt(path, stationMm)
  const [cos, sin] = [Math.cos(line.headingRad), Math.sin(line.headingRad)]
  const best = { left: 0, right: 0 }
  for (const body of bodies) {
    for (let front = stationMm - 450; front < stationMm + 450; front += stepMm) {
      const pose = bodyStance(path, body, front)
      if (!pose) continue
      const seen = corners(body, pose).map(({ x, y }) => ({
        along: (x - line.x) * cos + (y - line.y) * sin,
        across: (y - line.y) * cos - (x - line.x) * sin,
      }))
      for (let i = 0; i + 2 < seen.length; i++) {
        const [a, b] = [seen[i], seen[i + 2]]
        if (!a || !b || a.along > 0 || b.along < 0) continue
        const across = a.across + ((b.across - a.across) * -a.along) / (b.along - a.along)
        best.left = Math.max(best.left, across)
        best.right = Math.max(best.right, -across)
      }
    }
  }
  return best
}

const reachAt = ({ reaches }: SweptBand, stationMm: number) => reaches.find((reach) => Math.abs(reach.stationMm - stationMm) < 1e-6)

describe('the reach along a line', () => {
  it('on a circle that closes is the closed formula everywhere, station zero too', () => {
    const radiusMm = 610
    const closed = swing(radiusMm, long)
    if (!closed.ok) throw new Error('no swing')
    const path = pathFromElements(origin, [{ lengthMm: 2 * Math.PI * radiusMm, k0: 1 / radiusMm, k1: 1 / radiusMm }])
    const { reaches, unreached } = sweepAlong(path, [bodyOfCar(long)], { stepMm: 100, isClosed: true })
    expect(unreached).toEqual([])
    for (const { leftMm, rightMm } of reaches) {
      // 1e-6 mm is what the sweep promises on constant curvature.
      expect(Math.abs(leftMm - 17.5 - closed.swing.insideMm)).toBeLessThan(1e-6)
      expect(Math.abs(rightMm - 17.5 - closed.swing.outsideMm)).toBeLessThan(1e-6)
    }
  })

  it('of a loop does not know where station zero lies', () => {
    const elements = oval(300, 560, 200)
    const bodies = bodiesOf('steam-2-8-8-2')
    const path = pathFromElements(origin, elements)
    const here = sweepAlong(path, bodies, { stepMm: 50, isClosed: true })
    // Station zero in the middle of an easement, where cars run over it on changing curvature.
    const [straight, easement, ...rest] = elements
    if (!straight || !easement) throw new Error('no oval')
    const half = { lengthMm: 100, k0: 0, k1: easement.k1 / 2 }
    const turned = pathFromElements(origin, [{ ...half, k0: half.k1, k1: easement.k1 }, ...rest, straight, half])
    const there = sweepAlong(turned, bodies, { stepMm: 50, isClosed: true })
    let compared = 0
    for (const { stationMm, leftMm, rightMm } of here.reaches) {
      const other = reachAt(there, (stationMm - 400 + path.lengthMm) % path.lengthMm)
      if (!other) continue
      compared++
      expect(Math.abs(other.leftMm - leftMm)).toBeLessThan(0.01)
      expect(Math.abs(other.rightMm - rightMm)).toBeLessThan(0.01)
    }
    expect(compared).toBeGreaterThan(20)
  })

  it.each(['steam-2-8-8-2', 'steam-4-8-4', 'coach-26m', 'wagon-long'])('of %s on easements is what brute force finds', (key) => {
    const path = eased(1 / 700, 240)
    const bodies = bodiesOf(key)
    const swept = sweepAlong(path, bodies, { stepMm: 20, isClosed: false })
    for (const stationMm of [460, 560, 740, 1240, 1380, 1460]) {
      const reach = reachAt(swept, stationMm)
      const brute = bruteReach(path, bodies, stationMm, 0.5)
      // Half a step of brute force along, times the slope of a side, up to a quarter: 0.06 mm from below; and 0.01 mm of the sweep.
      for (const [fast, slow] of [
        [reach?.leftMm, brute.left],
        [reach?.rightMm, brute.right],
      ] as const) {
        expect((fast ?? 0) - slow, `${key} ${stationMm}`).toBeGreaterThan(-0.01)
        expect((fast ?? 0) - slow, `${key} ${stationMm}`).toBeLessThan(0.07)
      }
    }
  })

  it('where a curve begins without an easement is what brute force finds', () => {
    const path = pathFromElements(origin, [
      { lengthMm: 600, k0: 0, k1: 0 },
      { lengthMm: 600, k0: 1 / 600, k1: 1 / 600 },
      { lengthMm: 600, k0: -1 / 600, k1: -1 / 600 },
    ])
    const body = bodyOfCar(long)
    const swept = sweepAlong(path, [body], { stepMm: 20, isClosed: false })
    for (const stationMm of [500, 580, 660, 1140, 1260]) {
      const reach = reachAt(swept, stationMm)
      const brute = bruteReach(path, [body], stationMm, 0.08)
      for (const more of [(reach?.leftMm ?? 0) - brute.left, (reach?.rightMm ?? 0) - brute.right]) {
        // Half a step along, times a quarter, is 0.01 mm from below; and 0.01 mm of the sweep.
        expect(more, `${stationMm}`).toBeGreaterThan(-0.01)
        expect(more, `${stationMm}`).toBeLessThan(0.02)
      }
    }
  })

  it('of a wider body is never less', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1 / 560, max: 1 / 560, noNaN: true }),
        fc.double({ min: 60, max: 300, noNaN: true }),
        fc.double({ min: 0, max: 12, noNaN: true }),
        (k, easementMm, moreMm) => {
          const path = eased(k, easementMm)
          const options = { stepMm: 60, isClosed: false }
          const narrow = sweepAlong(path, [bodyOfCar(long)], options)
          const wide = sweepAlong(path, [bodyOfCar({ ...long, bodyWidthMm: long.bodyWidthMm + moreMm })], options)
          for (const [i, { leftMm, rightMm }] of narrow.reaches.entries()) {
            // The sweep's own promise.
            expect(wide.reaches[i]?.leftMm).toBeGreaterThan(leftMm - 0.01)
            expect(wide.reaches[i]?.rightMm).toBeGreaterThan(rightMm - 0.01)
          }
        },
      ),
      { numRuns: 10, seed: 21 },
    )
  })

  it('of a body turned round is its reach on the line run the other way', () => {
    const path = eased(1 / 640, 220)
    const bodies = bodiesOf('steam-4-6-2')
    const there = sweepAlong(path, bodies, { stepMm: 40, isClosed: false })
    const back = sweepAlong(pathReverse(path), bodies.map(bodyTurned), { stepMm: 40, isClosed: false })
    for (const { stationMm, leftMm, rightMm } of there.reaches) {
      const other = reachAt(back, path.lengthMm - stationMm)
      expect(Math.abs((other?.rightMm ?? 0) - leftMm)).toBeLessThan(0.01)
      expect(Math.abs((other?.leftMm ?? 0) - rightMm)).toBeLessThan(0.01)
    }
  })

  it('names the stretch over which a body cannot stand', () => {
    const path = pathFromElements(origin, [
      { lengthMm: 1000, k0: 0, k1: 0 },
      { lengthMm: 400, k0: 1 / 80, k1: 1 / 80 },
      { lengthMm: 1000, k0: 0, k1: 0 },
    ])
    const options = { stepMm: 10, isClosed: false }
    // As the closed formula has it.
    expect(swing(80, long)).toMatchObject({ ok: false, problem: { kind: 'radiusTooSmall' } })
    expect(sweepAlong(path, [bodyOfCar(long)], options).unreached).toEqual([{ fromMm: 1000, toMm: 1390 }])
    const small = bodyOfCar({ bodyLengthMm: 90, bodyWidthMm: 30, truckCentresMm: 45, truckWheelbaseMm: 20 })
    expect(sweepAlong(path, [small], options).unreached).toEqual([])
    const short = pathFromElements(origin, [{ lengthMm: 100, k0: 0, k1: 0 }])
    expect(sweepAlong(short, [bodyOfCar(long)], options).unreached).toEqual([{ fromMm: 0, toMm: 100 }])
  })
})

describe('the swept band', () => {
  it('holds every corner of a body that stands anywhere on the line', () => {
    const path = eased(1 / 620, 180)
    for (const key of ['passenger-85', 'steam-2-10-4', 'steam-2-8-8-2']) {
      const bodies = bodiesOf(key)
      const [ring] = sweepBand(sweepAlong(path, bodies, { stepMm: 10, isClosed: false }))
      if (!ring) throw new Error('no band')
      for (const body of bodies) {
        for (let front = 420; front < path.lengthMm - 400; front += 23.7) {
          const pose = bodyStance(path, body, front)
          if (!pose) throw new Error(`it does not stand at ${front}`)
          for (const corner of corners(body, pose)) {
            // Chords of 10 mm leave the true edge by 0.02 mm here.
            const isIn = ringContains(ring, corner) || (ringNearest(ring, corner)?.distanceMm ?? Infinity) < 0.05
            expect(isIn, `${key} front at ${front}`).toBe(true)
          }
        }
      }
    }
  })

  it('of a loop is two rings, one within the other', () => {
    const path = pathFromElements(origin, oval(300, 560, 200))
    const rings = sweepBand(sweepAlong(path, bodiesOf('boxcar-40'), { stepMm: 25, isClosed: true }))
    expect(rings).toHaveLength(2)
    const [outer, inner] = rings
    expect(inner?.every((point) => outer && ringContains(outer, point))).toBe(true)
  })
})
