import '@testing-library/jest-dom/vitest'
import { cleanup, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import JigsSheet from '../../src/app/jigs/JigsSheet.tsx'
import { jigKinds } from '../../src/core/jigs/index.ts'
import type { Jig } from '../../src/core/jigs/index.ts'
import { solidsRead } from '../../src/engine/solids.node.ts'
import { jigNames } from '../../src/words/jigText.ts'
import { hand, noEngine, renderOnDesk } from './desk.tsx'

const asked: Jig[] = []
const kernel = solidsRead()
const engine = {
  ...noEngine,
  solids: async (jig: Jig) => {
    asked.push(jig)
    return (await kernel)(jig)
  },
}

const saved: { readonly name: string; readonly bytes: Blob }[] = []
let held = new Blob()
beforeEach(() => {
  asked.length = 0
  saved.length = 0
  URL.createObjectURL = (blob) => {
    held = blob as Blob
    return 'blob:jig'
  }
  URL.revokeObjectURL = () => undefined
  vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(function (this: HTMLAnchorElement) {
    saved.push({ name: this.download, bytes: held })
  })
  // There is nothing to draw on here.
  vi.spyOn(HTMLCanvasElement.prototype, 'getContext').mockReturnValue(null)
})
afterEach(() => {
  cleanup()
  vi.restoreAllMocks()
})

const numberOf = (name: string): HTMLElement => screen.getByRole('textbox', { name })

async function typed(name: string, text: string): Promise<void> {
  await hand.clear(numberOf(name))
  await hand.type(numberOf(name), `${text}{Enter}`)
}

const choose = (text: string): Promise<void> => hand.selectOptions(screen.getByRole('combobox', { name: 'Jig' }), text)

describe('jigs to print or cut', () => {
  it('has every kind, drawn with its measures', async () => {
    renderOnDesk(<JigsSheet />, undefined, engine)
    for (const kind of jigKinds) {
      await choose(jigNames[kind])
      const drawing = screen.getByRole('img', { name: 'The jig from above, with its measures' })
      expect(within(drawing).getAllByText(/(in|°)$/).length).toBeGreaterThan(1)
      expect(screen.getByText(/Labels and local rules come first\./)).toBeVisible()
    }
  }, 30_000)

  it('saves what is shown, made for the bed', async () => {
    const { stores } = renderOnDesk(<JigsSheet />, undefined, engine)
    await choose('Riser block')
    await typed('Height', '12 in')
    await typed('Bed, width', '150')
    expect(stores.prefs.getState().printer.bedXMm).toBe(150)
    await hand.selectOptions(screen.getByRole('combobox', { name: 'File' }), 'STL for the printer')
    await waitFor(() => expect(screen.getByRole('button', { name: 'Save the jig' })).toBeEnabled())
    await hand.click(screen.getByRole('button', { name: 'Save the jig' }))
    await waitFor(() => expect(saved.map(({ name }) => name)).toEqual(['riser-block-1.stl', 'riser-block-2.stl']))
    expect(asked.at(-1)?.box.maxX).toBeCloseTo(304.8, 6)
    for (const { bytes } of saved) expect((bytes.size - 84) % 50).toBe(0)
    expect(JSON.stringify(stores.session.getState().notice)).toContain('Saved as riser-block-1.stl, riser-block-2.stl')
  }, 30_000)

  it('keeps a number that will not do, says what would, and saves nothing until it does', async () => {
    renderOnDesk(<JigsSheet />, undefined, engine)
    await choose('Curve template')
    await typed('Radius', '1/4 in')
    expect(screen.getByRole('alert')).toHaveTextContent(/^Radius is 0\.250 in; .* or more would do, or it would come round to itself\.$/)
    expect(numberOf('Radius')).toHaveValue('¼ in')
    expect(screen.getByRole('button', { name: 'Save the jig' })).toBeDisabled()
    await hand.click(screen.getByRole('button', { name: 'Back to the usual numbers' }))
    expect(screen.queryByRole('alert')).toBeNull()
    await waitFor(() => expect(screen.getByRole('button', { name: 'Save the jig' })).toBeEnabled())
  }, 30_000)

  it('offers outlines to cut of flat jigs only', async () => {
    renderOnDesk(<JigsSheet />, undefined, engine)
    const endings = () => within(screen.getByRole('combobox', { name: 'File' })).getAllByRole('option').length
    expect(endings()).toBe(2)
    await choose('Radius stick')
    expect(endings()).toBe(4)
  })

  it('refuses a printer that is none, and keeps the old one', async () => {
    const { stores } = renderOnDesk(<JigsSheet />, undefined, engine)
    await typed('Bed, depth', '3')
    expect(screen.getByText(/would do, less or more is not made/)).toBeVisible()
    expect(stores.prefs.getState().printer.bedYMm).toBe(220)
  })
})
