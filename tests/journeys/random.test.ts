import { expect, inject, it } from 'vitest'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import type { Desk } from '../support/desk.ts'
import { journeysBrowser } from '../support/journeysBrowser.ts'

const browser = await journeysBrowser()

/** Whole numbers below n that look like chance and are the same in each run (minimal standard generator of Park and Miller). */
function chance(seed: number): (n: number) => number {
  let state = seed
  return (n) => {
    state = (state * 16_807) % 2_147_483_647
    return state % n
  }
}

const stages = ['Room', 'Line', 'Turnouts', 'Track']
const tools = ['Draw benchwork', 'Cut a hole', 'Draw walls', 'Draw a hatch', 'Draw a joist or riser', 'Lay a centreline', 'Place a turnout']
const nudges = ['ArrowLeft', 'ArrowUp', 'Shift+ArrowRight', 'Alt+ArrowDown']
const keys = ['Escape', 'Enter', 'Delete', 'Control+z', 'Control+Shift+z']
const typed = ['250<30', '@40; -30', '600', '7']

/** Presses one of the buttons in sight that begin with these words, without the waiting that a person would need. */
function press({ page }: Desk, what: string, words: string | null = null, n = 0): Promise<void> {
  return page.evaluate(
    ([selector, begin, count]) => {
      const seen = [...document.querySelectorAll<HTMLElement>(selector)].filter(
        (button) => button.checkVisibility() && (begin === null || button.innerText.startsWith(begin)),
      )
      seen[count % Math.max(seen.length, 1)]?.click()
    },
    [what, words, n] as const,
  )
}

/** One thing that a hand may do, whatever has come before. */
async function act(desk: Desk, below: (n: number) => number): Promise<void> {
  const { page } = desk
  const [x, y] = [420 + below(600), 120 + below(460)]
  switch (below(12)) {
    case 0:
    case 1:
      return page.mouse.click(x, y)
    case 2:
    case 3:
      await page.mouse.move(x, y)
      await page.mouse.down()
      await page.mouse.move(x + below(80) - 40, y + below(80) - 40)
      return page.mouse.up()
    case 4:
      return press(desk, 'button', below(4) === 0 ? stages[below(stages.length)] : tools[below(tools.length)])
    case 5:
      await page.keyboard.type(typed[below(typed.length)] ?? '')
      return page.keyboard.press('Enter')
    case 6:
      return page.keyboard.press(keys[below(keys.length)] ?? 'Escape')
    case 7:
    case 8:
      // Something of the list beside the plan.
      return press(desk, '.stage-body li button', null, below(40))
    default:
      return page.keyboard.press(nudges[below(nudges.length)] ?? 'ArrowLeft')
  }
}

it('500 random actions in the browser: before all of them it is the first plan, and by the list of steps the last again', async () => {
  const desk = await deskOpen(browser, inject('appAddress'))
  const { page } = desk
  const first = await desk.savedPlan()
  await page.mouse.click(700, 300)
  const below = chance(20261126)
  for (let i = 0; i < 500; i++) await act(desk, below)
  for (let i = 0; i < 3; i++) await page.keyboard.press('Escape')
  const last = await desk.savedPlan()
  expect(last).not.toEqual(first)

  await desk.button('All steps…')
  const steps = page.getByRole('dialog').getByRole('listitem').getByRole('button')
  await steps.last().waitFor()
  // Most of what a random hand does comes to nothing or goes on with the last step; enough of it must come to something.
  expect(await steps.count()).toBeGreaterThan(5)
  const labels = await steps.allInnerTexts()
  const at = labels.findIndex((label) => label.endsWith('as it is'))
  await steps.last().click()
  await page.keyboard.press('Escape')
  await page.getByText('Nothing to undo').waitFor()
  expect(await desk.savedPlan()).toEqual(first)
  await desk.button('All steps…')
  await steps.nth(at).click()
  await page.keyboard.press('Escape')
  expect(await desk.savedPlan()).toEqual(last)
  expectNoErrors(desk)
  await desk.context.close()
})
