import { expect, inject, it } from 'vitest'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import { contextOpen, journeysBrowser } from '../support/journeysBrowser.ts'

const browser = await journeysBrowser()

it('a tablet: fingers select, pinch and push', async () => {
  const context = await contextOpen(browser, {
    viewport: { width: 1180, height: 820 },
    hasTouch: true,
    isMobile: true,
  })
  const desk = await deskOpen(browser, inject('appAddress'), context)
  const { page } = desk
  await page.getByRole('navigation', { name: 'Stages' }).getByRole('button', { name: /^Line/ }).tap()
  await page.locator('.record-list button').first().tap()
  await expect.poll(() => page.locator('.knob[data-kind="pi"]').count()).toBeGreaterThan(0)
  const lock = await page.getByRole('button', { name: 'Lock it' }).boundingBox()
  expect(Math.min(lock?.width ?? 0, lock?.height ?? 0)).toBeGreaterThanOrEqual(44)

  const transform = (): Promise<string | null> => page.locator('g.plan').getAttribute('transform')
  const before = await transform()
  const box = await page.locator('.canvas').boundingBox()
  const [x, y] = [(box?.x ?? 0) + (box?.width ?? 0) / 2, (box?.y ?? 0) + (box?.height ?? 0) / 2]
  const touch = await context.newCDPSession(page)
  const fingers = (apart: number): { x: number; y: number; id: number }[] => [
    { x: x - apart, y, id: 1 },
    { x: x + apart, y, id: 2 },
  ]
  await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: fingers(60) })
  for (const apart of [80, 100, 120]) {
    await touch.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: fingers(apart) })
    await page.waitForTimeout(40)
  }
  await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] })
  await expect.poll(transform).not.toBe(before)

  // A press that stays opens what a right click opens; one that moves pushes the plan instead.
  await page.getByRole('button', { name: 'Whole' }).tap()
  const pi = await page.locator('.knob[data-kind="pi"]').first().boundingBox()
  const at = { x: (pi?.x ?? 0) + (pi?.width ?? 0) / 2, y: (pi?.y ?? 0) + (pi?.height ?? 0) / 2, id: 1 }
  const items = page.getByRole('menuitem')
  await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ x: x + 20, y, id: 1 }] })
  await touch.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: [{ x: x + 60, y, id: 1 }] })
  await page.waitForTimeout(700)
  await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] })
  expect(await items.count()).toBe(0)
  await page.getByRole('button', { name: 'Whole' }).tap()
  await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [at] })
  await expect.poll(() => items.count()).toBeGreaterThan(0)
  await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] })
  expect(await page.getByRole('menu').getAttribute('aria-label')).toMatch(/^PI \d+ of /)
  const heights = await items.evaluateAll((all) => all.map((one) => one.getBoundingClientRect().height))
  expect(Math.min(...heights)).toBeGreaterThanOrEqual(44)
  await page.getByRole('menuitem', { name: /^Take the selection out/ }).tap()
  await page
    .getByText(/^Undo: /)
    .first()
    .waitFor()
  expectNoErrors(desk)
  await context.close()
})
