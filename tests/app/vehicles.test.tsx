import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen } from '@testing-library/react'
import { afterEach, expect, it } from 'vitest'
import { planBegun } from '../../src/app/file/planBegun.ts'
import { LineClassParticulars } from '../../src/app/particulars/LineClassParticulars.tsx'
import { VehicleParticulars } from '../../src/app/particulars/VehicleParticulars.tsx'
import { doorAddIn, hatchAddIn, joistAddUnder, portalAddOn } from '../../src/app/roomThingAdd.ts'
import { LineStage } from '../../src/app/stages/LineStage.tsx'
import { gaugeList } from '../../src/core/standards/index.ts'
import { vehicleByKey, vehicleOfRow } from '../../src/core/vehicles/index.ts'
import { hand, renderOnDesk, roomPlan } from './desk.tsx'

afterEach(cleanup)

it('an engine of a kind comes at the scale of the railway, and twice by two names', async () => {
  const { stores } = renderOnDesk(<LineStage />)
  for (const count of [1, 2]) {
    await hand.click(screen.getByRole('button', { name: 'Add a car or engine…' }))
    await hand.selectOptions(await screen.findByRole('combobox', { name: 'Kind' }), 'steam-4-6-2')
    await hand.click(screen.getByRole('button', { name: 'Add it' }))
    const engines = Object.values(stores.plan.getState().plan.vehicles).filter(({ wheels }) => wheels === '4-6-2')
    expect(new Set(engines.map(({ name }) => name)).size).toBe(count)
    const { selection } = stores.session.getState()
    const made = engines.find(({ id }) => selection.kind === 'record' && selection.table === 'vehicles' && selection.id === id)
    // 86 ft over couplers in 1:87.1, to a hundredth of a millimetre; engine and tender.
    expect(made?.overCouplersMm).toBeCloseTo((86 * 304.8) / 87.1, 2)
    expect(made?.frames.map(({ kind }) => kind)).toEqual(['drivers', 'car'])
  }
})

it('a kind is named, and told at full size, in the rule that is measured with', async () => {
  const { stores } = renderOnDesk(<LineStage />)
  act(() => stores.prefs.getState().setPrefs({ units: 'metric' }))
  await hand.click(screen.getByRole('button', { name: 'Add a car or engine…' }))
  const kinds = await screen.findByRole('combobox', { name: 'Kind' })
  expect(kinds.textContent).not.toMatch(/ ft /)
  await hand.selectOptions(kinds, 'narrow-car-30')
  // 33 ft over couplers are 10.06 m.
  expect(screen.getByText('10.1 m full size')).toBeVisible()
  await hand.click(screen.getByRole('button', { name: 'Add it' }))
  expect(Object.values(stores.plan.getState().plan.vehicles).map(({ name }) => name)).toContain('9 m narrow-gauge boxcar')
})

it.each(gaugeList().map(({ key }) => key))('a new room of %s measured in metres has no car named by feet', (key) => {
  const names = Object.values(planBegun(key, 'metric')?.vehicles ?? {}).map(({ name }) => name)
  expect(names.length).toBeGreaterThan(2)
  expect(names.filter((name) => / ft\b/.test(name))).toEqual([])
  expect(new Set(names).size).toBe(names.length)
})

it('a car of own sizes starts from typical ones, says what is wrong with it, and comes as typed', async () => {
  const { stores } = renderOnDesk(<LineStage />)
  const before = Object.keys(stores.plan.getState().plan.vehicles)
  const made = () => Object.values(stores.plan.getState().plan.vehicles).filter(({ id }) => !before.includes(id))
  const type = async (label: string, text: string) => {
    const field = screen.getByRole('textbox', { name: new RegExp(`^${label}`) })
    await hand.clear(field)
    await hand.type(field, `${text}{Enter}`)
  }
  await hand.click(screen.getByRole('button', { name: 'Add a car or engine…' }))
  await hand.selectOptions(await screen.findByRole('combobox', { name: 'Kind' }), 'own-car')
  await hand.click(screen.getByRole('button', { name: 'Add it' }))
  expect(screen.getByText(/has no name yet/)).toBeVisible()
  await type('Name', 'Quay gondola')
  await type('Body length', '90mm')
  await hand.click(screen.getByRole('button', { name: 'Add it' }))
  // The trucks of a 40 ft car, 30 ft 8 in apart, do not go under it.
  expect(screen.getByRole('alert')).toBeVisible()
  expect(made()).toEqual([])
  await type('Truck centres', '60mm')
  await hand.click(screen.getByRole('button', { name: 'Add it' }))
  expect(made()).toMatchObject([{ name: 'Quay gondola', wheels: null, frames: [{ kind: 'car', lengthMm: 90, truckCentresMm: 60 }] }])
  // 44 ft 3 in over couplers in 1:87.1 was left as it was.
  expect(made()[0]?.overCouplersMm).toBeCloseTo((44.25 * 304.8) / 87.1, 2)
})

it('an engine gets a place more along its frame, which changes nothing of it yet, and loses it again', async () => {
  const row = vehicleByKey('steam-4-6-2')
  if (row === null) throw new Error('no such engine')
  const plan = roomPlan()
  const { stores } = renderOnDesk(<VehicleParticulars id="engine" />, {
    ...plan,
    vehicles: { engine: { ...vehicleOfRow(row, plan.railway.ratio), id: 'engine' } },
    lineClasses: Object.fromEntries(Object.entries(plan.lineClasses).map(([id, one]) => [id, { ...one, cars: [] }])),
  })
  const widths = () => {
    const frame = stores.plan.getState().plan.vehicles['engine']?.frames[0]
    return frame?.kind === 'drivers' ? frame.widths : []
  }
  const before = widths()
  await hand.click(screen.getByRole('button', { name: 'Add a place' }))
  expect(widths()).toHaveLength(before.length + 1)
  const [a, middle, b] = widths().slice(-3)
  expect(middle?.aheadMm).toBeCloseTo(((a?.aheadMm ?? 0) + (b?.aheadMm ?? 0)) / 2, 9)
  expect(middle?.widthMm).toBeCloseTo(((a?.widthMm ?? 0) + (b?.widthMm ?? 0)) / 2, 9)
  await hand.click(screen.getByRole('button', { name: `Take out Place ${before.length}` }))
  expect(widths()).toEqual(before)
})

it('a class has a rule told as a warning, and as usual again', async () => {
  const { stores } = renderOnDesk(<LineClassParticulars id="main" />)
  const rules = () => stores.plan.getState().plan.lineClasses['main']?.rules
  await hand.click(screen.getByText('How rules are told'))
  const choice = screen.getByRole('combobox', { name: 'Broken-back curve' })
  await hand.selectOptions(choice, 'as a warning')
  expect(rules()).toEqual({ 'broken-back': 'warning' })
  await hand.selectOptions(choice, 'as usual')
  expect(rules()).toEqual({})
})

it('a class has its ties from a preset of a time, and as the railway again', async () => {
  const { stores } = renderOnDesk(<LineClassParticulars id="main" />)
  const main = () => stores.plan.getState().plan.lineClasses['main']
  const choice = screen.getByRole('combobox', { name: 'Ties' })
  await hand.selectOptions(choice, 'Yard or spur, from the 1920s')
  // 6 x 8 in ties of 8 ft 6 in, 25 3/4 in apart, in 1:87.1.
  expect(main()?.tieSpacingMm).toBeCloseTo((25.75 * 25.4) / 87.1, 2)
  expect(main()?.tie).toMatchObject({ widthMm: expect.closeTo((8 * 25.4) / 87.1, 2), thicknessMm: expect.closeTo((6 * 25.4) / 87.1, 2) })
  expect(main()?.jointTieSpacingMm).toBeNull()
  expect(choice).toHaveDisplayValue('Yard or spur, from the 1920s')
  expect(screen.getByRole('textbox', { name: /Tie width/ })).toBeVisible()
  await hand.selectOptions(choice, 'as the railway has them')
  expect(main()?.tie).toBe('railway')
  await hand.selectOptions(screen.getByRole('combobox', { name: 'Beside rail joints' }), 'closer')
  expect(main()?.jointTieSpacingMm).toBeCloseTo(0.9 * (main()?.tieSpacingMm ?? 0), 9)
})

it('doors, hatches, joists and portals are made without a pointer, each where it belongs', () => {
  const { stores } = renderOnDesk(null)
  const points = [0, 4000].map((x) => ({ x, y: -200 }))
  stores.plan.getState().apply({ kind: 'wall.add', record: { name: 'Wall', points, thicknessMm: 100, isClosed: false } })
  const { plan } = stores.plan.getState()
  const [wall, piece, track] = [plan.walls['wall-1'], plan.benchworks['benchwork-1'], plan.tracks['track-1']]
  if (wall === undefined || piece === undefined || track === undefined) throw new Error('the room has no wall, bench or track')
  doorAddIn(stores, wall)
  hatchAddIn(stores, piece)
  joistAddUnder(stores, piece)
  portalAddOn(stores, track)
  const after = stores.plan.getState().plan
  const [door] = Object.values(after.openings)
  // In the middle of the wall.
  expect((door?.fromMm ?? 0) + (door?.widthMm ?? 0) / 2).toBeCloseTo(2000, 6)
  expect(Object.values(after.hatches)[0]?.outline).toHaveLength(4)
  const [joist] = Object.values(after.joists)
  // From edge to edge of the bench.
  const onEdge = (at: { x: number; y: number } | undefined) =>
    piece.outline.some((a, i) => {
      const b = piece.outline[(i + 1) % piece.outline.length] ?? a
      const cross = (b.x - a.x) * ((at?.y ?? NaN) - a.y) - (b.y - a.y) * ((at?.x ?? NaN) - a.x)
      return Math.abs(cross) / Math.hypot(b.x - a.x, b.y - a.y) < 1e-6
    })
  expect([onEdge(joist?.from), onEdge(joist?.to)]).toEqual([true, true])
  expect(Object.values(after.portals)[0]).toMatchObject({ track: 'track-1' })
  expect(stores.session.getState().selection).toMatchObject({ kind: 'record', table: 'portals' })
})
