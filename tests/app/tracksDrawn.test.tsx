import '@testing-library/jest-dom/vitest'
import { act, cleanup } from '@testing-library/react'
import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import { Canvas } from '../../src/app/canvas/Canvas.tsx'
import { aTrack, planWith } from '../support/plans.ts'
import { renderOnDesk } from './desk.tsx'

const size = { width: 800, height: 600 }

beforeEach(() => {
  vi.spyOn(Element.prototype, 'getBoundingClientRect').mockReturnValue(DOMRect.fromRect(size))
})
afterEach(() => {
  cleanup()
  vi.restoreAllMocks()
})

/** So many straights one above the other, 500 mm apart. */
function desk(count: number) {
  const tracks = Array.from({ length: count }, (_, i) =>
    aTrack({ id: `track-${i}`, name: `Road ${i}`, start: { kind: 'free', x: 0, y: 500 * i }, end: { kind: 'free', x: 600, y: 500 * i } }),
  )
  const { stores } = renderOnDesk(<Canvas />, planWith({ tracks }))
  return (y: number, pxPerMm: number): void => act(() => stores.session.getState().setViewport({ centre: { x: 300, y }, pxPerMm }))
}

const drawn = (): number => document.querySelectorAll('.rail-layer > .track').length

it('of a railway of a hundred tracks those about the view are drawn from near, and come as it is pushed; from afar all', () => {
  const view = desk(100)
  view(25_000, 0.01)
  expect(drawn()).toBe(100)
  // 300 mm of the plan from top to foot, and as much again on either side: at most two rows.
  view(10_000, 2)
  expect(drawn()).toBeGreaterThan(0)
  expect(drawn()).toBeLessThanOrEqual(2)
  for (const y of [10_100, 10_500, 30_000, 49_500]) {
    view(y, 2)
    const inView = Array.from({ length: 100 }, (_, i) => 500 * i).filter((row) => Math.abs(row - y) <= 150).length
    expect(drawn()).toBeGreaterThanOrEqual(inView)
    expect(drawn()).toBeLessThanOrEqual(2)
  }
})

it('of a few tracks all are drawn, which are there however the plan is pushed', () => {
  const view = desk(30)
  view(10_000, 2)
  expect(drawn()).toBe(30)
})
