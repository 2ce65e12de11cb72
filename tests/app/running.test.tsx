import '@testing-library/jest-dom/vitest'
import { act, cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, describe, expect, it, vi } from 'vitest'
import { App } from '../../src/app/App.tsx'
import { hand, renderOnDesk, roomPlan } from './desk.tsx'
import { HandPointer } from './handPointer.ts'

afterEach(cleanup)

/** Nothing of these comes before it is asked for. */
await import('../../src/app/running/FoulingMarks.tsx')
await import('../../src/app/running/RunningMarks.tsx')
await import('../../src/app/running/RunningStrip.tsx')
await import('../../src/app/running/TraceRow.tsx')

describe('swept bands', () => {
  it('are shown and put away with a key, with the cars that are chosen', async () => {
    const { desk } = renderOnDesk(<App />)
    expect(document.querySelector('.swept-band')).toBeNull()
    await hand.keyboard('b')
    await waitFor(() => expect(document.querySelectorAll('.swept-band')).toHaveLength(1))
    const strip = screen.getByRole('group', { name: 'Swept bands' })
    const before = document.querySelector('.swept-band')?.getAttribute('d')
    await hand.selectOptions(within(strip).getByLabelText('Swept by'), 'kind:flat-89')
    await waitFor(() => expect(document.querySelector('.swept-band')?.getAttribute('d')).not.toBe(before))
    await hand.click(within(strip).getByRole('button', { name: 'Put away' }))
    expect(document.querySelector('.swept-band')).toBeNull()
    expect(desk.getState().clearances).toBeNull()
  })

  it('have their row on the track chart, and say where a wall leaves too little', async () => {
    const plan = roomPlan()
    const wall = {
      id: 'wall-1',
      name: 'Chimney',
      points: [
        { x: 900, y: 325 },
        { x: 1500, y: 325 },
      ],
      thicknessMm: 5,
      isClosed: false,
    }
    renderOnDesk(<App />, { ...plan, walls: { 'wall-1': wall } })
    await hand.keyboard('b')
    // The track lies at y = 304.8: 15 mm to the wall, whose thickness lies to the right of its line, and half a car takes more.
    await waitFor(() => expect(document.querySelectorAll('.trace-row .tight').length).toBeGreaterThan(0))
    expect(document.querySelector('.trace-row .tight title')?.textContent).toMatch(/^To the left: Reaches .* into Chimney; .* is wanted$/)
    expect(document.querySelectorAll('.gap-mark.is-tight').length).toBeGreaterThan(0)
  })
})

describe('fouling points', () => {
  it('are marked, and what stands clear between them is told of the track that is selected and follows its turnout', async () => {
    const { stores } = renderOnDesk(<App />)
    act(() => stores.session.getState().select({ kind: 'record', table: 'turnouts', id: 'turnout-1' }))
    const measures = () => [...document.querySelectorAll('.room-measure text')].map(({ textContent }) => textContent)
    // One who builds the room is not shown them.
    act(() => stores.session.getState().setStage('turnouts'))
    // Before the points of a leg that leads nowhere, and behind its fouling point.
    await waitFor(() => expect(measures()).toHaveLength(2))
    const [before] = measures()
    expect(before).toMatch(/ clear/)
    act(() => {
      stores.plan.getState().begin('Slide')
      stores.plan.getState().replace({ kind: 'turnout.set', id: 'turnout-1', change: { stationMm: 900 } })
    })
    await waitFor(() => expect(measures()[0]).not.toBe(before))
    act(() => stores.plan.getState().cancel())
    await waitFor(() => expect(measures()[0]).toBe(before))
  })
})

describe('a car that is pushed', () => {
  it('is taken in hand, pushed with the keys, coupled, and put away with Escape', async () => {
    const { desk } = renderOnDesk(<App />)
    await hand.keyboard('p')
    const handle = await screen.findByRole('slider', { name: 'Push along the line' })
    await waitFor(() => expect(document.querySelectorAll('.train .body')).toHaveLength(1))
    expect(handle).toHaveFocus()
    const before = Number(handle.getAttribute('aria-valuenow'))
    await hand.keyboard('{ArrowRight}{Shift>}{ArrowRight}{/Shift}')
    expect(Number(handle.getAttribute('aria-valuenow')) - before).toBe(55)
    expect(handle).toHaveAttribute('aria-valuetext', expect.stringMatching(/^Harbour line, /))
    const strip = screen.getByRole('group', { name: 'Train in hand' })
    const count = within(strip).getByLabelText('Coupled')
    await hand.clear(count)
    await hand.type(count, '99{Enter}')
    // What was typed stays to be mended, with what would be right beside it.
    expect(within(strip).getByRole('alert')).toHaveTextContent('“99” is no count of cars; 1 to 40 would be.')
    expect(count).toHaveValue('99')
    expect(document.querySelectorAll('.train .body')).toHaveLength(1)
    await hand.clear(count)
    await hand.type(count, '3{Enter}')
    await waitFor(() => expect(document.querySelectorAll('.train .coupler')).toHaveLength(2))
    expect(within(strip).getByText(/^Couplers swing /)).toBeVisible()
    handle.focus()
    await hand.keyboard('{End}')
    expect(within(strip).getByRole('status')).toHaveTextContent('Harbour line ends here.')
    await hand.keyboard('{Escape}')
    expect(desk.getState().push).toBeNull()
    expect(document.querySelector('.train')).toBeNull()
  })

  it('is led by another vehicle, an engine say, whose couplers and gaps count as well', async () => {
    // The track lies at y = 304.8 and is straight here; a wall beside it.
    const points = [
      { x: 0, y: 340 },
      { x: 3000, y: 340 },
    ]
    const wall = { id: 'wall-1', name: 'Chimney', points, thicknessMm: 5, isClosed: false }
    const { desk } = renderOnDesk(<App />, { ...roomPlan(), walls: { 'wall-1': wall } })
    await hand.keyboard('p')
    const strip = await screen.findByRole('group', { name: 'Train in hand' })
    const bodies = (): number => document.querySelectorAll('.train .body').length
    const couplers = (): number => document.querySelectorAll('.train .coupler').length
    await hand.selectOptions(within(strip).getByLabelText('Car'), 'kind:narrow-car-30')
    await hand.selectOptions(within(strip).getByLabelText('Led by'), 'kind:diesel-6-axle')
    await waitFor(() => expect([bodies(), couplers()]).toEqual([2, 1]))
    expect(within(strip).getByText(/^Couplers swing /)).toBeVisible()
    const gap = async (): Promise<string> => (await within(strip).findByText(/^Tightest gap /)).textContent
    const led = await gap()
    await hand.selectOptions(within(strip).getByLabelText('Led by'), '')
    await waitFor(() => expect([bodies(), couplers()]).toEqual([1, 0]))
    expect(await gap()).not.toBe(led)
    expect(desk.getState().push).toMatchObject({ lead: null, car: 'kind:narrow-car-30', count: 1 })
  })

  it('goes off on a leg when the points are thrown', async () => {
    renderOnDesk(<App />)
    await hand.keyboard('p')
    const handle = await screen.findByRole('slider', { name: 'Push along the line' })
    await waitFor(() => expect(document.querySelector('.train .body')).not.toBeNull())
    await hand.keyboard('{Home}')
    await hand.click(await screen.findByRole('button', { name: 'East quay: straight' }))
    expect(screen.getByRole('button', { name: 'East quay: diverging' })).toBeVisible()
    handle.focus()
    await hand.keyboard('{End}')
    expect(screen.getByText('No track leaves the diverging leg of East quay yet.')).toBeVisible()
  })

  it('says what it comes near', async () => {
    const plan = roomPlan()
    const wall = {
      id: 'wall-1',
      name: 'Chimney',
      points: [
        { x: 400, y: 332 },
        { x: 3000, y: 332 },
      ],
      thicknessMm: 5,
      isClosed: false,
    }
    renderOnDesk(<App />, { ...plan, walls: { 'wall-1': wall } })
    await hand.keyboard('p')
    await waitFor(() => expect(document.querySelector('.train .body')).not.toBeNull())
    const handle = screen.getByRole('slider', { name: 'Push along the line' })
    handle.focus()
    await hand.keyboard('{Home}')
    for (let i = 0; i < 4; i++) fireEvent.keyDown(handle, { key: 'PageUp' })
    expect(await screen.findByText(/^Tightest gap .* to Chimney; .* is asked$/)).toBeVisible()
    expect(document.querySelector('.train .gap-mark.is-tight')).not.toBeNull()
  })
})

describe('the hand on a car', () => {
  it('drags it along the line, and not off it', async () => {
    vi.stubGlobal('PointerEvent', HandPointer)
    const { desk } = renderOnDesk(<App />)
    await hand.keyboard('p')
    await waitFor(() => expect(document.querySelector('.train .body')).not.toBeNull())
    const cars = document.querySelector('.train .cars')
    if (cars === null) throw new Error('no cars')
    const placeNow = () => desk.getState().push?.train.place
    const before = placeNow()
    const pointer = (clientX: number, clientY: number) => ({ clientX, clientY, button: 0, pointerId: 1, buttons: 1 })
    fireEvent.pointerDown(cars, pointer(450, 300))
    fireEvent.pointerMove(cars, pointer(450, 340))
    fireEvent.pointerMove(cars, pointer(455, 380))
    fireEvent.pointerUp(cars, pointer(455, 380))
    const after = placeNow()
    expect(after?.track).toBe('track-1')
    expect(after?.stationMm).not.toBe(before?.stationMm)
    // Let go, it does not follow any more.
    fireEvent.pointerMove(cars, pointer(700, 100))
    expect(placeNow()).toEqual(after)
    // Escape gives back a drag, the car stays out.
    fireEvent.pointerDown(cars, pointer(455, 380))
    fireEvent.pointerMove(cars, pointer(450, 300))
    await waitFor(() => expect(placeNow()).not.toEqual(after))
    fireEvent.keyDown(document.body, { key: 'Escape' })
    fireEvent.pointerMove(cars, pointer(450, 320))
    fireEvent.pointerUp(cars, pointer(450, 320))
    expect(placeNow()).toEqual(after)
    vi.unstubAllGlobals()
  })
})
