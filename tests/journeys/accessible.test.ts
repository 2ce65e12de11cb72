import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { AxeResults, RunOptions } from 'axe-core'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest'
import { browserLaunch } from '../../scripts/browser.mjs'
import { deskOpen } from '../support/desk.ts'

// Rules of WCAG 2.1 A and AA (W3C Recommendation, 2018), as axe-core checks them.
const options: RunOptions = { runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa'] } }
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

let browser: Browser
beforeAll(async () => {
  browser = await browserLaunch()
})
afterAll(() => browser.close())

async function breaches(page: Page): Promise<readonly string[]> {
  await page.evaluate(axe)
  const results = await page.evaluate(
    (asked) => (globalThis as unknown as { axe: { run(options: unknown): Promise<AxeResults> } }).axe.run(asked),
    options as unknown as Record<string, string>,
  )
  return results.violations.flatMap(({ id, nodes }) => nodes.map(({ target }) => `${id}: ${target.join(' ')}`))
}

describe.each(['light', 'dark'] as const)('the desk, %s', (colorScheme) => {
  it.each(['Room', 'Line', 'Turnouts', 'Checks', 'Sheets'])('%s can be read and worked without a pointer', async (stage) => {
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, colorScheme, reducedMotion: 'reduce' })
    const desk = await deskOpen(browser, inject('appAddress'), context)
    await desk.stage(stage)
    await desk.page.waitForLoadState('networkidle')
    expect(await breaches(desk.page)).toEqual([])
    await context.close()
  })

  // Hundreds of rows take long to look through: one stage of laying by day, the other by night.
  it('a stage of laying too, beside the plan and with its lists over the table', async () => {
    const stage = colorScheme === 'light' ? 'Track' : 'Roadbed'
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, colorScheme, reducedMotion: 'reduce' })
    const desk = await deskOpen(browser, inject('appAddress'), context)
    await desk.stage(stage)
    await desk.page.getByRole('button', { name: 'Show the lists' }).waitFor({ timeout: 60_000 })
    expect(await breaches(desk.page)).toEqual([])
    await desk.button('Show the lists')
    await desk.page.locator('.stick').first().waitFor()
    expect(await breaches(desk.page)).toEqual([])
    await context.close()
  }, 90_000)

  it('the gallery of turnouts and crossings too, with pictures in it', async () => {
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, colorScheme, reducedMotion: 'reduce' })
    const { page } = await deskOpen(browser, inject('appAddress'), context)
    await page.getByRole('button', { name: 'View' }).click()
    await page.getByRole('menuitem', { name: 'Gallery of turnouts and crossings' }).click()
    await page.locator('.gallery-paper svg').nth(3).waitFor()
    expect(await breaches(page)).toEqual([])
    await context.close()
  })

  it('the jigs too, drawn and as solids', async () => {
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, colorScheme, reducedMotion: 'reduce' })
    const { page } = await deskOpen(browser, inject('appAddress'), context)
    await page.getByRole('button', { name: 'File', exact: true }).click()
    await page.getByRole('menuitem', { name: /^Jigs to print or cut/ }).click()
    await page.locator('.jig-picture[aria-busy="false"]').waitFor()
    expect(await breaches(page)).toEqual([])
    await context.close()
  })

  it('swept bands, their row on the chart and a train in hand too', async () => {
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, colorScheme, reducedMotion: 'reduce' })
    const { page } = await deskOpen(browser, inject('appAddress'), context)
    await page.keyboard.press('b')
    await page.keyboard.press('p')
    await page.locator('.swept-band').first().waitFor()
    await page.locator('.train .body').first().waitFor()
    expect(await breaches(page)).toEqual([])
    await context.close()
  })
})

describe('the check of accessibility', () => {
  it('sees a button without a name and text too pale to read', async () => {
    const page = await browser.newPage()
    await page.setContent(
      '<html lang="en"><title>x</title><main><button></button><p style="color:#ccc;background:#fff">pale</p></main></html>',
    )
    const found = await breaches(page)
    expect(found.some((line) => line.startsWith('button-name'))).toBe(true)
    expect(found.some((line) => line.startsWith('color-contrast'))).toBe(true)
    await page.close()
  })
})
