import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen, waitFor } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { Particulars } from '../../src/app/particulars/Particulars.tsx'
import { hand, renderOnDesk, roomPlan } from './desk.tsx'
import type { Plan, Track } from '../../src/core/plan/types.ts'
import type { Desk } from './desk.tsx'

afterEach(cleanup)

const inch = 25.4

/** The room with a second track, ahead of the end of the first and 44 in to its right. */
function twoTracks(): Plan {
  const plan = roomPlan()
  const lead: Track = {
    id: 'track-2',
    name: 'Yard lead',
    lineClass: 'main',
    start: { kind: 'free', x: -90 * inch, y: 140 * inch },
    corners: [],
    end: { kind: 'free', x: -130 * inch, y: 140 * inch },
  }
  return { ...plan, tracks: { ...plan.tracks, [lead.id]: lead } }
}

/** The two free ends of the room's track: from (12, 96) in facing left to (12, 12) in facing left, 84 in aside. */
async function joining(): Promise<Desk> {
  const desk = renderOnDesk(<Particulars />, twoTracks())
  act(() => desk.stores.session.getState().select({ kind: 'trackEnd', track: 'track-1', end: 'end' }))
  await hand.click(screen.getByRole('button', { name: 'Join this end to…' }))
  await screen.findByRole('heading', { name: 'Join' })
  return desk
}

/** The lines, once all are found and held against the room. */
async function lines(): Promise<HTMLElement[]> {
  await screen.findAllByRole('button', { name: /keeps the class|the class asks/ })
  await waitFor(() => expect(screen.queryByText(/looked at|Held against/)).toBeNull())
  return screen.getAllByRole('button', { name: /keeps the class|the class asks/ })
}

describe('joining an end', () => {
  it('lists lines to an end chosen by name, shows one, and makes it as one step that closes the loop', async () => {
    const desk = await joining()
    await hand.selectOptions(screen.getByRole('combobox', { name: 'To' }), 'start of Harbour line')
    const best = (await lines())[0]
    expect(best).toHaveAccessibleName(/R .* in .*keeps the class/)
    const length = desk.desk.getState().trial?.chosen?.lengthMm ?? Number.NaN
    const before = desk.stores.derived.getState().derived.network.tracks.get('track-1')?.alignment
    if (best !== undefined) await hand.click(best)
    const alignment = desk.stores.derived.getState().derived.network.tracks.get('track-1')?.alignment
    expect(alignment).toMatchObject({ ok: true, isClosed: true })
    // The loop is as long as the track and the line that was shown: nothing of either moved. Rounding of sums only.
    if (alignment?.ok === true && before?.ok === true) expect(alignment.path.lengthMm).toBeCloseTo(before.path.lengthMm + length, 6)
    expect(desk.stores.plan.getState().undoStack).toHaveLength(1)
    expect(desk.desk.getState()).toMatchObject({ lineAct: null, trial: null })
  })

  it('takes what is pointed at on the plan as the other end', async () => {
    const desk = await joining()
    act(() => desk.stores.session.getState().select({ kind: 'record', table: 'turnouts', id: 'turnout-1' }))
    expect(screen.getByRole('combobox', { name: 'To' })).toHaveDisplayValue('leg of East quay')
  })

  it('holds the line that is looked at over the plan, and lets go of it when shut', async () => {
    const desk = await joining()
    await hand.selectOptions(screen.getByRole('combobox', { name: 'To' }), 'a turnout on Yard lead')
    const all = await lines()
    expect(all.length).toBeGreaterThan(1)
    const second = all[1]
    const first = desk.desk.getState().trial?.chosen
    if (second !== undefined) await hand.hover(second)
    expect(desk.desk.getState().trial?.chosen).not.toBe(first)
    await hand.click(screen.getByRole('button', { name: 'Close' }))
    expect(desk.desk.getState().trial).toBeNull()
  })
})
