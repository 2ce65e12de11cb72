import '@testing-library/jest-dom/vitest'
import { cleanup, screen, within } from '@testing-library/react'
import { afterEach, describe, expect, it, vi } from 'vitest'
import SetoutSheet from '../../src/app/setout/SetoutSheet.tsx'
import { TrackParticulars } from '../../src/app/particulars/TrackParticulars.tsx'
import { csvRead } from '../support/csvRead.ts'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(() => {
  cleanup()
  vi.restoreAllMocks()
})

const sheet = (): ReturnType<typeof renderOnDesk> => renderOnDesk(<SetoutSheet track="track-1" onShut={() => undefined} />)
const choose = (label: string, text: string): Promise<void> => hand.selectOptions(screen.getByLabelText(label), text)
const tables = (): readonly HTMLElement[] => screen.getAllByRole('table')
const heads = (): readonly (string | null)[] =>
  within(tables()[0] ?? document.body)
    .getAllByRole('columnheader')
    .map((it) => it.textContent)

async function type(label: string, text: string): Promise<void> {
  const field = screen.getByLabelText(label)
  await hand.clear(field)
  await hand.type(field, `${text}{Enter}`)
}

/** jsdom 26's blobs have no text of their own. */
const textOf = (blob: Blob): Promise<string> =>
  new Promise((resolve) => {
    const reader = new FileReader()
    reader.addEventListener('load', () => resolve(String(reader.result)))
    reader.readAsText(blob)
  })

describe('setting out at the bench', () => {
  it('opens from the particulars of a track, and closes', async () => {
    renderOnDesk(<TrackParticulars id="track-1" />)
    await hand.click(screen.getByRole('button', { name: 'Set out at the bench' }))
    expect(await screen.findByRole('dialog', { name: 'Set out Harbour line at the bench' })).toBeVisible()
    await hand.click(screen.getByRole('button', { name: 'Close' }))
    expect(screen.queryByRole('dialog')).toBeNull()
  })

  it('shows offsets of the first curve with the figure, and how far rounding puts them off', () => {
    sheet()
    expect(tables()).toHaveLength(2)
    expect(heads()).toEqual(['Station', 'Name', 'Along', 'Offset', 'Off by'])
    expect(screen.getByRole('img', { name: 'What to measure' })).toBeVisible()
    expect(screen.getByText(/Rounded to 1\/\d+ in, no point comes more than/)).toBeVisible()
    expect(within(tables()[0] ?? document.body).getByText('SC')).toBeVisible()
  })

  it('has a table for each way', async () => {
    sheet()
    const ways: readonly (readonly [text: string, column: string])[] = [
      ['Ordinates from a long chord', 'Offset'],
      ['From a wall or an edge', 'Offset'],
      ['Deflection angles and chords', 'Deflection'],
      ['Trammel', 'Radius'],
      ['Two tapes from fixed corners', 'Tape A'],
      ['Gauge stick along the line', 'Mid-ordinate'],
      ['Bent lath for easements', 'Along'],
    ]
    for (const [text, column] of ways) {
      await choose('By', text)
      expect(heads(), text).toContain(column)
    }
  })

  it('follows what is asked: step, marks, stretch and exact values', async () => {
    sheet()
    const before = within(tables()[0] ?? document.body).getAllByRole('row').length
    await type('Step', '1in')
    expect(within(tables()[0] ?? document.body).getAllByRole('row').length).toBeGreaterThan(2 * before)
    await choose('Rounded to', '1/64 in')
    expect(screen.getByText(/Rounded to 1\/64 in/)).toBeVisible()
    await choose('Stretch', 'All of the track')
    expect(tables()).toHaveLength(4)
    await hand.click(screen.getByRole('button', { name: 'Exact values beside' }))
    expect(screen.getAllByText('1.0000').length).toBeGreaterThan(0)
  })

  it('says in words why there is no table, and offers nothing to print', async () => {
    sheet()
    await choose('Stretch', 'Between two stations')
    await type('From station', '900in')
    expect(screen.getByRole('status')).toHaveTextContent(/lies outside the line/)
    expect(screen.queryByRole('button', { name: 'Print' })).toBeNull()
    await type('From station', '2in')
    await type('To station', '20in')
    expect(screen.getByRole('status')).toHaveTextContent(/No corner turns/)
  })

  it('gives the tables for a spreadsheet, each value as it is set and as exact as it is known', async () => {
    const saved: Blob[] = []
    URL.createObjectURL = (blob) => {
      if (blob instanceof Blob) saved.push(blob)
      return 'blob:setout'
    }
    URL.revokeObjectURL = () => undefined
    vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(() => undefined)
    sheet()
    const shown = tables().flatMap((table) => within(table).getAllByRole('row').slice(1))
    await hand.click(screen.getByRole('button', { name: 'Save as CSV' }))
    const rows = csvRead(await textOf(saved[0] ?? new Blob()))
    const heads = rows.filter(([first]) => first === 'Station')
    expect(heads).toHaveLength(2)
    expect(heads[0]).toEqual([
      'Station',
      'Station, exact mm',
      'Place',
      'Along',
      'Along, exact mm',
      'Offset',
      'Offset, exact mm',
      'Off by, mm',
    ])
    const told = rows.filter((row) => row.length === heads[0]?.length && row[0] !== 'Station')
    expect(told.map(([station]) => station)).toEqual(shown.map((row) => within(row).getByRole('rowheader').textContent))
    for (const row of told) for (const exact of [row[4], row[6]]) expect(Number.isFinite(Number(exact))).toBe(true)
  })

  it('prints', async () => {
    const print = vi.fn()
    vi.stubGlobal('print', print)
    sheet()
    await hand.click(screen.getByRole('button', { name: 'Print' }))
    expect(print).toHaveBeenCalledOnce()
    vi.unstubAllGlobals()
  })
})
