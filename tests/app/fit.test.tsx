import '@testing-library/jest-dom/vitest'
import { act, cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { fitBegin } from '../../src/app/fit/survey.ts'
import { Particulars } from '../../src/app/particulars/Particulars.tsx'
import { sheetFontsRead } from '../../src/engine/fonts.node.ts'
import { inlineEngine } from '../../src/engine/inline.ts'
import { cutSolverRead, linearSolverRead } from '../../src/engine/lp.node.ts'
import { solidsRead } from '../../src/engine/solids.node.ts'
import type { Engine } from '../../src/engine/protocol.ts'
import { aTraverse, solvedPath, surveyed } from '../support/tracing.ts'
import { hand, renderOnDesk } from './desk.tsx'
import type { Desk } from './desk.tsx'

afterEach(cleanup)

// A quarter circle of 500 mm between two straights of 500 mm, measured at 60 places without error.
const path = solvedPath(aTraverse([0, 0], [[1000, 0, 500, 0, 0]], [1000, 1000]))
const { points } = surveyed(path, 60, 0, 0, 1)
const listOf = (places: readonly { readonly x: number; readonly y: number }[]): string =>
  ['x_mm,y_mm', ...places.map(({ x, y }) => `${x},${y}`)].join('\n')

async function fitting(
  engine: Engine = inlineEngine({ fonts: sheetFontsRead, linear: linearSolverRead, cutting: cutSolverRead, solids: solidsRead }),
): Promise<Desk> {
  const desk = renderOnDesk(<Particulars />, undefined, engine)
  act(() => fitBegin(desk.stores, desk.desk))
  await screen.findByRole('heading', { name: 'Fit to measured points' })
  return desk
}

function paste(text: string): void {
  fireEvent.change(screen.getByRole('textbox', { name: /^Points, one a line/ }), { target: { value: text } })
}

async function take(text: string): Promise<void> {
  paste(text)
  // The button says how many once the list is read.
  await hand.click(await screen.findByRole('button', { name: /^Take (these \d|this point|the \d)/ }))
}

const fact = async (label: string): Promise<HTMLElement> => {
  const found = (await screen.findByText(label)).parentElement
  if (found === null) throw new Error(label)
  return found
}

describe('fitting a line to measured points', () => {
  it('shows the pieces, lists the offsets, and lays the track in one step', async () => {
    const { stores, desk } = await fitting()
    await take(listOf(points))
    expect(await fact('Worst')).toHaveTextContent('0.000 in')
    // 500 mm are 19.685 in: 19 11/16 in to the nearest 64th, sharper than the least demanding class of the plan allows.
    const pieces = within(screen.getByRole('region', { name: 'Fitted line' })).getAllByRole('listitem')
    expect(pieces.map((piece) => piece.firstChild?.textContent)).toEqual(['Tangent', 'Arc R 19¹¹⁄₁₆ in', 'Tangent'])
    expect(pieces[1]).toHaveTextContent('class ≥ 24 in')
    await waitFor(() => expect(desk.getState().trial?.chosen?.lengthMm).toBeCloseTo(path.lengthMm, 4))
    await hand.click(screen.getByRole('button', { name: 'Lay it as a track' }))
    const { plan, undoStack } = stores.plan.getState()
    expect(undoStack).toHaveLength(1)
    const [track] = Object.values(plan.tracks).filter(({ id }) => id !== 'track-1')
    expect(track?.corners).toHaveLength(1)
    expect(track?.corners[0]?.radius).toBeCloseTo(500, 4)
    expect(stores.session.getState().selection).toEqual({ kind: 'record', table: 'tracks', id: track?.id })
    expect(desk.getState()).toMatchObject({ lineAct: null, trial: null })
    // The points are still there for another try.
    expect(desk.getState().survey?.places).toHaveLength(60)
  }, 60_000)

  it('flags a gross error; held to, it pulls, and left out it is nothing', async () => {
    const { desk } = await fitting()
    await take(listOf(points.map((point, i) => (i === 12 ? { x: point.x, y: point.y + 6 } : point))))
    expect(await fact('Worst')).toHaveTextContent('0.000 in')
    const counts = screen.getByRole('checkbox', { name: 'Point 13 counts' })
    expect(counts).not.toBeChecked()
    expect(counts.parentElement).toHaveTextContent('0.236 in lefttoo far off')
    await hand.click(counts)
    expect(desk.getState().survey?.verdicts).toEqual(new Map([[12, 'counts']]))
    await waitFor(() => expect(screen.getByText('Worst').parentElement).not.toHaveTextContent('0.000 in'))
    await hand.click(screen.getByRole('checkbox', { name: 'Point 13 counts' }))
    await waitFor(() => expect(screen.getByText('Worst').parentElement).toHaveTextContent('0.000 in'))
    expect(screen.getByRole('checkbox', { name: 'Point 13 counts' }).parentElement).toHaveTextContent('left out')
  }, 60_000)
})

describe('points that are no line', () => {
  it('a bad line is told by its number and stays to be mended, with its headings', async () => {
    const { desk } = await fitting()
    paste('x_mm,y_mm\n0,0\n100,zwei\n200,0\n300,0')
    expect(screen.getByText(/^Line 3, “100,zwei”: y cannot be read/)).toBeVisible()
    await hand.click(screen.getByRole('button', { name: 'Take the 3 that can be read' }))
    expect(desk.getState().survey?.places.map(({ x, line }) => [x, line])).toEqual([
      [0, 2],
      [200, 4],
      [300, 5],
    ])
    expect(screen.getByRole('textbox', { name: /^Points, one a line/ })).toHaveValue('x_mm,y_mm\n100,zwei')
    // Three points on one line are a straight, and that is an answer.
    expect(await fact('Length')).toHaveTextContent('11¹³⁄₁₆″')
    expect(within(screen.getByRole('region', { name: 'Fitted line' })).getAllByRole('listitem')).toHaveLength(1)
  }, 60_000)

  it('two are too few, and that is said without alarm', async () => {
    await fitting()
    await take('1,2\n3,4')
    expect(await screen.findByText('There are 2 different points; at least 3 are needed.')).toBeVisible()
  })

  it('points that double back: where, on which line of the list, and put in order at a press', async () => {
    const { desk } = await fitting()
    await take(listOf(points.map((_, i) => points[(i * 7) % 60] ?? { x: 0, y: 0 })))
    // The first line of the list is its heading.
    expect(await screen.findByText(/from point (\d+) on they turn back.* It stood on line (\d+) of the list\./)).toBeVisible()
    await hand.click(screen.getByRole('button', { name: 'Put them in order' }))
    expect(await fact('Worst')).toHaveTextContent('0.000 in')
    await hand.click(screen.getByRole('button', { name: 'Take the last change of the points back' }))
    expect(desk.getState().survey?.places[1]?.x).toBeCloseTo(points[7]?.x ?? Number.NaN, 9)
  }, 60_000)

  it('more than ten thousand are thinned at a press; the plan is not touched', async () => {
    const { stores, desk } = await fitting()
    await take(Array.from({ length: 10_001 }, (_, i) => `${i},0`).join('\n'))
    await hand.click(await screen.findByRole('button', { name: 'Keep one in 2' }))
    expect(desk.getState().survey?.places).toHaveLength(5001)
    expect(stores.plan.getState().undoStack).toEqual([])
  }, 60_000)

  it('an engine that fails says so, and is asked again at a press', async () => {
    let asked = 0
    const broken = { trace: () => Promise.reject(new Error(`no answer ${++asked}`)) } as unknown as Engine
    await fitting(broken)
    await take('0,0\n1,0\n2,0')
    expect(await screen.findByText('no answer 1')).toBeVisible()
    await hand.click(screen.getByRole('button', { name: 'Try again' }))
    expect(await screen.findByText('no answer 2')).toBeVisible()
  })
})

describe('a long fit', () => {
  it('tells how far it is and is stopped with the best so far', async () => {
    const engine = inlineEngine({ fonts: sheetFontsRead, linear: linearSolverRead, cutting: cutSolverRead, solids: solidsRead })
    const slow: Engine = {
      ...engine,
      trace: (places, options, onProgress) =>
        engine.trace(places, options, async (progress) => {
          await new Promise((resolve) => setTimeout(resolve, 20))
          return onProgress(progress)
        }),
    }
    await fitting(slow)
    await take(listOf(surveyed(path, 60, 3, 0, 1).points))
    expect(await screen.findByText(/curves? tried, worst .* so far$/)).toBeVisible()
    await hand.click(screen.getByRole('button', { name: 'Stop with the best so far' }))
    expect(await screen.findByText(/^Stopped before it settled/)).toBeVisible()
    expect(screen.getByRole('button', { name: 'Lay it as a track' })).toBeEnabled()
  }, 60_000)
})
