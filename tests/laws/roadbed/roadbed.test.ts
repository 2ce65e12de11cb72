import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { roadbedOf } from '../../../src/core/roadbed/index.ts'
import { jointsPlaced } from '../../../src/core/roadbed/joints.ts'
import { pathMeasured } from '../../../src/core/roadbed/measured.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const slackMm = 1e-5

/** A ring or a bent line with a spur on it, all of random radii and counts of strips. */
const planArbitrary: fc.Arbitrary<Plan> = fc
  .record({
    width: fc.integer({ min: 1800, max: 4000 }),
    height: fc.integer({ min: 1800, max: 3000 }),
    radii: fc.array(fc.integer({ min: 250, max: 850 }), { minLength: 4, maxLength: 4 }),
    isClosed: fc.boolean(),
    strips: fc.constantFrom<number | 'fit'>('fit', 2, 3, 5),
    at: fc.integer({ min: 200, max: 3000 }),
    staggerMm: fc.constantFrom(0, 60, 152.4),
  })
  .map(({ width, height, radii, isClosed, strips, at, staggerMm }) => {
    const places = [
      { x: width, y: 0 },
      { x: width, y: height },
      { x: 0, y: height },
      { x: 0, y: 0 },
    ]
    const corners = places.map((place, i) => ({
      id: `corner-${i + 1}`,
      ...place,
      radius: radii[i] ?? 500,
      easementIn: 60,
      easementOut: 60,
    }))
    const start = { kind: 'free', x: 0.4 * width, y: 0 } as const
    const plan = planWith({
      tracks: [
        isClosed
          ? aTrack({ start, corners, end: { kind: 'closed' } })
          : aTrack({ start, corners: corners.slice(0, 2), end: { kind: 'free', x: 0, y: height } }),
      ],
      turnouts: [aTurnout({ stationMm: at })],
    })
    const main = plan.lineClasses['main']
    if (!main?.roadbed) throw new Error('no roadbed')
    const { laying } = plan.railway
    return {
      ...plan,
      railway: { ...plan.railway, laying: { ...laying, cutting: { ...laying.cutting, roadbedStaggerMm: staggerMm } } },
      lineClasses: { ...plan.lineClasses, main: { ...main, roadbed: { ...main.roadbed, strips } } },
    }
  })

describe('roadbed of any plan', () => {
  it('adds up along every strip, bends, keeps its stagger, and joins in no throw bay', () => {
    fc.assert(
      fc.property(planArbitrary, (plan) => {
        const work = roadbedOf(pipelineCreate().derive(plan))
        const staggerMm = plan.railway.laying.cutting.roadbedStaggerMm
        const isJoined = work.problems.every(({ kind }) => kind !== 'noJointPlace')
        for (const run of work.runs) {
          const measured = pathMeasured(run.path)
          const isRing = run.isClosed && run.stretches.length === 1
          for (const { fromMm, toMm, strips, stripWidthMm, strain } of run.stretches) {
            expect(strips * stripWidthMm).toBeCloseTo(run.footWidthMm, 9)
            if (run.roadbed.strips === 'fit' && kindsOf(work).every((kind) => kind !== 'cannotBend'))
              expect(strain).toBeLessThanOrEqual(0.02 + 1e-9)
            const lines = Array.from({ length: strips }, (_, strip) =>
              run.pieces.filter(
                (piece) => piece.strip === strip && (isRing || (piece.fromMm >= fromMm - slackMm && piece.toMm <= toMm + slackMm)),
              ),
            )
            for (const [strip, line] of lines.entries()) {
              const [first, last] = [line[0], line.at(-1)]
              if (!first || !last) throw new Error('a strip without pieces')
              const whole = measured.alongAt(last.toMm, first.offsetMm) - measured.alongAt(first.fromMm, first.offsetMm)
              expect(line.reduce((sum, { lengthMm }) => sum + lengthMm, 0)).toBeCloseTo(whole, 5)
              expect(last.toMm - first.fromMm).toBeCloseTo(isRing ? run.lengthMm : toMm - fromMm, 5)
              if (!isJoined) continue
              for (const { toMm: joint, lengthMm } of line) {
                expect(lengthMm).toBeLessThanOrEqual(914.4 + slackMm)
                const isEnd = joint === last.toMm && !isRing
                if (isEnd) continue
                for (const bay of run.forbidden) expect(joint > bay.fromMm + slackMm && joint < bay.toMm - slackMm).toBe(false)
                for (const beside of (lines[strip - 1] ?? []).slice(0, isRing ? undefined : -1)) {
                  const apart = Math.abs(joint - beside.toMm) % run.lengthMm
                  expect(isRing ? Math.min(apart, run.lengthMm - apart) : apart).toBeGreaterThanOrEqual(staggerMm - slackMm)
                }
              }
            }
          }
        }
        const marks = [...work.runs.flatMap(({ pieces }) => pieces), ...work.turnoutPieces.flatMap(({ strips }) => strips)].map(
          ({ id }) => id,
        )
        expect(new Set(marks).size).toBe(marks.length)
        expect(JSON.stringify(work)).not.toMatch(/NaN|Infinity/)
      }),
      { numRuns: 15 },
    )
  })
})

function kindsOf({ problems }: ReturnType<typeof roadbedOf>): readonly string[] {
  return problems.map(({ kind }) => kind)
}

describe('joints', () => {
  it('are as few as trying all whole numbers finds', () => {
    const zone = fc
      .tuple(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 2, max: 8 }))
      .map(([fromMm, long]) => ({ fromMm, toMm: fromMm + long }))
    fc.assert(
      fc.property(
        fc.record({
          lengthMm: fc.integer({ min: 1, max: 45 }),
          longestMm: fc.integer({ min: 4, max: 15 }),
          leastMm: fc.integer({ min: 1, max: 4 }),
          forbidden: fc.array(zone, { maxLength: 4 }),
        }),
        (request) => {
          const joints = jointsPlaced(request)
          expect(joints?.length ?? null).toBe(fewest(request))
          const all = [0, ...(joints ?? []), ...(joints ? [request.lengthMm] : [])]
          for (let i = 1; i < all.length && all.length > 2; i++) {
            const piece = (all[i] ?? 0) - (all[i - 1] ?? 0)
            expect(piece).toBeGreaterThanOrEqual(request.leastMm - slackMm)
            expect(piece).toBeLessThanOrEqual(request.longestMm + slackMm)
          }
        },
      ),
      { numRuns: 300 },
    )
  })
})

/** Fewest joints on whole numbers, by trying all; zones that touch are one. */
function fewest({ lengthMm, longestMm, leastMm, forbidden }: Parameters<typeof jointsPlaced>[0]): number | null {
  if (lengthMm <= longestMm) return 0
  const isIn = (at: number): boolean => forbidden.some(({ fromMm, toMm }) => fromMm < at && at < toMm)
  const isTouch = (at: number): boolean => forbidden.some(({ toMm }) => toMm === at) && forbidden.some(({ fromMm }) => fromMm === at)
  let reached = new Set([0])
  for (let pieces = 1; pieces <= lengthMm; pieces++) {
    const next = new Set<number>()
    for (const from of reached) for (let piece = leastMm; piece <= longestMm; piece++) next.add(from + piece)
    if (next.has(lengthMm)) return pieces - 1
    reached = new Set([...next].filter((at) => at < lengthMm && !isIn(at) && !isTouch(at)))
  }
  return null
}
