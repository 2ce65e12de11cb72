import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest'
import { browserLaunch } from '../../scripts/browser.mjs'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import type { Desk } from '../support/desk.ts'

let browser: Browser
beforeAll(async () => {
  browser = await browserLaunch()
})
afterAll(() => browser.close())

/** The machine does other work as well. */
const patience = { timeout: 8000 }

const title = ({ page }: Desk): Promise<string> => page.locator('.masthead .railway').innerText()
async function rename(desk: Desk, from: RegExp, to: string): Promise<void> {
  const name = desk.page.getByRole('textbox', { name: from }).last()
  await name.fill(to)
  await name.press('Enter')
}

describe('plans that are kept in the browser', () => {
  it('stand on a shelf, are seen in two pages at once, and are there after a crash', async () => {
    const desk = await deskOpen(browser, inject('appAddress'))
    const { page } = desk
    await desk.menu('File', /^Plans in this browser/)
    await page.getByRole('button', { name: 'Duplicate' }).click()
    await rename(desk, /second$/, 'Other quay')
    await page.getByRole('button', { name: 'Open', exact: true }).click()
    await expect.poll(() => title(desk), patience).toMatch(/Other quay/)
    await expect.poll(() => page.getByText(/^Kept at/).count(), patience).toBe(1)

    const second = await deskOpen(browser, inject('appAddress'), desk.context)
    await expect.poll(() => second.page.getByText(/Another page keeps this plan/).count(), patience).toBe(1)
    await page.bringToFront()
    await desk.menu('File', /^Plans in this browser/)
    await rename(desk, /^Name of Other quay$/, 'Seen by both')
    await expect.poll(() => title(desk), patience).toMatch(/Seen by both/)
    await expect.poll(() => title(second), patience).toMatch(/Seen by both/)
    expectNoErrors(second)
    await second.page.close()

    // A page that dies has no time for anything.
    const crashed = page.waitForEvent('crash')
    void page.goto('chrome://crash').catch(() => undefined)
    await crashed
    const again = await deskOpen(browser, inject('appAddress'), desk.context)
    expect(await title(again)).toMatch(/Seen by both/)
    await again.menu('File', /^Plans in this browser/)
    await again.page.getByRole('button', { name: 'Versions' }).first().click()
    await again.page.getByRole('button', { name: 'Compare with now' }).first().click()
    await expect.poll(() => again.page.getByText(/The railway as a whole differs in title/).count(), patience).toBe(1)
    await expect.poll(() => again.page.getByRole('img', { name: /Both plans/ }).count(), patience).toBe(1)
    expectNoErrors(again)
  })
})
