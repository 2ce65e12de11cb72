import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { candidatesOf, costWeight, isForbidden, lineSolve } from '../../../src/core/rails/solve.ts'
import type { LineAsk, LineCost } from '../../../src/core/rails/solve.ts'

const asks: fc.Arbitrary<LineAsk> = fc
  .record({
    lengthMm: fc.integer({ min: 150, max: 330 }),
    leastMm: fc.integer({ min: 0, max: 40 }),
    zones: fc.array(
      fc.record({ fromMm: fc.integer({ min: 0, max: 300 }), wide: fc.integer({ min: 10, max: 130 }) }).map(({ fromMm, wide }) => ({
        fromMm,
        toMm: fromMm + wide,
      })),
      { maxLength: 3 },
    ),
    beside: fc.array(
      fc.integer({ min: 0, max: 300 }).map((fromMm) => ({ fromMm, toMm: fromMm + 30 })),
      { maxLength: 2 },
    ),
    fixed: fc.option(fc.integer({ min: 20, max: 130 })),
    curve: fc.integer({ min: 0, max: 300 }),
  })
  .map(({ fixed, curve, ...ask }) => ({
    ...ask,
    isClosed: false,
    longestMm: 100,
    avoid: [],
    fixed: fixed === null ? [] : [fixed],
    isCurved: (at: number) => at > curve && at < curve + 60,
  }))

/** Cost of joints as the rules have it, told anew from nothing but the rules. */
function told(ask: LineAsk, at: readonly number[]): LineCost | null {
  const ends = [0, ...at, ask.lengthMm]
  const isSet = (end: number): boolean => end === 0 || end === ask.lengthMm || ask.fixed.includes(end)
  let [bad, cut] = [0, 0]
  for (const [i, to] of ends.slice(1).entries()) {
    const from = ends[i] ?? 0
    if (to - from > ask.longestMm + 1e-6) return null
    if (to - from < ask.leastMm - 1e-6 && !(isSet(from) && isSet(to))) bad++
    if (Math.abs(to - from - ask.longestMm) >= 1e-3) cut++
  }
  bad += at.filter((one) => !ask.fixed.includes(one) && isForbidden(ask.zones, one)).length
  const beside = at.filter((one) => !ask.fixed.includes(one) && isForbidden(ask.beside, one)).length
  return { bad, beside, joints: at.length, curved: at.filter(ask.isCurved).length, cut }
}

/** Every choice of places, tried. */
function tried(ask: LineAsk): number {
  const places = candidatesOf(ask, 0, ask.lengthMm).filter((_, i) => i % 3 === 0 || ask.lengthMm < 0)
  const own = ask.fixed.filter((at) => at < ask.lengthMm)
  let best = Infinity
  const more = (at: readonly number[], from: number): void => {
    const cost = told(
      ask,
      [...at, ...own].toSorted((a, b) => a - b),
    )
    if (cost) best = Math.min(best, costWeight(cost))
    if (at.length < 4) for (let i = from; i < places.length; i++) more([...at, places[i] ?? 0], i + 1)
  }
  more([], 0)
  return best
}

describe('joints of one rail', () => {
  it('keep every bound, and cost what they say', () => {
    fc.assert(
      fc.property(asks, (ask) => {
        const { at, cost } = lineSolve(ask)
        expect(told(ask, at)).toEqual(cost)
        for (const own of ask.fixed.filter((one) => one < ask.lengthMm)) expect(at).toContain(own)
      }),
      { numRuns: 200 },
    )
  })

  it('are no worse than any choice of places, tried one by one', () => {
    fc.assert(
      fc.property(asks, (ask) => {
        expect(costWeight(lineSolve(ask).cost)).toBeLessThanOrEqual(tried(ask))
      }),
      { numRuns: 12 },
    )
  })

  it('are as few as moving each joint on as far as it goes gives, where nothing is too short', () => {
    fc.assert(
      fc.property(asks, (given) => {
        const ask = { ...given, leastMm: 0, fixed: [], beside: [] }
        let [at, count] = [0, 0]
        while (at + ask.longestMm < ask.lengthMm) {
          let next = at + ask.longestMm
          for (let moved = true; moved; ) {
            moved = false
            for (const { fromMm, toMm } of ask.zones) if (next > fromMm + 1e-6 && next < toMm - 1e-6) [next, moved] = [fromMm, true]
          }
          if (next <= at + 1e-6) return
          ;[at, count] = [next, count + 1]
        }
        const { cost } = lineSolve(ask)
        expect(cost.bad).toBe(0)
        expect(cost.joints).toBe(count)
      }),
      { numRuns: 200 },
    )
  })

  it('round a closed rail: as many pieces as joints, and no more than sticks that go round', () => {
    fc.assert(
      fc.property(fc.integer({ min: 50, max: 900 }), (lengthMm) => {
        const { at, cost } = lineSolve({
          lengthMm,
          isClosed: true,
          longestMm: 100,
          leastMm: 10,
          zones: [],
          beside: [],
          avoid: [],
          fixed: [],
          isCurved: () => false,
        })
        expect(cost.bad).toBe(0)
        expect(at).toHaveLength(Math.ceil(lengthMm / 100))
        expect(cost.cut).toBe(lengthMm % 100 === 0 ? 0 : lengthMm % 100 < 10 && lengthMm > 100 ? 2 : 1)
      }),
      { numRuns: 60 },
    )
  })
})
