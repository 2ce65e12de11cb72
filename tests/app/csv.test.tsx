import '@testing-library/jest-dom/vitest'
import { cleanup, screen, within } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import BuildSheet from '../../src/app/build/BuildSheet.tsx'
import FitsTable from '../../src/app/particulars/FitsTable.tsx'
import { LineClassParticulars } from '../../src/app/particulars/LineClassParticulars.tsx'
import { csvRead } from '../support/csvRead.ts'
import { hand, renderOnDesk } from './desk.tsx'

const saved: Blob[] = []
beforeEach(() => {
  saved.length = 0
  URL.createObjectURL = (blob) => {
    if (blob instanceof Blob) saved.push(blob)
    return 'blob:table'
  }
  URL.revokeObjectURL = () => undefined
  // A click on a link of a file would be a navigation, which jsdom does not know.
  vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(() => undefined)
})
afterEach(() => {
  cleanup()
  vi.restoreAllMocks()
})

/** The rows of the file that the button hands to the browser. */
async function rowsSaved(): Promise<readonly (readonly string[])[]> {
  await hand.click(screen.getByRole('button', { name: 'Save as CSV' }))
  const text = await new Promise<string>((resolve) => {
    const reader = new FileReader()
    reader.addEventListener('load', () => resolve(String(reader.result)))
    reader.readAsText(saved[0] ?? new Blob())
  })
  return csvRead(text.replace(/^\uFEFF/, ''))
}

/** A table as it is read on the screen. */
const rowsOf = (table: HTMLElement): readonly (readonly string[])[] =>
  within(table)
    .getAllByRole('row')
    .map((row) => [...row.querySelectorAll('th, td')].map(({ textContent }) => textContent))

describe('tables taken away as CSV', () => {
  it('of the building of a turnout: all of them, as they are shown', async () => {
    const { stores } = renderOnDesk(<BuildSheet of="turnout" id="turnout-1" onShut={() => undefined} />)
    const rows = await rowsSaved()
    const tables = screen.getAllByRole('table')
    expect(tables.length).toBeGreaterThan(5)
    for (const row of tables.flatMap(rowsOf)) expect(rows).toContainEqual(row)
    expect(stores.session.getState().notice).toBe('Saved as test-quay-turnout-1-build.csv, in the folder of your downloads.')
  })

  it('of what fits at a place', async () => {
    renderOnDesk(<FitsTable id="turnout-1" />)
    expect(await rowsSaved()).toEqual(rowsOf(screen.getByRole('table')))
  })

  it('of what the published classes of equipment ask of a class', async () => {
    renderOnDesk(<LineClassParticulars id="main" />)
    const table = screen.getAllByRole('table').find(({ className }) => className === 'service')
    if (table === undefined) throw new Error('the class has its table')
    expect(await rowsSaved()).toEqual(rowsOf(table))
  })
})
