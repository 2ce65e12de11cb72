import fc from 'fast-check'
import { expect, it } from 'vitest'
import type { Point } from '../../../src/core/geom/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { tieCorners } from '../../../src/core/track/index.ts'
import { aTrack, planWith } from '../../support/plans.ts'

/** How far two convex rings stand apart along the best of their own sides; below 0: they overlap. The separating axis theorem. */
function apart(a: readonly Point[], b: readonly Point[]): number {
  const axes = [a, b].flatMap((ring) =>
    ring.map((p, i) => {
      const q = ring[(i + 1) % ring.length] ?? p
      const length = Math.hypot(q.x - p.x, q.y - p.y)
      return { x: (q.y - p.y) / length, y: (p.x - q.x) / length }
    }),
  )
  return Math.max(
    ...axes.map(({ x, y }) => {
      const [of, other] = [a, b].map((ring) => ring.map((p) => p.x * x + p.y * y))
      return Math.max(Math.min(...(other ?? [])) - Math.max(...(of ?? [])), Math.min(...(of ?? [])) - Math.max(...(other ?? [])))
    }),
  )
}

/** Two tracks that cross in the middle of a table, at any angle that can be built. */
const angles = fc.integer({ min: 12, max: 168 })

it('at a crossing no tie lies on another, whatever the angle', () => {
  fc.assert(
    fc.property(angles, (degrees) => {
      const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)]
      const end = (along: number) => ({ x: 1000 + along * c, y: 500 + along * s })
      const plan = planWith({
        tracks: [
          aTrack({ start: { kind: 'free', x: 0, y: 500 }, end: { kind: 'free', x: 2000, y: 500 } }),
          aTrack({ id: 'track-2', name: 'Second', start: { kind: 'free', ...end(-800) }, end: { kind: 'free', ...end(800) } }),
        ],
      })
      const { trackwork, network } = pipelineCreate().derive(plan)
      const [crossing] = [...network.crossings.values()]
      if (crossing?.result.ok !== true) return
      const all = [...trackwork.tracks.values(), ...trackwork.crossings.values()].flatMap(({ ties }) => ties)
      const near = all.filter(({ centre }) => Math.hypot(centre.x - 1000, centre.y - 500) < 300).map(tieCorners)
      for (const [i, a] of near.entries()) {
        for (const b of near.slice(i + 1)) {
          if (Math.hypot((a[0]?.x ?? 0) - (b[0]?.x ?? 0), (a[0]?.y ?? 0) - (b[0]?.y ?? 0)) > 200) continue
          // A tenth of a millimetre is what a saw leaves.
          expect(apart(a, b), `${degrees} degrees`).toBeGreaterThan(-0.1)
        }
      }
    }),
    { numRuns: 40, seed: 5 },
  )
})
