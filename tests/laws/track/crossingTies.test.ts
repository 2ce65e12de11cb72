import fc from 'fast-check'
import { expect, it } from 'vitest'
import { pathNearest, pathOffsetPoint, ringContains } from '../../../src/core/geom/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { tieCorners } from '../../../src/core/track/index.ts'
import { aTrack, planWith } from '../../support/plans.ts'
import { ringsApart } from '../../support/ringsApart.ts'

/** Two tracks that cross in the middle of a table, at any angle that can be built. */
const angles = fc.integer({ min: 12, max: 168 })

/** Rails are looked at in such steps. */
const stepMm = 0.5

it('at a crossing no tie lies on another and every rail is held, whatever the angle', () => {
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
      const spacingMm = plan.lineClasses['main']?.tieSpacingMm ?? NaN
      const { trackwork, network } = pipelineCreate().derive(plan)
      const [crossing] = [...network.crossings.values()]
      if (crossing?.result.ok !== true) return
      const all = [...trackwork.tracks.values(), ...trackwork.crossings.values()].flatMap(({ ties }) => ties)
      const near = all.filter(({ centre }) => Math.hypot(centre.x - 1000, centre.y - 500) < 300).map(tieCorners)
      for (const { alignment, railway } of network.tracks.values()) {
        if (!alignment.ok) continue
        const middle = pathNearest(alignment.path, { x: 1000, y: 500 }).stationMm
        for (const offsetMm of [railway.gaugeMm / 2, -railway.gaugeMm / 2]) {
          let [openMm, longestMm] = [0, 0]
          for (let off = -120; off <= 120; off += stepMm) {
            const at = pathOffsetPoint(alignment.path, middle + off, offsetMm)
            openMm = near.some((ring) => Math.hypot((ring[0]?.x ?? 0) - at.x, (ring[0]?.y ?? 0) - at.y) < 80 && ringContains(ring, at))
              ? 0
              : openMm + stepMm
            longestMm = Math.max(longestMm, openMm)
          }
          // Clear between two ties of plain track there are 3.1 mm.
          expect(longestMm, `${degrees} degrees`).toBeLessThan(1.35 * spacingMm)
        }
      }
      for (const [i, a] of near.entries()) {
        for (const b of near.slice(i + 1)) {
          if (Math.hypot((a[0]?.x ?? 0) - (b[0]?.x ?? 0), (a[0]?.y ?? 0) - (b[0]?.y ?? 0)) > 200) continue
          // A tenth of a millimetre is what a saw leaves.
          expect(ringsApart(a, b), `${degrees} degrees`).toBeGreaterThan(-0.1)
        }
      }
    }),
    { numRuns: 25, seed: 5 },
  )
})
