import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen, within } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { App } from '../../src/app/App.tsx'
import { trackAddInView } from '../../src/app/trackAdd.ts'
import type { StageName } from '../../src/store/types.ts'
import { breaches } from './breaches.ts'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(cleanup)

describe('the whole desk', () => {
  it.each<StageName>(['room', 'line', 'turnouts', 'checks'])('is open to everyone in the stage %s', async (stage) => {
    const { stores } = renderOnDesk(<App />)
    act(() => {
      stores.session.getState().setStage(stage)
      stores.session.getState().select({ kind: 'corner', track: 'track-1', corner: 'pi-2' })
    })
    expect(await breaches()).toEqual([])
  })

  it('has its stages, its plan, its particulars and its chart', () => {
    renderOnDesk(<App />)
    const stages = within(screen.getByRole('navigation', { name: 'Stages' }))
    expect(stages.getAllByRole('button').map((button) => button.textContent.replace(/\d+ open/, ''))).toEqual([
      'Room',
      'Line',
      'Turnouts',
      'Roadbed',
      'Track',
      'Checks',
      'Sheets',
    ])
    expect(screen.getByRole('complementary', { name: 'Particulars' })).toBeVisible()
    expect(screen.getByRole('region', { name: /^Track chart of/ })).toBeVisible()
    expect(screen.getByText('Kept at 09:42, here')).toBeVisible()
  })

  it('takes a tool into the hand by its word and lays it down with Escape', async () => {
    const { stores } = renderOnDesk(<App />)
    await hand.click(screen.getByRole('button', { name: 'Draw benchwork' }))
    expect(stores.session.getState().tool).toBe('benchwork')
    expect(screen.getByRole('button', { name: 'Draw benchwork' })).toHaveAttribute('aria-pressed', 'true')
    await hand.keyboard('{Escape}')
    expect(stores.session.getState().tool).toBe('select')
  })

  it('opens the finder with a stroke and does what is found', async () => {
    const { stores } = renderOnDesk(<App />)
    await hand.keyboard('/')
    await hand.type(await screen.findByRole('searchbox', { name: 'Find any action' }), 'millim')
    await hand.keyboard('{Enter}')
    expect(stores.prefs.getState().units).toBe('metric')
    expect(screen.queryByRole('dialog')).toBeNull()
  })

  it('says in the finder what has to be selected first', async () => {
    const { stores } = renderOnDesk(<App />)
    await hand.keyboard('/')
    await hand.type(await screen.findByRole('searchbox', { name: 'Find any action' }), 'ease this')
    const found = screen.getByRole('menuitem', { name: /Ease this line/ })
    expect(found).toHaveTextContent('select a track first')
    expect(found).toHaveAttribute('aria-disabled', 'true')
    await hand.keyboard('{Escape}{Escape}')
    act(() => stores.session.getState().select({ kind: 'record', table: 'tracks', id: 'track-1' }))
    await hand.keyboard('/')
    await hand.type(await screen.findByRole('searchbox', { name: 'Find any action' }), 'ease this')
    expect(screen.getByRole('menuitem', { name: /Ease this line/ })).not.toHaveAttribute('aria-disabled')
  })

  it('gives no two records one name, though some were taken out between', () => {
    const { stores } = renderOnDesk(<App />)
    const { apply } = stores.plan.getState()
    trackAddInView(stores)
    trackAddInView(stores)
    apply({ kind: 'remove', table: 'tracks', id: 'track-2' })
    trackAddInView(stores)
    const names = Object.values(stores.plan.getState().plan.tracks).map(({ name }) => name)
    expect(new Set(names).size).toBe(names.length)
  })

  it('keeps the keyboard in the particulars when what was pressed there goes away', async () => {
    const { stores } = renderOnDesk(<App />)
    act(() => stores.session.getState().select({ kind: 'record', table: 'tracks', id: 'track-1' }))
    const column = screen.getByRole('complementary', { name: 'Particulars' })
    await hand.click(within(column).getByRole('button', { name: 'Ease this line…' }))
    await hand.click(await within(column).findByRole('button', { name: 'Close' }))
    await within(column).findByRole('button', { name: 'Ease this line…' })
    expect(column).toHaveFocus()
    // A click elsewhere takes it away for good.
    await hand.click(screen.getByRole('button', { name: 'Draw walls' }))
    act(() => stores.session.getState().select({ kind: 'none' }))
    expect(column).not.toHaveFocus()
  })

  it('begins a new room, and takes the plan from before back', async () => {
    const { stores, desk } = renderOnDesk(<App />)
    const before = stores.plan.getState().plan
    await hand.click(screen.getByRole('button', { name: 'File' }))
    await hand.click(await screen.findByRole('menuitem', { name: 'New room…' }))
    const dialog = within(await screen.findByRole('dialog', { name: 'New room' }))
    expect(dialog.getByText(/The plan before it stands on the shelf/)).toBeVisible()
    const scales = dialog.getAllByRole('option').map(({ textContent }) => textContent)
    expect(scales).toContain('HO, 1:87.1, 16.54 mm')
    // No gauge is said twice.
    expect(scales.filter((text) => /( [\d.]+ mm),\1$/.test(text))).toEqual([])
    await hand.selectOptions(dialog.getByRole('combobox', { name: 'Scale, gauge' }), 'N')
    await hand.click(dialog.getByRole('button', { name: 'Begin the new room' }))
    expect(stores.plan.getState().plan.railway.scaleKey).toBe('N')
    expect(Object.keys(stores.plan.getState().plan.tracks)).toHaveLength(0)
    // jsdom lays nothing out, so the canvas counts as 900 px wide: the origin and a sheet of plywood are in sight.
    const { centre, pxPerMm } = stores.session.getState().viewport
    expect(centre.x - 450 / pxPerMm).toBeLessThan(0)
    expect(centre.x + 450 / pxPerMm).toBeGreaterThan(2438)
    expect(desk.getState().drawer).toBe('stage')
    await hand.click(screen.getByRole('button', { name: 'File' }))
    await hand.click(await screen.findByRole('menuitem', { name: 'Take back the plan from before' }))
    expect(stores.plan.getState().plan).toBe(before)
  })

  it('keeps how the builder works when the scale changes, and has rail of the new code to cut from', async () => {
    const { stores } = renderOnDesk(<App />)
    const { laying } = stores.plan.getState().plan.railway
    const own = { ...laying, cutting: { ...laying.cutting, kerfMm: 0.8 }, rates: { ...laying.rates, turnoutHours: 6 } }
    act(() => void stores.plan.getState().apply({ kind: 'railway.set', change: { laying: own } }))
    const before = stores.plan.getState().plan
    await hand.selectOptions(await screen.findByRole('combobox', { name: 'Scale, gauge' }), 'N')
    const { railway, stocks } = stores.plan.getState().plan
    expect([railway.scaleKey, railway.laying.cutting.kerfMm, railway.laying.rates.turnoutHours]).toEqual(['N', 0.8, 6])
    expect(railway.laying.joints.staggerMm).toBeLessThan(before.railway.laying.joints.staggerMm)
    expect(Object.values(stocks).some(({ of }) => of.kind === 'rail' && of.code === railway.railCode)).toBe(true)
    act(() => void stores.plan.getState().undo())
    expect(stores.plan.getState().plan).toEqual(before)
  })

  it('takes the selection out with Delete and brings it back with Ctrl Z', async () => {
    const { stores } = renderOnDesk(<App />)
    act(() => stores.session.getState().select({ kind: 'record', table: 'turnouts', id: 'turnout-1' }))
    await hand.keyboard('{Delete}')
    expect(stores.plan.getState().plan.turnouts['turnout-1']).toBeUndefined()
    await hand.keyboard('{Control>}z{/Control}')
    expect(stores.plan.getState().plan.turnouts['turnout-1']).toBeDefined()
  })

  it('adds a table by its size, without a pointer', async () => {
    const { stores } = renderOnDesk(<App />)
    await hand.click(screen.getByRole('button', { name: 'Add a table by its size' }))
    const deep = screen.getByRole('textbox', { name: 'Deep' })
    await hand.clear(deep)
    await hand.type(deep, '30 in{Enter}')
    await hand.click(screen.getByRole('button', { name: 'Add this table' }))
    const added = Object.values(stores.plan.getState().plan.benchworks).find((piece) => piece.id !== 'benchwork-1')
    const [a, b, c] = added?.outline ?? []
    expect((b?.x ?? 0) - (a?.x ?? 0)).toBeCloseTo(96 * 25.4, 9)
    expect((c?.y ?? 0) - (b?.y ?? 0)).toBeCloseTo(30 * 25.4, 9)
  })
})
