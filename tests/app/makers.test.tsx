import { act, cleanup, screen, waitFor } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { findingsOf } from '../../src/core/checks/index.ts'
import { MakerActs } from '../../src/app/makers/MakerActs.tsx'
import { Particulars } from '../../src/app/particulars/Particulars.tsx'
import { networkOf } from '../support/makers.ts'
import { aTrack, planWith } from '../support/plans.ts'
import { hand, renderOnDesk } from './desk.tsx'

const plan = planWith({
  tracks: [
    aTrack({ end: { kind: 'free', x: 6000, y: 0 } }),
    aTrack({ id: 'track-2', name: 'Second', start: { kind: 'free', x: 0, y: 50.8 }, end: { kind: 'free', x: 6000, y: 50.8 } }),
  ],
})

const desk = () =>
  renderOnDesk(
    <>
      <MakerActs kinds={['crossover', 'yard']} />
      <Particulars />
    </>,
    plan,
  )

afterEach(cleanup)

describe('a maker in hand', () => {
  it('is tried on the plan, made as one step, and undone as one', async () => {
    const { stores } = desk()
    await hand.click(screen.getByRole('button', { name: 'Crossover' }))
    expect(await screen.findByRole('group', { name: 'New crossover' })).toBeTruthy()
    expect(screen.getByText('Frog to frog')).toBeTruthy()
    expect(stores.plan.getState().plan).toBe(plan)
    await hand.click(screen.getByRole('button', { name: 'Make this crossover' }))
    expect(Object.keys(stores.plan.getState().plan.turnouts)).toHaveLength(2)
    expect(await screen.findByRole('button', { name: 'Take it apart to edit by hand' })).toBeTruthy()
    act(() => void stores.plan.getState().undo())
    expect(stores.plan.getState().plan).toEqual(plan)
  })

  it('says what is wrong with its numbers and takes what would do', async () => {
    const { stores } = desk()
    await hand.click(screen.getByRole('button', { name: 'Yard' }))
    const centres = await screen.findByLabelText('Centres')
    await hand.clear(centres)
    await hand.type(centres, '1in{Enter}')
    expect(screen.getByText(/next points would stand on the last frog's long ties/)).toBeTruthy()
    expect(screen.getByRole('button', { name: 'Make this yard' }).hasAttribute('disabled')).toBe(true)
    await hand.click(screen.getByRole('button', { name: 'Take what would do' }))
    await hand.click(screen.getByRole('button', { name: 'Make this yard' }))
    expect(Object.keys(stores.plan.getState().plan.makers)).toEqual(['maker-1'])
  })

  it('knows before it is built with which frogs its cars pass, says so, and lets the smaller ones be kept', async () => {
    const { stores, desk: store } = desk()
    await hand.click(screen.getByRole('button', { name: 'Crossover' }))
    const frogs = await screen.findByLabelText('Frogs')
    // HO main, 2 in. centres: 85 ft cars on the class's No. 6 swing their couplers too far; the least that they pass is No. 7.
    expect(frogs).toHaveProperty('value', 'No. 7')
    expect(screen.getByText(/^No\. 6 would swing the coupler of .* by 21\.\d+°; 20\.00° is the most\. No\. 7 does not\.$/)).toBeTruthy()
    expect(screen.queryByRole('button', { name: 'Take No. 7' })).toBeNull()
    await hand.clear(frogs)
    await hand.type(frogs, '6{Enter}')
    expect(screen.getByRole('button', { name: 'Make this crossover' }).hasAttribute('disabled')).toBe(false)
    await hand.click(screen.getByRole('button', { name: 'Take No. 7' }))
    expect(store.getState().makerDraft?.numbers).toMatchObject({ frog: 7 })
    await hand.clear(frogs)
    await hand.type(frogs, '6{Enter}')
    await hand.click(screen.getByRole('button', { name: 'Make this crossover' }))
    expect(Object.values(stores.plan.getState().plan.turnouts).map(({ frog }) => frog)).toEqual([6, 6])
    // Kept, it is told as ever.
    const { plan: made } = stores.plan.getState()
    expect(findingsOf({ plan: made, network: networkOf(made) }).map(({ rule }) => rule)).toContain('coupler-swing')
  })

  it('is left without a trace', async () => {
    const { stores, desk: store } = desk()
    await hand.click(screen.getByRole('button', { name: 'Yard' }))
    await hand.click(await screen.findByRole('button', { name: 'Leave it' }))
    expect(store.getState().makerDraft).toBeNull()
    expect(stores.plan.getState().plan).toBe(plan)
  })
})

describe('what was made', () => {
  it('says whose it is, follows a typed number, and is taken apart from its own particulars', async () => {
    const { stores } = desk()
    await hand.click(screen.getByRole('button', { name: 'Crossover' }))
    await hand.click(await screen.findByRole('button', { name: 'Make this crossover' }))
    const frogs = await screen.findByLabelText('Frogs')
    await hand.clear(frogs)
    await hand.type(frogs, '8{Enter}')
    expect(Object.values(stores.plan.getState().plan.turnouts).map(({ frog }) => frog)).toEqual([8, 8])
    const station = screen.getByLabelText('Station')
    await hand.clear(station)
    await hand.type(station, '1in{Enter}')
    expect((await screen.findByRole('alert')).textContent).toMatch(
      /is not straight for the .* that it takes\. At station .* of it there is/,
    )

    act(() => stores.session.getState().select({ kind: 'record', table: 'turnouts', id: 'turnout-1' }))
    await waitFor(() => expect(screen.getByText(/Made by/)).toBeTruthy())
    await hand.click(screen.getByRole('button', { name: 'take it apart' }))
    expect(stores.plan.getState().plan.makers).toEqual({})
    expect(Object.keys(stores.plan.getState().plan.turnouts)).toHaveLength(2)
  })
})

describe('a helix', () => {
  it('tells turns and grade, marks what is past its limits, and its finding stands in its particulars', async () => {
    const { stores } = renderOnDesk(
      <>
        <MakerActs kinds={['helix']} />
        <Particulars />
      </>,
      planWith({ tracks: [aTrack({ end: { kind: 'free', x: 6000, y: 0 } })] }),
    )
    await hand.click(screen.getByRole('button', { name: 'Helix' }))
    // Main, HO: 36 in, three turns of 76.99 + 20 + 2.11 mm by and by; 22 ft at 1:87.1 is 3 1/32 in.
    expect((await screen.findByText('Turns', { selector: '.is-fact *' })).parentElement?.textContent).toMatch(/Turns2\.\d+/)
    expect(screen.getByText('Grade', { selector: '.is-fact *' }).parentElement?.className).not.toContain('is-over')
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Steepness' }), 'perTurn')
    const rise = screen.getByRole('textbox', { name: 'Rise' })
    await hand.clear(rise)
    await hand.type(rise, '3in{Enter}')
    expect(screen.getByText('Clear').parentElement?.className).toContain('is-over')
    await hand.click(screen.getByRole('button', { name: 'Make this helix' }))
    const made = await screen.findByRole('list', { name: 'Findings here' })
    expect(made.textContent).toMatch(/Helix leaves too little height.*clear between its turns; NMRA-S-7 asks/)
    await hand.click(screen.getByRole('button', { name: 'Make its clear height 3¹⁄₃₂ in' }))
    await hand.click(await screen.findByRole('button', { name: 'Apply' }))
    expect(stores.plan.getState().plan.makers['maker-1']?.numbers).toMatchObject({ kind: 'helix', rise: { kind: 'clear', clearMm: 77 } })
    expect(screen.queryByText('Helix leaves too little height')).toBeNull()
    expect(stores.plan.getState().undoStack).toHaveLength(2)
    // What it made says its grade as well: 77 of clear height, the deck and the rail in one turn of 36 in.
    const [track = ''] = stores.plan.getState().plan.makers['maker-1']?.made.tracks ?? []
    act(() => stores.session.getState().select({ kind: 'record', table: 'tracks', id: track }))
    const perCent = (100 * (77 + 20 + 2.11)) / (2 * Math.PI * 914.4)
    expect(screen.getByText('of its helix').parentElement?.textContent).toContain(`${perCent.toFixed(1)}`)
  })
})
