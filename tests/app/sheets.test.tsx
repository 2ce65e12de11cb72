import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen, within } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import SheetPages from '../../src/app/print/SheetPages.tsx'
import SheetsStage from '../../src/app/print/SheetsStage.tsx'
import { benchSheetNames } from '../../src/core/deliver/index.ts'
import type { SheetOptions, SheetSubject } from '../../src/core/deliver/types.ts'
import type { Engine } from '../../src/engine/protocol.ts'
import { hand, renderOnDesk } from './desk.tsx'

beforeEach(() => {
  // Neither is in jsdom 26.
  vi.stubGlobal(
    'IntersectionObserver',
    class {
      observe(): void {}
      disconnect(): void {}
    },
  )
  URL.createObjectURL = () => 'blob:sheets'
  URL.revokeObjectURL = () => undefined
  // A click on a link of a file would be a navigation, which jsdom does not know.
  vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(() => undefined)
})
afterEach(() => {
  cleanup()
  vi.unstubAllGlobals()
  vi.restoreAllMocks()
})

interface Asked {
  readonly subject: SheetSubject
  readonly options: SheetOptions
}

function engineAnswering(answer: () => Promise<{ readonly pdf: Uint8Array; readonly problems: readonly string[] }>): {
  readonly engine: Engine
  readonly asked: Asked[]
} {
  const asked: Asked[] = []
  const engine: Engine = {
    check: () => Promise.resolve([]),
    sheets: async (_plan, subject, options) => {
      asked.push({ subject, options })
      return { sheets: [], ...(await answer()) }
    },
    report: () => Promise.reject(new Error('no report is made here')),
    lists: () => Promise.reject(new Error('no lists are made here')),
    fair: () => Promise.reject(new Error('nothing is eased here')),
    trace: () => Promise.reject(new Error('nothing is fitted here')),
    cut: () => Promise.reject(new Error('nothing is cut here')),
    laying: () => Promise.reject(new Error('nothing is laid here')),
    solids: () => Promise.reject(new Error('no jig is made here')),
    dispose: () => undefined,
  }
  return { engine, asked }
}

describe('the Sheets stage', () => {
  it('shows the pages of what is chosen, and reminds of 100 %', async () => {
    renderOnDesk(
      <>
        <SheetsStage />
        <SheetPages />
      </>,
    )
    expect(screen.getByText(/Print at 100 %, never “fit to page”/)).toBeVisible()
    expect(screen.getByRole('combobox', { name: 'Sheets of' })).toHaveDisplayValue('Turnout: East quay')
    const pages = screen.getAllByRole('img')
    // Letter lies across: upright the No. 6 would take two sheets.
    expect(pages).toHaveLength(1)
    expect(pages[0]?.querySelector('svg')?.getAttribute('viewBox')).toBe('0 0 279.4 215.9')
    // A4 after ISO 216: 210 x 297 mm.
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Paper' }), 'A4, 210 × 297 mm')
    expect(screen.getAllByRole('img')[0]?.querySelector('svg')?.getAttribute('viewBox')).toBe('0 0 210 297')
  })

  it('shows bench sheets as they will be printed, and has what is cut made when sheets of cuts are chosen', async () => {
    const laying = vi.fn(() => Promise.reject(new Error('no lists here')))
    const { engine } = engineAnswering(() => Promise.resolve({ pdf: new Uint8Array(), problems: [] }))
    renderOnDesk(
      <>
        <SheetsStage />
        <SheetPages />
      </>,
      undefined,
      { ...engine, laying },
    )
    const choice = screen.getByRole('combobox', { name: 'Sheets of' })
    await hand.selectOptions(choice, 'Bench: standards of the railway')
    expect(screen.getByRole('img', { name: 'Standards of the railway, sheet N1' })).toBeVisible()
    expect(laying).not.toHaveBeenCalled()
    await hand.selectOptions(choice, 'Bench: rails on their sticks')
    expect(screen.queryByRole('img')).toBeNull()
    // Asked for once: what failed is not asked for again and again.
    expect(laying).toHaveBeenCalledTimes(1)
  })

  it('lists what can be printed in groups, each once, all of one kind together', () => {
    renderOnDesk(<SheetsStage />)
    const list = screen.getByRole('combobox', { name: 'Sheets of' })
    const groups = within(list)
      .getAllByRole('group')
      .map((group) => [group.getAttribute('label'), within(group).getAllByRole('option').length] as const)
    // A room of one track with two corners, and one turnout.
    expect(groups).toEqual([
      ['Turnouts', 1],
      ['Curves', 2],
      ['Tracks', 1],
      ['The plan', 2],
      ['Cut lists', 1],
      ['Roadbed cards', 1],
      ['Tie jigs', 1],
      ['For the bench', benchSheetNames.length],
    ])
    const values = within(list)
      .getAllByRole<HTMLOptionElement>('option')
      .map(({ value }) => value)
    expect(new Set(values).size).toBe(groups.reduce((sum, [, count]) => sum + count, 0))
  })

  it('takes up the selected curve', () => {
    const { stores } = renderOnDesk(<SheetsStage />)
    act(() => stores.session.getState().select({ kind: 'corner', track: 'track-1', corner: 'pi-2' }))
    expect(screen.getByRole('combobox', { name: 'Sheets of' })).toHaveDisplayValue('Curve: Harbour line, PI 2')
  })

  it('asks the engine for the PDF of just that, made up for the printer', async () => {
    const { engine, asked } = engineAnswering(() => Promise.resolve({ pdf: new Uint8Array([37, 80, 68, 70]), problems: [] }))
    renderOnDesk(<SheetsStage />, undefined, engine)
    const bar = screen.getByRole('textbox', { name: 'Bar along the short side' })
    await hand.clear(bar)
    await hand.type(bar, '99.5{Enter}')
    await hand.click(screen.getByRole('button', { name: 'Save PDF' }))
    expect(asked[0]).toMatchObject({
      subject: { kind: 'turnout', id: 'turnout-1' },
      options: { calibrationX: 0.995, calibrationY: 1, paper: { name: 'Letter' } },
    })
    expect(await screen.findByText(/Saved as .*\.pdf\. Print it at 100 %/)).toBeVisible()
  })

  it('tells what was saved beside that only, not beside what is chosen after', async () => {
    const { engine } = engineAnswering(() => Promise.resolve({ pdf: new Uint8Array([37, 80, 68, 70]), problems: [] }))
    renderOnDesk(<SheetsStage />, undefined, engine)
    await hand.click(screen.getByRole('button', { name: 'Save PDF' }))
    expect(await screen.findByText(/Saved as turnout-east-quay\.pdf/)).toBeVisible()
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Sheets of' }), 'Cut list: East quay')
    expect(screen.queryByText(/Saved as/)).toBeNull()
  })

  it('says why sheets were not saved', async () => {
    const { engine } = engineAnswering(() => Promise.reject(new Error('The sheets could not be made: no fonts.')))
    renderOnDesk(<SheetsStage />, undefined, engine)
    await hand.click(screen.getByRole('button', { name: 'Save PDF' }))
    expect(await screen.findByText('The sheets were not saved. The sheets could not be made: no fonts.')).toBeVisible()
    expect(screen.getByRole('button', { name: 'Save PDF' })).toBeEnabled()
  })

  it('tells which page is written, and saves nothing once it is stopped', async () => {
    const { engine } = engineAnswering(() => Promise.reject(new Error('not asked here')))
    let goOn: () => void = () => undefined
    const paged: Engine = {
      ...engine,
      sheets: async (_plan, _subject, _options, onProgress = () => true) => {
        for (let page = 1; page <= 3; page++) {
          if (!(await onProgress({ kind: 'page', page, pages: 3 })))
            return { pdf: new Uint8Array(0), sheets: [], problems: [], isStopped: true }
          await new Promise<void>((resolve) => {
            goOn = resolve
          })
        }
        return { pdf: new Uint8Array([37]), sheets: [], problems: [] }
      },
    }
    renderOnDesk(<SheetsStage />, undefined, paged)
    await hand.click(screen.getByRole('button', { name: 'Save PDF' }))
    expect(await screen.findByRole('button', { name: 'Page 1 of 3' })).toBeDisabled()
    act(() => goOn())
    expect(await screen.findByRole('button', { name: 'Page 2 of 3' })).toBeDisabled()
    await hand.click(screen.getByRole('button', { name: 'Stop' }))
    act(() => goOn())
    expect(await screen.findByText('Stopped. Nothing was saved.')).toBeVisible()
    expect(HTMLAnchorElement.prototype.click).not.toHaveBeenCalled()
    expect(screen.getByRole('button', { name: 'Save PDF' })).toBeEnabled()
    expect(screen.queryByRole('button', { name: 'Stop' })).toBeNull()
  })

  it('keeps how true each printer is with its name', async () => {
    const { stores } = renderOnDesk(<SheetsStage />)
    const measure = async (mm: string): Promise<void> => {
      const bar = screen.getByRole('textbox', { name: 'Bar along the short side' })
      await hand.clear(bar)
      await hand.type(bar, `${mm}{Enter}`)
    }
    await measure('99.2')
    await hand.click(screen.getByRole('button', { name: 'Add a printer' }))
    const name = screen.getByRole('textbox', { name: 'Its name' })
    expect([stores.prefs.getState().bar100X, stores.prefs.getState().paperPrinter]).toEqual([100, 'Printer 2'])
    await hand.clear(name)
    await hand.type(name, 'Plotter at the club{Enter}')
    await measure('100.4')
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Printer' }), 'Printer 1')
    expect(stores.prefs.getState()).toMatchObject({
      bar100X: 99.2,
      paperPrinters: { 'Printer 1': { bar100X: 99.2 }, 'Plotter at the club': { bar100X: 100.4 } },
    })
    await hand.clear(screen.getByRole('textbox', { name: 'Its name' }))
    await hand.type(screen.getByRole('textbox', { name: 'Its name' }), 'Plotter at the club{Enter}')
    expect(screen.getByRole('alert')).toHaveTextContent(/Another printer has this name already/)
    await hand.keyboard('{Escape}')
    await hand.click(screen.getByRole('button', { name: 'Forget this printer' }))
    expect(stores.prefs.getState()).toMatchObject({ paperPrinter: 'Plotter at the club', bar100X: 100.4 })
  })

  it('prints on every paper, and on a roll as wide as it is', async () => {
    const { stores } = renderOnDesk(
      <>
        <SheetsStage />
        <SheetPages />
      </>,
    )
    const first = (): string | null | undefined => screen.getAllByRole('img')[0]?.querySelector('svg')?.getAttribute('viewBox')
    // ISO 216: A2 is 420 x 594 mm.
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Paper' }), 'A2, 420 × 594 mm')
    expect(first()?.split(' ').slice(2).map(Number).toSorted()).toEqual([420, 594])
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Paper' }), 'roll')
    const width = screen.getByRole('textbox', { name: 'Roll width' })
    await hand.clear(width)
    await hand.type(width, '36 in{Enter}')
    expect(stores.prefs.getState()).toMatchObject({ paper: 'roll', rollWidthMm: 914.4 })
    expect(first()).toMatch(/^0 0 914\.4 /)
    await hand.clear(width)
    await hand.type(width, '2 in{Enter}')
    expect(screen.getByRole('alert')).toHaveTextContent(/From 100 mm to 5080 mm/)
  })

  it('refuses a rectangle that is turned over, and a stretch that ends before it begins', async () => {
    const { desk } = renderOnDesk(<SheetsStage />)
    const type = async (label: string, text: string): Promise<void> => {
      const field = screen.getByRole('textbox', { name: label })
      await hand.clear(field)
      await hand.type(field, `${text}{Enter}`)
    }
    const box = { minX: 0, minY: 0, maxX: 500, maxY: 300 }
    act(() => desk.getState().set({ sheetSubject: { kind: 'region', box } }))
    await type('Left edge, x', '30 in')
    expect(screen.getByText(/has to lie left of the right one/)).toBeVisible()
    expect(desk.getState().sheetSubject).toEqual({ kind: 'region', box })

    act(() => desk.getState().set({ sheetSubject: { kind: 'stretch', track: 'track-1', fromMm: 500, toMm: 900 } }))
    await type('To station', '10 in')
    expect(screen.getByText(/has to end farther along/)).toBeVisible()
    await type('From station', '900 ft')
    expect(screen.getByText(/The track ends at/)).toBeVisible()
    expect(desk.getState().sheetSubject).toEqual({ kind: 'stretch', track: 'track-1', fromMm: 500, toMm: 900 })
  })

  it('refuses a bar that was printed to fit the page', async () => {
    const { stores } = renderOnDesk(<SheetsStage />)
    const bar = screen.getByRole('textbox', { name: 'Bar along the long side' })
    await hand.clear(bar)
    await hand.type(bar, '88{Enter}')
    expect(screen.getByRole('alert')).toHaveTextContent('Print again at 100 %')
    expect(stores.prefs.getState().bar100Y).toBe(100)
  })

  it('has words for a plan without track', () => {
    const { stores } = renderOnDesk(<SheetsStage />)
    act(() => void stores.plan.getState().apply({ kind: 'remove', table: 'tracks', id: 'track-1' }))
    expect(screen.getByText(/They need a centreline first/)).toBeVisible()
    expect(screen.getByRole('button', { name: 'Lay a centreline' })).toBeVisible()
  })
})
