import { readFileSync } from 'node:fs'
import { expect, inject, it } from 'vitest'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import { journeysBrowser } from '../support/journeysBrowser.ts'

const inch = 25.4

const browser = await journeysBrowser()

/** One builder's evening, in order: each step stands on the one before, as it would at the bench. */
it('goes from an empty room to a sheet of paper', async () => {
  const desk = await deskOpen(browser, inject('appAddress'))
  const { page } = desk

  // An empty room is one click and one confirmation away from the demo.
  await desk.menu('File', /^New room/)
  await desk.button('Begin the new room')
  await expect.poll(() => page.getByRole('navigation').textContent()).toContain('Room')

  // 1. Benchwork: one corner clicked, three sides typed in mixed units, and a hole.
  await desk.button('Draw benchwork')
  await desk.clickAt(0, 0)
  await desk.typeOnPlan('8\' 6"<0')
  await desk.typeOnPlan('1200 mm<90')
  await desk.typeOnPlan('102in<180')
  await page.keyboard.press('Enter')
  await page.getByRole('button', { name: 'Whole' }).click()
  await desk.button('Cut a hole')
  for (const [x, y] of [
    [1000, 400],
    [1400, 400],
    [1400, 700],
    [1000, 700],
  ] as const)
    await desk.clickAt(x, y)
  await page.keyboard.press('Enter')
  const drawn = await desk.savedPlan()
  const bench = Object.values(drawn.benchworks)[0]
  const corner = bench?.outline[0] ?? { x: Number.NaN, y: Number.NaN }
  const sides = bench?.outline.map(({ x, y }) => [Math.round((x - corner.x) * 1000) / 1000, Math.round((y - corner.y) * 1000) / 1000])
  expect(sides).toEqual([
    [0, 0],
    [2590.8, 0],
    [2590.8, 1200],
    [0, 1200],
  ])
  expect(bench?.holes).toHaveLength(1)

  // 2. A centreline with one PI: straight, easement, arc, easement, straight.
  await desk.stage('Line')
  await desk.button('Lay a centreline')
  await desk.clickAt(100, 200)
  await desk.clickAt(1900, 200)
  await desk.clickAt(2400, 1100)
  await page.keyboard.press('Enter')
  await expect.poll(async () => page.getByRole('region', { name: /Track chart of/ }).count()).toBe(1)
  const chart = page.getByRole('region', { name: /Track chart of/ })
  await expect.poll(() => chart.textContent()).toContain('in')

  // Typed: a radius in feet and inches; a wrong entry keeps the old value and says why.
  await chart.getByRole('button', { name: /PI 1/ }).click()
  const radius = page.getByRole('textbox', { name: 'Radius' })
  await radius.fill('2 ft 6 in')
  await radius.press('Enter')
  await radius.fill('quite a lot')
  await radius.press('Enter')
  await expect.poll(() => page.getByRole('alert').first().textContent()).toMatch(/quite a lot/)
  await radius.press('Escape')
  expect(Object.values((await desk.savedPlan()).tracks)[0]?.corners[0]?.radius).toBeCloseTo(30 * inch, 9)

  // 3. A turnout on the straight, with a number that is no whole one, and a track from its leg.
  await desk.stage('Turnouts')
  await desk.button('Place a turnout')
  await desk.clickAt(500, 200)
  const frog = page.getByRole('textbox', { name: 'Frog', exact: true })
  await frog.fill('6 1/2')
  await frog.press('Enter')
  await desk.button('Start a track from its leg')
  const withTurnout = await desk.savedPlan()
  expect(Object.values(withTurnout.turnouts)[0]).toMatchObject({ frog: 6.5 })
  expect(Object.values(withTurnout.tracks).some(({ start }) => start.kind === 'leg')).toBe(true)
  expect(await page.locator('g.plan .rail-layer path').count()).toBeGreaterThan(4)

  // 4. A fault made on purpose is found with its figures, and its cure is one click.
  await desk.stage('Line')
  await page.getByRole('button', { name: 'Track 1' }).first().click()
  await chart.first().getByRole('button', { name: /PI 1/ }).click()
  await radius.fill('14in')
  await radius.press('Enter')
  await desk.stage('Checks')
  const checks = page.getByRole('region', { name: 'Checks' })
  await expect.poll(() => checks.textContent()).toMatch(/14 in.*32 in/)
  await checks.getByRole('button', { name: 'Make it 32 in' }).first().click()
  await checks.getByRole('button', { name: 'Apply' }).click()
  await expect.poll(() => checks.textContent()).not.toMatch(/14 in/)

  // 5. Sheets of the turnout as PDF.
  await desk.stage('Sheets')
  const download = page.waitForEvent('download')
  await desk.button('Save PDF')
  const pdf = readFileSync(await (await download).path())
  expect(pdf.subarray(0, 5).toString()).toBe('%PDF-')
  expect(pdf.length).toBeGreaterThan(10_000)

  // 6. Every step can be undone, back to the empty room, and done again.
  const full = await desk.savedPlan()
  await desk.stage('Room')
  const undo = page.getByRole('button', { name: /^Undo/ })
  let steps = 0
  while ((await undo.count()) > 0) {
    await undo.click()
    steps += 1
    expect(steps).toBeLessThan(40)
  }
  const empty = await desk.savedPlan()
  expect([empty.tracks, empty.turnouts, empty.benchworks]).toEqual([{}, {}, {}])
  const redo = page.getByRole('button', { name: /^Redo/ })
  for (let step = 0; step < steps; step++) await redo.click()
  expect(await desk.savedPlan()).toEqual(full)

  // The browser is closed and opened again: everything is as it was.
  await page.waitForTimeout(600)
  await page.close()
  const later = await deskOpen(browser, inject('appAddress'), desk.context)
  expect(await later.savedPlan()).toEqual(full)
  expectNoErrors(later)

  expectNoErrors(desk)
})
