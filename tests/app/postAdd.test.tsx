import '@testing-library/jest-dom/vitest'
import { cleanup, screen } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { postOutline } from '../../src/app/room/postAdd.ts'
import { PostBySize } from '../../src/app/room/PostBySize.tsx'
import { ringArea } from '../../src/core/geom/index.ts'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(cleanup)

describe('a post by its size', () => {
  it('stands with its middle where it was typed, and is selected', async () => {
    const { stores } = renderOnDesk(<PostBySize shut={() => undefined} />)
    for (const [label, text] of [
      ['Wide', '150 mm'],
      ['From the left', '2000 mm'],
      ['From below', '700 mm'],
    ] as const) {
      const field = screen.getByRole('textbox', { name: label })
      await hand.clear(field)
      await hand.type(field, `${text}{Enter}`)
    }
    await hand.click(screen.getByRole('button', { name: 'Add this post' }))
    const [post] = Object.values(stores.plan.getState().plan.obstacles)
    expect(post?.undersideMm).toBe(0)
    const xs = (post?.outline ?? []).map(({ x }) => x)
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(150, 6)
    expect(stores.session.getState().selection).toEqual({ kind: 'record', table: 'obstacles', id: post?.id })
  })

  it('is no thinner than typed when it is round', () => {
    const outline = postOutline({ acrossMm: 120, depthMm: null }, { x: 1000, y: 500 })
    // Around a circle of 120 mm: its area, from above and to half a per cent.
    const area = Math.PI * 60 * 60
    expect(ringArea(outline)).toBeGreaterThan(area)
    expect(ringArea(outline)).toBeLessThan(area * 1.005)
    for (const { x, y } of outline) expect(Math.hypot(x - 1000, y - 500)).toBeGreaterThanOrEqual(60)
  })
})
