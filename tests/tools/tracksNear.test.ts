import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { networkCreateDeriver } from '../../src/core/network/index.ts'
import { trackHandles } from '../../src/tools/shared/handles.ts'
import { tracksNear } from '../../src/tools/shared/tracksNear.ts'
import { bigPlan } from '../support/bigPlan.ts'
import { planAfter } from '../support/plans.ts'

describe('tracks near a point', () => {
  it('are all of which a PI, an end or a side lies within reach, few others, whatever was dragged before', () => {
    const networkOf = networkCreateDeriver()
    let plan = bigPlan()
    const ids = Object.keys(plan.tracks)
    const place = fc.record({ x: fc.integer({ min: -2000, max: 14000 }), y: fc.integer({ min: -2000, max: 40000 }) })
    fc.assert(
      fc.property(fc.nat(ids.length - 1), place, fc.boolean(), fc.integer({ min: 1, max: 400 }), (n, to, isAtPi, reachMm) => {
        const track = plan.tracks[ids[n] ?? '']
        const corner = track?.corners[0]
        if (track === undefined || corner === undefined) return
        plan = planAfter(plan, { kind: 'corner.set', track: track.id, corner: corner.id, change: to })
        const { tracks } = networkOf(plan)
        const at = isAtPi ? { x: to.x + reachMm / 2, y: to.y } : { x: 1000, y: to.y }
        const near = tracksNear(tracks, at, reachMm)
        const within = [...tracks.values()].filter((one) => {
          const { corners, start, end, sides } = trackHandles(one)
          const points = [
            ...corners,
            ...[start, end].flatMap((end) => end ?? []),
            ...sides.map(([a, b]) => ({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 })),
          ]
          return points.some(({ x, y }) => Math.abs(x - at.x) <= reachMm && Math.abs(y - at.y) <= reachMm)
        })
        for (const one of within) expect(near).toContain(one)
        expect(near.map((one) => ids.indexOf(one.track.id))).toEqual(near.map((one) => ids.indexOf(one.track.id)).toSorted((a, b) => a - b))
        expect(near.length).toBeLessThan(tracks.size / 2)
      }),
      { numRuns: 15 },
    )
  })
})
