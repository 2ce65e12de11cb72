import { readFileSync } from 'node:fs'
import { expect, afterAll, beforeAll, inject, it } from 'vitest'
import type { Browser } from 'playwright-core'
import { browserLaunch } from '../../scripts/browser.mjs'
import { planRead, planWrite } from '../../src/formats/planjson.ts'
import { deskOpen, expectNoErrors } from '../support/desk.ts'

let browser: Browser
beforeAll(async () => {
  browser = await browserLaunch()
})
afterAll(async () => {
  await browser.close()
})

const hostile = '<img src="x" onerror="document.title=1"><script>document.title=2</script>'

/** After one visit the whole workbench is in the browser; nobody outside is ever asked, and what a plan says is never run. */
it('opens and works without a network after the first visit, asks nobody outside, and shows the text of a plan as text', async () => {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, acceptDownloads: true, reducedMotion: 'reduce' })
  const asked: string[] = []
  context.on('request', (request) => asked.push(request.url()))
  const address = inject('appAddress')
  const desk = await deskOpen(browser, address, context)
  const { page } = desk
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready
  })
  // Nothing of the workbench has been opened yet but its first screen: all the rest must come out of what was kept.
  await context.setOffline(true)
  await page.reload()
  await page.getByRole('navigation', { name: 'Stages' }).waitFor()
  expect(await page.evaluate(() => navigator.serviceWorker.controller !== null)).toBe(true)

  const demo = readFileSync(new URL('../../public/demo/shelf.json', import.meta.url), 'utf8')
  const read = planRead(demo)
  if (!read.ok) throw new Error('the demo does not read')
  const tracks = Object.fromEntries(Object.entries(read.plan.tracks).map(([id, track]) => [id, { ...track, name: hostile }]))
  const text = planWrite({ ...read.plan, railway: { ...read.plan.railway, title: hostile }, tracks })
  const chooser = page.waitForEvent('filechooser')
  await desk.menu('File', /^Open a plan/)
  await (await chooser).setFiles({ name: 'hostile.json', mimeType: 'application/json', buffer: Buffer.from(text) })
  await page.getByText(hostile).first().waitFor()
  for (const stage of ['Line', 'Turnouts', 'Track', 'Checks']) await desk.stage(stage)
  expect(await page.title()).not.toMatch(/^[12]$/)
  expect(await page.locator('img[src="x"]').count()).toBe(0)

  await desk.stage('Sheets')
  const download = page.waitForEvent('download')
  await page.getByRole('button', { name: /PDF/ }).first().click()
  expect(
    readFileSync(await (await download).path())
      .subarray(0, 5)
      .toString(),
  ).toBe('%PDF-')
  expectNoErrors(desk)
  const outside = asked.filter((url) => !url.startsWith(address) && !/^(?:data|blob):/.test(url))
  expect(outside).toEqual([])
  expect(asked.length).toBeGreaterThan(10)
  await context.close()
})
