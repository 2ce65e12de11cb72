import { describe, expect, it } from 'vitest'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan, Tick } from '../../../src/core/plan/index.ts'
import { layingLists, tickablesOf, ticksMatch } from '../../../src/core/shopping/index.ts'
import type { LayingLists, Tickable } from '../../../src/core/shopping/index.ts'
import { cutWhole } from '../../support/cutting.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const track = aTrack({ start: { kind: 'free', x: 0, y: 0 }, end: { kind: 'free', x: 4000, y: 0 } })
const listsOf = (plan: Plan): Promise<LayingLists> =>
  layingLists(pipelineCreate().derive(plan), (request) => Promise.resolve(cutWhole(request)))
const ticksOf = (tickables: readonly Tickable[]): readonly Tick[] =>
  tickables.map(({ list, key }, i) => ({ id: `tick-${i}`, list, piece: key, done: 'cut' }))

describe('a tick', async () => {
  const lists = await listsOf(planWith({ tracks: [track] }))
  const tickables = tickablesOf(lists)

  it('can be set at every piece and every line of the saw list, and is found there again', () => {
    expect(lists.rails.pieces.length).toBeGreaterThan(8)
    expect(tickables).toHaveLength(
      lists.rails.pieces.length + lists.roadbed.runs.flatMap(({ pieces }) => pieces).length + lists.ties.list.lines.length,
    )
    expect(new Set(tickables.map(({ list }) => list)).size).toBe(3)
    const matched = ticksMatch(ticksOf(tickables), tickables)
    expect(matched.idle).toEqual([])
    for (const { list, mark, key } of tickables) expect(matched.of[list].get(mark)?.piece).toBe(key)
  })

  it('stays with its piece where a joint elsewhere gives that another mark, and is idle where the piece is another', async () => {
    const left = lists.rails.pieces.filter(({ rail }) => rail === 'left').toSorted((a, b) => a.fromMm - b.fromMm)
    const first = left[0]?.to?.stationMm ?? Number.NaN
    const own = (n: number, stationMm: number) => ({ id: `railJoint-${n}`, track: 'track-1', rail: 'left', stationMm }) as const
    // The joints that there were stay where they are, as the builder's own; one more halves the first piece.
    const held = lists.rails.joints.filter(({ place }) => place.rail === 'left').map(({ place }, i) => own(i + 2, place.stationMm))
    const after = await listsOf(planWith({ tracks: [track], railJoints: [own(1, first / 2), ...held] }))
    expect(after.rails.pieces.filter(({ rail }) => rail === 'left')).toHaveLength(left.length + 1)
    // The right rail may be joined elsewhere now, to keep its stagger.
    const ticks = ticksOf(tickables.filter(({ mark }) => left.some(({ id }) => id === mark)))
    const matched = ticksMatch(ticks, tickablesOf(after))
    expect(matched.idle.map(({ piece }) => piece)).toEqual([tickables.find(({ mark }) => mark === left[0]?.id)?.key])
    for (const [mark, { piece }] of matched.of.rail) {
      const [was, is] = [left, after.rails.pieces].map((pieces, i) =>
        pieces.find(({ id }) => id === (i === 0 ? tickables.find(({ key }) => key === piece)?.mark : mark)),
      )
      if (was !== undefined) expect(Math.abs((is?.from?.stationMm ?? 0) - (was.from?.stationMm ?? 0))).toBeLessThan(1)
    }
  })

  it('tells pieces of special work apart that are alike in all but their number', async () => {
    const work = tickablesOf(await listsOf(planWith({ tracks: [track], turnouts: [aTurnout({ stationMm: 1500 })] })))
    expect(new Set(work.map(({ list, key }) => `${list} ${key}`)).size).toBe(work.length)
    const matched = ticksMatch(ticksOf(work), work)
    for (const { list, mark, key } of work) expect(matched.of[list].get(mark)?.piece).toBe(key)
  })

  it('that says nothing of ours is like no piece', () => {
    const odd: Tick = { id: 'tick-1', list: 'rail', piece: 'E12', done: 'laid' }
    expect(ticksMatch([odd], tickables)).toMatchObject({ idle: [odd] })
  })
})
