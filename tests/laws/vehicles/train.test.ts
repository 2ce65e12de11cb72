import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { pathFromElements, pathMirror } from '../../../src/core/geom/index.ts'
import type { Path, Point, Pose } from '../../../src/core/geom/index.ts'
import {
  bodyOfCar,
  bodyPlaces,
  bodyStance,
  trainStance,
  vehicleBodies,
  vehicleByKey,
  vehicleRows,
} from '../../../src/core/vehicles/index.ts'
import type { TrainCar, TrainStance } from '../../../src/core/vehicles/index.ts'

const origin: Pose = { x: 0, y: 0, headingRad: 0 }
const ratio = 87.1
const seed = 20261126

function carOf(key: string): TrainCar {
  const row = vehicleByKey(key)
  if (row === null) throw new Error(`no vehicle ${key}`)
  return { bodies: vehicleBodies(row, ratio), overCouplersMm: row.overCouplersMm / ratio, pinMm: 762 / ratio }
}

const standing = (stance: TrainStance): Extract<TrainStance, { ok: true }> => {
  if (!stance.ok) throw new Error(`cannot stand: ${stance.reason} at car ${stance.car}`)
  return stance
}

const on = ({ x, y, headingRad }: Pose, xMm: number): Point => ({ x: x + xMm * Math.cos(headingRad), y: y + xMm * Math.sin(headingRad) })

const cars = fc.array(fc.constantFrom('boxcar-40', 'passenger-85', 'flat-89', 'wagon-short', 'coach-26m').map(carOf), {
  minLength: 2,
  maxLength: 4,
})

/** Straights, easements and arcs both ways, down to 600 mm. */
const paths = fc
  .array(fc.record({ k: fc.double({ min: -1 / 600, max: 1 / 600, noNaN: true }), mm: fc.double({ min: 200, max: 600, noNaN: true }) }), {
    minLength: 3,
    maxLength: 5,
  })
  .map((curves) =>
    pathFromElements(origin, [
      { lengthMm: 700, k0: 0, k1: 0 },
      ...curves.flatMap(({ k, mm }) => [
        { lengthMm: 250, k0: 0, k1: k },
        { lengthMm: mm, k0: k, k1: k },
        { lengthMm: 250, k0: k, k1: 0 },
      ]),
      { lengthMm: 300, k0: 0, k1: 0 },
    ]),
  )

describe('a train on a line', () => {
  it('on a straight is as long as its cars, and nothing swings', () => {
    const path = pathFromElements(origin, [{ lengthMm: 4000, k0: 0, k1: 0 }])
    for (const row of vehicleRows) {
      const car = carOf(row.key)
      const { bodies, couplers } = standing(trainStance(path, [car, car, car], 3500))
      const lead = bodies.filter(({ body }) => body === car.bodies[0]).map(({ pose }) => pose.x)
      // Coupler faces touch: cars follow each other by their length over couplers. 1e-8 mm: what the distances are closed in on, summed.
      expect(Math.abs((lead[0] ?? 0) - (lead[2] ?? 0) - 2 * car.overCouplersMm), row.key).toBeLessThan(1e-8)
      for (const { aheadRad, behindRad, lateralMm } of couplers)
        for (const one of [aheadRad, behindRad, lateralMm]) expect(Math.abs(one)).toBeLessThan(1e-9)
    }
  })

  it('on a circle has the coupler angles of the closed formula', () => {
    fc.assert(
      fc.property(fc.double({ min: 500, max: 2000, noNaN: true }), fc.boolean(), (radiusMm, isLeft) => {
        const shape = { bodyLengthMm: 297.5, bodyWidthMm: 35, truckCentresMm: 208.3, truckWheelbaseMm: 31.5 }
        const car: TrainCar = { bodies: [bodyOfCar(shape)], overCouplersMm: 300, pinMm: 9 }
        const k = (isLeft ? 1 : -1) / radiusMm
        const path = pathFromElements(origin, [{ lengthMm: 1200, k0: k, k1: k }])
        const { couplers } = standing(trainStance(path, [car, car], 900))
        // Body and drawbar are chords: half of the angle that each of them takes at the centre, together.
        const middleMm = Math.sqrt(radiusMm ** 2 - (shape.truckWheelbaseMm / 2) ** 2 - (shape.truckCentresMm / 2) ** 2)
        const pinMm = 300 / 2 - 9
        const angle = Math.atan(pinMm / middleMm) + Math.asin(9 / Math.hypot(pinMm, middleMm))
        const [coupler] = couplers
        expect(Math.abs((coupler?.aheadRad ?? 0) - (isLeft ? -angle : angle))).toBeLessThan(1e-9)
        expect(Math.abs((coupler?.behindRad ?? 0) - (isLeft ? angle : -angle))).toBeLessThan(1e-9)
        expect(Math.abs(coupler?.lateralMm ?? 1)).toBeLessThan(1e-7)
      }),
      { seed, numRuns: 50 },
    )
  })

  it('stands where a search without any slope finds its cars', () => {
    fc.assert(
      fc.property(paths, cars, fc.double({ min: 0, max: 1, noNaN: true }), (path, train, share) => {
        const lengthMm = train.reduce((sum, { overCouplersMm }) => sum + overCouplersMm, 0)
        const headMm = lengthMm + share * (path.lengthMm - lengthMm - 40)
        const stance = trainStance(path, train, headMm)
        fc.pre(stance.ok)
        const { bodies } = standing(stance)
        for (const [i, behind] of bodies.entries()) {
          const [ahead, car, before] = [bodies[i - 1], train[i], train[i - 1]]
          if (!ahead || !car || !before) continue
          const rearPin = on(ahead.pose, before.pinMm - before.overCouplersMm / 2)
          const apartAt = (frontMm: number): number => {
            const pose = bodyStance(path, behind.body, frontMm)
            if (pose === null) throw new Error('does not stand')
            const pin = on(pose, car.overCouplersMm / 2 - car.pinMm)
            return Math.hypot(rearPin.x - pin.x, rearPin.y - pin.y) - before.pinMm - car.pinMm
          }
          // Halving a stretch of a drawbar's length on both sides of nothing but the sign.
          let [low, high] = [behind.frontMm - 5, behind.frontMm + 5]
          expect(apartAt(low)).toBeGreaterThan(0)
          expect(apartAt(high)).toBeLessThan(0)
          for (let step = 0; step < 60; step++) {
            const middle = (low + high) / 2
            if (apartAt(middle) > 0) low = middle
            else high = middle
          }
          expect(Math.abs(low - behind.frontMm)).toBeLessThan(1e-6)
        }
      }),
      { seed, numRuns: 40 },
    )
  })

  it('stands the same whichever way the line lies, west with its two names among them', () => {
    const elements = [
      { lengthMm: 900, k0: 0, k1: 1 / 700 },
      { lengthMm: 900, k0: 1 / 700, k1: 1 / 700 },
      { lengthMm: 900, k0: 1 / 700, k1: -1 / 700 },
    ]
    const train = ['steam-2-8-8-2', 'boxcar-40', 'passenger-85'].map(carOf)
    const swings = (headingRad: number): readonly number[] => {
      const path = pathFromElements({ x: 40, y: -30, headingRad }, elements)
      return [1500, 2000, 2600].flatMap((headMm) =>
        standing(trainStance(path, train, headMm)).couplers.flatMap(({ aheadRad, behindRad }) => [aheadRad, behindRad]),
      )
    }
    const asDrawn = swings(0)
    for (let turn = -24; turn <= 24; turn++)
      for (const [i, rad] of swings((turn * Math.PI) / 24).entries()) expect(Math.abs(rad - (asDrawn[i] ?? NaN))).toBeLessThan(1e-8)
  })

  it('in a mirror swings as far to the other side', () => {
    fc.assert(
      fc.property(paths, cars, (path: Path, train) => {
        const here = trainStance(path, train, path.lengthMm / 2 + 300)
        const there = trainStance(pathMirror(path), train, path.lengthMm / 2 + 300)
        fc.pre(here.ok && there.ok)
        standing(here).couplers.forEach((coupler, i) => {
          const other = standing(there).couplers[i]
          expect(Math.abs(coupler.aheadRad + (other?.aheadRad ?? 0))).toBeLessThan(1e-8)
          expect(Math.abs(coupler.lateralMm + (other?.lateralMm ?? 0))).toBeLessThan(1e-6)
        })
      }),
      { seed, numRuns: 30 },
    )
  })

  it('says which end of the line it would run off', () => {
    const path = pathFromElements(origin, [{ lengthMm: 700, k0: 0, k1: 0 }])
    const car = carOf('boxcar-40')
    expect(trainStance(path, [car, car], 699)).toMatchObject({ ok: false, reason: 'pathAhead', car: 0 })
    expect(trainStance(path, [car, car], 200)).toMatchObject({ ok: false, reason: 'pathBehind', car: 1 })
    expect(trainStance(path, [car], 20)).toMatchObject({ ok: false, reason: 'pathBehind', car: 0 })
  })
})

describe('the bodies of one engine', () => {
  it('fill its length over couplers, and an articulated boiler lies over the front engine', () => {
    for (const row of vehicleRows) {
      const car = carOf(row.key)
      const places = bodyPlaces(car)
      const ends = car.bodies.map(
        ({ ribs }, i) => [(places[i] ?? 0) + (ribs[0]?.xMm ?? 0), (places[i] ?? 0) + (ribs.at(-1)?.xMm ?? 0)] as const,
      )
      const front = car.overCouplersMm / 2 - (ends[0]?.[1] ?? 0)
      const rear = car.overCouplersMm / 2 + (ends.at(-1)?.[0] ?? 0)
      expect(Math.abs(front - rear), row.key).toBeLessThan(1e-9)
      const lap = (ends[1]?.[1] ?? -Infinity) - (ends[0]?.[0] ?? 0)
      if (row.key === 'steam-2-8-8-2') expect(lap).toBeGreaterThan(0)
      else expect(lap, row.key).toBeLessThan(0)
    }
  })
})
