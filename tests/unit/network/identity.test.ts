import { describe, expect, it } from 'vitest'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import { bigPlan, withCornerMoved } from '../../support/bigPlan.ts'
import { planAfter } from '../../support/plans.ts'

/** Ids of the entries of a map that are not the same object in another. */
function changed<V>(before: ReadonlyMap<string, V>, after: ReadonlyMap<string, V>): string[] {
  return [...after].filter(([id, value]) => before.get(id) !== value).map(([id]) => id)
}

describe('what an edit leaves alone stays the same object', () => {
  const plan = bigPlan()

  it('the same plan gives the same network', () => {
    const derive = networkCreateDeriver()
    expect(derive(plan)).toBe(derive(plan))
  })

  it('a PI of a lone track: that track and nothing else', () => {
    const derive = networkCreateDeriver()
    const before = derive(plan)
    const after = derive(withCornerMoved(plan, 'track-lone-3-1', 'pi-2', 5, 3))
    expect(changed(before.tracks, after.tracks)).toEqual(['track-lone-3-1'])
    expect(after.turnouts).toBe(before.turnouts)
    expect(after.turnoutsOn).toBe(before.turnoutsOn)
  })

  it('a PI of a main behind its turnouts: the main; turnouts and spurs stand where they stood', () => {
    const derive = networkCreateDeriver()
    const before = derive(plan)
    const after = derive(withCornerMoved(plan, 'track-main-3', 'pi-3', 5, 3))
    expect(changed(before.tracks, after.tracks)).toEqual(['track-main-3'])
    expect(after.turnouts).toBe(before.turnouts)
  })

  it('a PI that swings the turnouts: the main, its turnouts, and the spurs on their legs', () => {
    const derive = networkCreateDeriver()
    const before = derive(plan)
    const after = derive(withCornerMoved(plan, 'track-main-3', 'pi-1', 5, 3))
    expect(changed(before.tracks, after.tracks)).toEqual(['track-main-3', ...[0, 1, 2, 3].map((i) => `track-spur-3-${i}`)])
    expect(changed(before.turnouts, after.turnouts)).toEqual([0, 1, 2, 3].map((i) => `turnout-3-${i}`))
    // Swung, not built anew: the geometry is the same object.
    const geometry = (network: typeof before) => network.turnouts.get('turnout-3-0')?.result.geometry
    expect(geometry(after)).toBe(geometry(before))
  })

  it('a turnout that slides: it, its spur, nothing else', () => {
    const derive = networkCreateDeriver()
    const before = derive(plan)
    const after = derive(planAfter(plan, { kind: 'turnout.set', id: 'turnout-3-1', change: { stationMm: 560 } }))
    expect(changed(before.tracks, after.tracks)).toEqual(['track-spur-3-1'])
    expect(changed(before.turnouts, after.turnouts)).toEqual(['turnout-3-1'])
    expect(changed(before.turnoutsOn, after.turnoutsOn)).toEqual(['track-main-3'])
  })

  it('a wall is no part of the network', () => {
    const derive = networkCreateDeriver()
    const before = derive(plan)
    const wall = {
      name: 'North',
      points: [
        { x: 0, y: 0 },
        { x: 9, y: 0 },
      ],
      thicknessMm: 1,
      isClosed: false,
    }
    const after = derive(planAfter(plan, { kind: 'wall.add', record: wall }))
    expect(after.tracks).toBe(before.tracks)
    expect(after.turnouts).toBe(before.turnouts)
  })

  it('the turnouts of a track come by rising station', () => {
    const on = networkCreateDeriver()(plan).turnoutsOn.get('track-main-3') ?? []
    expect(on.map(({ turnout }) => turnout.stationMm)).toEqual([100, 550, 1000, 1450])
  })
})
