import { readFileSync } from 'node:fs'
import { createServer } from 'node:http'
import type { Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import type { BrowserContext, Page } from 'playwright-core'
import { expect, inject, it } from 'vitest'
import { planRead, planWrite } from '../../src/formats/planjson.ts'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import { contextOpen, journeysBrowser } from '../support/journeysBrowser.ts'

const browser = await journeysBrowser()

/** A browser that is allowed to keep the workbench, with a clock that can be put on. */
async function keepingContext(): Promise<BrowserContext> {
  const context = await contextOpen(browser, { serviceWorkers: 'allow' })
  await context.clock.install()
  return context
}

/** As a page that has stood for the while after which it asks for a build, without the waiting; ends when one is kept. */
async function rested(page: Page): Promise<void> {
  await page.clock.fastForward(3200)
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready
  })
}

const hostile = '<img src="x" onerror="document.title=1"><script>document.title=2</script>'

/** After one visit the whole workbench is in the browser; nobody outside is ever asked, and what a plan says is never run. */
it('opens and works without a network after the first visit, asks nobody outside, and shows the text of a plan as text', async () => {
  const context = await keepingContext()
  const asked: string[] = []
  context.on('request', (request) => asked.push(request.url()))
  const address = inject('appAddress')
  const desk = await deskOpen(browser, address, context)
  const { page } = desk
  await rested(page)
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
  await desk.menu('File', /^Plans in this browser/)
  await page.getByRole('textbox', { name: `Name of ${hostile}` }).waitFor()
  await page.getByRole('button', { name: 'Close' }).last().click()
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

/** The built app behind another address, where the next build can be made to lie ready. */
async function buildServer(): Promise<{ readonly address: string; readonly server: Server; nextBuild(): void }> {
  let build = ''
  const server = createServer((request, response) => {
    void (async () => {
      const answer = await fetch(new URL(request.url ?? '/', inject('appAddress')))
      const body = Buffer.from(await answer.arrayBuffer())
      const isWorker = request.url === '/sw.js'
      response.writeHead(answer.status, { 'content-type': answer.headers.get('content-type') ?? 'text/plain' })
      response.end(isWorker ? body.toString().replace(/const version = "(\w+)"/, `const version = "$1${build}"`) : body)
    })()
  })
  await new Promise<void>((listening) => {
    server.listen(0, 'localhost', listening)
  })
  const { port } = server.address() as AddressInfo
  return { address: `http://localhost:${port}/`, server, nextBuild: () => void (build = 'next') }
}

it('offers a newer build and puts it in place only when asked, with the plan kept', async () => {
  const { address, server, nextBuild } = await buildServer()
  const desk = await deskOpen(browser, address, await keepingContext())
  const { page } = desk
  await rested(page)
  // From the second visit on the page comes from what was kept.
  await page.reload()
  await page.getByRole('application').waitFor()
  nextBuild()
  await rested(page)
  await page.evaluate(async () => {
    Object.assign(window, { isSamePage: true })
    await (await navigator.serviceWorker.getRegistration())?.update()
  })
  await page.getByText(/A newer Waybench is ready/).waitFor()
  const field = page.getByRole('complementary', { name: 'Particulars' }).getByRole('textbox', { name: 'Title' })
  await field.fill('Quay of the old build')
  await field.press('Enter')
  expect(await page.evaluate(() => 'isSamePage' in window)).toBe(true)
  await desk.button('Change to it')
  await expect.poll(() => page.evaluate(() => 'isSamePage' in window).catch(() => true), { timeout: 8000 }).toBe(false)
  await page.getByRole('application').waitFor()
  expect(await page.locator('.masthead .railway').innerText()).toMatch(/^Quay of the old build/)
  // What the last build left is let go of by a page that is alone.
  await expect.poll(() => page.evaluate(() => caches.keys()), { timeout: 8000 }).toEqual([expect.stringMatching(/^waybench-\w+next$/)])
  expectNoErrors(desk)
  await desk.context.close()
  await new Promise((closed) => {
    server.closeAllConnections()
    server.close(closed)
  })
})

it('waits with a newer build for what is not kept, and leaves the pages of the old one what they need', async () => {
  const { address, server, nextBuild } = await buildServer()
  const desk = await deskOpen(browser, address, await keepingContext())
  const { page, context } = desk
  await rested(page)
  await page.reload()
  await page.getByRole('application').waitFor()
  const field = page.getByRole('complementary', { name: 'Particulars' }).getByRole('textbox', { name: 'Title' })
  await field.fill('Quay of two pages')
  await field.press('Enter')
  await page.getByText(/^Kept at/).waitFor()
  const second = await deskOpen(browser, address, context)
  await rested(second.page)
  nextBuild()
  await second.page.evaluate(async () => {
    await (await navigator.serviceWorker.getRegistration())?.update()
  })
  await second.page.getByText(/A newer Waybench is ready/).waitFor()
  // The other page writes this plan.
  const title = second.page.getByRole('complementary', { name: 'Particulars' }).getByRole('textbox', { name: 'Title' })
  await second.page.locator('.masthead .railway').click()
  await title.first().fill('Kept nowhere')
  await title.first().press('Enter')
  await second.button('Change to it')
  await second.page.getByText(/newer Waybench has to wait/).waitFor()
  expect(await second.page.locator('.masthead .railway').innerText()).toMatch(/^Kept nowhere/)
  await second.button('Keep it from here')
  await second.page.getByText(/^Kept at/).waitFor()
  await second.button('Change to it')
  await expect.poll(() => page.evaluate(() => caches.keys()), { timeout: 8000 }).toHaveLength(2)
  await second.page.getByText(/^Kept at|Another page keeps/).waitFor()
  // The page that was not changed still finds its own files, also those that it has not asked for yet.
  await context.setOffline(true)
  await desk.menu('File', /^Plans in this browser/)
  await page.getByRole('heading', { name: /Plans in this browser/ }).waitFor()
  expectNoErrors(desk)
  await context.close()
  await new Promise((closed) => {
    server.closeAllConnections()
    server.close(closed)
  })
})
