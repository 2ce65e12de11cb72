import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen } from '@testing-library/react'
import fc from 'fast-check'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { Canvas } from '../../src/app/canvas/Canvas.tsx'
import { cardPlace } from '../../src/app/canvas/cardPlace.ts'
import { hand, renderOnDesk } from './desk.tsx'

beforeEach(() => {
  localStorage.clear()
  vi.spyOn(Element.prototype, 'getBoundingClientRect').mockReturnValue(DOMRect.fromRect({ width: 800, height: 600 }))
})
afterEach(() => {
  cleanup()
  vi.restoreAllMocks()
})

describe('the place of a card', () => {
  const size = { width: 800, height: 520 }
  const card = { width: 232, height: 96 }

  it('is within the canvas and never over what it is about', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: size.width }), fc.integer({ min: 30, max: size.height }), (left, top) => {
        const place = cardPlace({ at: { left, top }, markTop: top - 30, ...card }, size, [])
        expect(place.left).toBeGreaterThanOrEqual(0)
        expect(place.top).toBeGreaterThanOrEqual(0)
        expect(place.left + card.width).toBeLessThanOrEqual(size.width)
        expect(place.top + card.height).toBeLessThanOrEqual(size.height)
        const isOver = left > place.left && left < place.left + card.width && top > place.top && top < place.top + card.height
        expect(isOver).toBe(false)
      }),
    )
  })

  it('is on the side where no line runs', () => {
    const at = { left: 400, top: 260 }
    // A line from the place to the right edge, with others above and below it.
    const right = Array.from({ length: 40 }, (_, i) => [180, 230, 260, 290, 340].map((top) => ({ left: 402 + i * 10, top }))).flat()
    const place = cardPlace({ at, markTop: 230, ...card }, size, [{ places: right, weight: 1 }])
    expect(place.left + card.width).toBeLessThan(at.left)
  })
})

describe('the card of a finding', () => {
  const selected = { kind: 'corner', track: 'track-1', corner: 'pi-2' } as const
  const cardOf = (): Element | null => document.querySelector('.finding-card')

  it('is shut by Escape before the selection is given up, and the keys go on at the plan', async () => {
    const { stores } = renderOnDesk(<Canvas />)
    act(() => stores.session.getState().select(selected))
    expect(cardOf()).toHaveTextContent('Curve under class radius')
    expect(screen.getByRole('button', { name: 'Leave this one be: Curve under class radius' })).toBeVisible()
    act(() => screen.getByRole('button', { name: 'Make it 28 in' }).focus())
    await hand.keyboard('{Escape}')
    expect(cardOf()).toBeNull()
    expect(screen.getByRole('application')).toHaveFocus()
    expect(stores.session.getState().selection).toEqual(selected)
    await hand.keyboard('{Escape}')
    expect(stores.session.getState().selection.kind).toBe('none')
    // Chosen anew it tells again.
    act(() => stores.session.getState().select(selected))
    expect(cardOf()).not.toBeNull()
  })

  it('that was pointed at is shut by Escape and comes when it is pointed at again', async () => {
    renderOnDesk(<Canvas />)
    const mark = document.querySelector('.finding-mark')
    if (mark === null) throw new Error('the plan of the tests has a finding')
    await hand.hover(mark)
    expect(cardOf()).not.toBeNull()
    await hand.keyboard('{Escape}')
    expect(cardOf()).toBeNull()
    await hand.unhover(mark)
    await hand.hover(mark)
    expect(cardOf()).not.toBeNull()
  })
})
