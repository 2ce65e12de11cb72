import '@testing-library/jest-dom/vitest'
import { act, cleanup, fireEvent, screen, within } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { Canvas } from '../../src/app/canvas/Canvas.tsx'
import { renders } from '../../src/app/canvas/renders.ts'
import { renderOnDesk } from './desk.tsx'

const size = { width: 800, height: 600 }

/** jsdom has no pointer events; testing-library makes them of this if it is there. */
class PointerEventHere extends MouseEvent {
  readonly pointerId: number
  readonly pointerType: string
  constructor(type: string, init: PointerEventInit = {}) {
    super(type, init)
    this.pointerId = init.pointerId ?? 0
    this.pointerType = init.pointerType ?? 'mouse'
  }
}

beforeEach(() => {
  // Frames come when the test says so; the canvas has a size although nothing is laid out here.
  vi.useFakeTimers({ toFake: ['requestAnimationFrame', 'cancelAnimationFrame', 'setTimeout', 'clearTimeout'] })
  vi.stubGlobal('PointerEvent', PointerEventHere)
  vi.spyOn(Element.prototype, 'getBoundingClientRect').mockReturnValue(DOMRect.fromRect(size))
})
afterEach(() => {
  cleanup()
  vi.restoreAllMocks()
  vi.unstubAllGlobals()
  vi.useRealTimers()
})

function canvasOn() {
  const { stores } = renderOnDesk(<Canvas />)
  act(() => {
    stores.session.getState().setViewport({ centre: { x: 1800, y: 1400 }, pxPerMm: 0.2 })
    stores.session.getState().select({ kind: 'none' })
    stores.session.getState().setTool('select')
  })
  const canvas = screen.getByRole('application', { name: /^Plan/ })
  const frame = () => act(() => vi.advanceTimersByTime(20))
  const pointer = (kind: 'pointerDown' | 'pointerMove' | 'pointerUp', left: number, top: number, more: object = {}) => {
    fireEvent[kind](canvas, { clientX: left, clientY: top, pointerId: 1, pointerType: 'mouse', button: 0, ...more })
    if (kind === 'pointerMove') frame()
  }
  /** Where a point of the plan is on the canvas. */
  const at = (x: number, y: number): [number, number] => {
    const { centre, pxPerMm } = stores.session.getState().viewport
    return [size.width / 2 + (x - centre.x) * pxPerMm, size.height / 2 - (y - centre.y) * pxPerMm]
  }
  const viewport = () => stores.session.getState().viewport
  return { stores, canvas, pointer, at, viewport, frame }
}

describe('looking about', () => {
  it('a drag beside everything pushes the drawing and edits nothing', () => {
    const { stores, pointer, viewport } = canvasOn()
    pointer('pointerDown', 30, 580)
    pointer('pointerMove', 60, 540)
    // Until the hand lets go the view is kept and the picture alone is moved.
    expect(viewport().centre).toEqual({ x: 1800, y: 1400 })
    pointer('pointerMove', 130, 480)
    pointer('pointerUp', 130, 480)
    expect(viewport().centre).toEqual({ x: 1300, y: 900 })
    expect(stores.plan.getState().undoStack).toEqual([])
  })

  it('a push is given up by Escape wherever the keys go: the drawing lies where it lay', () => {
    const { stores, pointer, viewport } = canvasOn()
    act(() => stores.session.getState().select({ kind: 'record', table: 'tracks', id: 'track-1' }))
    pointer('pointerDown', 30, 580)
    pointer('pointerMove', 60, 540)
    pointer('pointerMove', 130, 480)
    fireEvent.keyDown(document.body, { key: 'Escape' })
    expect(document.querySelector('.pushed')?.getAttribute('style') ?? '').not.toContain('translate')
    pointer('pointerMove', 160, 460)
    pointer('pointerUp', 160, 460)
    expect(viewport().centre).toEqual({ x: 1800, y: 1400 })
    // The hand held the drawing, not the selection.
    expect(stores.session.getState().selection.kind).toBe('record')
  })

  it('a PI that is dragged is given up by Escape, also while a step for it is typed and wherever the keys go', () => {
    const { stores, pointer, at, canvas } = canvasOn()
    act(() => stores.session.getState().select({ kind: 'record', table: 'tracks', id: 'track-1' }))
    const before = stores.plan.getState().committed
    const [left, top] = at(132 * 25.4, 12 * 25.4)
    const drag = (): void => {
      pointer('pointerDown', left, top)
      pointer('pointerMove', left - 20, top)
      pointer('pointerMove', left - 40, top)
      expect(stores.plan.getState().plan).not.toBe(before)
    }
    drag()
    fireEvent.keyDown(document.body, { key: 'Escape' })
    expect(stores.plan.getState()).toMatchObject({ plan: before, transaction: null })
    pointer('pointerMove', left - 60, top)
    pointer('pointerUp', left - 60, top)
    expect(stores.plan.getState().plan).toBe(before)

    // The browser gave the pointer to something else.
    drag()
    fireEvent.lostPointerCapture(canvas, { pointerId: 1 })
    pointer('pointerMove', left - 60, top)
    pointer('pointerUp', left - 60, top)
    expect(stores.plan.getState()).toMatchObject({ plan: before, transaction: null, undoStack: [] })

    // Let go while typing: nobody holds it, and Escape still gives it up as a whole.
    drag()
    fireEvent.keyDown(canvas, { key: '3' })
    pointer('pointerUp', left - 40, top)
    fireEvent.keyDown(screen.getByRole('textbox'), { key: 'Escape' })
    expect(stores.plan.getState()).toMatchObject({ plan: before, transaction: null, undoStack: [] })
    expect(screen.queryByRole('textbox')).toBeNull()
  })

  it('the middle button pushes from anywhere', () => {
    const { stores, pointer, viewport, at } = canvasOn()
    act(() => stores.session.getState().select({ kind: 'record', table: 'tracks', id: 'track-1' }))
    const corner = stores.plan.getState().plan.tracks['track-1']?.corners[0]
    const [left, top] = at(corner?.x ?? 0, corner?.y ?? 0)
    pointer('pointerDown', left, top, { button: 1 })
    pointer('pointerMove', left + 50, top, { button: 1 })
    pointer('pointerUp', left + 50, top, { button: 1 })
    expect(viewport().centre).toEqual({ x: 1550, y: 1400 })
    expect(stores.plan.getState().undoStack).toEqual([])
  })

  it('zooms by the wheel about the pointer, by keys about the middle', () => {
    const { canvas, viewport, frame } = canvasOn()
    fireEvent.wheel(canvas, { clientX: 0, clientY: 0, deltaY: -100 })
    frame()
    expect(viewport().pxPerMm).toBeGreaterThan(0.2)
    expect(viewport().centre.x).toBeLessThan(1800)
    const near = viewport().pxPerMm
    fireEvent.keyDown(canvas, { key: '-' })
    expect(viewport().pxPerMm).toBeLessThan(near)
  })

  it('two fingers zoom, and what the first one had begun is given up', () => {
    const { stores, pointer, viewport, at } = canvasOn()
    act(() => stores.session.getState().select({ kind: 'record', table: 'tracks', id: 'track-1' }))
    const corner = stores.plan.getState().plan.tracks['track-1']?.corners[0]
    const [left, top] = at(corner?.x ?? 0, corner?.y ?? 0)
    const touch = (id: number) => ({ pointerType: 'touch', pointerId: id })
    pointer('pointerDown', left, top, touch(1))
    pointer('pointerMove', left + 30, top, touch(1))
    expect(stores.plan.getState().transaction).not.toBeNull()
    pointer('pointerDown', left + 130, top, touch(2))
    expect(stores.plan.getState().transaction).toBeNull()
    pointer('pointerMove', left + 230, top, touch(2))
    expect(viewport().pxPerMm).toBeCloseTo(0.4, 6)
    pointer('pointerUp', left + 30, top, touch(1))
    pointer('pointerUp', left + 230, top, touch(2))
    expect(stores.plan.getState().undoStack).toEqual([])
  })

  it('renders no track and no turnout again for a push, a zoom, a step of detail or a selection', () => {
    const { stores, canvas, pointer, frame } = canvasOn()
    const before = renders.count
    expect(before).toBeGreaterThan(0)
    const details: (string | null | undefined)[] = []
    pointer('pointerDown', 30, 580)
    pointer('pointerMove', 130, 480)
    pointer('pointerUp', 130, 480)
    for (let i = 0; i < 75; i++) {
      fireEvent.wheel(canvas, { clientX: 400, clientY: 300, deltaY: i < 25 ? -100 : 100 })
      frame()
      details.push(canvas.querySelector('.plan')?.getAttribute('data-detail'))
    }
    // All three steps of detail were seen.
    expect(new Set(details)).toEqual(new Set(['far', 'middle', 'near']))
    act(() => stores.session.getState().select({ kind: 'record', table: 'tracks', id: 'track-1' }))
    expect(renders.count).toBe(before)
  })
})

describe('the hand on the plan', () => {
  it('drags a PI as one step', () => {
    const { stores, pointer, at } = canvasOn()
    act(() => stores.session.getState().select({ kind: 'record', table: 'tracks', id: 'track-1' }))
    const corner = stores.plan.getState().plan.tracks['track-1']?.corners[0]
    const [left, top] = at(corner?.x ?? 0, corner?.y ?? 0)
    pointer('pointerDown', left, top)
    pointer('pointerMove', left + 40, top - 30, { altKey: true })
    pointer('pointerUp', left + 40, top - 30, { altKey: true })
    expect(stores.plan.getState().plan.tracks['track-1']?.corners[0]).toMatchObject({
      x: (corner?.x ?? 0) + 200,
      y: (corner?.y ?? 0) + 150,
    })
    expect(stores.plan.getState().undoStack).toHaveLength(1)
  })

  it('draws benchwork by clicks and typed measures, and says what it cannot read', () => {
    const { stores, canvas, pointer, at } = canvasOn()
    act(() => stores.session.getState().setTool('benchwork'))
    const boards = Object.keys(stores.plan.getState().plan.benchworks).length
    const [left, top] = at(1000, 500)
    pointer('pointerMove', left, top)
    pointer('pointerDown', left, top)
    pointer('pointerUp', left, top)
    pointer('pointerMove', left + 100, top)
    fireEvent.keyDown(canvas, { key: '2' })
    const field = screen.getByLabelText('Length, angle')
    expect(field).toHaveFocus()
    expect(field).toBeValid()
    fireEvent.change(field, { target: { value: '24 furlongs' } })
    fireEvent.keyDown(field, { key: 'Enter' })
    expect(screen.getByRole('status')).toHaveTextContent('“furlongs” is not a unit known here')
    // Red is for what is refused, not for what is being typed.
    expect(field).toBeInvalid()
    fireEvent.change(field, { target: { value: '24in<0' } })
    fireEvent.keyDown(field, { key: 'Enter' })
    expect(canvas).toHaveFocus()
    fireEvent.keyDown(canvas, { key: '1' })
    fireEvent.change(screen.getByLabelText('Length, angle'), { target: { value: '12in<90' } })
    fireEvent.keyDown(screen.getByLabelText('Length, angle'), { key: 'Enter' })
    fireEvent.keyDown(canvas, { key: 'Enter' })
    const drawn = Object.values(stores.plan.getState().plan.benchworks)
    expect(drawn).toHaveLength(boards + 1)
    expect(drawn.at(-1)?.outline).toHaveLength(3)
  })

  it.each(['0', '200'])('refuses a frog number of %s in the choices of the turnout, and says which can be built', (frog) => {
    const { stores } = canvasOn()
    act(() => stores.session.getState().setTool('turnout'))
    const field = screen.getByRole('textbox', { name: 'Frog No.' })
    fireEvent.change(field, { target: { value: frog } })
    fireEvent.blur(field)
    expect(stores.session.getState().notice).toContain('from 4 to 20')
    expect(field).toHaveValue('')
    fireEvent.change(field, { target: { value: '7' } })
    fireEvent.blur(field)
    expect(screen.getByRole('textbox', { name: 'Frog No.' })).toHaveValue('7')
  })

  it('keeps a refused frog number in its field, to be mended there', () => {
    const { stores } = canvasOn()
    act(() => stores.session.getState().setTool('turnout'))
    const field = screen.getByRole<HTMLInputElement>('textbox', { name: 'Frog No.' })
    act(() => field.focus())
    fireEvent.change(field, { target: { value: '200' } })
    fireEvent.keyDown(field, { key: 'Enter' })
    expect(stores.session.getState().notice).toContain('from 4 to 20')
    expect(field).toHaveFocus()
    expect([field.value, field.selectionStart, field.selectionEnd]).toEqual(['200', 0, 3])
    fireEvent.change(field, { target: { value: '8' } })
    fireEvent.keyDown(field, { key: 'Enter' })
    expect(screen.getByRole('textbox', { name: 'Frog No.' })).toHaveValue('8')
  })

  it('names what is kept and what is discarded, each with its key', () => {
    const { stores, canvas } = canvasOn()
    const before = stores.plan.getState().committed
    const strip = (): string[] =>
      within(screen.getByRole('toolbar'))
        .getAllByRole('button')
        .map((button) => button.textContent)
    act(() => stores.session.getState().setTool('wall'))
    expect(strip()).toEqual(['Put the tool away Esc', 'Back one point'])
    const point = (text: string): void => {
      fireEvent.keyDown(canvas, { key: '1' })
      fireEvent.change(screen.getByLabelText('Length, angle'), { target: { value: text } })
      fireEvent.keyDown(screen.getByLabelText('Length, angle'), { key: 'Enter' })
    }
    point('0; 0')
    expect(strip()).toEqual(['Keep this wall Enter', 'Discard Esc', 'Back one point'])
    expect(screen.getByRole('button', { name: 'Keep this wall' })).toBeDisabled()
    point('12in<0')
    fireEvent.click(screen.getByRole('button', { name: 'Discard' }))
    expect(stores.plan.getState().committed).toBe(before)
    point('0; 0')
    point('12in<0')
    fireEvent.click(screen.getByRole('button', { name: 'Keep this wall' }))
    expect(Object.keys(stores.plan.getState().committed.walls)).toHaveLength(Object.keys(before.walls).length + 1)
    for (const [tool, word] of [
      ['track', 'Put the tool away Esc'],
      ['turnout', 'Put the tool away Esc'],
      ['opening', 'Put the tool away Esc'],
      ['survey', 'Put the tool away Esc'],
    ] as const) {
      act(() => stores.session.getState().setTool(tool))
      expect(strip()).toContain(word)
    }
  })

  it('lays the tool down by Escape', () => {
    const { stores, canvas } = canvasOn()
    act(() => stores.session.getState().setTool('track'))
    expect(screen.getByRole('toolbar', { name: 'Drawing' })).toBeVisible()
    fireEvent.keyDown(canvas, { key: 'Escape' })
    expect(stores.session.getState().tool).toBe('select')
    expect(screen.queryByRole('toolbar')).toBeNull()
  })

  it('flips a turnout by keys and by the strip', () => {
    const { stores, canvas } = canvasOn()
    act(() => stores.session.getState().setTool('turnout'))
    expect(screen.getByRole('radio', { name: 'Left' })).toBeChecked()
    fireEvent.keyDown(canvas, { key: 'h' })
    expect(screen.getByRole('radio', { name: 'Right' })).toBeChecked()
    fireEvent.click(screen.getByRole('radio', { name: 'Facing back' }))
    expect(screen.getByRole('radio', { name: 'Facing back' })).toBeChecked()
  })
})

describe('findings on the plan', () => {
  it('stand at their place and say what is wrong when pointed at', () => {
    const { canvas } = canvasOn()
    const mark = canvas.querySelector('.finding-mark')
    if (mark === null) throw new Error('no finding is shown')
    fireEvent.pointerEnter(mark)
    expect(screen.getByText('Curve under class radius')).toBeVisible()
    fireEvent.pointerLeave(mark)
    // The card waits for the pointer to reach its button.
    expect(screen.getByText('Curve under class radius')).toBeVisible()
    act(() => vi.advanceTimersByTime(400))
    expect(screen.queryByText('Curve under class radius')).toBeNull()
  })

  it('are marked up to 150, and how many more there are is told', () => {
    const { canvas, stores } = canvasOn()
    const [finding] = stores.derived.getState().findings
    if (finding === undefined) throw new Error('nothing is found')
    const many = (count: number): void =>
      act(() => stores.derived.setState({ findings: Array.from({ length: count }, (_, i) => ({ ...finding, id: `${finding.id} ${i}` })) }))
    many(150)
    expect(canvas.querySelectorAll('.finding-mark')).toHaveLength(150)
    expect(canvas.querySelector('.marks-beyond')).toBeNull()
    many(163)
    expect(canvas.querySelectorAll('.finding-mark')).toHaveLength(150)
    expect(canvas.querySelector('.marks-beyond')).toHaveTextContent('150 of 163 findings here are marked')
  })
})
