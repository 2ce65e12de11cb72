import { readFileSync } from 'node:fs'
import { expect, inject, it } from 'vitest'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import { journeysBrowser } from '../support/journeysBrowser.ts'

const browser = await journeysBrowser()

/** A room as measured, with a door in the way of its benchwork: found, cured, lived with for a reason, and told in the report. */
it('draws a room with its door, hatch and joist, cures what is found, and silences the rest with a reason', async () => {
  const desk = await deskOpen(browser, inject('appAddress'))
  const { page } = desk
  await desk.menu('File', /^New room/)
  await desk.button('Begin the new room')

  await desk.button('Draw walls')
  await desk.clickAt(0, 0)
  for (const side of ['4000 mm<0', '3000 mm<90', '4000 mm<180', '3000 mm<270']) await desk.typeOnPlan(side)
  await page.keyboard.press('Enter')
  await page.keyboard.press('Escape')
  await page.keyboard.press('Home')
  await desk.button('Draw benchwork')
  await desk.clickAt(1300, 120)
  for (const side of ['1500 mm<0', '700 mm<90', '1500 mm<180']) await desk.typeOnPlan(side)
  await page.keyboard.press('Enter')
  await page.keyboard.press('Escape')
  await desk.button('Make a door, passage or window')
  await desk.clickAt(1400, 20)
  await page.keyboard.press('Escape')
  await desk.button('Draw a hatch')
  await desk.clickAt(1900, 720)
  for (const side of ['400 mm<0', '400 mm<270', '400 mm<180']) await desk.typeOnPlan(side)
  await page.keyboard.press('Enter')
  await page.keyboard.press('Escape')
  await desk.button('Draw a joist or riser')
  await desk.clickAt(2400, 150)
  await desk.typeOnPlan('600 mm<90')
  await page.keyboard.press('Escape')

  const drawn = await desk.savedPlan()
  expect(Object.values(drawn.walls).map(({ points, isClosed }) => [points.length, isClosed])).toEqual([[4, true]])
  expect(Object.values(drawn.hatches).map(({ outline }) => outline.length)).toEqual([4])
  expect(Object.values(drawn.joists)).toHaveLength(1)
  const [door] = Object.values(drawn.openings)
  expect(door?.leaf).toMatchObject({ side: 'left' })

  // The door meets the benchwork: hung to open out of the room it does not.
  await desk.stage('Checks')
  const row = (title: RegExp) => page.getByRole('listitem').filter({ hasText: title })
  await row(/door/i)
    .getByRole('button', { name: /^Hang it/ })
    .click()
  await page.getByRole('button', { name: 'Apply' }).click()
  await expect.poll(() => row(/opens.*and meets/i).count()).toBe(0)
  expect(Object.values((await desk.savedPlan()).openings)[0]?.leaf).not.toEqual(door?.leaf)

  // The hatch is too small for most, and the builder is not most.
  const hatch = row(/hatch/i).first()
  await hatch.getByRole('button', { name: /^Leave this one be/ }).click()
  await page.getByLabel('Why it may stay').fill('Only the youngest of us goes there')
  await page.getByRole('button', { name: 'Silence it here' }).click()
  await expect
    .poll(() =>
      row(/hatch/i)
        .getByRole('button', { name: /^Leave this one be/ })
        .count(),
    )
    .toBe(0)

  // It is in the report, with the reason; and there again after the page was closed.
  const download = page.waitForEvent('download')
  await desk.button('Report as CSV')
  const csv = readFileSync(await (await download).path(), 'utf8')
  expect(csv).toContain('Only the youngest of us goes there')
  expect(csv).toMatch(/hatch/i)
  const kept = await desk.savedPlan()
  await page.reload()
  await page.getByRole('application').waitFor()
  expect(await desk.savedPlan()).toEqual(kept)
  expectNoErrors(desk)
}, 60_000)
