import '@testing-library/jest-dom/vitest'
import { act, cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { Particulars } from '../../src/app/particulars/Particulars.tsx'
import { networkCreateDeriver } from '../../src/core/network/index.ts'
import type { Plan, Track } from '../../src/core/plan/types.ts'
import { hand, renderOnDesk, roomPlan } from './desk.tsx'
import type { Desk } from './desk.tsx'

afterEach(cleanup)

/** The room with a second track that goes on from the end of the first one, turned off by so much. */
function goingOn(turnRad: number): Plan {
  const plan = roomPlan()
  const alignment = networkCreateDeriver()(plan).tracks.get('track-1')?.alignment
  if (alignment?.ok !== true) throw new Error('the first track is not solved')
  const { x, y, headingRad } = alignment.path.end
  const onward = headingRad + turnRad
  const second: Track = {
    id: 'track-2',
    name: 'Yard lead',
    lineClass: 'main',
    start: { kind: 'free', x, y },
    corners: [],
    end: { kind: 'free', x: x + 400 * Math.cos(onward), y: y + 400 * Math.sin(onward) },
  }
  return { ...plan, tracks: { ...plan.tracks, [second.id]: second } }
}

function chosen(plan: Plan): Desk {
  const desk = renderOnDesk(<Particulars />, plan)
  act(() => desk.stores.session.getState().select({ kind: 'trackEnd', track: 'track-1', end: 'end' }))
  return desk
}

const ends = ({ stores }: Desk) => {
  const { tracks } = stores.plan.getState().plan
  return [tracks['track-1']?.end, tracks['track-2']?.start]
}

describe('an end that meets the end of another track', () => {
  it('says which track the line goes on into, leads there, and offers no second join', async () => {
    const desk = chosen(goingOn(0))
    expect(screen.getByText('joined: goes on into Yard lead')).toBeVisible()
    expect(screen.queryByRole('button', { name: 'Join this end to…' })).toBeNull()
    expect(screen.queryByRole('button', { name: 'Bring both into one line' })).toBeNull()
    expect(screen.queryByRole('button', { name: 'Draw on from its end' })).toBeNull()
    await hand.click(screen.getByRole('button', { name: 'Yard lead: go there' }))
    expect(screen.getByRole('heading', { name: 'Yard lead' })).toBeVisible()
    // And back from there.
    expect(screen.getByText('joined: goes on into Harbour line')).toBeVisible()
    await hand.click(screen.getByRole('button', { name: 'Harbour line: go there' }))
    expect(desk.stores.session.getState().selection).toEqual({ kind: 'record', table: 'tracks', id: 'track-1' })
  })

  it('takes the other end along when its place is typed', () => {
    const desk = chosen(goingOn(0))
    const field = screen.getByRole('textbox', { name: 'Right' })
    fireEvent.change(field, { target: { value: '5"' } })
    fireEvent.keyDown(field, { key: 'Enter' })
    expect(ends(desk)[0]).toMatchObject({ x: 127 })
    expect(ends(desk)[1]).toEqual(ends(desk)[0])
    expect(desk.stores.plan.getState().undoStack).toHaveLength(1)
  })

  it('tells its kink, and brings both into one line', async () => {
    const desk = chosen(goingOn(0.1))
    // 0.1 rad is 5.73 degrees.
    expect(screen.getByText('joined: goes on into Yard lead, with a kink of 5.73°')).toBeVisible()
    await hand.click(screen.getByRole('button', { name: 'Bring both into one line' }))
    expect(screen.getByText('joined: goes on into Yard lead')).toBeVisible()
    expect(ends(desk)[1]).toEqual(ends(desk)[0])
  })

  it('is parted by a button, and open to be joined again', async () => {
    const desk = chosen(goingOn(0))
    await hand.click(screen.getByRole('button', { name: 'Part it from Yard lead' }))
    expect(ends(desk)[1]).not.toEqual(ends(desk)[0])
    expect(screen.getByText('free')).toBeVisible()
    expect(screen.getByRole('button', { name: 'Join this end to…' })).toBeVisible()
  })

  it('is what laying a join leaves', async () => {
    const plan = goingOn(0)
    const second = plan.tracks['track-2']
    if (second?.start.kind !== 'free') throw new Error('no second track')
    const inch = 25.4
    const lead: Track = {
      ...second,
      start: { kind: 'free', x: -90 * inch, y: 140 * inch },
      end: { kind: 'free', x: -130 * inch, y: 140 * inch },
    }
    const desk = chosen({ ...plan, tracks: { ...plan.tracks, 'track-2': lead } })
    await hand.click(screen.getByRole('button', { name: 'Join this end to…' }))
    await hand.selectOptions(await screen.findByRole('combobox', { name: 'To' }), 'start of Yard lead')
    await waitFor(() => expect(screen.queryByText(/looked at|Held against/)).toBeNull())
    await hand.click(await screen.findByRole('button', { name: 'Lay this line' }))
    expect(desk.stores.session.getState().selection).toMatchObject({ id: 'track-1' })
    const row = screen.getByText('joined: goes on into Yard lead')
    expect(within(row.parentElement ?? row).getByRole('button', { name: 'Yard lead: go there' })).toBeVisible()
  })
})
