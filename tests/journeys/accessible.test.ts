import { readFileSync } from 'node:fs'
import { afterAll, beforeAll, describe, expect, inject, it, vi } from 'vitest'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import type { Desk } from '../support/desk.ts'
import { contextOpen, journeysBrowser } from '../support/journeysBrowser.ts'
import { breaches, cutOff, focused, moving, smallTargets } from '../support/readable.ts'
import { calm, dialogViews, fieldViews, panelViews, stageViews } from '../support/views.ts'
import type { DeskView } from '../support/views.ts'

// WCAG 2.2 (W3C Recommendation, 2023), 2.5.8: targets of at least 24 by 24 CSS pixels. On touch this house asks for 44 (2.5.5, level AAA).
const leastPx = { pointer: 24, touch: 44 }
const usual = { width: 1440, height: 900 }
/** What is left of it at 200 % (1.4.4). */
const zoomed = { width: 720, height: 450 }
const tablet = { width: 1180, height: 820 }
/** As narrow as nothing on a page may be lost at (1.4.10). */
const narrow = { width: 320, height: 640 }
/** Beside light as usual; tests/app/contrast.test.tsx computes every pair of colours of these and of dark with more contrast. */
const looks = [
  { colorScheme: 'dark', contrast: 'no-preference' },
  { colorScheme: 'light', contrast: 'more' },
] as const

// There are as many views as the app has words, and each takes a second or two on a machine that does other work as well.
vi.setConfig({ testTimeout: 150_000 })

const browser = await journeysBrowser()

/** Opens each view in turn on one desk and gathers what falls short, each with the name of its view. */
async function lookThrough(
  desk: Desk,
  views: readonly DeskView[],
  look: (view: DeskView) => Promise<readonly string[]>,
): Promise<readonly string[]> {
  const found: string[] = []
  for (const view of views) {
    await view.open(desk)
    await desk.arrived()
    for (const words of await look(view)) found.push(`${view.name}: ${words}`)
    await calm(desk)
    if ((await focused(desk.page)) === null) found.push(`${view.name}: the focus is lost when it is shut`)
  }
  return found
}

describe('with a pointer', () => {
  let desk: Desk
  beforeAll(async () => {
    desk = await deskOpen(browser, inject('appAddress'), await contextOpen(browser, { viewport: usual }))
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
    ['panels and tools', [...fieldViews, ...panelViews]],
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

describe('with a finger', () => {
  it('all that can be pressed is large enough and nothing is cut off, on a tablet and on a page as narrow as a pocket', async () => {
    const context = await contextOpen(browser, { viewport: tablet, hasTouch: true, isMobile: true })
    const desk = await deskOpen(browser, inject('appAddress'), context)
    const { page } = desk
    const here = async (): Promise<readonly string[]> => [...(await smallTargets(page, leastPx.touch)), ...(await cutOff(page))]
    const faults = async (): Promise<readonly string[]> => {
      const found = [...(await here())]
      await page.setViewportSize(narrow)
      for (const words of await here()) found.push(`narrow: ${words}`)
      await page.setViewportSize(tablet)
      return found
    }
    expect(await lookThrough(desk, [...stageViews, ...dialogViews, ...panelViews], faults)).toEqual([])
    await context.close()
  })
})

describe('the focus', () => {
  it('stays with the hand when what had it goes: things taken out, steps taken back, cures made, drawers changed', async () => {
    const context = await contextOpen(browser, { viewport: usual })
    const desk = await deskOpen(browser, inject('appAddress'), context)
    const { page } = desk
    const lost: string[] = []
    const kept = async (after: string, wanted?: RegExp): Promise<void> => {
      const isKept = (now: string | null): boolean => now !== null && wanted?.test(now) !== false
      // A sheet gives the focus back within a few frames, which last longer on a machine that does other work as well.
      let now = await focused(page)
      for (let look = 0; look < 20 && !isKept(now); look++) {
        await page.waitForTimeout(100)
        now = await focused(page)
      }
      if (!isKept(now)) lost.push(`${after}: ${now ?? 'nothing has it'}`)
    }
    const press = async (name: string | RegExp): Promise<void> => {
      await page.getByRole('button', { name }).first().focus()
      await page.keyboard.press('Enter')
    }
    const track = async (): Promise<void> => {
      await desk.stage('Line')
      await page.locator('.record-list button').filter({ hasText: 'Ice house' }).first().focus()
      await page.keyboard.press('Enter')
    }

    await track()
    await kept('a track chosen in the list', /Ice house/)
    await press('Take this track out')
    await kept('a track taken out in its particulars', /Particulars/)
    await page.keyboard.press('Control+z')
    await kept('undo by its key')
    await track()
    await page.keyboard.press('Delete')
    await kept('a track taken out with its row in the list', /Line/)
    await press(/^Undo:/)
    await kept('the last step undone with its button', /Kept, steps, actions/)
    await press(/^Redo:/)
    await kept('redone')
    await press(/^Undo:/)
    for (const stage of ['Room', 'Roadbed', 'Checks', 'Sheets', 'Turnouts']) {
      await press(new RegExp(`^${stage}`))
      await kept(`the stage ${stage} begun`, new RegExp(stage))
    }
    await press(/^Checks/)
    const silence = page.getByRole('button', { name: /^Leave this one be/ }).first()
    await silence.focus()
    await page.keyboard.press('Enter')
    await page.getByRole('textbox', { name: 'Why it may stay' }).first().focus()
    await page.keyboard.type('The crew knows.')
    await page.keyboard.press('Enter')
    await kept('a finding silenced')
    await press('Measure')
    await kept('a tool taken up', /Plan/)
    await page.keyboard.press('Escape')
    await kept('a tool laid down', /Plan/)

    // Twice as large: what had the focus goes out of sight with its drawer.
    await page.setViewportSize(zoomed)
    await track()
    await kept('a track chosen on a narrow page', /Particulars/)
    expect(lost).toEqual([])
    await context.close()
  })
})
