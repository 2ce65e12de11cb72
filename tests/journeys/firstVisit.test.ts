import { readFileSync } from 'node:fs'
import { expect, inject, it } from 'vitest'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import { contextOpen, journeysBrowser } from '../support/journeysBrowser.ts'

const browser = await journeysBrowser()

/**
 * From a first visit to a printed turnout on a line of one's own, on a small screen and by what stands on it: whatever is pressed has to be in sight
 * when it is wanted, without scrolling. The browser speaks German: lengths are metric and the paper is A4.
 */
it('leads a stranger from the first look to a turnout on paper', async () => {
  const context = await contextOpen(browser, {
    viewport: { width: 1366, height: 768 },
    locale: 'de-DE',
  })
  const desk = await deskOpen(browser, inject('appAddress'), context)
  const { page } = desk
  let presses = 0
  const press = async (name: string): Promise<void> => {
    const wanted = page.getByRole('button', { name, exact: true })
    await wanted.waitFor()
    const box = await wanted.boundingBox()
    expect(box !== null && box.y >= 0 && box.y + box.height <= 768 && box.x >= 0 && box.x + box.width <= 1366, `${name} in sight`).toBe(
      true,
    )
    // Nothing lies over it: the point in its middle is its own.
    await wanted.click({ trial: true })
    await page.mouse.click((box?.x ?? 0) + (box?.width ?? 0) / 2, (box?.y ?? 0) + (box?.height ?? 0) / 2)
    presses += 1
  }

  await press('Begin a room of your own')
  await press('Begin the new room')
  await press('Add a table by its size')
  await page.keyboard.type('2 m')
  await page.keyboard.press('Tab')
  await page.keyboard.type('700')
  await page.keyboard.press('Tab')
  await press('Add this table')
  await desk.stage('Line')
  await press('Lay a centreline')
  // A start, a gentle corner, an end: nothing that a person would take care of.
  await desk.clickAt(100, 250)
  await desk.clickAt(1000, 250)
  await desk.clickAt(1880, 480)
  await press('Keep this line')
  await press('Place a turnout on it')
  await press('Print its sheets')
  const download = page.waitForEvent('download')
  await press('Save PDF')
  const pdf = readFileSync(await (await download).path())
  expect(pdf.subarray(0, 5).toString()).toBe('%PDF-')
  // A4, 210 by 297 mm in points of 1/72 in.
  expect(pdf.toString('latin1')).toMatch(/MediaBox ?\[ ?0 0 (595\.2\d* 841\.8\d*|841\.8\d* 595\.2\d*)/)
  expect(presses).toBeLessThanOrEqual(10)

  const plan = await desk.savedPlan()
  expect(Object.values(plan.turnouts)).toHaveLength(1)
  expect(Object.values(plan.benchworks)[0]?.outline.map(({ x, y }) => [x, y])).toEqual([
    [0, 0],
    [2000, 0],
    [2000, 700],
    [0, 700],
  ])
  // What was drawn without care is no fault.
  await desk.stage('Checks')
  await expect.poll(() => page.getByRole('region', { name: 'Checks' }).textContent()).toMatch(/^Everything keeps within its limits/)
  expectNoErrors(desk)
})
