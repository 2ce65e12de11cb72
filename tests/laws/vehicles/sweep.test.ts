import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  pathFromElements,
  pathMirror,
  pathNearest,
  pathPoseAt,
  pathReverse,
  pointDistance,
  poseToLocal,
  poseToPlan,
} from '../../../src/core/geom/index.ts'
import type { Path, Point } from '../../../src/core/geom/index.ts'
import { bodyOfCar, bodyStance, swing, sweepReach } from '../../../src/core/vehicles/index.ts'
import type { CarShape, Reach, RigidBody } from '../../../src/core/vehicles/index.ts'

/** An 85 ft passenger car in HO: 85 ft by 10 ft, trucks 59 ft 6 in apart, their axles 9 ft. Typical sizes, from memory. */
const long: CarShape = { bodyLengthMm: 297.5, bodyWidthMm: 35, truckCentresMm: 208.3, truckWheelbaseMm: 31.5 }
/** A two-axle wagon: its axles are its supports. */
const short: CarShape = { bodyLengthMm: 90, bodyWidthMm: 30, truckCentresMm: 45, truckWheelbaseMm: 0 }

/** A coach whose sides draw in towards its ends, as where curves are sharp. */
const tapered: RigidBody = {
  ...bodyOfCar(long),
  ribs: [
    { xMm: -148, halfWidthMm: 12 },
    { xMm: -110, halfWidthMm: 17.5 },
    { xMm: 110, halfWidthMm: 17.5 },
    { xMm: 148, halfWidthMm: 12 },
  ],
}

/** What the closed formula is known to, mm; the sweep promises as much. */
const closedToleranceMm = 1e-6
/** Promise of the sweep on easements, mm. */
const bruteToleranceMm = 0.01

const eased = (k: number, easementMm: number): Path =>
  pathFromElements({ x: 0, y: 0, headingRad: 0 }, [
    { lengthMm: 500, k0: 0, k1: 0 },
    { lengthMm: easementMm, k0: 0, k1: k },
    { lengthMm: 400, k0: k, k1: k },
    { lengthMm: easementMm, k0: k, k1: 0 },
    { lengthMm: 100, k0: 0, k1: 0 },
    { lengthMm: easementMm, k0: 0, k1: -k },
    { lengthMm: 300, k0: -k, k1: -k },
  ])

/**
 * Reach at a station by brute force: a car is set down every tenth of a millimetre and its sides are cut with the line's normal. Where it
 * stands is found by halving, with the axles of a truck half a wheelbase along the line from its middle (1e-3 mm off the chord's).
 */
function bruteReach(path: Path, car: CarShape, stationMm: number): { readonly leftMm: number; readonly rightMm: number } {
  const pivot = (station: number): Point => {
    const [a, b] = [-1, 1].map((end) => pathPoseAt(path, station + (end * car.truckWheelbaseMm) / 2))
    return { x: ((a?.x ?? 0) + (b?.x ?? 0)) / 2, y: ((a?.y ?? 0) + (b?.y ?? 0)) / 2 }
  }
  const line = pathPoseAt(path, stationMm)
  const [cos, sin] = [Math.cos(line.headingRad), Math.sin(line.headingRad)]
  const reach = { leftMm: 0, rightMm: 0 }
  for (let front = stationMm - 60; front < stationMm + car.bodyLengthMm; front += 0.1) {
    const at = pivot(front)
    let [low, high] = [front - 1.2 * car.truckCentresMm, front - 0.8 * car.truckCentresMm]
    for (let i = 0; i < 40; i++) {
      const middle = (low + high) / 2
      if (pointDistance(pivot(middle), at) > car.truckCentresMm) low = middle
      else high = middle
    }
    const rear = pivot(low)
    const heading = Math.atan2(at.y - rear.y, at.x - rear.x)
    const centre = { x: (at.x + rear.x) / 2, y: (at.y + rear.y) / 2 }
    for (const side of [1, -1]) {
      const [a, b] = [-0.5, 0.5].map((end) => {
        const x = centre.x + end * car.bodyLengthMm * Math.cos(heading) - (side * car.bodyWidthMm * Math.sin(heading)) / 2 - line.x
        const y = centre.y + end * car.bodyLengthMm * Math.sin(heading) + (side * car.bodyWidthMm * Math.cos(heading)) / 2 - line.y
        return { along: x * cos + y * sin, across: y * cos - x * sin }
      })
      if (!a || !b || a.along > 0 || b.along < 0) continue
      const across = a.across + ((b.across - a.across) * -a.along) / (b.along - a.along)
      if (side === 1) reach.leftMm = Math.max(reach.leftMm, across)
      else reach.rightMm = Math.max(reach.rightMm, -across)
    }
  }
  return reach
}

/** Reach at a station over every place, half a millimetre apart, at which the body can stand; no place is left out for what its neighbours say. */
function everyReach(path: Path, body: RigidBody, stationMm: number): { readonly leftMm: number; readonly rightMm: number } {
  const line = pathPoseAt(path, stationMm)
  const reach = { leftMm: 0, rightMm: 0 }
  const longMm = (body.ribs.at(-1)?.xMm ?? 0) - (body.ribs[0]?.xMm ?? 0)
  for (let front = stationMm - longMm; front < stationMm + longMm; front += 0.5) {
    const pose = bodyStance(path, body, front)
    if (pose === null) continue
    for (const side of [1, -1] as const) {
      const edge = body.ribs.map(({ xMm, halfWidthMm }) => poseToLocal(line, poseToPlan(pose, { x: xMm, y: side * halfWidthMm })))
      for (const [i, b] of edge.entries()) {
        const a = edge[i - 1]
        if (a === undefined || a.x > 0 || b.x < 0) continue
        const across = a.y + ((b.y - a.y) * -a.x) / (b.x - a.x)
        if (side === 1) reach.leftMm = Math.max(reach.leftMm, across)
        else reach.rightMm = Math.max(reach.rightMm, -across)
      }
    }
  }
  return reach
}

describe('the reach of a car', () => {
  it.each([
    [long, 600],
    [long, 914.4],
    [short, 250],
  ] as const)('on constant curvature is its swing, %#', (car, radiusMm) => {
    const closed = swing(radiusMm, car)
    if (!closed.ok) throw new Error('no swing')
    const path = pathFromElements({ x: 0, y: 0, headingRad: 1 }, [{ lengthMm: 1500, k0: 1 / radiusMm, k1: 1 / radiusMm }])
    for (const { leftMm, rightMm } of sweepReach({ path, bodies: [bodyOfCar(car)], stations: [700, 750, 812.5] })) {
      expect(Math.abs(leftMm - car.bodyWidthMm / 2 - closed.swing.insideMm)).toBeLessThan(closedToleranceMm)
      expect(Math.abs(rightMm - car.bodyWidthMm / 2 - closed.swing.outsideMm)).toBeLessThan(closedToleranceMm)
    }
  })

  it('on a straight is half its width', () => {
    const path = pathFromElements({ x: 0, y: 0, headingRad: 0 }, [{ lengthMm: 1500, k0: 0, k1: 0 }])
    const [reach] = sweepReach({ path, bodies: [bodyOfCar(long)], stations: [700] })
    expect(reach?.leftMm).toBeCloseTo(17.5, 9)
    expect(reach?.rightMm).toBeCloseTo(17.5, 9)
  })

  it('on easements and through a reverse curve is what a dense brute force finds', () => {
    const path = eased(1 / 700, 250)
    for (const stationMm of [430, 560, 600, 740, 1160, 1300, 1460, 1640]) {
      const [reach] = sweepReach({ path, bodies: [bodyOfCar(long)], stations: [stationMm] })
      const brute = bruteReach(path, long, stationMm)
      // A corner is only met to a tenth of a millimetre along: times the slope of a side, up to a fifth, that is 0.02 mm from below.
      for (const side of ['leftMm', 'rightMm'] as const) {
        const more = (reach?.[side] ?? 0) - brute[side]
        expect(more, `${side} at ${stationMm}`).toBeGreaterThan(-bruteToleranceMm)
        expect(more, `${side} at ${stationMm}`).toBeLessThan(0.02 + bruteToleranceMm)
      }
    }
  })

  it('leaves out no top that a search of every place finds: bare and eased bends, straight and tapered cars', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1 / 2000, max: 1 / 450, noNaN: true }),
        fc.constantFrom(0, 40, 120, 250),
        fc.constantFrom(bodyOfCar(long), bodyOfCar(short), tapered),
        fc.double({ min: 420, max: 1300, noNaN: true }),
        (k, easementMm, body, stationMm) => {
          const path = eased(k, easementMm)
          const [reach] = sweepReach({ path, bodies: [body], stations: [stationMm] })
          const every = everyReach(path, body, stationMm)
          for (const side of ['leftMm', 'rightMm'] as const) {
            expect((reach?.[side] ?? 0) - every[side]).toBeGreaterThan(-bruteToleranceMm)
            // A corner is met to half a millimetre along, by a side that leans by two fifths at most: what it tapers and how it stands.
            expect((reach?.[side] ?? 0) - every[side]).toBeLessThan(0.5 * 0.4 + bruteToleranceMm)
          }
        },
      ),
      { numRuns: 60, seed: 23 },
    )
  })

  it('run the other way and in the mirror is the same', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1 / 500, max: 1 / 500, noNaN: true }),
        fc.double({ min: 60, max: 300, noNaN: true }),
        (k, easementMm) => {
          const path = eased(k, easementMm)
          const stations = [520, 650, 800, 1000, 1100]
          const there = sweepReach({ path, bodies: [bodyOfCar(long)], stations })
          const back = sweepReach({
            path: pathReverse(path),
            bodies: [bodyOfCar(long)],
            stations: stations.map((station) => path.lengthMm - station).toReversed(),
          }).toReversed()
          const mirrored = sweepReach({ path: pathMirror(path), bodies: [bodyOfCar(long)], stations })
          const same = (a: Reach | undefined, left: number | undefined, right: number | undefined): void => {
            expect(Math.abs((a?.leftMm ?? 0) - (left ?? 1))).toBeLessThan(bruteToleranceMm / 100)
            expect(Math.abs((a?.rightMm ?? 0) - (right ?? 1))).toBeLessThan(bruteToleranceMm / 100)
          }
          for (const [i, reach] of there.entries()) {
            same(reach, back[i]?.rightMm, back[i]?.leftMm)
            same(reach, mirrored[i]?.rightMm, mirrored[i]?.leftMm)
          }
        },
      ),
      { numRuns: 8, seed: 11 },
    )
  })

  it('of several bodies is that of the widest at each place, and of a shorter one never more than of a longer one with the same pivots', () => {
    const path = eased(1 / 600, 200)
    const stations = [600, 760, 900, 1200]
    const both = sweepReach({ path, bodies: [bodyOfCar(long), bodyOfCar(short)], stations })
    const [one, other] = [bodyOfCar(long), bodyOfCar(short)].map((body) => sweepReach({ path, bodies: [body], stations }))
    for (const [i, { leftMm }] of both.entries()) expect(leftMm).toBe(Math.max(one?.[i]?.leftMm ?? 0, other?.[i]?.leftMm ?? 0))
    const shorter = sweepReach({ path, bodies: [bodyOfCar({ ...long, bodyLengthMm: 260 })], stations })
    for (const [i, { rightMm }] of shorter.entries()) expect(rightMm).toBeLessThanOrEqual((one?.[i]?.rightMm ?? 0) + closedToleranceMm)
  })
})

describe('where a body stands', () => {
  it('its axles are on the line, a wheelbase apart, and its pivots as far apart as they are', () => {
    const path = eased(1 / 500, 150)
    const body = bodyOfCar(long)
    for (let station = 300; station < path.lengthMm - 50; station += 37) {
      const pose = bodyStance(path, body, station)
      expect(pose).not.toBeNull()
      if (!pose) continue
      for (const support of [body.front, body.rear]) {
        const pivot = { x: pose.x + support.xMm * Math.cos(pose.headingRad), y: pose.y + support.xMm * Math.sin(pose.headingRad) }
        // The pivot of a truck lies inside of its curve by about wheelbase^2 / 8R: 0.25 mm here.
        expect(pathNearest(path, pivot).distanceMm).toBeLessThan(0.3)
      }
    }
  })

  it('beyond the ends of a line it stands nowhere', () => {
    const path = eased(0, 100)
    expect(bodyStance(path, bodyOfCar(long), 100)).toBeNull()
    expect(bodyStance(path, bodyOfCar(long), path.lengthMm)).toBeNull()
    expect(pathPoseAt(path, 0).x).toBe(0)
  })
})
