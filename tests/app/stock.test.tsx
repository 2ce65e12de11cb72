import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen, within } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { actionsNow } from '../../src/app/commands/actions.ts'
import LayingParticulars from '../../src/app/laying/LayingParticulars.tsx'
import { Particulars } from '../../src/app/particulars/Particulars.tsx'
import { MaterialList, StockList } from '../../src/app/stock/StockList.tsx'
import { breaches } from './breaches.ts'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(cleanup)

async function type(field: string, text: string): Promise<void> {
  const box = screen.getByLabelText(field)
  await hand.clear(box)
  await hand.type(box, `${text}{Enter}`)
}

describe('stock', () => {
  it('is added, sized in either unit, priced, and taken out again; undo brings it back', async () => {
    const { stores } = renderOnDesk(
      <>
        <StockList stage="track" />
        <Particulars />
      </>,
    )
    await hand.click(screen.getByRole('button', { name: 'Add rail' }))
    const added = (): unknown => Object.values(stores.plan.getState().plan.stocks).at(-1)
    expect(added()).toMatchObject({ of: { kind: 'rail', lengthMm: 1000 }, canBuy: true, packPrice: null })
    await type('Length', `3'`)
    await type('On hand', '4')
    await type('In a pack', '6')
    await type('Price of a pack', '24.50')
    expect(added()).toMatchObject({ of: { kind: 'rail', lengthMm: 914.4 }, onHand: 4, packOf: 6, packPrice: 24.5 })
    await type('Price of a pack', '-1')
    expect(screen.getByRole('alert')).toHaveTextContent(/Zero or more, or nothing, belongs here.*Still 24\.5/)
    await hand.keyboard('{Escape}')
    await type('Price of a pack', ' ')
    expect(added()).toMatchObject({ packPrice: null })
    await hand.click(screen.getByRole('button', { name: 'Put an offcut of it on the shelf' }))
    expect(added()).toMatchObject({ onHand: 1, canBuy: false })
    expect(screen.queryByLabelText('In a pack')).toBeNull()
    const before = Object.keys(stores.plan.getState().plan.stocks).length
    await hand.click(screen.getByRole('button', { name: 'Take this stock out' }))
    expect(Object.keys(stores.plan.getState().plan.stocks)).toHaveLength(before - 1)
    stores.plan.getState().undo()
    expect(Object.keys(stores.plan.getState().plan.stocks)).toHaveLength(before)
  })

  it('of counted things is the first that is missing, and its name follows what it is until it has one of its own', async () => {
    const { stores } = renderOnDesk(
      <>
        <StockList stage="track" />
        <Particulars />
      </>,
    )
    await hand.click(screen.getByRole('button', { name: /^Spikes/ }))
    await hand.click(screen.getByRole('button', { name: 'Take this stock out' }))
    await hand.click(screen.getByRole('button', { name: 'Add spikes or joiners' }))
    const added = (): unknown => Object.values(stores.plan.getState().plan.stocks).at(-1)
    expect(added()).toMatchObject({ name: 'Spikes', of: { kind: 'supply', what: 'spikes' } })
    await hand.selectOptions(screen.getByLabelText('What'), 'joiners')
    expect(added()).toMatchObject({ name: 'Rail joiners', of: { kind: 'supply', what: 'joiners' } })
    await type('Name', 'Joiners from the drawer')
    await hand.selectOptions(screen.getByLabelText('What'), 'insulatedJoiners')
    expect(added()).toMatchObject({ name: 'Joiners from the drawer', of: { what: 'insulatedJoiners' } })
  })

  it('and materials and rules of laying are reached by the finder from any stage', () => {
    const { stores, desk } = renderOnDesk(<Particulars />)
    const run = (words: string): void =>
      actionsNow(stores, desk)
        .find((action) => action.words === words)
        ?.run()
    act(() => run('Go to Cork sheet, main'))
    expect(screen.getByRole('heading', { name: 'Cork sheet, main' })).toBeVisible()
    act(() => run('Go to Cork'))
    expect(screen.getByLabelText('Bends to a strain of')).toBeVisible()
    act(() => run('Rules of laying: joints, cutting, climate, spikes, pace'))
    expect(stores.session.getState().stage).toBe('track')
    expect(stores.session.getState().selection).toEqual({ kind: 'none' })
    act(() => run('Railway: scale, gauge, rail'))
    expect(stores.session.getState().stage).toBe('room')
  })

  it('of a stage is what that stage cuts', () => {
    renderOnDesk(<StockList stage="roadbed" />)
    const list = screen.getByRole('list')
    expect(within(list).queryByText(/Rail code/)).toBeNull()
    expect(within(list).getByText('Cork sheet, main')).toBeVisible()
  })
})

describe('a material', () => {
  it('bends as far as its strain says, and no further than nothing is refused', async () => {
    const { stores } = renderOnDesk(
      <>
        <MaterialList />
        <Particulars />
      </>,
    )
    await hand.click(screen.getByRole('button', { name: /^Cork$/ }))
    // w / 2R: half an inch at 2 % goes round 12 1/2 in.
    expect(await screen.findByText('12½ in')).toBeVisible()
    await type('Bends to a strain of', '1 %')
    expect(stores.plan.getState().plan.materials['cork']?.strainLimit).toBe(0.01)
    expect(screen.getByText('25 in')).toBeVisible()
    await type('Bends to a strain of', '0')
    expect(screen.getByRole('alert')).toHaveTextContent(/More than 0 and up to 100 % belongs here/)
    expect(stores.plan.getState().plan.materials['cork']?.strainLimit).toBe(0.01)
  })
})

describe('rules of laying', () => {
  it('are typed in the units of the desk, and refused in words', async () => {
    const { stores } = renderOnDesk(<LayingParticulars />)
    const laying = () => stores.plan.getState().plan.railway.laying
    await type('To curve ends', '150 mm')
    await type('Kerf', '0.7 mm')
    await type('Warmth', '77')
    await type('Dampest', '80 %')
    await type('Plain track', '3 ft')
    await type('A turnout', '4.5')
    await type('Steepest ramp', '1:80')
    expect(laying()).toMatchObject({
      joints: { curveEndMm: 150 },
      cutting: { kerfMm: 0.7 },
      climate: { laidC: 25, dampestHumidity: 0.8 },
      rates: { plainMmPerHour: 914.4, turnoutHours: 4.5 },
      roadbedRamp: 1 / 80,
    })
    await type('Kerf', '-1 mm')
    expect(screen.getByRole('alert')).toHaveTextContent(/less than nothing/)
    await hand.keyboard('{Escape}')
    await type('Warmth', '20 C')
    expect(laying().climate.laidC).toBe(20)
    await type('Warmth', '2000')
    expect(screen.getByRole('alert')).toHaveTextContent(/From -60 to 100 °C/)
    expect(laying().climate.laidC).toBe(20)
  })
})

describe('what a class is laid with', () => {
  it('has rail and roadbed of its own where asked', async () => {
    const { stores } = renderOnDesk(<Particulars />)
    stores.session.getState().select({ kind: 'record', table: 'lineClasses', id: 'main' })
    const main = () => stores.plan.getState().plan.lineClasses['main']
    await hand.selectOptions(await screen.findByLabelText('Rail'), 'own')
    await type('Rail code', '70')
    expect(main()?.rail).toMatchObject({ code: 70 })
    await hand.selectOptions(screen.getByLabelText('Laid as'), 'halves')
    await type('Thickness', '3/16 in')
    expect(main()?.roadbed).toMatchObject({ strips: 2, thicknessMm: 4.7625 })
    await hand.selectOptions(screen.getByLabelText('Material'), '')
    expect(main()?.roadbed).toBeNull()
    await hand.selectOptions(screen.getByLabelText('Material'), 'cork')
    expect(main()?.roadbed).toMatchObject({ material: 'cork', strips: 'fit' })
    await type('Radius at least', '3')
    expect(main()?.curveCarLengths).toBe(3)
    // The published classes beside it, in HO: 40 in and No. 7 for the largest. [NMRA-RP-11]
    const largest = screen.getByRole('row', { name: /^largest steam/ })
    expect(largest).toHaveTextContent(/40 in, No\. 7.*too sharp/)
    await type('Least radius', '40 in')
    expect(largest).toHaveTextContent(/frog too short|takes it/)
    await type('Least frog', '7')
    expect(largest).toHaveTextContent('takes it')
  })
})

describe('particulars of laying', () => {
  it.each([
    { what: 'rail', selection: { kind: 'record', table: 'stocks', id: 'stock-1' } },
    { what: 'spikes', selection: { kind: 'record', table: 'stocks', id: 'stock-6' } },
    { what: 'a material', selection: { kind: 'record', table: 'materials', id: 'cork' } },
    { what: 'a class', selection: { kind: 'record', table: 'lineClasses', id: 'main' } },
    { what: 'the rules', selection: { kind: 'none' } },
  ] as const)('of $what are open to everyone', async ({ selection }) => {
    const { stores } = renderOnDesk(
      <main>
        <h1>Waybench</h1>
        <StockList stage="track" />
        <MaterialList />
        <Particulars />
      </main>,
    )
    act(() => {
      stores.session.getState().setStage('track')
      stores.session.getState().select(selection)
    })
    expect((await screen.findAllByRole('textbox')).length).toBeGreaterThan(1)
    expect(await breaches()).toEqual([])
  })
})
