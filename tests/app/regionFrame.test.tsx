import '@testing-library/jest-dom/vitest'
import { act, cleanup, fireEvent, screen } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { App } from '../../src/app/App.tsx'
import { hand, renderOnDesk } from './desk.tsx'
import type { Desk } from './desk.tsx'
import { HandPointer } from './handPointer.ts'

// They come with their stage.
await import('../../src/app/print/SheetsStage.tsx')
await import('../../src/app/print/SheetPages.tsx')
await import('../../src/app/print/RegionFrame.tsx')

beforeEach(() => vi.stubGlobal('PointerEvent', HandPointer))
afterEach(() => {
  cleanup()
  vi.unstubAllGlobals()
})

const before = { minX: 0, minY: 0, maxX: 1000, maxY: 1000 }

/** The stage Sheets with a rectangle, and the plan on the table to draw it on. jsdom measures nothing: the canvas is 900 by 600 px, as before it is measured. */
async function framing(): Promise<Desk & { readonly cover: Element }> {
  const made = renderOnDesk(<App />)
  act(() => {
    made.stores.session.getState().setViewport({ centre: { x: 100, y: 200 }, pxPerMm: 0.5 })
    made.stores.session.getState().setStage('sheets')
    made.desk.getState().set({ sheetSubject: { kind: 'region', box: before } })
  })
  await hand.click(await screen.findByRole('button', { name: 'Draw it on the plan' }))
  await screen.findByRole('group', { name: 'Rectangle to print' })
  const cover = document.querySelector('.region-cover')
  if (cover === null) throw new Error('there is something to draw on')
  return { ...made, cover }
}

describe('a rectangle to be printed', () => {
  it('is drawn from corner to corner on the plan, and the sheets come back', async () => {
    const { desk, cover } = await framing()
    fireEvent.pointerDown(cover, { clientX: 300, clientY: 40, button: 0, altKey: true })
    fireEvent.pointerMove(cover, { clientX: 100, clientY: 200, altKey: true })
    // 200 px and 160 px at half a px a mm.
    expect(screen.getByText('1′ 3¾″ × 1′ 0¹⁹⁄₃₂″')).toBeInTheDocument()
    fireEvent.pointerUp(cover, { clientX: 100, clientY: 200, altKey: true })
    expect(desk.getState().sheetSubject).toEqual({ kind: 'region', box: { minX: -600, maxX: -200, minY: 400, maxY: 720 } })
    expect(document.querySelector('.region-cover')).toBeNull()
    expect(screen.queryByRole('application')).toBeNull()
  })

  it('lands on whole steps of the ruler', async () => {
    const { desk, cover } = await framing()
    fireEvent.pointerDown(cover, { clientX: 3, clientY: 5, button: 0 })
    fireEvent.pointerUp(cover, { clientX: 297, clientY: 203 })
    const subject = desk.getState().sheetSubject
    if (subject?.kind !== 'region') throw new Error('a rectangle was drawn')
    // At half a px a mm half inches are wide enough to be meant.
    for (const edge of Object.values(subject.box)) expect(Math.abs(edge / 12.7 - Math.round(edge / 12.7))).toBeLessThan(1e-6)
  })

  it('too small is no rectangle, and that is told; Escape leaves it as it was', async () => {
    const { desk, stores, cover } = await framing()
    fireEvent.pointerDown(cover, { clientX: 100, clientY: 100, button: 0 })
    fireEvent.pointerUp(cover, { clientX: 102, clientY: 300 })
    expect(screen.getByText('That was too small to print: drag from corner to corner.')).toBeVisible()
    expect(desk.getState().sheetSubject).toEqual({ kind: 'region', box: before })
    fireEvent.keyDown(window, { key: 'Escape' })
    expect(desk.getState().isFraming).toBe(false)
    expect(desk.getState().sheetSubject).toEqual({ kind: 'region', box: before })
    expect(stores.session.getState().stage).toBe('sheets')
  })

  it('is given up by going to another stage', async () => {
    const { desk, stores } = await framing()
    act(() => stores.session.getState().setStage('line'))
    expect(document.querySelector('.region-cover')).toBeNull()
    expect(desk.getState().isFraming).toBe(false)
  })
})
