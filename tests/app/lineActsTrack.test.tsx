import '@testing-library/jest-dom/vitest'
import { waitFor, act, cleanup, screen } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { Particulars } from '../../src/app/particulars/Particulars.tsx'
import type { Plan } from '../../src/core/plan/types.ts'
import { sheetFontsRead } from '../../src/engine/fonts.node.ts'
import { inlineEngine } from '../../src/engine/inline.ts'
import { cutSolverRead, linearSolverRead } from '../../src/engine/lp.node.ts'
import { solidsRead } from '../../src/engine/solids.node.ts'
import type { Engine } from '../../src/engine/protocol.ts'
import { isChecking } from '../../src/store/index.ts'
import { hand, renderOnDesk, roomPlan } from './desk.tsx'
import type { Desk } from './desk.tsx'

afterEach(cleanup)

const inch = 25.4

async function doing(word: string, { engine, plan = roomPlan() }: { readonly engine?: Engine; readonly plan?: Plan } = {}): Promise<Desk> {
  const desk = renderOnDesk(<Particulars />, plan, engine)
  act(() => desk.stores.session.getState().select({ kind: 'record', table: 'tracks', id: 'track-1' }))
  await hand.click(screen.getByRole('button', { name: word }))
  await screen.findByRole('button', { name: 'Close' })
  return desk
}

const lengthOf = ({ stores }: Desk, id: string): number => {
  const alignment = stores.derived.getState().derived.network.tracks.get(id)?.alignment
  return alignment?.ok === true ? alignment.path.lengthMm : Number.NaN
}

describe('a parallel', () => {
  it('is held over the plan, and made as one step at the centres typed', async () => {
    const desk = await doing('Lay a parallel…')
    const centres = screen.getByRole('textbox', { name: 'Centres' })
    await hand.clear(centres)
    await hand.type(centres, '3{Enter}')
    expect(screen.getByText('Least centres').parentElement).toHaveTextContent('3 in')
    // Left of a line that turns half round to the left is shorter by about pi times the centres.
    const less = lengthOf(desk, 'track-1') - (desk.desk.getState().trial?.chosen?.lengthMm ?? Number.NaN)
    expect(less / (Math.PI * 3 * inch)).toBeCloseTo(1, 1)
    await hand.click(screen.getByRole('button', { name: 'Make the track' }))
    expect(desk.stores.plan.getState().undoStack).toHaveLength(1)
    expect(lengthOf(desk, 'track-2')).toBeCloseTo(lengthOf(desk, 'track-1') - less, 6)
    expect(desk.desk.getState().trial).toBeNull()
  })

  it('goes to the free side where a track lies on the other, and says which lies there when sent back', async () => {
    const desk = await doing('Lay a parallel…')
    expect(screen.getByRole('combobox', { name: 'Side' })).toHaveValue('left')
    await hand.click(screen.getByRole('button', { name: 'Make the track' }))
    act(() => desk.stores.session.getState().select({ kind: 'record', table: 'tracks', id: 'track-1' }))
    await hand.click(screen.getByRole('button', { name: 'Lay a parallel…' }))
    const side = await screen.findByRole('combobox', { name: 'Side' })
    expect(side).toHaveValue('right')
    expect(screen.queryByText(/lies there already/)).toBeNull()
    await hand.selectOptions(side, 'left')
    expect(screen.getByText('Beside Harbour line lies there already.')).toBeVisible()
    await hand.click(screen.getByRole('button', { name: 'Lay it on the other side' }))
    expect(side).toHaveValue('right')
  })

  it('says why there is none inside of a curve that is too sharp', async () => {
    const desk = await doing('Lay a parallel…')
    const centres = screen.getByRole('textbox', { name: 'Centres' })
    await hand.clear(centres)
    await hand.type(centres, '30{Enter}')
    // 30 in of centres inside of a radius of 24 1/2 in.
    expect(screen.getByRole('status')).toHaveTextContent(
      'Inside of PI 2 there is no room at these centres; they must be more than 5½ in less.',
    )
    expect(screen.queryByRole('button', { name: 'Make the track' })).toBeNull()
    expect(desk.desk.getState().trial).toBeNull()
  })
})

describe('centres on curves', () => {
  it('are as wide as the cars of the class ask from the start; a narrower one typed is kept and told of', async () => {
    const desk = await doing('Lay a parallel…')
    const curves = screen.getByRole('textbox', { name: 'On curves' })
    // Beside the straights as the class has it, 2 in in HO; beside a curve of 24 1/2 in cars of 85 ft ask for more [COMMON-PRACTICE].
    expect(screen.getByRole('textbox', { name: 'Centres' })).toHaveValue('2 in')
    const asked = (curves as HTMLInputElement).value
    expect(asked).not.toBe('2 in')
    await hand.clear(curves)
    await hand.type(curves, '2{Enter}')
    expect(screen.getByText(/pass within less than the running clearance on curves/)).toHaveTextContent(`${asked} would do`)
    await hand.click(screen.getByRole('button', { name: `Use centres of ${asked} on curves` }))
    await hand.click(screen.getByRole('button', { name: 'Make the track' }))
    const tooNear = (): readonly unknown[] =>
      desk.stores.derived.getState().findings.filter(({ rule, otherRecord }) => rule === 'track-clearance' && otherRecord === 'track-1')
    await waitFor(() => expect(isChecking(desk.stores.derived.getState())).toBe(false))
    expect(tooNear()).toEqual([])
  })
})

describe('centres that would do', () => {
  it('are taken with one press where outside of a curve they widen by more than its easement shifts it', async () => {
    const desk = await doing('Lay a parallel…')
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Side' }), 'right')
    const centres = screen.getByRole('textbox', { name: 'On curves' })
    await hand.clear(centres)
    await hand.type(centres, '6{Enter}')
    const told = screen.getByText(/^Outside of PI 2 centres can be .* at most/).textContent ?? ''
    expect(screen.queryByRole('button', { name: 'Make the track' })).toBeNull()
    const use = screen.getByRole('button', { name: /^Use centres of .* on curves$/ })
    const most = /^Use centres of (.*) on curves$/.exec(use.textContent ?? '')?.[1] ?? ''
    expect(told).toContain(`can be ${most} at most`)
    await hand.click(use)
    expect(screen.getByRole('textbox', { name: 'On curves' })).toHaveValue(most)
    expect(desk.desk.getState().trial?.chosen).toBeTruthy()
    await hand.click(screen.getByRole('button', { name: 'Make the track' }))
    expect(desk.stores.plan.getState().undoStack).toHaveLength(1)
  })
})

describe('easing', () => {
  it('tells of radius before and after, and takes the eased line as one step', async () => {
    const desk = await doing('Ease this line…', {
      engine: inlineEngine({ fonts: sheetFontsRead, linear: linearSolverRead, cutting: cutSolverRead, solids: solidsRead }),
    })
    await hand.click(screen.getByRole('button', { name: 'Ease it' }))
    const take = await screen.findByRole('button', { name: 'Take the eased line' })
    expect(screen.getByText('Least radius').parentElement).toHaveTextContent(/R .* in.*was R 24½ in/)
    // The eased line is held over the plan a moment after it is told of.
    const shown = await waitFor(() => {
      const lengthMm = desk.desk.getState().trial?.chosen?.lengthMm
      if (lengthMm === undefined) throw new Error('no line is held over the plan')
      return lengthMm
    })
    await hand.click(take)
    expect(desk.stores.plan.getState().undoStack).toHaveLength(1)
    expect(lengthOf(desk, 'track-1')).toBeCloseTo(shown, 6)
  }, 30_000)
})

describe('cutting and turning round', () => {
  it('splits where it is told, and both parts are as long as the whole', async () => {
    const desk = await doing('Cut, lengthen, turn round…')
    const whole = lengthOf(desk, 'track-1')
    const station = screen.getByRole('textbox', { name: 'At station' })
    await hand.clear(station)
    await hand.type(station, '70{Enter}')
    await hand.click(screen.getByRole('button', { name: 'Split there' }))
    expect(lengthOf(desk, 'track-1')).toBeCloseTo(70 * inch, 6)
    expect(lengthOf(desk, 'track-1') + lengthOf(desk, 'track-2')).toBeCloseTo(whole, 6)
    await hand.click(screen.getByRole('button', { name: /^Merge with/ }))
    expect(lengthOf(desk, 'track-1')).toBeCloseTo(whole, 6)
  })

  it('takes a station that would work where the one asked lies in an easement', async () => {
    const desk = await doing('Cut, lengthen, turn round…')
    const alignment = desk.stores.derived.getState().derived.network.tracks.get('track-1')?.alignment
    const tsMm = alignment?.ok === true ? (alignment.corners[0]?.tsMm ?? 0) : 0
    const station = screen.getByRole('textbox', { name: 'At station' })
    await hand.clear(station)
    await hand.type(station, `${tsMm + 40} mm{Enter}`)
    await hand.click(screen.getByRole('button', { name: 'Split there' }))
    expect(screen.getByRole('alert')).toHaveTextContent(/would work/)
    await hand.click(screen.getAllByRole('button', { name: /^Take / })[0] ?? document.body)
    await hand.click(screen.getByRole('button', { name: 'Split there' }))
    expect(screen.queryByRole('alert')).toBeNull()
    expect(lengthOf(desk, 'track-1')).toBeCloseTo(tsMm, 6)
  })

  it('refuses to split within a turnout, and says which', async () => {
    await doing('Cut, lengthen, turn round…')
    const station = screen.getByRole('textbox', { name: 'At station' })
    await hand.clear(station)
    await hand.type(station, '32{Enter}')
    await hand.click(screen.getByRole('button', { name: 'Split there' }))
    expect(screen.getByRole('alert')).toHaveTextContent(/East quay stands there/)
  })

  it('brings an end to another track: which, where, and done as one step', async () => {
    // Across the first straight at 5 ft 10 in, and once more across the last: two places to end at, the nearer one is offered first.
    const crossing = {
      id: 'track-2',
      name: 'Ice house',
      lineClass: 'main',
      start: { kind: 'free', x: 70 * inch, y: 0 },
      corners: [],
      end: { kind: 'free', x: 70 * inch, y: 100 * inch },
    } as const
    const aside = { ...crossing, id: 'track-3', name: 'Aside', start: { kind: 'free', x: 0, y: 100 * inch } } as const
    const plan = roomPlan()
    const desk = await doing('Cut, lengthen, turn round…', {
      plan: { ...plan, tracks: { ...plan.tracks, 'track-2': crossing, 'track-3': aside } },
    })
    const whole = lengthOf(desk, 'track-1')
    await hand.selectOptions(screen.getByRole('combobox', { name: 'End' }), 'the end')
    await hand.selectOptions(screen.getByRole('combobox', { name: 'To' }), 'Aside – not met')
    expect(screen.getByRole('status')).toHaveTextContent('The two do not meet: Aside lies 4 in away from its end')
    await hand.selectOptions(screen.getByRole('combobox', { name: 'To' }), 'Ice house')
    expect(screen.getByRole('combobox', { name: 'Where' })).toHaveDisplayValue('4′ 10″ shorter, at 90.00°')
    expect(screen.getAllByRole('option', { name: /shorter, at/ })).toHaveLength(2)
    await hand.click(screen.getByRole('button', { name: 'Cut it off there' }))
    expect(lengthOf(desk, 'track-1')).toBeCloseTo(whole - 58 * inch, 6)
    expect(desk.stores.plan.getState().undoStack).toHaveLength(1)
    expect(desk.stores.plan.getState().plan.tracks['track-1']?.end).toMatchObject({ kind: 'free', x: expect.closeTo(70 * inch, 6) })
  })

  it('reverses: what was the start is the end', async () => {
    const desk = await doing('Cut, lengthen, turn round…')
    await hand.click(screen.getByRole('button', { name: 'Reverse its stations' }))
    expect(desk.stores.plan.getState().plan.tracks['track-1']?.start).toMatchObject({ x: 12 * inch, y: 96 * inch })
  })
})
