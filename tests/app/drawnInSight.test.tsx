import '@testing-library/jest-dom/vitest'
import { act, cleanup, waitFor } from '@testing-library/react'
import { afterEach, expect, it } from 'vitest'
import { App } from '../../src/app/App.tsx'
import { clearOfEdges, screenOfPlan } from '../../src/app/canvas/viewport.ts'
import type { Point } from '../../src/core/geom/types.ts'
import { planBoxNow } from '../../src/app/planBox.ts'
import { renderOnDesk } from './desk.tsx'

afterEach(cleanup)

// A page without layout has a canvas of this size.
const size = { width: 900, height: 600 }

function onTheDesk() {
  const { stores } = renderOnDesk(<App />)
  const view = () => ({ ...stores.session.getState().viewport, size })
  const isClear = (point: Point): boolean => {
    const { left, top } = screenOfPlan(view(), point)
    const clear = clearOfEdges(size)
    const [right, bottom] = [clear.left + clear.width, clear.top + clear.height]
    return left >= clear.left - 1e-6 && left <= right + 1e-6 && top >= clear.top - 1e-6 && top <= bottom + 1e-6
  }
  return { stores, view, isClear }
}

it('an outline that ran out of sight is shown when it is closed', async () => {
  const { stores, isClear } = onTheDesk()
  const far = { x: 20_000, y: 300 }
  const outline = [{ x: 500, y: 0 }, far, { x: 500, y: 600 }]
  act(() => {
    stores.session.getState().setViewport({ centre: { x: 500, y: 300 }, pxPerMm: 0.3 })
    stores.session.getState().setTool('benchwork')
  })
  expect(isClear(far)).toBe(false)
  act(() => {
    const record = { name: 'Long one', outline, holes: [], heightMm: 1200 }
    const done = stores.plan.getState().apply({ kind: 'benchwork.add', record })
    stores.session.getState().select({ kind: 'record', table: 'benchworks', id: (done.ok && done.added) || '' })
    stores.session.getState().setTool('select')
  })
  await waitFor(() => expect(outline.every(isClear)).toBe(true))
})

it('a tool that is laid down leaves the view alone where nothing came of it', () => {
  const { stores, view } = onTheDesk()
  act(() => stores.session.getState().setViewport({ centre: { x: 90_000, y: 0 }, pxPerMm: 0.3 }))
  const before = view()
  act(() => stores.session.getState().setTool('benchwork'))
  act(() => stores.session.getState().setTool('select'))
  expect(view()).toEqual(before)
})

it('the choices of a tool do not cover what can all be seen: it makes room for them, no nearer and no farther', () => {
  const { stores, view, isClear } = onTheDesk()
  const box = planBoxNow(stores)
  if (box === null) throw new Error('the room is empty')
  const corner = { x: box.minX, y: box.maxY }
  const pxPerMm = 300 / (box.maxY - box.minY)
  // Its upper edge at 20 px, where the choices would lie over it.
  act(() => stores.session.getState().setViewport({ centre: { x: (box.minX + box.maxX) / 2, y: box.maxY - 280 / pxPerMm }, pxPerMm }))
  expect(screenOfPlan(view(), corner).top).toBeCloseTo(20, 6)
  act(() => stores.session.getState().setTool('wall'))
  expect(screenOfPlan(view(), corner).top).toBeCloseTo(clearOfEdges(size).top, 6)
  expect(isClear(corner)).toBe(true)
  expect(view().pxPerMm).toBe(pxPerMm)
})
