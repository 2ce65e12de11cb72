import { expect, inject, it } from 'vitest'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import type { Desk } from '../support/desk.ts'
import { journeysBrowser } from '../support/journeysBrowser.ts'

const browser = await journeysBrowser()

/** On the chart the top of a curve is its radius: the plan goes along with the hand, Escape gives it back; pointing goes both ways. */
async function radiusPulled({ page }: Desk): Promise<void> {
  const chart = page.getByRole('region', { name: /^Track chart/ })
  const plan = page.getByRole('application')
  await chart.getByRole('button', { name: /^PI 1/ }).click()
  const top = chart.getByRole('slider', { name: 'Radius of PI 1' })
  const told = (): Promise<string> => top.getAttribute('aria-valuetext').then((text) => text?.split(',')[0] ?? '')
  const before = await told()
  const shown = (text: string): Promise<number> => plan.getByText(`R ${text}`, { exact: true }).count()
  expect(await shown(before)).toBe(1)
  const box = await top.boundingBox()
  const [x, y] = [(box?.x ?? 0) + (box?.width ?? 0) / 2, (box?.y ?? 0) + (box?.height ?? 0) / 2]
  const pullUp = async (): Promise<void> => {
    await page.mouse.move(x, y)
    await page.mouse.down()
    await page.mouse.move(x, y - 14, { steps: 4 })
  }
  await pullUp()
  const during = await told()
  expect(during).not.toBe(before)
  await expect.poll(() => shown(during)).toBe(1)
  await page.keyboard.press('Escape')
  await page.mouse.up()
  expect(await told()).toBe(before)
  await pullUp()
  await page.mouse.up()
  expect(await told()).toBe(during)
  await expect.poll(() => page.locator('.canvas .hover-mark').count()).toBe(1)
  await page.keyboard.press('Control+z')
  await expect.poll(told).toBe(before)
}

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

  // In the list of the stage: "Track" is a stage as well, with the count of what is open in it.
  const inList = page.locator('.stage-body').getByRole('button', { name: new RegExp(`^${first?.name ?? ''}`) })

  // The end of the first line is joined to the start of the second, chosen by name.
  await right.waitFor()
  await inList.first().click()
  await right.getByRole('button', { name: 'The end: its place' }).click()
  await right.getByRole('button', { name: 'Join this end to…' }).click()
  await right.getByRole('combobox', { name: 'To' }).selectOption({ label: `start of ${second?.name ?? ''}` })
  await right.getByRole('button', { name: 'Lay this line' }).click()
  await right.getByRole('heading', { name: first?.name ?? '' }).waitFor()
  const joined = (await desk.savedPlan()).tracks[first?.id ?? '']
  expect(joined?.corners.length).toBeGreaterThan(0)
  expect(joined?.end).toEqual(second?.start)

  await radiusPulled(desk)

  // A parallel of it is a track of its own.
  await inList.first().click()
  await right.getByRole('button', { name: 'Lay a parallel…' }).click()
  await right.getByRole('button', { name: 'Make the track' }).click()
  expect(Object.keys((await desk.savedPlan()).tracks)).toHaveLength(3)

  // A track from a turnout's leg goes on beside its host; what is undone gives way to the turnout, and comes back.
  await inList.first().click()
  await right.getByRole('button', { name: 'Place a turnout on it' }).click()
  await right.getByRole('button', { name: 'Start a track from its leg' }).click()
  await right.getByRole('button', { name: /^Lay a parallel to .* from here…$/ }).click()
  await right.getByRole('heading', { name: 'Lay a parallel from the leg' }).waitFor()
  await right.getByRole('button', { name: 'Lay this line' }).click()
  const beside = Object.values((await desk.savedPlan()).tracks)[3]
  expect(beside?.corners).toHaveLength(1)
  await page.keyboard.press('Control+z')
  await page.keyboard.press('Control+z')
  await right.getByRole('button', { name: 'Start a track from its leg' }).waitFor()
  await page.keyboard.press('Control+Shift+z')
  await right.getByRole('region', { name: 'What next' }).waitFor()
  await page.keyboard.press('Control+z')
  await page.keyboard.press('Control+z')
  await inList.first().click()

  // Easing runs beside the page and tells what came of it.
  await right.getByRole('button', { name: 'Ease this line…' }).click()
  await right.getByRole('button', { name: 'Ease it', exact: true }).click()
  await right.getByRole('region', { name: 'Eased line' }).waitFor({ timeout: 30_000 })
  expect(await right.textContent()).toMatch(/Least radiusR .* in.*was R/)
  await right.getByRole('button', { name: 'Close', exact: true }).click()
  expectNoErrors(desk)
})
