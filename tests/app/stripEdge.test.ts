import { describe, expect, it } from 'vitest'
import { stripEdge } from '../../src/app/running/stripEdge.ts'

const strip = { heightPx: 90, lowPx: 38, highPx: 26 }

describe('the choices of a train in hand', () => {
  it('lie low as long as the train is clear of them, and go up when it comes under them', () => {
    expect(stripEdge('low', { topPx: 100, bottomPx: 120 }, strip, 480)).toBe('low')
    expect(stripEdge('low', { topPx: 380, bottomPx: 400 }, strip, 480)).toBe('high')
  })

  it('stay up until the train comes under them there, so that they do not go to and fro', () => {
    expect(stripEdge('high', { topPx: 240, bottomPx: 260 }, strip, 480)).toBe('high')
    expect(stripEdge('high', { topPx: 100, bottomPx: 120 }, strip, 480)).toBe('low')
  })

  it('stay where they are when the train reaches from edge to edge', () => {
    expect(stripEdge('low', { topPx: 10, bottomPx: 470 }, strip, 480)).toBe('low')
    expect(stripEdge('high', { topPx: 10, bottomPx: 470 }, strip, 480)).toBe('high')
  })
})
