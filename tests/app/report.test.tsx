import '@testing-library/jest-dom/vitest'
import { cleanup, screen, waitFor } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { ReportAct } from '../../src/app/report/ReportAct.tsx'
import { planReport } from '../../src/core/deliver/index.ts'
import type { ListRequest, SheetOptions } from '../../src/core/deliver/index.ts'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import type { Engine } from '../../src/engine/protocol.ts'
import { csvRead } from '../support/csvRead.ts'
import { hand, renderOnDesk } from './desk.tsx'

const saved: Blob[] = []
beforeEach(() => {
  saved.length = 0
  URL.createObjectURL = (blob) => {
    if (blob instanceof Blob) saved.push(blob)
    return 'blob:report'
  }
  URL.revokeObjectURL = () => undefined
  // A click on a link of a file would be a navigation, which jsdom does not know.
  vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(() => undefined)
})
afterEach(() => {
  cleanup()
  vi.restoreAllMocks()
})

const nothing = (): Promise<never> => Promise.reject(new Error('not asked here'))

function engineOf(lists: Engine['lists']): Engine {
  const report: Engine['report'] = async (plan, findings) => planReport(pipelineCreate().derive(plan), findings)
  return {
    check: nothing,
    report,
    sheets: nothing,
    lists,
    fair: nothing,
    trace: nothing,
    cut: nothing,
    laying: nothing,
    solids: nothing,
    dispose: () => undefined,
  }
}

describe('the report of the checks', () => {
  it('is printed by the engine on the chosen paper', async () => {
    const asked: (readonly [ListRequest, SheetOptions])[] = []
    const engine = engineOf((request, options) => {
      asked.push([request, options])
      return Promise.resolve({ pdf: new Uint8Array([37, 80, 68, 70]), sheets: [], problems: [] })
    })
    renderOnDesk(<ReportAct />, undefined, engine)
    const button = screen.getByRole('button', { name: 'Report as PDF' })
    await waitFor(() => expect(button).toBeEnabled())
    await hand.click(button)
    expect(await screen.findByText(/Saved as report\.pdf/)).toBeVisible()
    const [request, options] = asked[0] ?? []
    expect(request?.railway).toBe('Test quay')
    expect(request?.tables.map(({ title }) => title)).toContain('Findings: line')
    expect(options?.paper.name).toBe('Letter')
  })

  it('comes as CSV without pages', async () => {
    renderOnDesk(<ReportAct />, undefined, engineOf(nothing))
    const button = screen.getByRole('button', { name: 'Report as CSV' })
    await waitFor(() => expect(button).toBeEnabled())
    await hand.click(button)
    expect(await screen.findByText(/Saved as report\.csv/)).toBeVisible()
    const text = await new Promise<string>((resolve) => {
      const reader = new FileReader()
      reader.addEventListener('load', () => resolve(String(reader.result)))
      reader.readAsText(saved[0] ?? new Blob())
    })
    const rows = csvRead(text.replace(/^\uFEFF/, ''))
    expect(rows.some((row) => row.includes('minimum-radius'))).toBe(true)
  })

  it('says why it was not made, and can be asked again', async () => {
    renderOnDesk(
      <ReportAct />,
      undefined,
      engineOf(() => Promise.reject(new Error('The pages could not be made: no fonts.'))),
    )
    const button = screen.getByRole('button', { name: 'Report as PDF' })
    await waitFor(() => expect(button).toBeEnabled())
    await hand.click(button)
    expect(await screen.findByText('The pages could not be made: no fonts.')).toBeVisible()
    expect(screen.getByRole('button', { name: 'Report as PDF' })).toBeEnabled()
  })
})
