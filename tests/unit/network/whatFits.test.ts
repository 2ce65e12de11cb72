import { describe, expect, it } from 'vitest'
import { frogsThere, networkCreateDeriver, turnoutRoom } from '../../../src/core/network/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { aCorner, aTrack, aTurnout, planAfter, planWith } from '../../support/plans.ts'

const long = aTrack({ end: { kind: 'free', x: 4000, y: 0 } })
const plan = planWith({ tracks: [long], turnouts: [aTurnout({ stationMm: 1500 })] })

function hostOf(at: Plan) {
  const host = networkCreateDeriver()(at).tracks.get('track-1')
  if (!host) throw new Error('no host')
  return host
}

describe('what fits at a place', () => {
  it('larger numbers are flatter and longer, each as the turnout itself would be', () => {
    const rows = frogsThere(aTurnout({ stationMm: 1500 }), hostOf(plan), null)
    expect(rows.map(({ frog }) => frog)).toEqual([4, 5, 6, 7, 8, 9, 10, 12])
    const built = rows.map(({ result }) => {
      if (!result.ok) throw new Error(result.problem.kind)
      return result.geometry
    })
    for (const [i, one] of built.slice(1).entries()) {
      expect(one.divergingRadiusMm).toBeGreaterThan(built[i]?.divergingRadiusMm ?? Infinity)
      expect(one.overallMm).toBeGreaterThan(built[i]?.overallMm ?? Infinity)
    }
  })

  it('a line to an end is the widest there is, as long as turnout and line together; a point behind the turnout is reached by turning round or not at all', () => {
    const limits = {
      minRadiusMm: 300,
      easement: { kind: 'none' },
      shortestCurveMm: 0,
      tangentBetweenMm: 0,
      isBackToBackAllowed: true,
    } as const
    // A leg that comes towards the turnout, 600 mm aside and 2 m on.
    const target = { pose: { x: 3500, y: 600, headingRad: Math.PI }, limits }
    const rows = frogsThere(aTurnout({ stationMm: 1500 }), hostOf(plan), null, target)
    for (const { result, reached } of rows) {
      if (!result.ok || !reached) throw new Error('expected a line')
      const crowMm = Math.hypot(3500 - result.leg.x, 600 - result.leg.y)
      expect(reached.lengthMm - result.geometry.overallMm).toBeGreaterThan(crowMm)
      expect(reached.lengthMm - result.geometry.overallMm).toBeLessThan(1.1 * crowMm)
      expect(reached.radiusMm).toBeGreaterThan(300)
      expect(reached.meetsLimits).toBe(true)
    }
    expect(frogsThere(aTurnout({ stationMm: 1500 }), hostOf(plan), null).every(({ reached }) => reached === null)).toBe(true)
  })

  it('says why no parallel is told: the leg stands farther off, or the host bends', () => {
    const reasons = (at: Plan, stationMm: number, centresMm: number) =>
      frogsThere(aTurnout({ stationMm }), hostOf(at), { centresMm, radiusMm: 500 }).map(({ parallel }) =>
        parallel && 'why' in parallel ? parallel.why : null,
      )
    expect(new Set(reasons(plan, 1500, 10))).toEqual(new Set(['too-near']))
    const bent = planWith({
      tracks: [
        aTrack({
          corners: [aCorner({ x: 2000, y: 0, radius: 1400, easementIn: 0, easementOut: 0 })],
          end: { kind: 'free', x: 2000, y: 3000 },
        }),
      ],
    })
    expect(new Set(reasons(bent, 900, 60))).toEqual(new Set(['host-bends']))
  })

  it('a parallel track laid as told lies at its centres where told', () => {
    const centresMm = 60
    const [row] = frogsThere(aTurnout({ stationMm: 1500 }), hostOf(plan), { centresMm, radiusMm: 500 }).filter(({ frog }) => frog === 6)
    if (!row?.parallel || 'why' in row.parallel) throw new Error('no parallel')
    const { lengthMm, radiusMm } = row.parallel
    expect(radiusMm).toBe(500)
    const withTrack = planAfter(plan, {
      kind: 'track.add',
      record: {
        ...aTrack({
          id: 'track-2',
          start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
          corners: [
            aCorner({
              x: 1500 + lengthMm - radiusMm * Math.tan(Math.atan(1 / 12)),
              y: centresMm,
              radius: radiusMm,
              easementIn: 0,
              easementOut: 0,
            }),
          ],
          end: { kind: 'free', x: 3000, y: centresMm },
        }),
      },
    })
    const line = networkCreateDeriver()(withTrack).tracks.get('track-2')?.alignment
    if (line?.ok !== true) throw new Error('not solved')
    const behind = line.path.elements.at(-1)
    expect(behind?.start.y).toBeCloseTo(centresMm, 6)
    expect(behind?.start.x).toBeCloseTo(1500 + lengthMm, 6)
  })

  it('one that is not of the usual numbers is listed too; one too sharp for its place says why', () => {
    expect(frogsThere(aTurnout({ stationMm: 1500, frog: 5.5 }), hostOf(plan), null).map(({ frog }) => frog)).toContain(5.5)
    const sharp = aTrack({
      corners: [aCorner({ x: 800, y: 0, radius: 160, easementIn: 0, easementOut: 0 })],
      end: { kind: 'free', x: 800, y: 800 },
    })
    const rows = frogsThere(aTurnout({ stationMm: 700 }), hostOf(planWith({ tracks: [sharp] })), null)
    expect(rows.some(({ result }) => !result.ok && result.problem.kind === 'geometry')).toBe(true)
  })
})

describe('the room that a turnout has on its track', () => {
  it('ends where a neighbour or the track ends: at either end it still stands, beyond it does not', () => {
    const both = planAfter(plan, { kind: 'turnout.add', record: aTurnout({ id: 'turnout-2', stationMm: 2600 }) })
    const network = networkCreateDeriver()(both)
    const turnout = network.turnouts.get('turnout-1')
    const room = turnout ? turnoutRoom(network, turnout) : null
    if (!room) throw new Error('no room')
    const moved = (stationMm: number) =>
      networkCreateDeriver()(planAfter(both, { kind: 'turnout.set', id: 'turnout-1', change: { stationMm } })).turnouts.get('turnout-1')
        ?.result
    expect(moved(room.fromMm)?.ok).toBe(true)
    expect(moved(room.fromMm - 0.01)?.ok).toBe(false)
    const next = network.turnouts.get('turnout-2')
    if (next?.result.ok !== true || turnout?.result.ok !== true) throw new Error('not set')
    expect(room.toMm + turnout.result.geometry.extent.toMm).toBeCloseTo(2600 + next.result.geometry.extent.fromMm, 9)
  })
})
