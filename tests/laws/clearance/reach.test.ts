import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bodiesFeel, lineReach, zoneStore } from '../../../src/core/clearance/index.ts'
import type { ZoneStore } from '../../../src/core/clearance/index.ts'
import { pathFromElements, pathsJoined, poseJumped } from '../../../src/core/geom/index.ts'
import type { CurveElement, Path } from '../../../src/core/geom/index.ts'
import { bodiesBothWays, bodyOfCar, steadyReach, sweepReach, swing, vehicleBodies, vehicleRows } from '../../../src/core/vehicles/index.ts'
import type { RigidBody } from '../../../src/core/vehicles/index.ts'

const ratio = 87.1
const bodiesOf = (key: string): readonly RigidBody[] =>
  bodiesBothWays(vehicleBodies(vehicleRows.find((row) => row.key === key) ?? { frames: [] }, ratio))

const between = (min: number, max: number) => fc.integer({ min: 0, max: 1e6 }).map((share) => min + ((max - min) * share) / 1e6)
const curvature = fc.oneof(fc.constant(0), between(-1 / 600, 1 / 600))

/** Curves, straights and easements in any order, with and without jumps. */
const line: fc.Arbitrary<Path> = fc
  .array(fc.tuple(fc.oneof(between(5, 200), between(200, 1500)), curvature, fc.boolean()), { minLength: 2, maxLength: 7 })
  .map((parts) => {
    let k = 0
    const elements = parts.map(([lengthMm, next, isEased]): CurveElement => {
      const k0 = isEased ? k : next
      k = next
      return { lengthMm, k0, k1: next }
    })
    return pathFromElements({ x: 300, y: -100, headingRad: 0.7 }, elements)
  })

/** The line with a turn and a step to the side before each element but the first. */
function kinked({ elements }: Path, jumps: readonly (readonly [number, number])[]): Path {
  let pose = { x: 300, y: -100, headingRad: 0.7 }
  return pathsJoined(
    elements.map((element, i) => {
      const [turnRad, leftMm] = jumps[i] ?? [0, 0]
      const part = pathFromElements(i === 0 ? pose : poseJumped(pose, { turnRad, aheadMm: 0, leftMm }), [element])
      pose = part.end
      return part
    }),
  )
}

describe('the reach of a body on one curvature', () => {
  it('is what the formula for cars says', () => {
    fc.assert(
      fc.property(
        between(250, 5000),
        between(80, 300),
        between(20, 60),
        between(0.3, 0.9),
        between(0, 40),
        (radiusMm, long, wide, share, a) => {
          const car = { bodyLengthMm: long, bodyWidthMm: wide, truckCentresMm: share * long, truckWheelbaseMm: a }
          const asked = swing(radiusMm, car)
          fc.pre(asked.ok)
          if (!asked.ok) return
          const { leftMm, rightMm } = steadyReach(bodyOfCar(car), 1 / radiusMm)
          expect(Math.abs(leftMm - wide / 2 - asked.swing.insideMm)).toBeLessThan(1e-9)
          expect(Math.abs(rightMm - wide / 2 - asked.swing.outsideMm)).toBeLessThan(1e-9)
          expect(steadyReach(bodyOfCar(car), -1 / radiusMm)).toEqual({ leftMm: rightMm, rightMm: leftMm })
        },
      ),
      { seed: 71, numRuns: 200 },
    )
  })

  it('is what setting every described vehicle down on the arc finds', () => {
    for (const row of vehicleRows) {
      for (const body of bodiesBothWays(vehicleBodies(row, ratio))) {
        const arc = pathFromElements({ x: 0, y: 0, headingRad: 0 }, [{ lengthMm: 2000, k0: 1 / 800, k1: 1 / 800 }])
        const [found] = sweepReach({ path: arc, bodies: [body], stations: [1000] })
        const { leftMm, rightMm } = steadyReach(body, 1 / 800)
        expect(Math.abs(leftMm - (found?.leftMm ?? 0))).toBeLessThan(1e-5)
        expect(Math.abs(rightMm - (found?.rightMm ?? 0))).toBeLessThan(1e-5)
      }
    }
  })
})

describe('the reach along any line', () => {
  it.each(['passenger-85', 'steam-4-8-4'])('is that of a sweep over the whole of it, and never over its bound (%s)', (key) => {
    const bodies = bodiesOf(key)
    expect(bodies.length).toBeGreaterThan(0)
    const store = zoneStore()
    fc.assert(
      fc.property(line, fc.array(between(0, 1), { minLength: 6, maxLength: 6 }), (path, shares) => {
        const reach = lineReach(path, bodies, store)
        const stations = shares.map((share) => share * path.lengthMm).toSorted((a, b) => a - b)
        const swept = sweepReach({ path, bodies, stations })
        for (const { stationMm, leftMm, rightMm } of swept) {
          if (leftMm + rightMm === 0) continue
          const at = reach.sidesAt(stationMm)
          // Straight between stations 8 mm apart: where a bare curve begins the edge bends by the angle of the body's end.
          expect(Math.abs(at.leftMm - leftMm)).toBeLessThan(0.25)
          expect(Math.abs(at.rightMm - rightMm)).toBeLessThan(0.25)
          const most = reach.mostAt(stationMm)
          expect(most.leftMm).toBeGreaterThanOrEqual(Math.max(leftMm, at.leftMm))
          expect(most.rightMm).toBeGreaterThanOrEqual(Math.max(rightMm, at.rightMm))
          expect(reach.mostMm).toBeGreaterThanOrEqual(Math.max(leftMm, rightMm))
        }
      }),
      { seed: 72, numRuns: 40 },
    )
  })

  it.each(['passenger-85', 'steam-4-8-4'])(
    'is that of the sweep where the line has kinks and steps, and never over its bound (%s)',
    (key) => {
      const bodies = bodiesOf(key)
      const store = zoneStore()
      let felt = 0
      fc.assert(
        fc.property(line, fc.array(fc.tuple(between(-0.02, 0.02), between(-0.3, 0.3)), { minLength: 7, maxLength: 7 }), (smooth, jumps) => {
          const path = kinked(smooth, jumps)
          const reach = lineReach(path, bodies, store)
          const joints = path.elements.flatMap(({ startStationMm: at }) => [at - 90, at - 8, at + 8, at + 90])
          const stations = joints.filter((at) => at > 400 && at < path.lengthMm - 400)
          const flat = lineReach(smooth, bodies, zoneStore())
          for (const { stationMm, leftMm, rightMm } of sweepReach({ path, bodies, stations })) {
            if (leftMm + rightMm === 0) continue
            const at = reach.sidesAt(stationMm)
            // As above; and a step of the line is a step of the edge, drawn out over the 8 mm between two stations.
            expect(Math.abs(at.leftMm - leftMm)).toBeLessThan(0.65)
            expect(Math.abs(at.rightMm - rightMm)).toBeLessThan(0.65)
            const most = reach.mostAt(stationMm)
            expect(most.leftMm).toBeGreaterThanOrEqual(Math.max(leftMm, at.leftMm))
            expect(most.rightMm).toBeGreaterThanOrEqual(Math.max(rightMm, at.rightMm))
            expect(reach.mostMm).toBeGreaterThanOrEqual(Math.max(leftMm, rightMm))
            const without = flat.sidesAt(stationMm)
            if (Math.abs(without.leftMm - leftMm) > 0.65 || Math.abs(without.rightMm - rightMm) > 0.65) felt++
          }
        }),
        { seed: 73, numRuns: 30 },
      )
      // A reach that knew nothing of the kinks would be told from this one.
      expect(felt).toBeGreaterThan(20)
    },
  )

  it('at a kink between two straights is that of a chord drawn over it', () => {
    // Pivots on the line, 200 mm apart, no overhang: midway over the kink the body leaves it by a quarter of that times the turn.
    const body = bodyOfCar({ bodyLengthMm: 200, bodyWidthMm: 30, truckCentresMm: 200, truckWheelbaseMm: 0 })
    const turnRad = 0.01
    const first = pathFromElements({ x: 0, y: 0, headingRad: 0 }, [{ lengthMm: 1000, k0: 0, k1: 0 }])
    const second = pathFromElements({ x: 1000, y: 0, headingRad: turnRad }, [{ lengthMm: 1000, k0: 0, k1: 0 }])
    const path = pathsJoined([first, second])
    const insideMm = 15 / Math.cos(turnRad / 2) + 100 * Math.sin(turnRad / 2)
    const [swept] = sweepReach({ path, bodies: [body], stations: [1000] })
    expect(Math.abs((swept?.leftMm ?? 0) - insideMm)).toBeLessThan(0.02)
    // Two stations of the zone, 8 mm apart, lie about the kink.
    expect(Math.abs(lineReach(path, [body], zoneStore()).sidesAt(1000).leftMm - insideMm)).toBeLessThan(0.04)
  })

  it('does not depend on where the bend lies nor on what was asked before, to the last bit', () => {
    const bodies = bodiesOf('passenger-85')
    const feelMm = bodiesFeel(bodies)
    const bend = (leadMm: number): Path =>
      pathFromElements({ x: leadMm, y: 3, headingRad: leadMm }, [
        { lengthMm: leadMm, k0: 0, k1: 0 },
        { lengthMm: 300, k0: 0, k1: 1 / 700 },
        { lengthMm: 900, k0: 1 / 700, k1: 1 / 700 },
      ])
    const store = zoneStore()
    for (const leadMm of [1000, 1003.7]) {
      const kept = lineReach(bend(leadMm), bodies, store)
      const fresh = lineReach(bend(leadMm), bodies, zoneStore())
      for (let s = 0; s <= leadMm + feelMm; s += 13) expect(kept.sidesAt(s)).toEqual(fresh.sidesAt(s))
    }
  })

  it('does not depend on what lies farther off than a car feels, to the last bit', () => {
    const bodies = bodiesOf('passenger-85')
    const feelMm = bodiesFeel(bodies)
    const store = zoneStore()
    const start = { x: 300, y: -100, headingRad: 0.7 }
    const elements = line.map((path) => path.elements)
    let compared = 0
    fc.assert(
      fc.property(elements, elements, elements, (shared, one, other) => {
        const sharedMm = shared.reduce((sum, { lengthMm }) => sum + lengthMm, 0)
        const here = lineReach(pathFromElements(start, [...shared, ...one]), bodies, store)
        const there = lineReach(pathFromElements(start, [...shared, ...other]), bodies, zoneStore())
        for (let s = 0; s + feelMm < sharedMm; s += 41) {
          expect(there.sidesAt(s)).toEqual(here.sidesAt(s))
          compared++
        }
      }),
      { seed: 74, numRuns: 30 },
    )
    expect(compared).toBeGreaterThan(500)
  })

  it('is swept once for an easement that begins anywhere, however long the straight before it and the bend behind it are', () => {
    const bodies = bodiesOf('passenger-85')
    const feelMm = bodiesFeel(bodies)
    const store = zoneStore()
    const asked = new Set<unknown>()
    const counting: ZoneStore = (ofBodies, zone) => {
      const band = store(ofBodies, zone)
      asked.add(band)
      return band
    }
    for (const [straightMm, bendMm] of [
      [1000, 900],
      [731.25, 800.5],
      [2000.001, 1700],
    ] as const) {
      const parts = [
        { lengthMm: straightMm, k0: 0, k1: 0 },
        { lengthMm: 300, k0: 0, k1: 1 / 700 },
        { lengthMm: bendMm, k0: 1 / 700, k1: 1 / 700 },
      ]
      const reach = lineReach(pathFromElements({ x: 9, y: 3, headingRad: 1 }, parts), bodies, counting)
      for (let s = straightMm - feelMm + 1; s < straightMm + 300 + feelMm; s += 50) reach.sidesAt(s)
    }
    expect(asked.size).toBe(1)
  })

  it('of a straight line is the width of its cars, and not swept', () => {
    const bodies = bodiesOf('passenger-85')
    const never: ZoneStore = () => {
      throw new Error('swept')
    }
    const reach = lineReach(pathFromElements({ x: 0, y: 0, headingRad: 0 }, [{ lengthMm: 900, k0: 0, k1: 0 }]), bodies, never)
    for (const s of [0, 450, 900]) expect(reach.sidesAt(s)).toEqual({ leftMm: reach.halfMm, rightMm: reach.halfMm })
  })
})
