import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { pathPoseAt, pointDistance } from '../../src/core/geom/index.ts'
import { networkCreateDeriver } from '../../src/core/network/index.ts'
import { vehicleBodies, vehicleByKey } from '../../src/core/vehicles/index.ts'
import type { TrainCar } from '../../src/core/vehicles/index.ts'
import { planRead } from '../../src/formats/planjson.ts'
import { gripOf, pushStep, trainOnRoute, trainPut } from '../../src/tools/push/push.ts'
import type { PushMove, PushedTrain, TrainOnRoute } from '../../src/tools/push/push.ts'

const read = planRead(readFileSync('public/demo/fennimore.json', 'utf8'))
if (!read.ok) throw new Error('the demo does not open')
const { plan } = read
const network = networkCreateDeriver()(plan)
const tracks = [...network.tracks.values()].filter(({ alignment }) => alignment.ok).map(({ track }) => track.id)

function carOf(key: string): TrainCar {
  const row = vehicleByKey(key)
  if (row === null) throw new Error(`no vehicle ${key}`)
  const { ratio } = plan.railway
  return { bodies: vehicleBodies(row, ratio), overCouplersMm: row.overCouplersMm / ratio, pinMm: 762 / ratio }
}

const boxcar = carOf('boxcar-40')
const wish = (track: string): PushedTrain => ({ place: { track, stationMm: 0, isRising: true }, headMm: 0, lined: new Map(), stop: null })
const put = (cars: readonly TrainCar[], track: string): PushedTrain => {
  const train = trainPut(network, cars, wish(track))
  if (train === null) throw new Error(`no room on ${track}`)
  return train
}
const standing = (cars: readonly TrainCar[], train: PushedTrain): TrainOnRoute => {
  const on = trainOnRoute(network, cars, train)
  if (on === null || !on.stance.ok) throw new Error('does not stand')
  return on
}
/** Of the leading body, in the plan. */
const headOf = (cars: readonly TrainCar[], train: PushedTrain) => {
  const on = standing(cars, train)
  return pathPoseAt(on.route.path, on.headMm)
}

describe('a train that is pushed', () => {
  it('always stands somewhere, whatever is done with it', () => {
    const moves = fc.array(
      fc.oneof(
        fc.record({ kind: fc.constant('by' as const), mm: fc.double({ min: -700, max: 700, noNaN: true }) }),
        fc.record({ kind: fc.constant('throw' as const), turnout: fc.constantFrom(...network.turnouts.keys()) }),
        fc.record({ kind: fc.constant('toEnd' as const), way: fc.constantFrom('ahead' as const, 'behind' as const) }),
        fc.record({
          kind: fc.constant('drag' as const),
          gripMm: fc.double({ min: 0, max: 150, noNaN: true }),
          at: fc.record({ x: fc.double({ min: 0, max: 3500, noNaN: true }), y: fc.double({ min: 0, max: 2700, noNaN: true }) }),
        }),
      ),
      { minLength: 1, maxLength: 5 },
    )
    fc.assert(
      fc.property(fc.constantFrom(...tracks), fc.integer({ min: 1, max: 3 }), moves, (track, count, done: readonly PushMove[]) => {
        const cars = Array.from({ length: count }, () => boxcar)
        let train = trainPut(network, cars, wish(track))
        fc.pre(train !== null)
        for (const move of done) {
          if (train === null) return
          train = pushStep(network, cars, train, move)
          standing(cars, train)
        }
      }),
      { seed: 66, numRuns: 40 },
    )
  })

  it('put where it is wished stands there, or no farther from there than it has to', () => {
    const [main] = tracks
    if (main === undefined) throw new Error('no track')
    for (const stationMm of [900, 4000, 6100.5]) {
      const train = trainPut(network, [boxcar], { ...wish(main), place: { track: main, stationMm, isRising: true } })
      expect(train?.place.stationMm).toBe(stationMm)
      // Pushed on and exchanged for others it stands where it was pushed to.
      const pushed = pushStep(network, [boxcar], train ?? wish(main), { kind: 'by', mm: 70 })
      const others = trainPut(network, [boxcar, boxcar], pushed)
      expect(others?.place.stationMm).toBeCloseTo(stationMm + 70, 6)
    }
    // At a free end nothing hangs over it: the car stands back by no more than a step.
    const stub = tracks.find(
      (id) => network.tracks.get(id)?.track.end.kind === 'free' && network.tracks.get(id)?.track.start.kind === 'leg',
    )
    const alignment = network.tracks.get(stub ?? '')?.alignment
    if (stub === undefined || alignment?.ok !== true) throw new Error('no stub')
    const end = trainPut(network, [boxcar], { ...wish(stub), place: { track: stub, stationMm: alignment.path.lengthMm, isRising: true } })
    expect(alignment.path.lengthMm - (end?.place.stationMm ?? 0)).toBeLessThan(50)
  })

  it('pushed on and back again stands where it stood', () => {
    for (const track of tracks) {
      const train = trainPut(network, [boxcar], wish(track))
      if (train === null) continue
      const there = pushStep(network, [boxcar], train, { kind: 'by', mm: 90 })
      if (there.stop !== null) continue
      const back = pushStep(network, [boxcar], there, { kind: 'by', mm: -90 })
      // Where tracks touch end to end a route jumps by what they are off, up to 1 mm.
      expect(pointDistance(headOf([boxcar], train), headOf([boxcar], back)), track).toBeLessThan(1)
    }
  })

  it('goes as far as the rails and says what ends there', () => {
    const spur = tracks.find((id) => {
      const track = plan.tracks[id]
      return (
        track?.end.kind === 'free' && pushStep(network, [boxcar], put([boxcar], id), { kind: 'toEnd', way: 'ahead' }).stop?.kind === 'end'
      )
    })
    if (spur === undefined) throw new Error('no spur')
    const end = pushStep(network, [boxcar], put([boxcar], spur), { kind: 'toEnd', way: 'ahead' })
    expect(end.stop).toMatchObject({ kind: 'end', end: { kind: 'trackEnd' } })
    const on = standing([boxcar], end)
    // The first axle stands on the last hundredth of a millimetre of rail.
    const wheelbaseMm = boxcar.bodies[0]?.front.wheelbaseMm ?? 0
    expect(on.route.path.lengthMm - on.headMm - wheelbaseMm / 2).toBeGreaterThanOrEqual(0)
    expect(on.route.path.lengthMm - on.headMm - wheelbaseMm / 2).toBeLessThan(0.02)
  })

  it('takes the leg once the points are thrown, and not while it stands on them', () => {
    let taken = 0
    for (const { turnout, result } of network.turnouts.values()) {
      if (!result.ok || turnout.kind.kind !== 'plain') continue
      const isRising = turnout.facing === 'rising'
      const before: PushedTrain = {
        ...wish(turnout.track),
        place: { track: turnout.track, stationMm: turnout.stationMm + (isRising ? -80 : 80), isRising },
      }
      const on = trainOnRoute(network, [boxcar], before)
      if (on === null || !on.stance.ok) continue
      const thrown = pushStep(network, [boxcar], before, { kind: 'throw', turnout: turnout.id })
      if (thrown.stop !== null) continue
      expect(thrown.lined.get(turnout.id)).toBe('diverging')
      const over = pushStep(network, [boxcar], thrown, { kind: 'by', mm: 150 })
      if (over.stop !== null) continue
      expect(standing([boxcar], over).route.points.find((points) => points.turnout === turnout.id)?.lined, turnout.id).toBe('diverging')
      const held = pushStep(network, [boxcar], over, { kind: 'throw', turnout: turnout.id })
      expect(held.stop, turnout.id).toEqual({ kind: 'occupied', turnout: turnout.id })
      expect(held.lined.get(turnout.id)).toBe('diverging')
      taken++
    }
    expect(taken).toBeGreaterThan(2)
  })

  it('follows the pointer by the place that it was taken at', () => {
    const cars = [boxcar, boxcar]
    const train = put(cars, tracks[0] ?? '')
    const on = standing(cars, train)
    const taken = pathPoseAt(on.route.path, on.headMm - 60)
    const gripMm = gripOf(on, taken)
    expect(gripMm).toBeCloseTo(60, 6)
    const aim = pathPoseAt(on.route.path, on.headMm + 100)
    const dragged = pushStep(network, cars, train, { kind: 'drag', gripMm, at: aim })
    const after = standing(cars, dragged)
    expect(pointDistance(pathPoseAt(after.route.path, after.headMm - 60), aim)).toBeLessThan(1e-6)
  })
})
