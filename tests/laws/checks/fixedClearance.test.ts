import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Finding } from '../../../src/core/checks/index.ts'
import { ringContains, segmentNearest } from '../../../src/core/geom/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { bandEdges, sweepAlong, vehicleBodiesOf } from '../../../src/core/vehicles/index.ts'
import { planFindings } from '../../support/checks.ts'
import { aCorner, aTrack, planWith } from '../../support/plans.ts'

const fixed = (plan: Plan): readonly Finding[] => planFindings(plan).filter(({ rule }) => rule === 'fixed-clearance')

/** A bend with its easements whose outside looks up. */
const track = (radius: number, easement: number) =>
  aTrack({
    start: { kind: 'free', x: -1500, y: -900 },
    corners: [aCorner({ x: 0, y: 0, radius, easementIn: easement, easementOut: easement })],
    end: { kind: 'free', x: 1500, y: -900 },
  })

describe('a wall moved nearer', () => {
  test('never takes a finding away, and never leaves more room', () => {
    let told = 0
    fc.assert(
      fc.property(
        fc.integer({ min: 650, max: 1500 }),
        fc.constantFrom(0, 200),
        fc.integer({ min: -250, max: 100 }),
        fc.integer({ min: 1, max: 60 }),
        fc.integer({ min: -300, max: 300 }),
        (radius, easement, y, nearerMm, lean) => {
          const wall = (at: number): Plan =>
            planWith({
              tracks: [track(radius, easement)],
              walls: [
                {
                  id: 'wall-1',
                  name: 'Wall',
                  points: [
                    { x: 2000, y: at + lean },
                    { x: -2000, y: at - lean },
                  ],
                  thicknessMm: 5000,
                  isClosed: false,
                },
              ],
            })
          const least = (findings: readonly Finding[]): number => Math.min(...findings.map(({ measured }) => measured ?? Infinity))
          const [far, near] = [fixed(wall(y)), fixed(wall(y - nearerMm))]
          if (far.length > 0) {
            told++
            expect(near.length).toBeGreaterThan(0)
            expect(least(near)).toBeLessThanOrEqual(least(far) + 0.02)
          }
        },
      ),
      { seed: 81, numRuns: 40 },
    )
    expect(told).toBeGreaterThan(4)
  })
})

describe('posts anywhere', () => {
  test('are told as every corner against every edge of the band says', () => {
    const plan = planWith({ tracks: [track(700, 200)] })
    const alignment = pipelineCreate().derive(plan).network.tracks.get('track-1')?.alignment
    const car = plan.vehicles['car-85ft-passenger']
    if (alignment?.ok !== true || car === undefined) throw new Error('not solved')
    const { left, right } = bandEdges(sweepAlong(alignment.path, vehicleBodiesOf(car), { stepMm: 10, isClosed: false }))
    const band = [...right, ...left.toReversed()]
    let [near, clear] = [0, 0]
    fc.assert(
      fc.property(
        fc.integer({ min: -1200, max: 1200 }),
        fc.integer({ min: -90, max: 90 }),
        fc.integer({ min: 3, max: 60 }),
        (x, beside, size) => {
          const y = -Math.abs(x) * 0.6 + beside - (Math.abs(x) < 400 ? 90 : 0)
          const ring = [0, 1, 2].map((i) => ({ x: x + size * Math.cos(2 * i), y: y + size * Math.sin(2 * i) }))
          const toEdges = (p: { x: number; y: number }, edges: typeof ring): number =>
            ringContains(edges, p)
              ? 0
              : Math.min(...edges.map((q, i) => segmentNearest(q, edges[(i + 1) % edges.length] ?? q, p).distanceMm))
          const slow = Math.min(...ring.map((p) => toEdges(p, band)), ...band.map((p) => toEdges(p, ring)))
          const found = fixed({ ...plan, obstacles: { o: { id: 'o', name: 'Post', undersideMm: 0, outline: ring } } })
          if (slow < 6.416 - 0.1) {
            near++
            expect(found).toHaveLength(1)
            // The way from an edge of the band to a corner of the post that lies between two looks: found to a hundredth of station.
            if (slow > 0) expect(Math.abs((found[0]?.measured ?? NaN) - slow)).toBeLessThan(0.1)
            else expect(found[0]?.measured).toBeLessThanOrEqual(0)
          } else if (slow > 6.416 + 0.1) {
            clear++
            expect(found).toEqual([])
          }
        },
      ),
      { seed: 82, numRuns: 150 },
    )
    expect(near).toBeGreaterThan(20)
    expect(clear).toBeGreaterThan(20)
  })
})
