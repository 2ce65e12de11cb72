import '@testing-library/jest-dom/vitest'
import { act, cleanup, fireEvent, screen, waitFor } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { Canvas } from '../../src/app/canvas/Canvas.tsx'
import { Particulars } from '../../src/app/particulars/Particulars.tsx'
import { hand, renderOnDesk, roomPlan } from './desk.tsx'
import type { Plan, Track } from '../../src/core/plan/types.ts'
import type { Desk } from './desk.tsx'

afterEach(cleanup)

const inch = 25.4

/** The room with a second track, ahead of the end of the first and 44 in to its right. */
function twoTracks(): Plan {
  const plan = roomPlan()
  const lead: Track = {
    id: 'track-2',
    name: 'Yard lead',
    lineClass: 'main',
    start: { kind: 'free', x: -90 * inch, y: 140 * inch },
    corners: [],
    end: { kind: 'free', x: -130 * inch, y: 140 * inch },
  }
  return { ...plan, tracks: { ...plan.tracks, [lead.id]: lead } }
}

/** The two free ends of the room's track: from (12, 96) in facing left to (12, 12) in facing left, 84 in aside. */
async function joining(plan = twoTracks()): Promise<Desk> {
  const desk = renderOnDesk(<Particulars />, plan)
  act(() => desk.stores.session.getState().select({ kind: 'trackEnd', track: 'track-1', end: 'end' }))
  await hand.click(screen.getByRole('button', { name: 'Join this end to…' }))
  await screen.findByRole('heading', { name: 'Join' })
  return desk
}

/** The lines, once all are found and held against the room. */
async function lines(): Promise<HTMLElement[]> {
  await screen.findAllByRole('button', { name: /keeps the class|the class asks/ })
  await waitFor(() => expect(screen.queryByText(/looked at|Held against/)).toBeNull())
  return screen.getAllByRole('button', { name: /keeps the class|the class asks/ })
}

describe('joining an end', () => {
  it('lists lines to an end chosen by name, shows one, and makes it as one step that closes the loop', async () => {
    const desk = await joining()
    await hand.selectOptions(screen.getByRole('combobox', { name: 'To' }), 'start of Harbour line')
    const best = (await lines())[0]
    expect(best).toHaveAccessibleName(/R .* in .*keeps the class/)
    const length = desk.desk.getState().trial?.chosen?.lengthMm ?? Number.NaN
    const before = desk.stores.derived.getState().derived.network.tracks.get('track-1')?.alignment
    await hand.click(screen.getByRole('button', { name: 'Lay this line' }))
    const alignment = desk.stores.derived.getState().derived.network.tracks.get('track-1')?.alignment
    expect(alignment).toMatchObject({ ok: true, isClosed: true })
    // The loop is as long as the track and the line that was shown: nothing of either moved. Rounding of sums only.
    if (alignment?.ok === true && before?.ok === true) expect(alignment.path.lengthMm).toBeCloseTo(before.path.lengthMm + length, 6)
    expect(desk.stores.plan.getState().undoStack).toHaveLength(1)
    expect(desk.desk.getState()).toMatchObject({ lineAct: null, trial: null })
    expect(screen.getByRole('heading', { name: 'Harbour line' })).toBeVisible()
  })

  it('lays the line that was chosen, from a leg as a track of its own, which is selected then', async () => {
    const desk = renderOnDesk(<Particulars />, twoTracks())
    act(() => desk.stores.session.getState().select({ kind: 'record', table: 'turnouts', id: 'turnout-1' }))
    await hand.click(screen.getByRole('button', { name: 'Join its leg to…' }))
    await hand.selectOptions(screen.getByRole('combobox', { name: 'To' }), 'start of Yard lead')
    const second = (await lines())[1]
    if (second === undefined) throw new Error('one line only')
    await hand.click(second)
    expect(second).toHaveAttribute('aria-pressed', 'true')
    await hand.unhover(second)
    const chosen = desk.desk.getState().trial?.chosen?.lengthMm ?? Number.NaN
    await hand.click(screen.getByRole('button', { name: 'Lay this line' }))
    expect(desk.stores.session.getState().selection).toEqual({ kind: 'record', table: 'tracks', id: 'track-3' })
    const alignment = desk.stores.derived.getState().derived.network.tracks.get('track-3')?.alignment
    expect(alignment?.ok === true ? alignment.path.lengthMm : null).toBeCloseTo(chosen, 6)
  })

  it('takes what is pointed at on the plan as the other end', async () => {
    const desk = await joining()
    act(() => desk.stores.session.getState().select({ kind: 'record', table: 'turnouts', id: 'turnout-1' }))
    expect(screen.getByRole('combobox', { name: 'To' })).toHaveDisplayValue('leg of East quay')
  })

  it('holds the line that is looked at over the plan, and lets go of it when shut', async () => {
    const desk = await joining()
    await hand.selectOptions(screen.getByRole('combobox', { name: 'To' }), 'a turnout on Yard lead')
    const all = await lines()
    expect(all.length).toBeGreaterThan(1)
    const second = all[1]
    const first = desk.desk.getState().trial?.chosen
    if (second !== undefined) await hand.hover(second)
    expect(desk.desk.getState().trial?.chosen).not.toBe(first)
    await hand.click(screen.getByRole('button', { name: 'Close' }))
    expect(desk.desk.getState().trial).toBeNull()
  })
})

describe('the radius of a join', () => {
  it('is the widest and beside it that of the class, each with its easements; or one that is typed, laid to the digit', async () => {
    const desk = await joining()
    await hand.selectOptions(screen.getByRole('combobox', { name: 'To' }), 'start of Yard lead')
    const all = await lines()
    const lineClass = desk.stores.plan.getState().plan.lineClasses['main']
    const least = lineClass?.minRadiusMm ?? Number.NaN
    const names = all.map((one) => one.textContent)
    expect(names.every((name) => /R .* · easements .* · /.test(name))).toBe(true)
    const radii = names.map((name) => /R ([\d⁄ /½¼¾⅛⅜⅝⅞]+) in/.exec(name)?.[1])
    expect(radii).toContain(String(least / inch))
    expect(new Set(radii).size).toBeGreaterThan(1)
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Curves' }), 'of a radius I type')
    const field = screen.getByRole<HTMLInputElement>('textbox', { name: 'Radius' })
    fireEvent.change(field, { target: { value: `${least / inch + 3} in` } })
    fireEvent.keyDown(field, { key: 'Enter' })
    await waitFor(() => expect(screen.queryByText(/looked at|Held against/)).toBeNull())
    const asked = await screen.findAllByRole('button', { name: new RegExp(`R ${least / inch + 3} in`) })
    const [first] = asked
    if (first === undefined) throw new Error('no line of that radius')
    await hand.click(first)
    await hand.click(screen.getByRole('button', { name: 'Lay this line' }))
    const laid = Object.values(desk.stores.plan.getState().plan.tracks).flatMap(({ corners }) => corners.map(({ radius }) => radius))
    expect(laid).toContain(Number((least + 3 * inch).toFixed(6)))
  })

  it('under what the class asks is told, though nothing more was asked', async () => {
    await joining()
    await hand.selectOptions(screen.getByRole('combobox', { name: 'To' }), 'start of Yard lead')
    await lines()
    const easements = screen.getByRole('textbox', { name: 'Easements' })
    fireEvent.change(easements, { target: { value: '2 in' } })
    fireEvent.keyDown(easements, { key: 'Enter' })
    const told = await screen.findAllByRole('button', {
      name: /keeps what is asked here, less than the class asks: easement 2 in, the class asks/,
    })
    expect(told.length).toBeGreaterThan(0)
  })
})

/** The lead turned to face down, 31 in ahead and aside: a quarter turn of 28 in takes that with easements of some 6 in, the class asks 12. */
function narrow(): Plan {
  const plan = twoTracks()
  const lead = plan.tracks['track-2']
  if (lead === undefined) throw new Error('no lead')
  const start = { kind: 'free', x: -19 * inch, y: 65 * inch } as const
  return { ...plan, tracks: { ...plan.tracks, 'track-2': { ...lead, start, end: { ...start, y: 10 * inch } } } }
}

describe('an end that no line of the class leads to', () => {
  it('is joined with what would work for one press, held over the plan first, and laid as one step', async () => {
    const desk = await joining(narrow())
    await hand.selectOptions(screen.getByRole('combobox', { name: 'To' }), 'start of Yard lead')
    const told = (await screen.findByText(/^Easements .* would work\.$/)).textContent ?? ''
    const use = screen.getByRole('button', { name: 'Use these easements' })
    await hand.click(use)
    const line = await screen.findByRole('button', { name: /keeps what is asked here/ })
    // The field has the length that was told of.
    const field = screen.getByRole<HTMLInputElement>('textbox', { name: 'Easements' })
    expect(told).toContain(`: ${field.value} would work`)
    expect(desk.stores.plan.getState().undoStack).toEqual([])
    await waitFor(() => expect(desk.desk.getState().trial?.chosen).toBeTruthy())
    const shown = desk.desk.getState().trial?.chosen?.lengthMm ?? Number.NaN
    expect(line).toBeVisible()
    const before = desk.stores.derived.getState().derived.network.tracks.get('track-1')?.alignment
    await hand.click(screen.getByRole('button', { name: 'Lay this line' }))
    const after = desk.stores.derived.getState().derived.network.tracks.get('track-1')?.alignment
    expect(desk.stores.plan.getState().undoStack).toHaveLength(1)
    if (after?.ok !== true || before?.ok !== true) throw new Error('not solved')
    expect(after.path.lengthMm).toBeCloseTo(before.path.lengthMm + shown, 6)
    // No curve of it is under the radius of the class, 28 in; the easements alone gave way.
    const { solution } = after.corners.at(-1) ?? {}
    expect(solution?.radiusMm).toBeGreaterThanOrEqual(28 * inch - 1e-6)
    expect(solution?.easementInMm).toBeLessThan(12 * inch)
  })

  it('goes back to what the class asks', async () => {
    await joining(narrow())
    await hand.selectOptions(screen.getByRole('combobox', { name: 'To' }), 'start of Yard lead')
    await hand.click(await screen.findByRole('button', { name: 'Use these easements' }))
    await hand.click(screen.getByRole('button', { name: /^Easements.* class$/ }))
    expect(await screen.findByText('No line keeps all limits.')).toBeVisible()
  })
})

describe('ends marked on the plan', () => {
  const rings = (): readonly Element[] => [...document.querySelectorAll('.trial-end')]
  const taken = (): readonly (string | null)[] => rings().map((ring) => ring.getAttribute('data-taken'))

  it('mean themselves when they are pressed, and stay with the taken one marked', async () => {
    const plan = twoTracks()
    const desk = renderOnDesk(
      <>
        <Canvas />
        <Particulars />
      </>,
      plan,
    )
    act(() => {
      desk.stores.session.getState().setViewport({ centre: { x: 0, y: 50 * inch }, pxPerMm: 0.1 })
      desk.stores.session.getState().select({ kind: 'trackEnd', track: 'track-1', end: 'end' })
    })
    await hand.click(screen.getByRole('button', { name: 'Join this end to…' }))
    await screen.findByRole('heading', { name: 'Join' })
    // Start of the track, both ends of the lead, and the turnout's leg.
    await waitFor(() => expect(rings()).toHaveLength(4))
    expect(taken()).toEqual([null, null, null, null])
    const names = screen.getByRole('combobox', { name: 'To' })
    const seen = new Set<string>()
    for (const i of [0, 1, 2, 3]) {
      fireEvent.click(rings()[i]?.querySelector('.end-grip') ?? document.body)
      expect(taken()).toEqual([0, 1, 2, 3].map((n) => (n === i ? '' : null)))
      seen.add((names as HTMLSelectElement).selectedOptions[0]?.text ?? '')
    }
    expect(seen).toEqual(new Set(['leg of East quay', 'start of Harbour line', 'start of Yard lead', 'end of Yard lead']))
    // What was selected stays so: a ring is no thing of the plan.
    expect(desk.stores.session.getState().selection).toEqual({ kind: 'trackEnd', track: 'track-1', end: 'end' })
  })
})
