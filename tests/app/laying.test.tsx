import '@testing-library/jest-dom/vitest'
import { cleanup, screen, waitFor, within } from '@testing-library/react'
import { afterEach, describe, expect, it, vi } from 'vitest'
import ListPages from '../../src/app/laying/ListPages.tsx'
import RoadbedStage from '../../src/app/laying/RoadbedStage.tsx'
import TrackStage from '../../src/app/laying/TrackStage.tsx'
import { planEmpty } from '../../src/core/plan/index.ts'
import type { Plan } from '../../src/core/plan/index.ts'
import { inlineEngine } from '../../src/engine/inline.ts'
import { sheetFontsRead } from '../../src/engine/fonts.node.ts'
import { cutSolverRead, linearSolverRead } from '../../src/engine/lp.node.ts'
import { solidsRead } from '../../src/engine/solids.node.ts'
import type { Engine } from '../../src/engine/protocol.ts'
import { hand, renderOnDesk, roomPlan } from './desk.tsx'
import type { Desk } from './desk.tsx'

afterEach(() => {
  cleanup()
  vi.restoreAllMocks()
})

const engine = (): Engine => inlineEngine({ fonts: sheetFontsRead, linear: linearSolverRead, cutting: cutSolverRead, solids: solidsRead })

/** The stage of laying with its lists beside it. */
function laying(stage: 'track' | 'roadbed', plan: Plan = roomPlan(), own: Engine = engine()): Desk {
  const Stage = stage === 'track' ? TrackStage : RoadbedStage
  const desk = renderOnDesk(
    <>
      <Stage />
      <ListPages />
    </>,
    plan,
    own,
  )
  desk.stores.session.getState().setStage(stage)
  return desk
}

describe('the Track stage', () => {
  it('makes the lists, says how good they are, and draws every stick', async () => {
    const { stores } = laying('track')
    await screen.findByText('Pieces of rail')
    const lists = stores.laying.getState().answer?.lists
    if (lists === undefined) throw new Error('no lists')
    const strips = screen.getByRole('region', { name: /^Cutting strips of rail/ })
    const [cut] = lists.railCuts
    if (cut?.result.ok !== true) throw new Error('not cut')
    expect(within(strips).getAllByRole('listitem')).toHaveLength(cut.result.plan.stickCount)
    expect(within(strips).getAllByRole('checkbox')).toHaveLength(lists.rails.pieces.length)
    expect(screen.getAllByText(/proven: no cutting takes less/).length).toBeGreaterThan(0)
  })

  it('ticks a piece off as cut and as laid, in steps that are undone, without making the lists anew', async () => {
    const asked = vi.fn()
    const made = engine()
    const { stores } = laying('track', roomPlan(), {
      ...made,
      laying: (...question) => {
        asked()
        return made.laying(...question)
      },
    })
    await screen.findByText('Pieces of rail')
    const mark = stores.laying.getState().answer?.lists.rails.pieces[0]?.id ?? ''
    const ticks = (): readonly (readonly string[])[] =>
      Object.values(stores.plan.getState().plan.ticks).map(({ list, done }) => [list, done])
    await hand.click(screen.getByRole('checkbox', { name: new RegExp(`^${mark}, .*, cut$`) }))
    expect(ticks()).toEqual([['rail', 'cut']])
    await hand.click(screen.getByRole('checkbox', { name: `${mark}, laid` }))
    expect(ticks()).toEqual([['rail', 'laid']])
    expect(screen.getByText('1 · 1')).toBeVisible()
    await hand.click(screen.getByRole('checkbox', { name: `${mark}, laid` }))
    expect(ticks()).toEqual([['rail', 'cut']])
    stores.plan.getState().undo()
    stores.plan.getState().undo()
    await waitFor(() => expect(screen.getByText('1 · 0')).toBeVisible())
    stores.plan.getState().undo()
    expect(ticks()).toEqual([])
    expect(asked).toHaveBeenCalledTimes(1)
  })

  it('tells of what was cut for a plan that is another now', async () => {
    const plan = roomPlan()
    const tick = { id: 'tick-1', list: 'rail', piece: 'gone plain left 83 0.0 500.0', done: 'cut' } as const
    const { stores } = laying('track', { ...plan, ticks: { 'tick-1': tick } })
    expect(await screen.findByText(/^One piece is ticked off and on no list any more/)).toBeVisible()
    await hand.click(screen.getByRole('button', { name: 'Take its tick away' }))
    expect(stores.plan.getState().plan.ticks).toEqual({})
  })

  it('keeps the last lists when they cannot be made anew, says why, and tries again', async () => {
    const made = engine()
    let isBroken = false
    const { stores } = laying('track', roomPlan(), {
      ...made,
      laying: (...question) => (isBroken ? Promise.reject(new Error('The lists could not be made: no room')) : made.laying(...question)),
    })
    await screen.findByText('Pieces of rail')
    isBroken = true
    stores.plan.getState().apply({ kind: 'turnout.set', id: 'turnout-1', change: { stationMm: 800 } })
    expect(await screen.findByText(/no room\. What is listed is as it was\.|The lists could not be made: no room/)).toBeVisible()
    expect(screen.getByText('Pieces of rail')).toBeVisible()
    isBroken = false
    await hand.click(screen.getByRole('button', { name: 'Try again' }))
    await waitFor(() => expect(stores.laying.getState().answerFor).toBe(stores.plan.getState().committed))
  })

  it('is stopped with the best so far', async () => {
    const made = engine()
    const heard: unknown[] = []
    let goOn = (): void => undefined
    const pressed = new Promise<void>((resolve) => {
      goOn = resolve
    })
    const { stores } = laying('track', roomPlan(), {
      ...made,
      laying: (plan, seconds, onProgress) =>
        made.laying(plan, seconds, async (progress) => {
          const first = await onProgress(progress)
          if (progress.kind !== 'cut') return first
          // The solver waits here until the button is pressed, and asks once more.
          await pressed
          const goesOn = await onProgress(progress)
          heard.push(goesOn)
          return goesOn
        }),
    })
    await hand.click(await screen.findByRole('button', { name: 'Stop with the best so far' }))
    goOn()
    await screen.findByText('Pieces of rail')
    expect([heard[0], stores.laying.getState().work]).toEqual([false, { kind: 'rest' }])
  })

  it('teaches what it is for where there is no track', () => {
    laying('track', planEmpty())
    expect(screen.getByText(/It needs a centreline first/)).toBeVisible()
    expect(screen.getByRole('button', { name: 'Lay a centreline' })).toBeVisible()
  })
})

describe('the Roadbed stage', () => {
  it('draws every strip of every sheet, and ticks them off', async () => {
    const { stores } = laying('roadbed')
    await screen.findByText('Strips')
    const work = stores.laying.getState().answer?.lists.roadbed
    const marks = [...(work?.runs ?? []).flatMap(({ pieces }) => pieces), ...(work?.turnoutPieces ?? []).flatMap(({ strips }) => strips)]
    expect(screen.getAllByRole('checkbox')).toHaveLength(marks.length)
    await hand.click(screen.getByRole('checkbox', { name: new RegExp(`^${marks[0]?.id.replaceAll('.', '\\.') ?? ''}, `) }))
    expect(Object.values(stores.plan.getState().plan.ticks).map(({ list, done }) => [list, done])).toEqual([['roadbed', 'cut']])
  })
})
