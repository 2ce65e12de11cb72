import '@testing-library/jest-dom/vitest'
import { cleanup, screen, within } from '@testing-library/react'
import { afterEach, expect, it, vi } from 'vitest'
import { planPrint } from '../../src/app/print/planPrint.ts'
import { renderOnDesk } from './desk.tsx'

afterEach(() => {
  cleanup()
  vi.restoreAllMocks()
  vi.unstubAllGlobals()
})

it('prints the plan on a page with its tracks and findings, and leaves nothing behind', async () => {
  const { stores } = renderOnDesk(null)
  HTMLImageElement.prototype.decode = () => Promise.resolve()
  const revoked = vi.spyOn(URL, 'revokeObjectURL')
  let printed = 0
  vi.stubGlobal('print', () => {
    printed += 1
    const page = screen.getByRole('article', { hidden: true })
    const plan = stores.plan.getState().plan
    expect(within(page).getByRole('heading', { level: 1, hidden: true })).toHaveTextContent(plan.railway.title)
    expect(page).toHaveTextContent(/HO, 1:87\.1 · gauge 0\.651 in · plan [2-9A-Z]{6} · not to scale/)
    for (const { name } of Object.values(plan.tracks)) expect(page).toHaveTextContent(name)
    expect(page).toHaveTextContent('24½ in here, Main asks 28 in.')
    expect(document.title).toBe(plan.railway.title)
  })
  const title = document.title
  await planPrint(stores)
  expect(printed).toBe(1)
  window.dispatchEvent(new Event('afterprint'))
  expect(screen.queryByRole('article', { hidden: true })).toBeNull()
  expect(document.title).toBe(title)
  expect(revoked).toHaveBeenCalledTimes(1)
})
