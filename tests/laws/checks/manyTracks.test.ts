import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checksCreateRunner, findingsOf } from '../../../src/core/checks/index.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import { dataFreeze } from '../../../src/core/plan/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { bigPlan, withCornerMoved } from '../../support/bigPlan.ts'

const districts = 3

/** The first districts of the big plan: tracks enough that most of them have nothing to do with an edit. */
function somePlan(): Plan {
  const plan = bigPlan()
  const isNear = (id: string): boolean => Number(/\d+/.exec(id)?.[0]) < districts
  const of = <R>(table: { readonly [id: string]: R }) => Object.fromEntries(Object.entries(table).filter(([id]) => isNear(id)))
  return dataFreeze({ ...plan, tracks: of(plan.tracks), turnouts: of(plan.turnouts) })
}

type Edit = (plan: Plan) => Plan

const byMm = fc.integer({ min: -4000, max: 4000 }).map((tenths) => tenths / 10)
const district = fc.integer({ min: 0, max: districts - 1 })

const cornerMoved: fc.Arbitrary<Edit> = fc
  .tuple(district, fc.constantFrom('main-#', 'spur-#-0', 'spur-#-1', 'spur-#-3', 'lone-#-1'), fc.constantFrom(1, 2), byMm, byMm)
  .map(([where, kind, corner, dx, dy]) => (plan) => {
    const id = `track-${kind.replace('#', String(where))}`
    return plan.tracks[id] === undefined ? plan : withCornerMoved(plan, id, `pi-${corner}`, dx, dy)
  })

const turnoutMoved: fc.Arbitrary<Edit> = fc
  .tuple(district, fc.integer({ min: 0, max: 3 }), byMm)
  .map(([where, which, alongMm]) => (plan) => {
    const turnout = plan.turnouts[`turnout-${where}-${which}`]
    if (turnout === undefined) return plan
    const stationMm = Math.max(0, turnout.stationMm + alongMm / 4)
    return { ...plan, turnouts: { ...plan.turnouts, [turnout.id]: { ...turnout, stationMm } } }
  })

/** A lone track laid along a main, so that it comes near to all that hangs on it. */
const laidAlong: fc.Arbitrary<Edit> = fc.tuple(district, fc.integer({ min: 30, max: 300 })).map(([where, asideMm]) => (plan) => {
  const track = plan.tracks[`track-lone-${where}-0`]
  if (track === undefined) return plan
  const y = where * 4000 + asideMm
  const laid = { ...track, start: { kind: 'free', x: 100, y }, corners: [], end: { kind: 'free', x: 2500, y: y + 20 } } as const
  return { ...plan, tracks: { ...plan.tracks, [track.id]: laid } }
})

const trackGone: fc.Arbitrary<Edit> = district.map((where) => (plan) => ({
  ...plan,
  tracks: Object.fromEntries(Object.entries(plan.tracks).filter(([id]) => id !== `track-lone-${where}-2`)),
}))

/** More runs at once than are held against all others. */
const otherCars: fc.Arbitrary<Edit> = fc.constantFrom('car-40ft-box', 'car-85ft-passenger').map((car) => (plan) => ({
  ...plan,
  lineClasses: Object.fromEntries(Object.entries(plan.lineClasses).map(([id, one]) => [id, { ...one, cars: [car] }])),
}))

const edit = fc.oneof(
  { weight: 5, arbitrary: cornerMoved },
  { weight: 3, arbitrary: turnoutMoved },
  { weight: 2, arbitrary: laidAlong },
  { weight: 1, arbitrary: trackGone },
  { weight: 1, arbitrary: otherCars },
)

describe('edits of a plan with many tracks', () => {
  test('are checked as from scratch, bit for bit, and tell other things each time', () => {
    let changes = 0
    fc.assert(
      fc.property(fc.array(edit, { minLength: 6, maxLength: 9 }), (edits) => {
        const networkOf = networkCreateDeriver()
        const check = checksCreateRunner()
        let plan = somePlan()
        let before = JSON.stringify(check({ plan, network: networkOf(plan) }))
        for (const one of edits) {
          plan = dataFreeze(one(plan))
          const kept = JSON.stringify(check({ plan, network: networkOf(plan) }))
          // A number that differs in its last bit is written otherwise.
          expect(kept).toBe(JSON.stringify(findingsOf({ plan, network: networkCreateDeriver()(plan) })))
          if (kept !== before) changes++
          before = kept
        }
      }),
      { seed: 20261126, numRuns: 4 },
    )
    expect(changes).toBeGreaterThan(15)
  })
})
