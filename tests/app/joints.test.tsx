import '@testing-library/jest-dom/vitest'
import { act, cleanup, fireEvent, screen, waitFor } from '@testing-library/react'
import { afterEach, describe, expect, it, vi } from 'vitest'
import { App } from '../../src/app/App.tsx'
import { renders } from '../../src/app/canvas/renders.ts'
import type { Stores } from '../../src/app/context.ts'
import { inlineEngine } from '../../src/engine/inline.ts'
import type { Engine } from '../../src/engine/protocol.ts'
import { cutSolverRead } from '../../src/engine/lp.node.ts'
import { hand, renderOnDesk, roomPlan } from './desk.tsx'
import { HandPointer } from './handPointer.ts'

afterEach(cleanup)

// They come with their stages.
await import('../../src/app/canvas/RailMarks.tsx')
await import('../../src/app/canvas/RoadbedMarks.tsx')

const never = (): Promise<never> => Promise.reject(new Error('not asked for here'))
const engine = (): Engine => inlineEngine({ fonts: never, linear: never, cutting: cutSolverRead, solids: never })
const onDesk = (): Stores => renderOnDesk(<App />, roomPlan(), engine()).stores

const marks = (): readonly Element[] => [...document.querySelectorAll('.joint-mark')]
const own = (stores: Stores) => Object.values(stores.plan.getState().plan.railJoints)

/** The track's stage with its lists, seen from near enough for joints. */
async function trackStage(): Promise<Stores> {
  vi.stubGlobal('PointerEvent', HandPointer)
  const stores = onDesk()
  act(() => {
    stores.session.getState().setViewport({ centre: { x: 1800, y: 300 }, pxPerMm: 0.5 })
    stores.session.getState().setStage('track')
  })
  await waitFor(() => expect(marks().length).toBeGreaterThan(0), { timeout: 8000 })
  return stores
}

/** Presses on a joint and goes with it; the last place is where the pointer is now. */
async function take(mark: Element, rightPx: number): Promise<void> {
  const grip = mark.querySelector('.joint-grip')
  const [left, top] = [Number(grip?.getAttribute('cx')), Number(grip?.getAttribute('cy'))]
  fireEvent.pointerDown(mark, { clientX: left, clientY: top, button: 0 })
  fireEvent.pointerMove(mark, { clientX: left + rightPx / 2, clientY: top })
  fireEvent.pointerMove(mark, { clientX: left + rightPx, clientY: top })
  await waitFor(() => expect(document.querySelector('.joint-zones')).not.toBeNull())
}

describe('joints on the plan', () => {
  it('are told apart by shape, pieces by pattern', async () => {
    await trackStage()
    for (const mark of marks()) {
      const isSolder = mark.getAttribute('data-kind') === 'solder'
      expect(mark.querySelector('.joint-lozenge') !== null).toBe(isSolder)
    }
    expect([...document.querySelectorAll('.rail-band')].map((band) => (band.getAttribute('d') ?? '').length > 0)).toEqual([true, true])
  })

  it('are taken along their rail: let go it is the builder’s own, one step that can be undone', async () => {
    const stores = await trackStage()
    const mark = marks().find((one) => one.getAttribute('data-kind') === 'slip') ?? marks()[0]
    if (mark === undefined) throw new Error('no joint')
    for (const giveUp of [() => fireEvent.contextMenu(mark), () => fireEvent.lostPointerCapture(mark)]) {
      await take(mark, 60)
      giveUp()
      fireEvent.pointerUp(mark, {})
    }
    await take(mark, 60)
    expect(own(stores)).toEqual([])
    fireEvent.pointerUp(mark, {})
    expect(own(stores)).toHaveLength(1)
    expect(await screen.findByRole('heading', { name: 'Rail joint of your own' })).toBeVisible()
    const [joint] = own(stores)
    await waitFor(() => expect(document.querySelectorAll('.joint-mark[data-own][data-chosen]')).toHaveLength(1), { timeout: 8000 })

    // Along by a typed station, by an arrow key, and back to the rules.
    screen.getByRole('application').focus()
    await hand.keyboard('{ArrowRight}')
    expect(own(stores)[0]?.stationMm).not.toBe(joint?.stationMm)
    await hand.click(screen.getByRole('button', { name: 'Give it back to the rules' }))
    expect(own(stores)).toEqual([])
    act(() => stores.plan.getState().undo())
    act(() => stores.plan.getState().undo())
    expect(own(stores)).toEqual([joint])
    act(() => stores.plan.getState().undo())
    expect(own(stores)).toEqual([])
  })

  it('can be had without a pointer: one of the rules’ is chosen in the list, and is the builder’s own then', async () => {
    const stores = await trackStage()
    await hand.click(screen.getByText(/^Joints by the rules/))
    await hand.click(screen.getAllByRole('button', { name: /^Harbour line, left rail/ })[0] ?? document.body)
    expect(own(stores)).toMatchObject([{ track: 'track-1', rail: 'left' }])
    expect(await screen.findByRole('heading', { name: 'Rail joint of your own' })).toBeVisible()
    expect(screen.getByRole('heading', { name: 'Joints of your own' })).toBeVisible()
  })

  it('go back to where they were with Escape, and nothing is changed', async () => {
    const stores = await trackStage()
    const before = stores.plan.getState().committed
    const [mark] = marks()
    if (mark === undefined) throw new Error('no joint')
    await take(mark, 60)
    await hand.keyboard('{Escape}')
    expect(document.querySelector('.joint-zones')).toBeNull()
    fireEvent.pointerUp(mark, {})
    expect(stores.plan.getState().committed).toBe(before)
  })

  it('take a typed station while they are dragged, and say where their rail has none', async () => {
    const stores = await trackStage()
    const mark = marks().find((one) => one.getAttribute('data-kind') === 'slip') ?? marks()[0]
    if (mark === undefined) throw new Error('no joint')
    await take(mark, 30)
    await hand.keyboard('7')
    const field = screen.getByRole('textbox', { name: 'Station' })
    expect(field).toHaveFocus()
    await hand.keyboard('77 ft')
    expect(field).toHaveAttribute('aria-invalid', 'true')
    expect(screen.getByText(/^This rail has no place for a joint at station 777′ .* It can stand from 0″ to 2′ 5/)).toBeVisible()
    await hand.keyboard('{Enter}')
    expect(own(stores)).toEqual([])
    // The hand lets go while it is typed: Enter ends it.
    fireEvent.pointerUp(mark, {})
    await hand.clear(field)
    await hand.type(field, '20 1/2 in{Enter}')
    expect(own(stores)).toHaveLength(1)
    expect(own(stores)[0]?.stationMm).toBeCloseTo(20.5 * 25.4, 9)
    expect(screen.getByRole('application')).toHaveFocus()
  })

  it('go back where they were with Escape while a station is typed', async () => {
    const stores = await trackStage()
    const before = stores.plan.getState().committed
    const [mark] = marks()
    if (mark === undefined) throw new Error('no joint')
    await take(mark, 30)
    await hand.keyboard('7{Escape}')
    expect(screen.queryByRole('textbox', { name: 'Station' })).toBeNull()
    fireEvent.pointerUp(mark, {})
    expect(stores.plan.getState().committed).toBe(before)
  })

  it('wake no track when the view moves', async () => {
    const stores = await trackStage()
    const before = renders.count
    act(() => stores.session.getState().setViewport({ centre: { x: 1700, y: 320 }, pxPerMm: 0.55 }))
    expect(renders.count).toBe(before)
  })
})

describe('strips of roadbed', () => {
  it('are outlined in their stage, every other one tinted', async () => {
    const stores = onDesk()
    act(() => stores.session.getState().setStage('roadbed'))
    await waitFor(() => expect(document.querySelectorAll('.strip').length).toBe(3), { timeout: 8000 })
    const [plain, tinted] = [...document.querySelectorAll('.strip')].map((strip) => strip.getAttribute('d') ?? '')
    expect(plain).toMatch(/^M.*Z$/)
    expect(tinted).toMatch(/^M.*Z$/)
  })
})
