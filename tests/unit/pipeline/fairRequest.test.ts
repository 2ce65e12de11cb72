import { describe, expect, it } from 'vitest'
import { patchApply, editApply } from '../../../src/core/edit/index.ts'
import { pathNearest } from '../../../src/core/geom/index.ts'
import { fairRequest, pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { FairOptions } from '../../../src/core/pipeline/index.ts'
import type { Plan } from '../../../src/core/plan/types.ts'
import { trackFairRounds } from '../../../src/engine/fair.ts'
import type { TrackFairAnswer } from '../../../src/engine/fair.ts'
import { solve } from '../../support/fairing.ts'
import { aBenchwork, aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const options: FairOptions = { edgeMarginMm: null, centresMm: null, nearness: 'asGiven', roundsMost: 80 }

const corner = (id: string, x: number, y: number) => aCorner({ id, x, y, radius: 250, easementIn: 0, easementOut: 0 })

/** A main that goes up to the right in two curves with a turnout on the straight between, and a spur on the turnout's leg. */
const main = aTrack({
  corners: [corner('a', 500, 300), corner('b', 1900, 300)],
  start: { kind: 'free', x: 300, y: 1000 },
  end: { kind: 'free', x: 2300, y: 1000 },
})
const spur = aTrack({
  id: 'spur',
  name: 'Spur',
  start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
  corners: [],
  end: { kind: 'free', x: 1500, y: 420 },
})
const table = aBenchwork({
  outline: [
    { x: 0, y: 0 },
    { x: 2600, y: 0 },
    { x: 2600, y: 1200 },
    { x: 0, y: 1200 },
  ],
})
const withTurnout = planWith({ benchworks: [table], tracks: [main, spur], turnouts: [aTurnout({ stationMm: 1150 })] })

function eased(plan: Plan, track: string, change: Partial<FairOptions> = {}): TrackFairAnswer & { readonly ok: true } {
  const rounds = trackFairRounds(pipelineCreate().derive(plan), track, { ...options, ...change }, solve)
  let next = rounds.next()
  while (next.done !== true) next = rounds.next('goOn')
  if (!next.value.ok) throw new Error(JSON.stringify(next.value.problem))
  return next.value
}

function after(plan: Plan, { command }: TrackFairAnswer & { readonly ok: true }): Plan {
  const edit = editApply(plan, command)
  if (!edit.ok) throw new Error(JSON.stringify(edit.problem))
  return patchApply(plan, edit.patch)
}

describe('a track with a turnout', () => {
  it('is eased round its turnout: that keeps its place, and so does the spur', () => {
    const before = pipelineCreate().derive(withTurnout)
    const [turnout] = before.network.turnoutsOn.get('track-1') ?? []
    if (turnout?.result.ok !== true) throw new Error('the turnout must be placed to begin with')
    const answer = eased(withTurnout, 'track-1')
    expect(answer.after.minRadiusMm).toBeGreaterThan(answer.before.minRadiusMm * 1.2)
    const derived = pipelineCreate().derive(after(withTurnout, answer))
    const moved = derived.network.turnouts.get('turnout-1')
    if (moved?.result.ok !== true) throw new Error(JSON.stringify(moved?.result))
    // 1e-6 mm: the station is the nearest place of a new line whose side is the old one.
    expect(moved.result.pose.x).toBeCloseTo(turnout.result.pose.x, 6)
    expect(moved.result.pose.y).toBeCloseTo(turnout.result.pose.y, 6)
    const line = derived.network.tracks.get('track-1')?.alignment
    const leg = derived.network.tracks.get('spur')?.alignment
    if (line?.ok !== true || leg?.ok !== true) throw new Error('both lines must work out')
    expect(pathNearest(line.path, turnout.result.pose).distanceMm).toBeLessThan(1e-6)
  })

  it('its own spur and host are no fault of nearness', () => {
    expect(eased(withTurnout, 'track-1', { roundsMost: 5 }).near.filter(({ label }) => label === 'tracks:spur')).toEqual([])
  })

  it('a line as good as it gets is left as it is', () => {
    const plan = after(withTurnout, eased(withTurnout, 'track-1', { roundsMost: 400 }))
    const again = eased(plan, 'track-1', { roundsMost: 400 })
    expect(again.after.minRadiusMm / again.before.minRadiusMm).toBeLessThan(1.02)
  })
})

describe('the corridor of a plan', () => {
  const request = (plan: Plan, change: Partial<FairOptions> = {}) =>
    fairRequest(pipelineCreate().derive(plan), 'track-1', { ...options, ...change })

  it('has a chain for benchwork, each wall, obstacle and other track, with its keep', () => {
    const plan = planWith({
      railway: { edgeMarginMm: 45 },
      benchworks: [table],
      walls: [
        {
          id: 'w1',
          name: 'North',
          points: [
            { x: 0, y: 1300 },
            { x: 2600, y: 1300 },
          ],
          thicknessMm: 100,
          isClosed: false,
        },
      ],
      obstacles: [
        {
          id: 'o1',
          name: 'Post',
          undersideMm: 0,
          outline: [
            { x: 1200, y: 900 },
            { x: 1300, y: 900 },
            { x: 1300, y: 1000 },
          ],
        },
      ],
      tracks: [
        main,
        aTrack({ id: 'other', name: 'Other', start: { kind: 'free', x: 300, y: 100 }, end: { kind: 'free', x: 2300, y: 100 } }),
      ],
    })
    const made = request(plan)
    if (!made.ok) throw new Error(JSON.stringify(made.problem))
    const keeps = Object.fromEntries(made.request.corridor.chains.map(({ label, keepsMm }) => [label, [...new Set(keepsMm)]]))
    const centresMm = plan.lineClasses['main']?.trackCentresMm
    expect(keeps).toEqual({ benchworks: [45], 'obstacles:o1': [45], 'walls:w1': [45], 'tracks:other': [centresMm] })
    expect(made.near).toEqual([])
    expect(made.request.selfKeepMm).toBe(centresMm)
  })

  it('takes margin and centres as they are typed', () => {
    const made = request(planWith({ benchworks: [table], tracks: [main] }), { edgeMarginMm: 12, centresMm: 33 })
    if (!made.ok) throw new Error(JSON.stringify(made.problem))
    expect(new Set(made.request.corridor.chains.flatMap(({ keepsMm }) => keepsMm))).toEqual(new Set([12]))
    expect(made.request.selfKeepMm).toBe(33)
  })

  it('tells where the line is nearer than asked, and asks no more there', () => {
    // The track's ends lie 300 mm from the left edge and 200 mm from the upper one.
    const made = request(planWith({ benchworks: [table], tracks: [main] }), { edgeMarginMm: 220 })
    if (!made.ok) throw new Error(JSON.stringify(made.problem))
    const [near] = made.near
    expect(near).toMatchObject({ label: 'benchworks', askedMm: 220 })
    expect(near?.hasMm).toBeCloseTo(200, 1)
    const strict = request(planWith({ benchworks: [table], tracks: [main] }), { edgeMarginMm: 220, nearness: 'refuse' })
    if (!strict.ok) throw new Error(JSON.stringify(strict.problem))
    expect(new Set(strict.request.corridor.chains.flatMap(({ keepsMm }) => keepsMm))).toEqual(new Set([220]))
  })

  it('says when the benchwork is nowhere wide enough', () => {
    expect(request(planWith({ benchworks: [table], tracks: [main] }), { edgeMarginMm: 700 })).toEqual({
      ok: false,
      problem: { kind: 'corridorEmpty', marginMm: 700 },
    })
  })

  it('says when the track is not there, or does not work out', () => {
    expect(fairRequest(pipelineCreate().derive(planWith()), 'nowhere', options)).toEqual({
      ok: false,
      problem: { kind: 'trackMissing', track: 'nowhere' },
    })
    const tight = planWith({ tracks: [{ ...main, corners: [aCorner({ id: 'a', x: 500, y: 300, radius: 5000 })] }] })
    expect(request(tight)).toMatchObject({ ok: false, problem: { kind: 'trackUnsolved', track: 'track-1' } })
  })

  it('a free end that another track goes on from keeps its direction', () => {
    const on = aTrack({ id: 'on', name: 'On', start: { kind: 'free', x: 2300, y: 1000 }, end: { kind: 'free', x: 2900, y: 1000 } })
    const made = request(planWith({ tracks: [main, on] }))
    if (!made.ok) throw new Error(JSON.stringify(made.problem))
    expect(made.request.held).toEqual([])
    const inLine = aTrack({ ...on, end: { kind: 'free', x: 2300 + 400, y: 1000 + 700 } })
    const held = request(planWith({ tracks: [main, inLine] }))
    if (!held.ok) throw new Error(JSON.stringify(held.problem))
    // The main's last side runs from (1900, 300) to (2300, 1000): 400 across, 700 up, as the other goes on.
    expect(held.request.held).toEqual([{ side: 2, fromMm: 0, toMm: 0 }])
  })
})
