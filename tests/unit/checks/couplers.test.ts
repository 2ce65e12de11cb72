import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Finding, RuleName } from '../../../src/core/checks/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan, Vehicle } from '../../../src/core/plan/index.ts'
import { trainCarOf, trainStance } from '../../../src/core/vehicles/index.ts'
import { planFindings } from '../../support/checks.ts'
import { aCar, aCorner, aTrack, planWith } from '../../support/plans.ts'

const seed = 20261126

/** Findings of one rule. */
const of = (plan: Plan, rule: RuleName): readonly Finding[] => planFindings(plan, []).filter((finding) => finding.rule === rule)

/** A right angle to the left on sides of 2 m, on a class of its own. */
function bend(
  radius: number,
  lengths: { readonly curveCarLengths?: number; readonly couplingCarLengths?: number },
  cars: readonly Vehicle[] = [aCar()],
): Plan {
  const main = planWith().lineClasses['main']
  if (main === undefined) throw new Error('the empty plan has a main')
  const own = {
    ...main,
    id: 'own',
    minRadiusMm: 300,
    cars: cars.map(({ id }) => id),
    curveCarLengths: 0,
    couplingCarLengths: 0,
    ...lengths,
  }
  const track = aTrack({ lineClass: 'own', corners: [aCorner({ x: 2000, radius })], end: { kind: 'free', x: 2000, y: 2000 } })
  return planWith({ lineClasses: [own], vehicles: cars, tracks: [track] })
}

describe('car-radius and coupling-radius', () => {
  // Common practice, no source: three lengths over couplers run, five couple. 3 x 155 = 465 and 5 x 155 = 775 mm.
  test.each([
    ['car-radius', { curveCarLengths: 3 }, 465],
    ['coupling-radius', { couplingCarLengths: 5 }, 775],
  ] as const)('%s keeps quiet at the very limit and speaks a hundredth under it', (rule, lengths, limit) => {
    expect(of(bend(limit, lengths), rule)).toEqual([])
    expect(of(bend(limit - 0.01, lengths), rule)).toMatchObject([
      {
        severity: 'warning',
        corner: 'pi-1',
        measured: limit - 0.01,
        limit,
        source: 'car:car-1',
        cure: { kind: 'setRadius', radiusMm: limit },
      },
    ])
  })

  test('is cured by what the class asks, and by the least that the car asks where that is smaller', () => {
    // The class's least is 300; three lengths of 85 mm are 255.
    const small = aCar({ overCouplersMm: 85 })
    const [finding] = of(bend(250, { curveCarLengths: 3 }, [small]), 'car-radius')
    expect([finding?.cure, ...(finding?.others ?? [])]).toMatchObject([
      { kind: 'setRadius', radiusMm: 300 },
      { kind: 'setRadius', radiusMm: 255 },
    ])
    expect(of(bend(464, { curveCarLengths: 3 }), 'car-radius')[0]?.others).toBeUndefined()
  })

  test('the longest car decides; a class that holds no such rule, or knows no car, says nothing', () => {
    const long = aCar({ id: 'car-2', overCouplersMm: 200 })
    expect(of(bend(500, { curveCarLengths: 3 }, [aCar(), long]), 'car-radius')).toMatchObject([{ limit: 600, source: 'car:car-2' }])
    expect(of(bend(350, { curveCarLengths: 0, couplingCarLengths: 0 }), 'car-radius')).toEqual([])
    expect(of(bend(350, { curveCarLengths: 3 }, []), 'car-radius')).toEqual([])
  })
})

interface Bends {
  readonly radius: number
  readonly easement: number
  readonly turn: number
  readonly back: number
  readonly swing: number
}

/** Left and right again, or left and left, a little straight between. */
function winding({ radius, easement, turn, back, swing }: Bends): Plan {
  const main = planWith().lineClasses['main']
  if (main === undefined) throw new Error('the empty plan has a main')
  const car = aCar({ couplerSwingRad: swing })
  const [middle, end] = [700, 900]
  const [x1, y1] = [1000 + middle * Math.cos(turn), middle * Math.sin(turn)]
  const corner = { radius, easementIn: easement, easementOut: easement }
  const track = aTrack({
    corners: [aCorner({ ...corner, id: 'pi-1', x: 1000 }), aCorner({ ...corner, id: 'pi-2', x: x1, y: y1 })],
    end: { kind: 'free', x: x1 + end * Math.cos(turn + back), y: y1 + end * Math.sin(turn + back) },
  })
  return planWith({ vehicles: [car], lineClasses: [{ ...main, cars: [car.id], curveCarLengths: 0 }], tracks: [track] })
}

/** The most that a coupler swings anywhere, looked at every so many mm. */
function mostSwing(plan: Plan, everyMm: number): number {
  const derived = pipelineCreate().derive(plan)
  const alignment = derived.network.tracks.get('track-1')?.alignment
  const vehicle = plan.vehicles['car-1']
  if (alignment?.ok !== true || vehicle === undefined) throw new Error('not solved')
  const car = trainCarOf(vehicle, plan.railway.ratio)
  let most = 0
  for (let mm = 0; mm <= alignment.path.lengthMm; mm += everyMm) {
    const stance = trainStance(alignment.path, [car, car], mm)
    if (!stance.ok) continue
    for (const { aheadRad, behindRad } of stance.couplers) most = Math.max(most, Math.abs(aheadRad), Math.abs(behindRad))
  }
  return most
}

describe('coupler-swing', () => {
  const bare: Bends = { radius: 700, easement: 0, turn: 0.5, back: -0.5, swing: 0.08 }

  test('measures what a train pushed along in half millimetres shows', () => {
    const plan = winding(bare)
    const found = of(plan, 'coupler-swing').map(({ measured }) => measured ?? 0)
    expect(Math.max(...found)).toBeCloseTo(mostSwing(plan, 0.5), 4)
  })

  test('is quiet where the coupler swings just so far, and speaks where it swings a little less', () => {
    const most = Math.max(...of(winding(bare), 'coupler-swing').map(({ measured }) => measured ?? 0))
    expect(of(winding({ ...bare, swing: most + 1e-5 }), 'coupler-swing')).toEqual([])
    const [told] = of(winding({ ...bare, swing: most - 1e-4 }), 'coupler-swing')
    const problem = { kind: 'couplersSwing', other: 'car-1' }
    expect(told).toMatchObject({ severity: 'error', unit: 'rad', source: 'car:car-1', problem })
  })

  test('on a curve that goes on and on, swings as two cars on a circle do', () => {
    // Derived: body middles lie m from the centre, pins h along from there; half a body and half a drawbar are seen under these angles.
    const car = aCar()
    const [R, pin] = [700, 762 / 87.1]
    const h = car.overCouplersMm / 2 - pin
    const m = Math.sqrt(R * R - (19 / 2) ** 2 - (107 / 2) ** 2)
    const steady = Math.atan(h / m) + Math.asin(pin / Math.hypot(m, h))
    // A right angle is the same both ways round, so half way along it the cars stand on the arc alone.
    const isMiddleTold = (couplerSwingRad: number): boolean => {
      const plan = bend(R, {}, [aCar({ couplerSwingRad })])
      const alignment = pipelineCreate().derive(plan).network.tracks.get('track-1')?.alignment
      if (alignment?.ok !== true) throw new Error('not solved')
      const half = alignment.path.lengthMm / 2
      return of(plan, 'coupler-swing').some(({ stationFromMm, stationToMm }) => (stationFromMm ?? 0) < half && half < (stationToMm ?? 0))
    }
    expect(isMiddleTold(steady - 1e-7)).toBe(true)
    expect(isMiddleTold(steady + 1e-7)).toBe(false)
  })

  test('what is skipped as calm is calm', () => {
    const bends = fc.record({
      radius: fc.double({ min: 330, max: 900, noNaN: true }),
      easement: fc.constantFrom(0, 40, 120),
      turn: fc.double({ min: 0.15, max: 0.6, noNaN: true }),
      back: fc.double({ min: -0.6, max: 0.6, noNaN: true }),
      swing: fc.double({ min: 0.06, max: 0.3, noNaN: true }),
    })
    const law = fc.property(bends, (one) => {
      const plan = winding(one)
      const alignment = pipelineCreate().derive(plan).network.tracks.get('track-1')?.alignment
      fc.pre(alignment?.ok === true)
      const most = mostSwing(plan, 2)
      const found = of(plan, 'coupler-swing')
      if (most > one.swing + 2e-3) expect(Math.max(...found.map(({ measured }) => measured ?? 0))).toBeGreaterThan(most - 1e-6)
      if (found.length === 0) expect(most).toBeLessThan(one.swing + 2e-3)
      for (const { measured } of found) expect(measured ?? 0).toBeLessThan(most + 2e-3)
    })
    fc.assert(law, { seed, numRuns: 30 })
  })
})
