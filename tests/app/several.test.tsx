import '@testing-library/jest-dom/vitest'
import { act, cleanup, fireEvent, screen, within } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { Canvas } from '../../src/app/canvas/Canvas.tsx'
import { Particulars } from '../../src/app/particulars/Particulars.tsx'
import { hand, renderOnDesk, roomPlan } from './desk.tsx'

const size = { width: 800, height: 600 }
const inch = 25.4

beforeEach(() => {
  localStorage.clear()
  vi.stubGlobal('PointerEvent', MouseEvent)
  vi.spyOn(Element.prototype, 'getBoundingClientRect').mockReturnValue(DOMRect.fromRect(size))
})
afterEach(() => {
  cleanup()
  vi.restoreAllMocks()
  vi.unstubAllGlobals()
})

/** The canvas with the numbers beside it, one track more above the first. */
function deskOn() {
  const { 'track-1': first } = roomPlan().tracks
  if (first === undefined) throw new Error('the plan of the tests has a track')
  const { stores } = renderOnDesk(
    <>
      <Canvas />
      <Particulars />
    </>,
  )
  act(() => {
    const { id: _, ...siding } = first
    stores.plan.getState().apply({
      kind: 'track.add',
      record: {
        ...siding,
        name: 'Siding',
        start: { kind: 'free', x: 12 * inch, y: 20 * inch },
        corners: [],
        end: { kind: 'free', x: 60 * inch, y: 20 * inch },
      },
    })
    stores.session.getState().setViewport({ centre: { x: 1800, y: 1400 }, pxPerMm: 0.2 })
    stores.session.getState().select({ kind: 'none' })
  })
  const canvas = screen.getByRole('application', { name: /^Plan/ })
  const place = (x: number, y: number) => ({
    clientX: size.width / 2 + (x * inch - 1800) * 0.2,
    clientY: size.height / 2 - (y * inch - 1400) * 0.2,
  })
  const click = (x: number, y: number, more: object = {}): void => {
    const at = { ...place(x, y), button: 0, ...more }
    fireEvent.pointerDown(canvas, at)
    fireEvent.pointerUp(canvas, at)
  }
  return { stores, canvas, click }
}

describe('several at once', () => {
  it('are chosen by Shift and click, moved by typed numbers, laid a second time with their turnout, and locked', async () => {
    const { stores, click } = deskOn()
    click(24, 12)
    click(24, 20, { shiftKey: true })
    expect(await screen.findByRole('heading', { name: '2 chosen' })).toBeVisible()
    const before = stores.plan.getState().plan
    const starts = () => Object.values(stores.plan.getState().plan.tracks).map(({ start }) => start)

    await hand.clear(screen.getByRole('textbox', { name: /^Up/ }))
    await hand.type(screen.getByRole('textbox', { name: /^Up/ }), '6in{Enter}')
    await hand.clear(screen.getByRole('textbox', { name: /^To the right/ }))
    await hand.type(screen.getByRole('textbox', { name: /^To the right/ }), '0{Enter}')
    await hand.click(screen.getByRole('button', { name: 'Move' }))
    expect(starts()).toMatchObject([{ y: expect.closeTo(18 * inch, 9) }, { y: expect.closeTo(26 * inch, 9) }])
    act(() => void stores.plan.getState().undo())
    expect(stores.plan.getState().plan).toEqual(before)

    await hand.click(screen.getByRole('button', { name: 'Lay a second one there' }))
    const { tracks, turnouts } = stores.plan.getState().plan
    expect(Object.keys(tracks)).toHaveLength(4)
    expect(Object.keys(turnouts)).toHaveLength(2)
    const copied = Object.values(turnouts).at(-1)
    expect(copied?.track).not.toBe('track-1')
    expect(tracks[copied?.track ?? '']?.name).toMatch(/^Harbour line/)

    await hand.click(screen.getByRole('button', { name: 'Lock them' }))
    const locked = stores.plan.getState().plan
    await hand.click(screen.getByRole('button', { name: 'Move' }))
    expect(stores.plan.getState().plan).toEqual(locked)
  })

  it('a frame in hand is put away by Escape, with the focus on its button or on the plan', async () => {
    const { canvas } = deskOn()
    for (const there of [screen.getByRole('button', { name: 'Frame' }), canvas]) {
      await hand.click(screen.getByRole('button', { name: 'Frame' }))
      expect(await screen.findByRole('toolbar', { name: 'Choosing' })).toBeVisible()
      act(() => there.focus())
      await hand.keyboard('{Escape}')
      expect(screen.queryByRole('toolbar', { name: 'Choosing' })).toBeNull()
    }
  })

  it('measured between, the figure is pinned, named, and taken out', async () => {
    const { stores, click } = deskOn()
    await hand.click(screen.getByRole('button', { name: 'Measure' }))
    const strip = within(await screen.findByRole('toolbar', { name: /measur/i }))
    await hand.click(strip.getByRole('radio', { name: 'Between tracks' }))
    click(30, 20)
    click(30, 12)
    await hand.click(strip.getByRole('button', { name: 'Keep it' }))
    const [reading] = Object.values(stores.plan.getState().plan.readings)
    expect(reading?.of.kind).toBe('centres')
    act(() => stores.session.getState().setTool('select'))
    act(() => stores.session.getState().select({ kind: 'record', table: 'readings', id: reading?.id ?? '' }))
    // From 12 to 20 inches up: 8 inches, and what cars leave free of them.
    expect(await screen.findByRole('heading', { name: /^8″ · 6.* in clear$/ })).toBeVisible()
    await hand.click(screen.getByRole('button', { name: 'Take this measurement out' }))
    expect(stores.plan.getState().plan.readings).toEqual({})
  })
})
