import { readFileSync } from 'node:fs'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest'
import { browserLaunch } from '../../scripts/browser.mjs'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import type { Desk } from '../support/desk.ts'
import { breaches, cutOff, focused, moving, smallTargets } from '../support/readable.ts'
import { calm, dialogViews, panelViews, stageViews } from '../support/views.ts'
import type { DeskView } from '../support/views.ts'

// WCAG 2.2 (W3C Recommendation, 2023), 2.5.8: targets of at least 24 by 24 CSS pixels. On touch this house asks for 44 (2.5.5, level AAA).
const leastPx = { pointer: 24 }
const usual = { width: 1440, height: 900 }
/** What is left of it at 200 % (1.4.4). */
const zoomed = { width: 720, height: 450 }
/** Beside light as usual; tests/app/contrast.test.tsx computes every pair of colours of these and of dark with more contrast. */
const looks = [
  { colorScheme: 'dark', contrast: 'no-preference' },
  { colorScheme: 'light', contrast: 'more' },
] as const

let browser: Browser
beforeAll(async () => {
  browser = await browserLaunch()
})
afterAll(() => browser.close())

/** Opens each view in turn on one desk and gathers what falls short, each with the name of its view. */
async function lookThrough(
  desk: Desk,
  views: readonly DeskView[],
  look: (view: DeskView) => Promise<readonly string[]>,
): Promise<readonly string[]> {
  const found: string[] = []
  for (const view of views) {
    await view.open(desk)
    for (const words of await look(view)) found.push(`${view.name}: ${words}`)
    await calm(desk)
    if ((await focused(desk.page)) === null) found.push(`${view.name}: the focus is lost when it is shut`)
  }
  return found
}

describe('with a pointer', () => {
  let desk: Desk
  beforeAll(async () => {
    desk = await deskOpen(browser, inject('appAddress'), await browser.newContext({ viewport: usual, reducedMotion: 'reduce' }))
  })
  afterAll(() => desk.context.close())

  /** All rules by day; at night and with more contrast those of the colours. Then twice as large. */
  async function faults(): Promise<readonly string[]> {
    const { page } = desk
    const found = [...(await breaches(page)), ...(await smallTargets(page, leastPx.pointer)), ...(await cutOff(page))]
    found.push(...(await moving(page)).map((words) => `moves: ${words}`))
    for (const look of looks) {
      await page.emulateMedia(look)
      for (const words of await breaches(page, { isColour: true })) found.push(`${look.colorScheme}, ${look.contrast}: ${words}`)
    }
    await page.emulateMedia({ colorScheme: 'light', contrast: 'no-preference' })
    await page.setViewportSize(zoomed)
    for (const words of await cutOff(page)) found.push(`at 200 %: ${words}`)
    await page.setViewportSize(usual)
    return found
  }

  it.each([
    ['stages', stageViews],
    ['sheets of words', dialogViews],
    ['panels and tools', panelViews],
  ])('the %s can be read and worked in every look, twice as large, and give the focus back', async (_kind, views) => {
    expect(await lookThrough(desk, views, faults)).toEqual([])
    expectNoErrors(desk)
  })

  it('every sheet of words is among those looked at', () => {
    const source = readFileSync('src/app/App.tsx', 'utf8')
    const [, table = ''] = /const dialogs = \{([^}]*)\}/.exec(source) ?? []
    const known = [...table.matchAll(/(\w+):/g)].map(([, word]) => word)
    expect(known.length).toBeGreaterThan(10)
    expect(dialogViews.flatMap(({ dialog }) => dialog ?? []).toSorted()).toEqual(known.toSorted())
  })
})
