import '@testing-library/jest-dom/vitest'
import { readFileSync } from 'node:fs'
import { act, cleanup, screen, waitFor, within } from '@testing-library/react'
import fc from 'fast-check'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { App } from '../../src/app/App.tsx'
import { StageColumn } from '../../src/app/stages/StageColumn.tsx'
import type { Plan } from '../../src/core/plan/types.ts'
import { planRead } from '../../src/formats/planjson.ts'
import type { StageName } from '../../src/store/types.ts'
import { planArbitrary } from '../support/planArbitraries.ts'
import { hand, renderOnDesk, roomPlan } from './desk.tsx'

beforeEach(() => localStorage.clear())
afterEach(cleanup)

function demo(name: string): Plan {
  const read = planRead(readFileSync(`public/demo/${name}.json`, 'utf8'))
  if (!read.ok) throw new Error(`the demo ${name} does not read`)
  return read.plan
}

/** What lies in a plan, by the stage whose column speaks it and the heading that it stands under there. */
const spoken: readonly { readonly stage: StageName; readonly title: string; readonly of: (plan: Plan) => object }[] = [
  { stage: 'room', title: 'Benchwork', of: ({ benchworks }) => benchworks },
  { stage: 'room', title: 'Walls', of: ({ walls }) => walls },
  { stage: 'room', title: 'Doors, passages, windows', of: ({ openings }) => openings },
  { stage: 'room', title: 'Posts and the like', of: ({ obstacles }) => obstacles },
  { stage: 'room', title: 'Hatches', of: ({ hatches }) => hatches },
  { stage: 'room', title: 'Joists and risers', of: ({ joists }) => joists },
  { stage: 'room', title: 'Portals', of: ({ portals }) => portals },
  { stage: 'line', title: 'Tracks', of: ({ tracks }) => tracks },
  { stage: 'turnouts', title: 'Turnouts', of: ({ turnouts }) => turnouts },
]

const squeezed = (text: string): string => text.replaceAll(/\s+/g, ' ').trim()

/** Every record has a button under its heading that is called by its name, in the order of the plan; pressing it selects it. */
function expectSpoken(plan: Plan): void {
  const { stores } = renderOnDesk(<StageColumn />, plan)
  for (const { stage, title, of } of spoken) {
    act(() => stores.session.getState().setStage(stage))
    const records = Object.values(of(plan)) as readonly { readonly id: string; readonly name: string }[]
    const heading = screen.queryByRole('heading', { name: title })
    const list = heading?.parentElement?.querySelector('ul') ?? null
    const buttons = list === null ? [] : within(list).getAllByRole('button')
    expect([title, buttons.length]).toEqual([title, records.length])
    for (const [i, record] of records.entries()) {
      // A thing without a name is called by its kind, never by nothing.
      const name = squeezed(record.name)
      expect(buttons[i]).toHaveAccessibleName()
      expect(squeezed(buttons[i]?.textContent ?? '').startsWith(name)).toBe(true)
      act(() => buttons[i]?.click())
      expect(stores.session.getState().selection).toMatchObject({ kind: 'record', id: record.id })
    }
  }
  // Crossings are found, not placed: they stand with the turnouts, where that stage is shown still.
  const crossings = screen.queryByRole('heading', { name: 'Crossings' })?.parentElement?.querySelectorAll('li button')
  expect(crossings?.length ?? 0).toBe(stores.derived.getState().derived.network.crossings.size)
  act(() => stores.session.getState().setStage('checks'))
  const { findings } = stores.derived.getState()
  const told = [...document.querySelectorAll('.finding-go')]
  expect(told).toHaveLength(findings.length)
  const numbers = told.map((button) => Number(button.querySelector('.finding-number')?.textContent))
  expect(numbers.toSorted((a, b) => a - b)).toEqual(findings.map((_, i) => i + 1))
  for (const button of told) expect(button).toHaveAccessibleName(/\S+ .*(Error|Warning)/)
}

describe('the lists beside the canvas', () => {
  it.each(['fennimore', 'shelf'])('speak all of the demo %s', (name) => expectSpoken(demo(name)), 60_000)

  it('speak all of any plan', () => {
    fc.assert(
      fc.property(planArbitrary, (plan) => {
        // What fails is tried smaller and smaller, and what stays mounted then fills the memory.
        try {
          expectSpoken(plan)
        } finally {
          cleanup()
        }
      }),
      { seed: 20261127, numRuns: 12 },
    )
  }, 120_000)

  it('are gone through with the arrow keys; what is chosen is gone to by pressing it again, and moved there', async () => {
    const first = roomPlan()
    const track = first.tracks['track-1']
    if (track === undefined) throw new Error('the plan of the tests has a track')
    const plan = { ...first, tracks: { ...first.tracks, 'track-2': { ...track, id: 'track-2', name: 'Other line' } } }
    const { stores } = renderOnDesk(<App />, plan)
    act(() => stores.session.getState().setStage('line'))
    const one = await screen.findByRole('button', { name: /^Harbour line/ })
    const other = screen.getByRole('button', { name: /^Other line/ })
    act(() => one.focus())
    await hand.keyboard('{ArrowDown}')
    expect(other).toHaveFocus()
    expect(stores.session.getState().selection.kind).toBe('none')
    await hand.keyboard('{ArrowDown}')
    expect(other).toHaveFocus()
    await hand.keyboard('{Enter}')
    expect(other).toHaveAccessibleDescription('press again: to the plan')
    expect(one).not.toHaveAccessibleDescription()
    await hand.keyboard('{ArrowUp}')
    expect(one).toHaveFocus()
    expect(stores.session.getState().selection).toMatchObject({ id: 'track-2' })
    await hand.keyboard('{ArrowDown}{Enter}')
    expect(screen.getByRole('application')).toHaveFocus()
    await hand.keyboard('{ArrowRight}')
    // Told by a number: to print a stack of plans takes all the memory that there is.
    await waitFor(() => expect(stores.plan.getState().undoStack.length).toBe(1), { timeout: 10_000 })
    const moved = stores.plan.getState().plan.tracks['track-2']
    expect(moved?.corners[0]?.x).toBeGreaterThan(track.corners[0]?.x ?? Infinity)
  })
})
