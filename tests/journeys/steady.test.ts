import { expect, inject, it } from 'vitest'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import { contextOpen, journeysBrowser } from '../support/journeysBrowser.ts'

const browser = await journeysBrowser()

// The two widths that a small laptop and a tablet held across have.
it.each([1366, 1024])('nothing that comes late moves a field or the plan on a screen %i px wide', async (width) => {
  const context = await contextOpen(browser, { viewport: { width, height: 768 } })
  const desk = await deskOpen(browser, inject('appAddress'), context)
  const { page } = desk
  const placeOf = async (selector: string): Promise<readonly number[]> => {
    const box = await page.locator(selector).first().boundingBox()
    return box === null ? [] : [box.x, box.y, box.width, box.height]
  }
  await desk.stage('Line')
  const chart = page.getByRole('region', { name: /^Track chart/ })
  await chart.waitFor()
  const [plan, head] = [await placeOf('.canvas'), (await placeOf('.chart header'))[3]]
  for (const name of [/^PI 1/, /No\. 7 L/, /^PI 4/]) {
    await chart.getByRole('button', { name }).first().click()
    expect([await placeOf('.canvas'), (await placeOf('.chart header'))[3]]).toEqual([plan, head])
  }

  // PI 4 is too sharp. Its fields stand where they stand with its findings, with fewer, and with more of them.
  const radius = page.getByRole('textbox', { name: 'Radius', exact: true })
  const line = page.locator('.findings-line')
  await expect.poll(() => line.textContent()).toContain('Curve under class radius')
  const before = await radius.boundingBox()
  const type = async (text: string): Promise<void> => {
    await radius.fill(text)
    await radius.press('Enter')
  }
  await type('28 in')
  await expect.poll(() => line.textContent()).not.toContain('Curve under class radius')
  expect((await radius.boundingBox())?.y).toBe(before?.y)
  await type('20 in')
  await expect.poll(() => line.textContent()).toMatch(/^Curve under class radius.* more below$/)
  expect((await radius.boundingBox())?.y).toBe(before?.y)

  // The card lies within the plan, beside the place that it is about, and Escape shuts it before the corner is let go.
  await page.locator('.canvas').focus()
  const card = await page.locator('.finding-card').boundingBox()
  const mark = await page.locator('.finding-mark .place').first().boundingBox()
  if (card === null || mark === null) throw new Error('a corner that is too sharp has its card')
  const [x, y] = [mark.x + mark.width / 2, mark.y + mark.height / 2]
  expect(x > card.x && x < card.x + card.width && y > card.y && y < card.y + card.height).toBe(false)
  await page.keyboard.press('Escape')
  expect(await page.locator('.finding-card').count()).toBe(0)
  expect(await radius.count()).toBe(1)
  await page.keyboard.press('Escape')
  await expect.poll(() => radius.count()).toBe(0)

  // What is pressed in the narrow column lies within it.
  await desk.stage('Checks')
  await page.getByRole('button', { name: 'Report as CSV' }).waitFor()
  const cut = await page.evaluate(() => {
    const column = document.querySelector('.stage-body')?.getBoundingClientRect()
    return [...document.querySelectorAll('.stage-body button')].filter((one) => one.getBoundingClientRect().right > (column?.right ?? 0))
      .length
  })
  expect(cut).toBe(0)
  await desk.menu('View', /^Keys/)
  await page.getByRole('button', { name: 'All as usual' }).waitFor()
  const sheet = await page.evaluate(() => {
    const one = document.querySelector('.sheet-of-words')
    return one === null ? null : one.scrollHeight - one.clientHeight
  })
  expect(sheet).toBe(0)
  await page.keyboard.press('Escape')
  expectNoErrors(desk)
})
