import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { App } from '../../src/app/App.tsx'
import GallerySheet from '../../src/app/gallery/GallerySheet.tsx'
import { galleryKeys } from '../../src/core/gallery/index.ts'
import { planEmpty } from '../../src/core/plan/index.ts'
import { galleryParts, galleryWords } from '../../src/words/galleryText.ts'
import { hand, renderOnDesk } from './desk.tsx'

/** Everything is in view here: the page has no size. */
class AllInView {
  readonly #tell: IntersectionObserverCallback
  constructor(tell: IntersectionObserverCallback) {
    this.#tell = tell
  }
  observe(target: Element): void {
    this.#tell([{ isIntersecting: true, target } as IntersectionObserverEntry], this as unknown as IntersectionObserver)
  }
  disconnect(): void {}
}

beforeEach(() => vi.stubGlobal('IntersectionObserver', AllInView))
afterEach(() => {
  cleanup()
  vi.unstubAllGlobals()
})

describe('the gallery of turnouts and crossings', () => {
  it('has every kind once', () => {
    expect(galleryParts.flatMap(({ keys }) => keys).toSorted()).toEqual([...galleryKeys].toSorted())
  })

  it('draws all of them, each with its words and numbers', async () => {
    renderOnDesk(<GallerySheet />, planEmpty())
    for (const key of galleryKeys) {
      // By selector: asking for roles in pages of drawing takes many seconds.
      const picture = `[role="img"][aria-label="${galleryWords[key].name}, drawn from above"] svg path`
      await waitFor(() => expect(document.querySelector(picture), key).not.toBeNull())
    }
    const square = screen.getByText('Square crossing').closest('figure')
    if (square === null) throw new Error('no square crossing')
    expect(within(square).getByText(/^90/)).toBeVisible()
    expect(within(square).getByText('Unguarded')).toBeVisible()
  }, 30_000)

  it('is for the scale of the railway', async () => {
    renderOnDesk(<GallerySheet />, planEmpty('N') ?? planEmpty())
    expect(screen.getByText(/^N, gauge/)).toBeVisible()
  })

  it('says what hinders a piece where the standards of the railway do', async () => {
    const plan = planEmpty()
    renderOnDesk(<GallerySheet />, { ...plan, railway: { ...plan.railway, flangewayMm: 6 } })
    expect(await screen.findByText(/^The flangeway is .* it should be less than/)).toBeVisible()
  }, 30_000)

  it('opens from the finder and closes', async () => {
    renderOnDesk(<App />)
    await hand.keyboard('/')
    await hand.type(await screen.findByRole('searchbox'), 'scissors')
    await hand.click(await screen.findByRole('menuitem', { name: /Gallery of turnouts/ }))
    expect(await screen.findByRole('dialog', { name: /Gallery of turnouts/ })).toBeVisible()
    await act(async () => hand.click(screen.getByRole('button', { name: 'Close' })))
    expect(screen.queryByRole('dialog')).toBeNull()
  }, 30_000)
})
