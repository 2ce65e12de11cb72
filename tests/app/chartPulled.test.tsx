import '@testing-library/jest-dom/vitest'
import { act, cleanup, fireEvent, screen, within } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { chartScale, rows } from '../../src/app/chart/chartScale.ts'
import { TrackChart } from '../../src/app/chart/TrackChart.tsx'
import type { Stores } from '../../src/app/context.ts'
import type { Corner, Plan } from '../../src/core/plan/types.ts'
import { inch, sharpPlan, standingPlan } from './chartPlan.ts'
import { hand, renderOnDesk, roomPlan } from './desk.tsx'
import { HandPointer } from './handPointer.ts'

beforeEach(() => vi.stubGlobal('PointerEvent', HandPointer))
afterEach(() => {
  cleanup()
  vi.unstubAllGlobals()
})

describe('numbers pulled on the chart', () => {
  /** The scale of the chart as it stands: jsdom gives it no width, and 800 px are meant then. */
  function scaleOf(stores: Stores) {
    const solved = stores.derived.getState().derived.network.tracks.get('track-1')
    if (solved?.alignment.ok !== true) throw new Error('the line of the test is solved')
    return chartScale(solved.alignment.path.lengthMm, Math.max(1.12 / (24.5 * inch), 1.18 / (28 * inch)), 800)
  }
  const corner = (stores: Stores, index: number): Corner => {
    const found = stores.plan.getState().plan.tracks['track-1']?.corners[index]
    if (found === undefined) throw new Error(`no corner ${index}`)
    return found
  }
  const placeOf = (stores: Stores, index: number) => {
    const solved = stores.derived.getState().derived.network.tracks.get('track-1')
    const place = solved?.alignment.ok === true ? solved.alignment.corners[index] : undefined
    if (place === undefined) throw new Error('the line of the test is solved')
    return place
  }
  const steps = (stores: Stores): number => stores.plan.getState().undoStack.length
  /** Takes hold of a handle and goes so far; the hand stays down. */
  function pull(handle: Element, right: number, down: number, isFree = false): void {
    fireEvent.pointerDown(handle, { clientX: 300, clientY: 60, button: 0 })
    fireEvent.pointerMove(handle, { clientX: 300 + right / 2, clientY: 60 + down / 2, altKey: isFree })
    fireEvent.pointerMove(handle, { clientX: 300 + right, clientY: 60 + down, altKey: isFree })
  }
  async function chosen(name: RegExp, slider: string, plan?: Plan): Promise<{ readonly stores: Stores; readonly handle: HTMLElement }> {
    const { stores } = renderOnDesk(<TrackChart />, plan)
    await hand.click(screen.getByRole('button', { name }))
    return { stores, handle: screen.getByRole('slider', { name: slider }) }
  }

  it('the top of a curve: live, one step, and Escape gives it back', async () => {
    const { stores, handle } = await chosen(/^PI 1/, 'Radius of PI 1')
    expect(handle).toHaveAttribute('aria-valuetext', '32 in, within the 28 in that Main asks')
    expect(handle).toHaveAttribute('aria-orientation', 'vertical')
    const scale = scaleOf(stores)
    const wanted = 40 * inch
    const down = scale.y(1 / wanted) - scale.y(1 / (32 * inch))
    pull(handle, 0, down, true)
    expect(corner(stores, 0).radius).toBeCloseTo(wanted, 6)
    expect(placeOf(stores, 0).solution.radiusMm).toBeCloseTo(wanted, 6)
    expect(screen.getByText('40 in', { selector: '.chart-note' })).toBeVisible()
    expect(steps(stores)).toBe(0)
    fireEvent.keyDown(handle, { key: 'Escape' })
    expect(corner(stores, 0).radius).toBe('class')
    expect(stores.session.getState().selection.kind).toBe('corner')
    pull(handle, 0, down, true)
    fireEvent.pointerUp(handle)
    expect(steps(stores)).toBe(1)
    expect(stores.plan.getState().undoStack[0]?.label).toBe('Set radius at PI 1 of track Harbour line')
    expect(screen.queryByText('40 in', { selector: '.chart-note' })).toBeNull()
  })

  it('is drawn to the class with the reason, and not pulled through the axis', async () => {
    const { stores, handle } = await chosen(/^PI 2/, 'Radius of PI 2')
    expect(handle).toHaveAttribute('aria-valuetext', '24½ in, under the 28 in that Main asks')
    const scale = scaleOf(stores)
    pull(handle, 0, scale.y(1 / (28 * inch)) - scale.y(1 / (24.5 * inch)) + 1)
    expect(corner(stores, 1).radius).toBe(28 * inch)
    expect(screen.getByText('28 in · the least of Main')).toBeVisible()
    fireEvent.pointerMove(handle, { clientX: 300, clientY: 60 + 90 })
    expect(corner(stores, 1).radius).toBe(28 * inch)
    expect(screen.getByRole('status')).toHaveTextContent('To which side it turns the PIs say')
    fireEvent.pointerCancel(handle)
    expect(corner(stores, 1).radius).toBe(24.5 * inch)
    expect(steps(stores)).toBe(0)
  })

  it('is given back by the other button, by a window turned away from, and by a pointer that is taken away', async () => {
    const { stores, handle } = await chosen(/^PI 1/, 'Radius of PI 1')
    const ends: readonly (() => unknown)[] = [
      () => fireEvent.contextMenu(handle),
      () => fireEvent(window, new Event('blur')),
      () => fireEvent.lostPointerCapture(handle),
    ]
    for (const giveUp of ends) {
      pull(handle, 0, 12)
      expect(corner(stores, 0).radius).not.toBe('class')
      giveUp()
      fireEvent.pointerMove(handle, { clientX: 300, clientY: 80 })
      fireEvent.pointerUp(handle)
      expect([corner(stores, 0).radius, steps(stores)]).toEqual(['class', 0])
    }
  })

  it('a press alone changes nothing', async () => {
    const { stores, handle } = await chosen(/^PI 2/, 'Radius of PI 2')
    fireEvent.pointerDown(handle, { clientX: 300, clientY: 60, button: 0 })
    fireEvent.pointerMove(handle, { clientX: 301, clientY: 61 })
    fireEvent.pointerUp(handle)
    expect(steps(stores)).toBe(0)
    expect(stores.plan.getState().transaction).toBeNull()
  })

  it('by the arrow keys, a held key one step; ten at once with Shift', async () => {
    const { stores, handle } = await chosen(/^PI 2/, 'Radius of PI 2')
    fireEvent.keyDown(handle, { key: 'ArrowUp' })
    fireEvent.keyDown(handle, { key: 'ArrowUp' })
    fireEvent.keyUp(handle, { key: 'ArrowUp' })
    expect(corner(stores, 1).radius).toBeCloseTo((24.5 + 2 / 16) * inch, 9)
    expect(steps(stores)).toBe(1)
    fireEvent.keyDown(handle, { key: 'ArrowDown', shiftKey: true })
    fireEvent.keyUp(handle, { key: 'ArrowDown' })
    expect(corner(stores, 1).radius).toBeCloseTo((24.5 - 8 / 16) * inch, 9)
    expect(steps(stores)).toBe(2)
    fireEvent.keyDown(handle, { key: 'ArrowUp' })
    fireEvent.keyDown(handle, { key: 'Escape' })
    expect(corner(stores, 1).radius).toBeCloseTo(24 * inch, 9)
    expect(steps(stores)).toBe(2)
  })

  it('typed over: a digit opens the field with the class beside it, a wrong entry keeps the line', async () => {
    const { stores, handle } = await chosen(/^PI 2/, 'Radius of PI 2')
    act(() => handle.focus())
    await hand.keyboard('3')
    const field = within(screen.getByRole('group', { name: 'Radius of PI 2' })).getByRole('textbox', { name: 'Radius' })
    expect(field).toHaveValue('3')
    expect(field).toHaveAccessibleDescription(/≥ 28 in/)
    await hand.keyboard('0 parsecs{Enter}')
    expect(screen.getByRole('alert')).toHaveTextContent(/parsecs/)
    await hand.clear(field)
    await hand.keyboard('30{Enter}')
    expect(screen.queryByRole('group', { name: 'Radius of PI 2' })).toBeNull()
    expect(corner(stores, 1).radius).toBeCloseTo(30 * inch, 9)
    expect(handle).toHaveFocus()
    await hand.keyboard('{Enter}')
    expect(screen.getByRole('textbox', { name: 'Radius' })).toHaveValue('30 in')
    await hand.keyboard('{Escape}')
    expect(screen.queryByRole('textbox', { name: 'Radius' })).toBeNull()
    expect(stores.session.getState().selection.kind).toBe('corner')
  })

  it('typed so that the line could not be laid: the reason stands there and nothing is changed', async () => {
    const { stores, handle } = await chosen(/^PI 2/, 'Radius of PI 2')
    act(() => handle.focus())
    await hand.keyboard('900{Enter}')
    expect(screen.getByRole('alert')).toHaveTextContent(/The side from PI 1 to PI 2 measures .* short/)
    expect(corner(stores, 1).radius).toBe(24.5 * inch)
    expect(steps(stores)).toBe(0)
  })

  it('the feet of a curve: its easements follow the hand, and what cannot be turned is refused', async () => {
    const { stores, handle } = await chosen(/^PI 1/, 'Easement in of PI 1')
    expect(handle).toHaveAttribute('aria-valuetext', '12 in, by class')
    const scale = scaleOf(stores)
    const tsMm = placeOf(stores, 0).tsMm
    pull(handle, -40 * scale.pxPerMm, 0, true)
    expect(placeOf(stores, 0).tsMm).toBeCloseTo(tsMm - 40, 6)
    const last = corner(stores, 0).easementIn
    fireEvent.pointerMove(handle, { clientX: 300 - 3000 * scale.pxPerMm, clientY: 60, altKey: true })
    expect(screen.getByRole('status')).toHaveTextContent(/easements at PI 1 turn .* more than the corner does/)
    expect(corner(stores, 0).easementIn).toBe(last)
    fireEvent.pointerUp(handle)
    expect(corner(stores, 0).easementIn).toBe(last)
    expect(corner(stores, 0).easementOut).toBe('class')
    expect(steps(stores)).toBe(1)
    const out = screen.getByRole('slider', { name: 'Easement out of PI 1' })
    const stMm = placeOf(stores, 0).stMm
    pull(out, 60 * scaleOf(stores).pxPerMm, 0, true)
    expect(placeOf(stores, 0).stMm).toBeCloseTo(stMm + 60, 6)
    fireEvent.pointerCancel(out)
  })

  it('pulled wholly in there is no easement, and pulled near to it the class’s own again', async () => {
    const { stores, handle } = await chosen(/^PI 2/, 'Easement out of PI 2')
    const scale = scaleOf(stores)
    pull(handle, -800 * scale.pxPerMm, 0)
    expect(corner(stores, 1).easementOut).toBe(0)
    expect(screen.getByText('0 in · no easement')).toBeVisible()
    fireEvent.pointerMove(handle, { clientX: 300 + ((12 * inch - 200) / 2) * scale.pxPerMm, clientY: 60 })
    expect(corner(stores, 1).easementOut).toBe('class')
    expect(screen.getByText('12 in · as Main has it')).toBeVisible()
    fireEvent.pointerUp(handle)
    expect(handle).toHaveAttribute('aria-valuetext', '12 in, by class')
  })

  it('a turnout slides along, drawn to where a curve begins, and stays where it can be laid', async () => {
    const { stores, handle } = await chosen(/^East quay/, 'Station of East quay')
    expect(handle).toHaveAttribute('aria-valuetext', '2′ 6″')
    const station = (): number => stores.plan.getState().plan.turnouts['turnout-1']?.stationMm ?? NaN
    const scale = scaleOf(stores)
    const tsMm = placeOf(stores, 0).tsMm
    pull(handle, (tsMm - 30 * inch) * scale.pxPerMm + 2, 0)
    expect(station()).toBeCloseTo(tsMm, 6)
    expect(screen.getByText(/where a curve begins or ends$/)).toBeVisible()
    const last = station()
    // Beyond the end no turnout has its length; the last place that has it stays.
    fireEvent.pointerMove(handle, { clientX: 2000, clientY: 60 })
    expect(screen.getByRole('status')).not.toBeEmptyDOMElement()
    expect(station()).toBe(last)
    fireEvent.pointerUp(handle)
    expect(steps(stores)).toBe(1)
    act(() => handle.focus())
    await hand.keyboard('{Enter}')
    const field = screen.getByRole('textbox', { name: 'Station' })
    await hand.clear(field)
    await hand.keyboard('90ft{Enter}')
    expect(screen.getByRole('alert')).toHaveTextContent(/The track ends at .*a station from 0 to there/)
    await hand.clear(field)
    await hand.keyboard('3ft{Enter}')
    expect(station()).toBeCloseTo(36 * inch, 9)
  })

  it('a joint of one’s own and a portal slide along, and are held at the ends with a word', async () => {
    const { stores, handle } = await chosen(/^Your joint in the left rail/, 'Station of your joint in the left rail', standingPlan())
    expect(screen.getByRole('region', { name: 'Track chart of Harbour line' })).toBeVisible()
    pull(handle, 100 * scaleOf(stores).pxPerMm, 0, true)
    expect(stores.plan.getState().plan.railJoints['joint-1']?.stationMm).toBeCloseTo(600, 6)
    fireEvent.pointerUp(handle)
    await hand.click(screen.getByRole('button', { name: /^Cellar mouth, from/ }))
    const portal = screen.getByRole('slider', { name: 'Station of Cellar mouth' })
    pull(portal, -500, 0)
    expect(stores.plan.getState().plan.portals['portal-1']?.stationMm).toBe(0)
    expect(screen.getByRole('status')).toHaveTextContent(/a station from 0 to there/)
    fireEvent.pointerUp(portal)
    fireEvent.keyDown(portal, { key: 'ArrowLeft' })
    expect(screen.getByRole('status')).toHaveTextContent(/a station from 0 to there/)
    expect(stores.plan.getState().plan.portals['portal-1']?.stationMm).toBe(0)
    expect(steps(stores)).toBe(2)
  })

  it('what is locked is not pulled, and says so', async () => {
    const plan = roomPlan()
    const locks = { 'lock-1': { id: 'lock-1', table: 'tracks', record: 'track-1' } } as const
    const { stores, handle } = await chosen(/^PI 1/, 'Radius of PI 1', { ...plan, locks })
    pull(handle, 0, 20)
    expect(screen.getByRole('status')).toHaveTextContent(/locked/)
    fireEvent.pointerUp(handle)
    expect(corner(stores, 0).radius).toBe('class')
    expect(steps(stores)).toBe(0)
  })

  it('each radius of a curve of several is pulled by itself', async () => {
    const plan = roomPlan()
    const track = plan.tracks['track-1']
    if (track === undefined) throw new Error('the plan of the tests has a track')
    const share = { kind: 'share', share: 1 } as const
    const radius = { first: { radius: 700, turn: share }, next: [{ radius: 900, turn: share, easement: 0 }] }
    const corners = track.corners.map((one, index) => (index === 0 ? { ...one, radius } : one))
    const { stores } = await chosen(/^PI 1/, 'Radius 1 of PI 1', { ...plan, tracks: { 'track-1': { ...track, corners } } })
    const second = screen.getByRole('slider', { name: 'Radius 2 of PI 1' })
    fireEvent.keyDown(second, { key: 'ArrowUp' })
    fireEvent.keyUp(second, { key: 'ArrowUp' })
    expect(corner(stores, 0).radius).toEqual({
      ...radius,
      next: [{ ...radius.next[0], radius: expect.closeTo(567 * (inch / 16), 6) as number }],
    })
  })

  it('the top of a curve that is cut off: it goes with the hand from the radius that it has, down to the axis and not through it', async () => {
    const { stores, handle } = await chosen(/^PI 2: radius 3 in/, 'Radius of PI 2', sharpPlan())
    const half = rows.curveAxis - rows.curveTop
    // 3 in stands at the top of the row: what is left of the height is left of the curvature.
    fireEvent.pointerDown(handle, { clientX: 300, clientY: 60, button: 0 })
    for (const down of [6, 7, 20, 40]) {
      fireEvent.pointerMove(handle, { clientX: 300, clientY: 60 + down, altKey: true })
      expect(corner(stores, 1).radius).toBeCloseTo((3 * inch) / (1 - down / half), 6)
    }
    fireEvent.pointerMove(handle, { clientX: 300, clientY: 60 + half + 5, altKey: true })
    expect(corner(stores, 1).radius).toBeCloseTo((3 * inch) / (1 - 40 / half), 6)
    expect(screen.getByRole('status')).toHaveTextContent('To which side it turns the PIs say')
  })
})
