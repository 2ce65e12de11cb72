import { readFileSync } from 'node:fs'
import type { Download } from 'playwright-core'
import { expect, inject, it } from 'vitest'
import { csvRead } from '../support/csvRead.ts'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import { journeysBrowser } from '../support/journeysBrowser.ts'

const browser = await journeysBrowser()

/** The demo railway taken to the bench: what to cut, from what, and what is done already. */
it('lists what to cut and lay, ticks pieces off, keeps that, and takes the lists home', async () => {
  const desk = await deskOpen(browser, inject('appAddress'))
  const { page } = desk
  await desk.stage('Track')
  await desk.button('Show the lists')
  const strips = page.getByRole('region', { name: /^Cutting strips of rail/ }).first()
  await strips.waitFor({ timeout: 60_000 })
  const ticks = strips.getByRole('checkbox')
  expect(await ticks.count()).toBeGreaterThan(100)
  const first = await ticks.first().getAttribute('aria-label')
  await ticks.first().check()
  await page.getByRole('region', { name: 'Rails in the order of laying' }).getByRole('checkbox').nth(1).check()
  expect(Object.values((await desk.savedPlan()).ticks).map(({ done }) => done)).toEqual(['cut', 'laid'])

  // Rail from the shelf goes first: with thirty sticks at hand fewer have to be bought.
  await page.getByRole('button', { name: /^Rail code 83, 36 in/ }).click()
  await page.getByLabel('On hand').fill('30')
  await page.getByLabel('On hand').press('Enter')
  await expect.poll(() => strips.innerText(), { timeout: 60_000 }).toMatch(/44 sticks, 14 of them to buy/)
  // What was cut is cut, whatever the sticks.
  expect(await page.getByRole('checkbox', { name: first ?? '', exact: true }).isChecked()).toBe(true)

  const saved = async (name: string): Promise<Buffer> => {
    const download: Promise<Download> = page.waitForEvent('download')
    await desk.button(name)
    return readFileSync(await (await download).path())
  }
  const rows = csvRead((await saved('Lists as CSV')).toString('utf8').slice(1))
  expect(rows.map(([title]) => title)).toEqual(expect.arrayContaining(['Rails in the order of laying', 'Ties to cut', 'Shopping list']))
  expect((await saved('Lists as PDF')).subarray(0, 5).toString()).toBe('%PDF-')

  await page.reload()
  await page.getByRole('application').waitFor()
  expect(Object.keys((await desk.savedPlan()).ticks)).toHaveLength(2)
  await desk.stage('Roadbed')
  await desk.button('Show the lists')
  await page.getByRole('region', { name: 'Cutting strips of sheet 1' }).waitFor({ timeout: 60_000 })
  expectNoErrors(desk)
}, 180_000)
