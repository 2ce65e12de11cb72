import { readFileSync } from 'node:fs'
import type { Locator, Page } from 'playwright-core'
import { expect, inject, it } from 'vitest'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import { journeysBrowser } from '../support/journeysBrowser.ts'

const browser = await journeysBrowser()

/** Goes on with Tab until the wanted thing has the focus, as one without a pointer must; where that never comes, it is out of reach. */
async function tabTo(page: Page, wanted: Locator): Promise<void> {
  for (let step = 0; step < 150; step++) {
    if ((await wanted.count()) > 0 && (await wanted.first().evaluate((element) => element === document.activeElement))) return
    await page.keyboard.press('Tab')
  }
  throw new Error(`Tab does not lead to ${wanted.toString()}`)
}

async function pressOn(page: Page, wanted: Locator): Promise<void> {
  await tabTo(page, wanted)
  await page.keyboard.press('Enter')
}

async function middleOf(what: Locator): Promise<{ readonly x: number; readonly y: number }> {
  const box = await what.boundingBox()
  if (box === null) throw new Error(`${what.toString()} is not in sight`)
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 }
}

const button = (page: Page, name: string | RegExp): Locator => page.getByRole('button', { name })

it('the whole way from an empty room to sheets goes by keyboard alone', async () => {
  const desk = await deskOpen(browser, inject('appAddress'))
  const { page } = desk
  const stage = (word: string): Promise<void> =>
    pressOn(page, page.getByRole('navigation', { name: 'Stages' }).getByRole('button', { name: new RegExp(`^${word}`) }))

  // A new room, by the menu.
  await pressOn(page, page.getByRole('button', { name: 'File', exact: true }))
  const room = page.getByRole('menuitem', { name: /^New room/ })
  await room.waitFor()
  for (let step = 0; step < 30 && !(await room.evaluate((item) => item === document.activeElement)); step++)
    await page.keyboard.press('ArrowDown')
  await page.keyboard.press('Enter')
  await pressOn(page, button(page, 'Begin the new room'))

  // 1. Benchwork: a first corner in the middle, sides by typed length and angle.
  const table = page.getByRole('application')
  const onTable = (): Promise<void> => expect.poll(() => table.evaluate((canvas) => canvas === document.activeElement)).toBe(true)
  await pressOn(page, button(page, 'Draw benchwork'))
  await onTable()
  await page.keyboard.press(' ')
  for (const side of ['4000mm<0', '1200mm<90', '4000mm<180']) {
    await page.keyboard.type(side)
    await page.keyboard.press('Enter')
  }
  await page.keyboard.press('Enter')

  // 2. A centreline in it.
  await stage('Line')
  await pressOn(page, button(page, 'Lay a centreline'))
  await onTable()
  // Its start by two measures, then length and angle; it runs through the middle of the wood.
  for (const entry of ['1400mm; 1209.6mm', '2900mm<0', '700mm<40']) {
    await page.keyboard.type(entry)
    await page.keyboard.press('Enter')
  }
  await page.keyboard.press('Enter')
  await expect.poll(() => page.getByRole('region', { name: /Track chart of/ }).count()).toBe(1)

  // 3. A turnout on it: the keyboard's cross begins in the middle and goes up or down to the line.
  await stage('Turnouts')
  await pressOn(page, button(page, 'Whole'))
  await pressOn(page, button(page, 'Place a turnout'))
  await onTable()
  const [middle, line] = await Promise.all([middleOf(table), middleOf(page.locator('g.plan .track').first())])
  for (let step = 0; step < 40 && (await page.locator('g.plan .turnout').count()) === 0; step++) {
    await page.keyboard.press(' ')
    await page.keyboard.press(line.y < middle.y ? 'ArrowUp' : 'ArrowDown')
  }
  await expect.poll(() => page.locator('g.plan .turnout').count()).toBe(1)

  // 4. Checks; 5. sheets; 6. the file.
  await stage('Checks')
  await page.getByRole('region', { name: 'Checks' }).waitFor()
  await stage('Sheets')
  const download = page.waitForEvent('download')
  await pressOn(page, button(page, 'Save PDF'))
  expect(
    readFileSync(await (await download).path())
      .subarray(0, 5)
      .toString(),
  ).toBe('%PDF-')
  expectNoErrors(desk)
  await desk.context.close()
}, 60_000)

it('a car that was found among the actions is pushed with the keys at once, the second time too', async () => {
  const desk = await deskOpen(browser, inject('appAddress'))
  const { page } = desk
  const handle = page.getByRole('slider', { name: 'Push along the line' })
  const field = page.getByRole('searchbox', { name: 'Find any action' })
  const has = (what: Locator): Promise<boolean> => what.evaluate((element) => element === document.activeElement)
  await page.getByRole('application').focus()
  // The first time what pushes has to be fetched, and comes when the sheet is long gone.
  for (let time = 0; time < 2; time++) {
    await page.keyboard.press('/')
    await field.waitFor()
    await expect.poll(() => has(field)).toBe(true)
    await page.keyboard.type('push a car')
    await expect.poll(() => field.getAttribute('aria-activedescendant')).toMatch(/.+/)
    await page.keyboard.press('Enter')
    await handle.waitFor()
    // By then the sheet has given the focus back.
    await page.waitForTimeout(300)
    expect(await has(handle)).toBe(true)
    const before = await handle.getAttribute('aria-valuenow')
    await page.keyboard.press('PageUp')
    await expect.poll(() => handle.getAttribute('aria-valuenow')).not.toBe(before)
    await page.keyboard.press('Escape')
    await handle.waitFor({ state: 'detached' })
  }
  expectNoErrors(desk)
  await desk.context.close()
}, 60_000)
