import fc from 'fast-check'
import { expect, test } from 'vitest'
import { findingsOf } from '../../../src/core/checks/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { dataFreeze } from '../../../src/core/plan/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { aBenchwork, aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

/** A bit of everything that has numbers: curves of one radius, easement-only and of several, a loop, turnouts, a leg, a table with a hole. */
const soundPlan = planWith({
  benchworks: [
    aBenchwork({
      holes: [
        [
          { x: 100, y: 100 },
          { x: 300, y: 100 },
          { x: 200, y: 200 },
        ],
      ],
    }),
    aBenchwork({ id: 'benchwork-2' }),
  ],
  tracks: [
    aTrack({
      corners: [
        aCorner({ x: 2600, radius: 700, easementIn: 200, easementOut: 150 }),
        aCorner({ id: 'pi-2', x: 3400, y: 1200, radius: 'easement-only' }),
      ],
      end: { kind: 'free', x: 5000, y: 1300 },
    }),
    aTrack({ id: 'track-2', start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' }, end: { kind: 'free', x: 1900, y: 200 } }),
    aTrack({
      id: 'track-3',
      start: { kind: 'free', x: 3000, y: 2000 },
      corners: [
        aCorner({ x: 0, y: 2000, radius: 500 }),
        aCorner({
          id: 'pi-2',
          x: 0,
          y: 6000,
          radius: {
            first: { radius: 600, turn: { kind: 'share', share: 1 } },
            next: [{ radius: 800, easement: 50, turn: { kind: 'angle', turnRad: 0.4 } }],
          },
        }),
        aCorner({ id: 'pi-3', x: 6000, y: 6000 }),
        aCorner({ id: 'pi-4', x: 6000, y: 2000 }),
      ],
      end: { kind: 'closed' },
    }),
  ],
  turnouts: [
    aTurnout({ stationMm: 300 }),
    aTurnout({
      id: 'turnout-2',
      stationMm: 1100,
      hand: 'right',
      build: { points: 'curved', pointLengthMm: 60, pointThicknessMm: 0.3, heelSpreadMm: 3, toeLengthMm: 20, heelLengthMm: 30 },
    }),
  ],
})

type Holder = { [key: string]: unknown }

/** Every place of a plan that holds a number. */
function numberPlaces(value: unknown): readonly { readonly holder: Holder; readonly key: string }[] {
  if (typeof value !== 'object' || value === null) return []
  const holder = value as Holder
  return Object.keys(holder).flatMap((key) => (typeof holder[key] === 'number' ? [{ holder, key }] : numberPlaces(holder[key])))
}

function planWithNumbers(plan: Plan, changes: readonly (readonly [pick: number, value: number])[]): Plan {
  const clone = structuredClone(plan)
  const places = numberPlaces(clone)
  for (const [pick, value] of changes) {
    const place = places[pick % places.length]
    if (place !== undefined) place.holder[place.key] = value
  }
  return dataFreeze(clone)
}

/** Path of the first number that is none, anywhere in a result; null: all are numbers. */
function notANumber(value: unknown, path = '', seen = new Set<unknown>()): string | null {
  if (typeof value === 'number') return Number.isNaN(value) ? path : null
  if (typeof value !== 'object' || value === null || seen.has(value)) return null
  seen.add(value)
  const entries = value instanceof Map ? [...value.entries()] : Object.entries(value)
  for (const [key, item] of entries) {
    const found = notANumber(item, `${path}.${String(key)}`, seen)
    if (found !== null) return found
  }
  return null
}

/** Small and large ones as far as plans may hold them, and such as overflow when they are squared or divided by. */
const anyNumber = fc.oneof(
  fc.constantFrom(0, -0, 1, -1, 1e-9, -1e-9, 5e-324, 1e-300, 0.01, 1e5, -1e5, 1e155, -1e155, 1e308, -1e308),
  fc.double({ min: -1e5, max: 1e5, noNaN: true }),
)

test('the plan is sound before its numbers change, and a missing number would be seen', () => {
  const { network } = pipelineCreate().derive(soundPlan)
  expect([...network.tracks.values()].filter(({ alignment }) => !alignment.ok)).toEqual([])
  expect([...network.turnouts.values()].filter(({ result }) => !result.ok)).toEqual([])
  expect(notANumber({ network: new Map([['track-1', [0, { lengthMm: NaN }]]]) })).toBe('.network.track-1.1.lengthMm')
})

test('whatever finite numbers a plan holds, deriving and checking it ends, throws nothing and gives numbers', () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(fc.nat(), anyNumber), { minLength: 1, maxLength: 4 }), (changes) => {
      const derived = pipelineCreate().derive(planWithNumbers(soundPlan, changes))
      expect(notANumber(derived)).toBeNull()
      expect(notANumber(findingsOf(derived))).toBeNull()
    }),
    { seed: 20261125, numRuns: 25 },
  )
})
