import { readFileSync } from 'node:fs'
import type { Browser, BrowserContext, Page, Request } from 'playwright-core'
import { expect } from 'vitest'
import { pathUnitMm } from '../../src/app/canvas/svgPath.ts'
import type { Plan } from '../../src/core/plan/types.ts'
import { planRead } from '../../src/formats/planjson.ts'
import { contextOpen } from './journeysBrowser.ts'

/** The app in a browser page as a person has it, with words for what a person does. */
export interface Desk {
  readonly page: Page
  readonly context: BrowserContext
  /** Errors that the page threw or logged; a journey ends with none. */
  readonly errors: readonly string[]
  /** Ends when all parts of the app that were called for have come and are drawn: what comes late would lie over what is done next. */
  arrived(): Promise<void>
  stage(word: string): Promise<void>
  button(name: string | RegExp): Promise<void>
  menu(word: string, item: string | RegExp): Promise<void>
  /** Pointer at a place of the plan, mm. */
  moveTo(x: number, y: number): Promise<void>
  clickAt(x: number, y: number): Promise<void>
  drag(from: readonly [number, number], to: readonly [number, number]): Promise<void>
  /** Types into the plan itself and presses Enter. */
  typeOnPlan(text: string): Promise<void>
  /** Reads the plan as a person would take it home: through "Save plan". */
  savedPlan(): Promise<Plan>
}

export async function deskOpen(browser: Browser, address: string, context?: BrowserContext): Promise<Desk> {
  const own = context ?? (await contextOpen(browser))
  const page = await own.newPage()
  page.setDefaultTimeout(15_000)
  const errors: string[] = []
  page.on('pageerror', (error) => errors.push(error.message))
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text())
  })
  const awaited = new Set<Request>()
  page.on('request', (request) => awaited.add(request))
  page.on('requestfinished', (request) => awaited.delete(request))
  page.on('requestfailed', (request) => awaited.delete(request))
  await page.goto(address)
  // The tool in the hand comes behind the picture.
  await page.locator('[role=application]:not([aria-busy])').waitFor()

  async function screenAt(x: number, y: number): Promise<{ readonly x: number; readonly y: number }> {
    const at = await page.locator('g.plan').evaluate(
      (plan, [px, py]) => {
        const matrix = (plan as SVGGraphicsElement).getScreenCTM()
        if (matrix === null) throw new Error('The plan is not on the screen.')
        const point = new DOMPoint(px, py).matrixTransform(matrix)
        return { x: point.x, y: point.y }
      },
      [x / pathUnitMm, y / pathUnitMm] as const,
    )
    return at
  }

  const desk: Desk = {
    page,
    context: own,
    errors,
    async arrived() {
      do {
        while (awaited.size > 0) await page.waitForTimeout(20)
        // One that has come may call for the next, and is drawn a frame later.
        await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))))
      } while (awaited.size > 0)
    },
    async stage(word) {
      await page
        .getByRole('navigation', { name: 'Stages' })
        .getByRole('button', { name: new RegExp(`^${word}`) })
        .click()
    },
    async button(name) {
      await page.getByRole('button', { name }).first().click()
    },
    async menu(word, item) {
      await page.getByRole('button', { name: word, exact: true }).click()
      await page.getByRole('menuitem', { name: item }).click()
    },
    async moveTo(x, y) {
      const at = await screenAt(x, y)
      await page.mouse.move(at.x, at.y)
    },
    async clickAt(x, y) {
      const at = await screenAt(x, y)
      await page.mouse.move(at.x, at.y)
      await page.mouse.down()
      await page.mouse.up()
      // Two clicks in a row at neighbouring places must not count as a double click.
      await page.waitForTimeout(30)
    },
    async drag(from, to) {
      const start = await screenAt(...from)
      const end = await screenAt(...to)
      await page.mouse.move(start.x, start.y)
      await page.mouse.down()
      for (let step = 1; step <= 8; step++) {
        await page.mouse.move(start.x + ((end.x - start.x) * step) / 8, start.y + ((end.y - start.y) * step) / 8)
      }
      await page.mouse.up()
    },
    async typeOnPlan(text) {
      await page.keyboard.type(text)
      await page.keyboard.press('Enter')
    },
    async savedPlan() {
      const download = page.waitForEvent('download')
      await desk.menu('File', /^Save plan/)
      const path = await (await download).path()
      const read = planRead(readFileSync(path, 'utf8'))
      if (!read.ok) throw new Error(`The saved plan does not read: ${JSON.stringify(read.problem)}`)
      return read.plan
    },
  }
  return desk
}

export function expectNoErrors(desk: Desk): void {
  expect(desk.errors).toEqual([])
}
