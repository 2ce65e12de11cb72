import { gzipSync } from 'node:zlib'
import { expect, inject, it } from 'vitest'
import { contextOpen, journeysBrowser } from '../support/journeysBrowser.ts'

const browser = await journeysBrowser()

/** Names of what the page's head asks for, and of all that these import before they run. */
async function firstScripts(address: string): Promise<ReadonlyMap<string, Buffer>> {
  const page = await (await fetch(address)).text()
  const wanted = [...page.matchAll(/(?:src|href)="\.\/(assets\/[^"]+\.js)"/g)].map(([, name]) => name ?? '')
  const found = new Map<string, Buffer>()
  for (let name = wanted.pop(); name !== undefined; name = wanted.pop()) {
    if (found.has(name)) continue
    const code = Buffer.from(await (await fetch(new URL(name, address))).arrayBuffer())
    found.set(name, code)
    for (const [, next] of code.toString().matchAll(/(?:from|import)\s*["']\.\/([^"']+\.js)["']/g)) wanted.push(`assets/${next}`)
  }
  return found
}

it('is under 200 kB gzipped before anything is seen', async () => {
  const scripts = await firstScripts(inject('appAddress'))
  const kb = [...scripts.values()].reduce((sum, code) => sum + gzipSync(code, { level: 9 }).length / 1000, 0)
  expect(scripts.size).toBeGreaterThan(1)
  // React and its DOM alone are 65 kB: less would be another page.
  expect(kb).toBeGreaterThan(65)
  expect(kb).toBeLessThan(200)
})

it('keeps its layout, and loses nothing that a quick hand does, while the rest is on its way', async () => {
  const address = inject('appAddress')
  const first = await firstScripts(address)
  const context = await contextOpen(browser)
  let release: () => void = () => undefined
  const released = new Promise<void>((resolve) => {
    release = resolve
  })
  await context.route(/assets\/.*\.js$/, async (route) => {
    if (!first.has(new URL(route.request().url()).pathname.slice(1))) await released
    await route.continue()
  })
  const page = await context.newPage()
  const errors: string[] = []
  page.on('pageerror', (error) => errors.push(error.message))
  await page.goto(address)
  // The plan is there, the tools are not.
  await page.locator('g.plan .rail-layer path').first().waitFor({ state: 'attached' })
  const plan = page.getByRole('application')
  expect(await plan.getAttribute('aria-busy')).toBe('true')
  const places = async () => Promise.all(['.table', '.right', '.below', '.stages'].map((part) => page.locator(part).boundingBox()))
  const before = await places()
  await page.getByRole('button', { name: 'Guide', exact: true }).click()
  for (const [x, y] of [
    [600, 300],
    [760, 380],
  ] as const) {
    await page.mouse.click(x, y)
    await page.waitForTimeout(30)
  }
  release()
  await page.getByRole('button', { name: /^Undo:/ }).waitFor()
  await page.locator('.chart-rows').waitFor()
  await page.locator('.right h2').first().waitFor()
  expect(await places()).toEqual(before)
  expect(await page.locator('[role=application]:not([aria-busy])').count()).toBe(1)
  expect(errors).toEqual([])
  await context.close()
})
