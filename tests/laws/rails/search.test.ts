import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { chainsCreate } from '../../../src/core/rails/chains.ts'
import { linksCreate } from '../../../src/core/rails/links.ts'
import { chainCuts } from '../../../src/core/rails/runs.ts'
import { besideSolve } from '../../../src/core/rails/search.ts'
import type { SearchRail } from '../../../src/core/rails/search.ts'
import { costLevel, isForbidden } from '../../../src/core/rails/solve.ts'
import type { Span } from '../../../src/core/rails/solve.ts'
import { abreastsOf } from '../../../src/core/rails/stagger.ts'
import { aTrack, planWith } from '../../support/plans.ts'

const stickMm = 100
const leastMm = 12

interface Case {
  readonly lengthMm: number
  readonly staggerMm: number
  readonly zones: readonly (readonly Span[])[]
  readonly curve: number
  readonly own: number | null
}

const cases: fc.Arbitrary<Case> = fc.record({
  lengthMm: fc.integer({ min: 110, max: 270 }),
  staggerMm: fc.integer({ min: 10, max: 45 }),
  zones: fc.tuple(
    ...[0, 1].map(() =>
      fc.array(
        fc
          .record({ fromMm: fc.integer({ min: 0, max: 250 }), wide: fc.integer({ min: 10, max: 70 }) })
          .map(({ fromMm, wide }) => ({ fromMm, toMm: fromMm + wide })),
        { maxLength: 2 },
      ),
    ),
  ),
  curve: fc.integer({ min: 0, max: 300 }),
  own: fc.option(fc.integer({ min: 20, max: 95 })),
})

/** Both rails of a straight track, its joints to be found. */
function railsOf({ lengthMm, zones, curve, own }: Case): readonly SearchRail[] {
  const derived = pipelineCreate().derive(planWith({ tracks: [aTrack({ end: { kind: 'free', x: lengthMm, y: 0 } })] }))
  return chainsCreate()(linksCreate()(derived))
    .flatMap((chain) => chainCuts(chain, new Map(), 0))
    .map((cut, i) => ({
      cut,
      abreasts: abreastsOf(cut),
      ask: {
        lengthMm,
        isClosed: false,
        longestMm: stickMm,
        leastMm,
        zones: zones[i] ?? [],
        beside: [],
        avoid: [],
        fixed: i === 0 && own !== null ? [own] : [],
        isCurved: (at: number) => at > curve && at < curve + 60,
      },
    }))
}

/** The least that any choice of whole 6 mm for the joints of both rails comes to with the stagger kept; a rail that breaks a rule is left out. */
function leastTried(rails: readonly SearchRail[], staggerMm: number): number {
  const choices = rails.map(({ ask }) => {
    const found: { readonly at: readonly number[]; readonly level: number }[] = []
    const more = (at: readonly number[], own: readonly number[]): void => {
      const from = at.at(-1) ?? 0
      const isOwn = (one: number): boolean => ask.fixed.includes(one)
      const isShort = (a: number, b: number): boolean =>
        b - a < leastMm - 1e-6 && !((a === 0 || isOwn(a)) && (b === ask.lengthMm || isOwn(b)))
      if (own.length === 0 && ask.lengthMm - from <= stickMm && !isShort(from, ask.lengthMm)) {
        const curved = at.filter(ask.isCurved).length
        found.push({ at, level: costLevel({ bad: 0, beside: 0, joints: at.length, curved, cut: 0 }) })
      }
      if (at.length >= 3) return
      const to = Math.min(from + stickMm, own[0] ?? Infinity, ask.lengthMm - 1)
      for (let next = 6 * Math.ceil((from + leastMm) / 6); next <= to; next += 6) {
        if (next === own[0] || isForbidden(ask.zones, next) || isShort(from, next)) continue
        more([...at, next], own)
      }
      const [first] = own
      if (first !== undefined && first - from <= stickMm && !isShort(from, first)) more([...at, first], own.slice(1))
    }
    more([], ask.fixed)
    return found.toSorted((a, b) => a.level - b.level)
  })
  const [left, right] = choices
  let least = Infinity
  for (const a of left ?? []) {
    for (const b of right ?? []) {
      if (a.level + b.level >= least) break
      if (a.at.every((one) => b.at.every((other) => Math.abs(one - other) >= staggerMm))) least = a.level + b.level
    }
  }
  return least
}

describe('joints of both rails of a track', () => {
  it('are together no worse than any choice of places, tried one by one, and keep the stagger', () => {
    let compared = 0
    fc.assert(
      fc.property(cases, (one) => {
        const rails = railsOf(one)
        const { joints, costs, isProven } = besideSolve(rails, one.staggerMm, new Map())
        const least = leastTried(rails, one.staggerMm)
        const level = costs.reduce((sum, cost) => sum + costLevel(cost), 0)
        if (Number.isFinite(least)) {
          compared++
          expect(level).toBeLessThanOrEqual(least)
          const [left, right] = joints
          for (const a of left ?? []) for (const b of right ?? []) expect(Math.abs(a - b)).toBeGreaterThan(one.staggerMm - 0.051)
        }
        expect(isProven).toBe(true)
      }),
      { numRuns: 60, seed: 7 },
    )
    expect(compared).toBeGreaterThan(40)
  })

  it('take one more where both rails need theirs in the same stretch, and no more than that', () => {
    // Five joints of either rail have 17 mm to choose from, and must be 23 mm apart: one rail needs a sixth.
    const rails = railsOf({ lengthMm: 583, staggerMm: 23, zones: [], curve: 1e6, own: null })
    const { joints, isProven } = besideSolve(rails, 23, new Map())
    expect(joints.map(({ length }) => length).toSorted()).toEqual([5, 6])
    expect(isProven).toBe(true)
  })
})
