import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen, waitFor } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { App } from '../../src/app/App.tsx'
import { actionsNow } from '../../src/app/commands/actions.ts'
import { tradeWords } from '../../src/app/commands/tradeWords.ts'
import { hand, renderOnDesk } from './desk.tsx'

beforeEach(() => localStorage.clear())
afterEach(cleanup)

function actions(on = renderOnDesk(null)) {
  return actionsNow(on.stores, on.desk)
}

// Words of the trade, as handbooks and clubs use them; common practice, no source.
const asked: readonly (readonly [word: string, action: string])[] = [
  ['easement', 'ease'],
  ['spiral', 'ease'],
  ['concentric', 'parallel'],
  ['switch', 'tool-turnout'],
  ['frog', 'turnout-add'],
  ['ladder', 'maker-yard'],
  ['runaround', 'maker-siding'],
  ['balloon', 'maker-loop'],
  ['L-girder', 'tool-benchwork'],
  ['riser', 'tool-joist'],
  ['tunnel', 'tool-portal'],
  ['window', 'tool-opening'],
  ['duck-under', 'tool-opening'],
  ['backdrop', 'tool-wall'],
  ['photo', 'underlay'],
  ['out of square', 'room-measured'],
  ['rectangular', 'table-by-size'],
  ['U-shape', 'legs-by-size'],
  ['shopping', 'lists'],
  ['cut list', 'lists'],
  ['bill of materials', 'lists'],
  ['stake', 'setout'],
  ['deflection', 'setout'],
  ['throw', 'build'],
  ['linkage', 'build'],
  ['rotate', 'several-numbers'],
  ['flip', 'mirror-across'],
  ['duplicate', 'copy'],
  ['layer', 'sight'],
  ['history', 'steps'],
  ['template', 'sheets'],
  ['PDF', 'sheets'],
  ['DXF', 'export'],
  ['locomotive', 'push'],
  ['superelevation', 'stage-line'],
  ['grade', 'grades'],
  ['gradient', 'grades'],
  ['profile', 'grades'],
  ['elevation', 'grades'],
  ['aisle', 'stage-room'],
  ['cork', 'stage-roadbed'],
  ['feeder', 'stage-track'],
  ['silence', 'stage-checks'],
  ['shortcut', 'keys'],
  ['mm', 'units-metric'],
]

describe('every action', () => {
  it('is found by what the trade calls it', () => {
    const all = actions()
    const found = (word: string): readonly string[] =>
      all.filter(({ words, also }) => `${words} ${also ?? ''}`.toLowerCase().includes(word.toLowerCase())).map(({ id }) => id)
    expect(asked.filter(([word, action]) => !found(word).includes(action))).toEqual([])
  })

  it('that has words of the trade is there, once', () => {
    const ids = actions().map(({ id }) => id)
    expect(Object.keys(tradeWords).filter((id) => !ids.includes(id))).toEqual([])
    expect(new Set(ids).size).toBe(ids.length)
  })

  it('goes to a record by its name, and brings it into view', () => {
    const on = renderOnDesk(null)
    act(() => on.stores.session.getState().setViewport({ centre: { x: 90_000, y: 90_000 }, pxPerMm: 1 }))
    act(() =>
      actions(on)
        .find(({ words }) => words === 'Go to Bench')
        ?.run(),
    )
    const { selection, viewport } = on.stores.session.getState()
    expect(selection).toEqual({ kind: 'record', table: 'benchworks', id: 'benchwork-1' })
    expect(viewport.centre.x).toBeLessThan(10_000)
  })

  it('leads from the word grade to the steepest one of the class of the track in hand, and says what climbs', () => {
    const on = renderOnDesk(null)
    const siding = { kind: 'track.set', id: 'track-1', change: { lineClass: 'siding' } } as const
    act(() => void on.stores.plan.getState().apply(siding))
    act(() => on.stores.session.getState().select({ kind: 'record', table: 'tracks', id: 'track-1' }))
    const grades = actions(on).find(({ id }) => id === 'grades')
    expect(grades?.about).toMatch(/only a helix climbs/)
    act(() => grades?.run())
    expect(on.stores.session.getState().selection).toEqual({ kind: 'record', table: 'lineClasses', id: 'siding' })
  })
})

describe('the finder', () => {
  it('has what was typed before it came, and begins anew the next time', async () => {
    const { desk } = renderOnDesk(<App />)
    // All in one turn: the sheet is still to be fetched, and none of these keys may do what it does on the desk.
    await hand.keyboard('/mp{Backspace}easure')
    expect(desk.getState().push).toBeNull()
    const field = await screen.findByRole('searchbox', { name: 'Find any action' })
    await waitFor(() => expect(field).toHaveFocus())
    expect(field).toHaveValue('measure')
    // The first that is found is ready for Enter, as it is for whoever types there.
    await waitFor(() => expect(field).toHaveAttribute('aria-activedescendant'))
    await hand.keyboard(' x')
    expect(field).toHaveValue('measure x')
    await hand.keyboard('{Escape}')
    await waitFor(() => expect(field).not.toBeInTheDocument())
    await hand.keyboard('/')
    expect(await screen.findByRole('searchbox', { name: 'Find any action' })).toHaveValue('')
  })
})

describe('a menu of the desk', () => {
  it('gives the focus back to its word when Escape shuts it, the first time too', async () => {
    renderOnDesk(<App />)
    await hand.click(screen.getByRole('button', { name: 'File' }))
    await screen.findByRole('menu', { name: 'File' })
    await hand.keyboard('{Escape}')
    await waitFor(() => expect(screen.queryByRole('menu')).toBeNull())
    await waitFor(() => expect(screen.getByRole('button', { name: 'File' })).toHaveFocus())
  })
})
