import '@testing-library/jest-dom/vitest'
import { act, cleanup, fireEvent, screen, waitFor } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { Canvas } from '../../src/app/canvas/Canvas.tsx'
import { hand, renderOnDesk } from './desk.tsx'

const size = { width: 800, height: 600 }
/** Longer than a press that stays. */
const long = 650
const rest = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms))

beforeEach(() => {
  localStorage.clear()
  // Not in every place that runs a DOM.
  vi.stubGlobal(
    'PointerEvent',
    class extends MouseEvent {
      readonly pointerId = 1
      readonly pointerType: string
      constructor(type: string, init: PointerEventInit = {}) {
        super(type, init)
        this.pointerType = init.pointerType ?? 'mouse'
      }
    },
  )
  vi.spyOn(Element.prototype, 'getBoundingClientRect').mockReturnValue(DOMRect.fromRect(size))
})
afterEach(() => {
  cleanup()
  vi.restoreAllMocks()
  vi.unstubAllGlobals()
})

function canvasOn() {
  const { stores, desk } = renderOnDesk(<Canvas />)
  act(() => {
    stores.session.getState().setViewport({ centre: { x: 1800, y: 1400 }, pxPerMm: 0.2 })
    stores.session.getState().select({ kind: 'none' })
  })
  const canvas = screen.getByRole('application', { name: /^Plan/ })
  const place = (x: number, y: number) => ({
    clientX: size.width / 2 + (x - 1800) * 0.2,
    clientY: size.height / 2 - (y - 1400) * 0.2,
  })
  const items = (): readonly string[] => screen.queryAllByRole('menuitem').map((item) => item.textContent ?? '')
  return { stores, desk, canvas, place, items }
}

/** On the first straight of the Harbour line, 1 ft from its start; and where there is nothing, beside the room. */
const onTrack = [24 * 25.4, 12 * 25.4] as const
const beside = [3660, 2900] as const

describe('what can be done at a place', () => {
  it('is asked for with the right button: about what lies there, and what lies below it', async () => {
    const { stores, canvas, place, items } = canvasOn()
    fireEvent.contextMenu(canvas, { ...place(...onTrack), button: 2 })
    expect(await screen.findByRole('menu', { name: 'Harbour line' })).toBeVisible()
    expect(stores.session.getState().selection).toEqual({ kind: 'record', table: 'tracks', id: 'track-1' })
    expect(items()).toEqual(expect.arrayContaining(['Lay a parallel beside this track', 'Take the selection outDelete']))
    await hand.click(screen.getByRole('menuitem', { name: 'Choose Bench' }))
    expect(stores.session.getState().selection).toEqual({ kind: 'record', table: 'benchworks', id: 'benchwork-1' })
  })

  it('is asked for on the mark of a finding too; words over the plan keep the menu of the browser', async () => {
    const { canvas, place } = canvasOn()
    const [mark, words] = [canvas.querySelector('.finding-mark'), canvas.querySelector('.canvas-corner')]
    if (mark === null || words === null) throw new Error('the plan of the tests has a finding, and words in its corner')
    expect(fireEvent.contextMenu(words, { ...place(...onTrack), button: 2 })).toBe(true)
    expect(fireEvent.contextMenu(mark, { ...place(...onTrack), button: 2 })).toBe(false)
    expect(await screen.findByRole('menu', { name: 'Harbour line' })).toBeVisible()
  })

  it('is asked for by a finger that stays, and not by one that moves or lifts', async () => {
    const { canvas, place, items } = canvasOn()
    const finger = { pointerType: 'touch', button: 0 }
    const at = place(...onTrack)
    fireEvent.pointerDown(canvas, { ...finger, ...at })
    fireEvent.pointerMove(canvas, { ...finger, ...at, clientX: at.clientX + 14 })
    await act(() => rest(long))
    fireEvent.pointerUp(canvas, { ...finger, ...at })
    fireEvent.pointerDown(canvas, { ...finger, ...at })
    fireEvent.pointerUp(canvas, { ...finger, ...at })
    await act(() => rest(long))
    expect(items()).toEqual([])
    fireEvent.pointerDown(canvas, { ...finger, ...at })
    await act(() => rest(long))
    expect(await screen.findByRole('menu', { name: 'Harbour line' })).toBeVisible()
  })

  it('is asked for by a key about what is chosen; where nothing is, a tool begins there', async () => {
    const { stores, canvas, place } = canvasOn()
    act(() => stores.session.getState().select({ kind: 'record', table: 'turnouts', id: 'turnout-1' }))
    fireEvent.contextMenu(canvas, { clientX: 400, clientY: 300, button: -1 })
    expect(await screen.findByRole('menuitem', { name: 'Start a track from this leg' })).toBeVisible()
    await hand.keyboard('{Escape}')
    await waitFor(() => expect(screen.queryByRole('menu')).toBeNull())
    fireEvent.contextMenu(canvas, { ...place(...beside), button: 2 })
    await hand.click(await screen.findByRole('menuitem', { name: 'Measure from here' }))
    expect(stores.session.getState().selection).toEqual({ kind: 'none' })
    expect(stores.session.getState().tool).toBe('measure')
  })
})
