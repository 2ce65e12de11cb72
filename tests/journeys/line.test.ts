import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, inject, it } from 'vitest'
import { browserLaunch } from '../../scripts/browser.mjs'
import { deskOpen, expectNoErrors } from '../support/desk.ts'

let browser: Browser
beforeAll(async () => {
  browser = await browserLaunch()
})
afterAll(async () => {
  await browser.close()
})

/** Two straights of the builder's own become one line with a track beside it, and the line is eased in the worker. */
it('joins two ends, lays a parallel and eases the line', async () => {
  const desk = await deskOpen(browser, inject('appAddress'))
  const { page } = desk
  const right = page.getByRole('complementary', { name: 'Particulars' })
  await desk.menu('File', /^New room/)
  await desk.button('Begin the new room')
  await desk.button('Draw benchwork')
  await desk.clickAt(0, 0)
  for (const side of ['3600 mm<0', '2400 mm<90', '3600 mm<180']) await desk.typeOnPlan(side)
  await page.keyboard.press('Enter')
  await page.keyboard.press('Escape')
  await page.keyboard.press('Home')
  await desk.stage('Line')
  for (const [x0, y0, x1, y1] of [
    [300, 300, 1200, 300],
    [3000, 2000, 3000, 2250],
  ] as const) {
    await desk.button('Lay a centreline')
    await desk.clickAt(x0, y0)
    await desk.clickAt(x1, y1)
    await page.keyboard.press('Enter')
    await page.keyboard.press('Escape')
  }
  const drawn = await desk.savedPlan()
  const [first, second] = Object.values(drawn.tracks)
  expect(first?.corners).toEqual([])

  // The end of the first line is joined to the start of the second, chosen by name.
  await right.waitFor()
  await page
    .getByRole('button', { name: new RegExp(`^${first?.name ?? ''}`) })
    .first()
    .click()
  await right.getByRole('button', { name: 'Place of the end' }).click()
  await right.getByRole('button', { name: 'Join this end to…' }).click()
  await right.getByRole('combobox', { name: 'To' }).selectOption({ label: `start of ${second?.name ?? ''}` })
  await right
    .getByRole('button', { name: /keeps the class/ })
    .first()
    .click()
  const joined = (await desk.savedPlan()).tracks[first?.id ?? '']
  expect(joined?.corners.length).toBeGreaterThan(0)
  expect(joined?.end).toEqual(second?.start)

  // A parallel of it is a track of its own.
  await page
    .getByRole('button', { name: new RegExp(`^${first?.name ?? ''}`) })
    .first()
    .click()
  await right.getByRole('button', { name: 'Lay a parallel…' }).click()
  await right.getByRole('button', { name: 'Make the track' }).click()
  expect(Object.keys((await desk.savedPlan()).tracks)).toHaveLength(3)

  // Easing runs beside the page and tells what came of it.
  await right.getByRole('button', { name: 'Ease this line…' }).click()
  await right.getByRole('button', { name: 'Ease it', exact: true }).click()
  await right.getByRole('region', { name: 'Eased line' }).waitFor({ timeout: 30_000 })
  expect(await right.textContent()).toMatch(/Least radiusR .* in.*was R/)
  await right.getByRole('button', { name: 'Close', exact: true }).click()
  expectNoErrors(desk)
})
