import { expect, inject, it } from 'vitest'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import { journeysBrowser } from '../support/journeysBrowser.ts'

const browser = await journeysBrowser()

/** The joint that was put in a bad place is found, taken along its rail to where the rules are content, and given back. */
it('takes the joint that is found at the end of a curve along its rail until nothing is found, and gives it back', async () => {
  const desk = await deskOpen(browser, inject('appAddress'))
  const { page } = desk
  await desk.stage('Checks')
  const found = page.getByText('Joint in a bad place')
  await found.first().click()
  await desk.stage('Track')
  const mark = page.locator('.joint-mark[data-chosen]')
  await mark.waitFor({ state: 'attached', timeout: 60_000 })

  const grip = await mark.locator('.joint-grip').boundingBox()
  if (grip === null) throw new Error('The joint is not on the screen.')
  const [x, y] = [grip.x + grip.width / 2, grip.y + grip.height / 2]
  const goTo = async (downPx: number): Promise<void> => {
    await page.mouse.move(x, y)
    await page.mouse.down()
    for (let step = 1; step <= 6; step++) await page.mouse.move(x + 2, y + (downPx * step) / 6)
    await page.locator('.joint-zones').waitFor({ state: 'attached' })
  }
  // The rail runs up the sheet; below, away from the curve, there is room. Escape leaves all as it was.
  await goTo(200)
  await page.keyboard.press('Escape')
  expect(await page.locator('.joint-zones').count()).toBe(0)
  await page.mouse.up()
  const before = await desk.savedPlan()
  expect(Object.values(before.railJoints).map(({ stationMm }) => stationMm)).toEqual([5239.1])

  await goTo(200)
  await page.mouse.up()
  const moved = await desk.savedPlan()
  const [joint] = Object.values(moved.railJoints)
  expect(Math.abs((joint?.stationMm ?? 0) - 5239.1)).toBeGreaterThan(100)
  await expect.poll(() => found.count()).toBe(0)

  // One step, which can be undone; and the joint can be the rules' again.
  await page.keyboard.press('Control+z')
  expect((await desk.savedPlan()).railJoints).toEqual(before.railJoints)
  await page.getByRole('button', { name: 'Give it back to the rules', exact: true }).click()
  expect((await desk.savedPlan()).railJoints).toEqual({})
  await expect.poll(() => page.locator('.joint-mark[data-own]').count(), { timeout: 60_000 }).toBe(0)
  expectNoErrors(desk)
})
