import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { Notice } from '../../src/app/Notice.tsx'
import { Particulars } from '../../src/app/particulars/Particulars.tsx'
import type { PlanCommand } from '../../src/core/edit/types.ts'
import type { Selection } from '../../src/store/types.ts'
import { hand, renderOnDesk } from './desk.tsx'
import type { Desk } from './desk.tsx'

afterEach(cleanup)

function onDesk(): Desk {
  return renderOnDesk(
    <>
      <Particulars />
      <Notice />
    </>,
  )
}

const select = ({ stores }: Desk, selection: Selection): void => act(() => stores.session.getState().select(selection))
const apply = ({ stores }: Desk, command: PlanCommand): void => act(() => void stores.plan.getState().apply(command))
const undo = ({ stores }: Desk): void => act(() => void stores.plan.getState().undo())
const redo = ({ stores }: Desk): void => act(() => void stores.plan.getState().redo())
const selected = ({ stores }: Desk): Selection => stores.session.getState().selection

describe('what is selected when a step takes it away', () => {
  it('gives way to what it hung on, step by step, with a note; redo selects each again', async () => {
    const desk = onDesk()
    const turnout = desk.stores.plan.getState().plan.turnouts['turnout-1']
    if (turnout === undefined) throw new Error('no turnout')
    apply(desk, { kind: 'turnout.add', record: { ...turnout, id: 'turnout-9', name: 'West quay', stationMm: 1600 } })
    select(desk, { kind: 'record', table: 'turnouts', id: 'turnout-9' })
    await hand.click(screen.getByRole('button', { name: 'Start a track from its leg' }))
    const end = selected(desk)
    expect(end).toEqual({ kind: 'trackEnd', track: 'track-2', end: 'end' })

    undo(desk)
    expect(screen.queryByText(/no longer there\.$/)).toBeNull()
    expect(screen.getByRole('heading', { name: 'West quay' })).toBeVisible()
    expect(screen.getByText('Track from West quay is no longer there. Selected is turnout West quay.')).toBeVisible()
    undo(desk)
    expect(screen.getByRole('heading', { name: 'Harbour line' })).toBeVisible()
    redo(desk)
    expect(screen.getByRole('heading', { name: 'West quay' })).toBeVisible()
    redo(desk)
    expect(selected(desk)).toEqual(end)
    expect(desk.stores.session.getState().notice).toBeNull()
  })

  it('is the railway where it hung on nothing, the track of a corner, and the rest of several', () => {
    const desk = onDesk()
    const track = {
      name: 'Aside',
      lineClass: 'main',
      start: { kind: 'free', x: 0, y: 0 },
      corners: [],
      end: { kind: 'free', x: 900, y: 0 },
    } as const
    apply(desk, { kind: 'track.add', record: { ...track, id: 'track-2' } })
    select(desk, { kind: 'record', table: 'tracks', id: 'track-2' })
    undo(desk)
    expect(selected(desk)).toEqual({ kind: 'none' })
    expect(screen.getByText('Aside is no longer there. Nothing is selected now.')).toBeVisible()

    redo(desk)
    expect(selected(desk)).toEqual({ kind: 'record', table: 'tracks', id: 'track-2' })
    apply(desk, {
      kind: 'corner.insert',
      track: 'track-2',
      index: 0,
      corner: { id: 'pi-1', x: 450, y: 0, radius: 'class', easementIn: 'class', easementOut: 'class' },
    })
    select(desk, { kind: 'corner', track: 'track-2', corner: 'pi-1' })
    undo(desk)
    expect(selected(desk)).toEqual({ kind: 'record', table: 'tracks', id: 'track-2' })

    select(desk, {
      kind: 'several',
      members: [
        { table: 'tracks', id: 'track-1' },
        { table: 'tracks', id: 'track-2' },
      ],
    })
    undo(desk)
    expect(selected(desk)).toEqual({ kind: 'record', table: 'tracks', id: 'track-1' })
  })

  it('is the railway where a track that starts from a turnout of its own goes with it', () => {
    const desk = onDesk()
    const { plan } = desk.stores.plan.getState()
    const [main, turnout] = [plan.tracks['track-1'], plan.turnouts['turnout-1']]
    if (main === undefined || turnout === undefined) throw new Error('The demo has no track with a turnout.')
    const laid = desk.stores.plan.getState().apply({
      kind: 'group',
      label: 'Lay a track from itself',
      commands: [
        { kind: 'track.add', record: { ...main, id: 'track-2', name: 'Aside' } },
        { kind: 'turnout.add', record: { ...turnout, id: 'turnout-9', track: 'track-2' } },
        { kind: 'track.setStart', id: 'track-2', start: { kind: 'leg', turnout: 'turnout-9', leg: 'diverging' } },
      ],
    })
    expect(laid.ok).toBe(true)
    select(desk, { kind: 'record', table: 'turnouts', id: 'turnout-9' })
    undo(desk)
    expect(selected(desk)).toEqual({ kind: 'none' })
  })

  it('is left alone where something else was selected since', () => {
    const desk = onDesk()
    const track = {
      name: 'Aside',
      lineClass: 'main',
      start: { kind: 'free', x: 0, y: 0 },
      corners: [],
      end: { kind: 'free', x: 900, y: 0 },
    } as const
    apply(desk, { kind: 'track.add', record: { ...track, id: 'track-2' } })
    select(desk, { kind: 'record', table: 'tracks', id: 'track-2' })
    undo(desk)
    select(desk, { kind: 'record', table: 'benchworks', id: 'benchwork-1' })
    redo(desk)
    expect(selected(desk)).toEqual({ kind: 'record', table: 'benchworks', id: 'benchwork-1' })
  })

  it('shuts a panel of something done to it', async () => {
    const desk = onDesk()
    select(desk, { kind: 'record', table: 'turnouts', id: 'turnout-1' })
    await hand.click(screen.getByRole('button', { name: 'Start a track from its leg' }))
    await hand.click(screen.getByRole('button', { name: 'Lay a parallel to Harbour line from here…' }))
    await screen.findByRole('heading', { name: 'Lay a parallel from the leg' })
    undo(desk)
    expect(desk.desk.getState()).toMatchObject({ lineAct: null, trial: null })
    expect(screen.getByRole('heading', { name: 'East quay' })).toBeVisible()
  })
})
