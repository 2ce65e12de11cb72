import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { useKeys } from '../../src/app/commands/useKeys.ts'
import { Foot } from '../../src/app/Foot.tsx'
import { Particulars } from '../../src/app/particulars/Particulars.tsx'
import { hand, renderOnDesk } from './desk.tsx'
import type { Desk } from './desk.tsx'

afterEach(cleanup)

function Column(): React.ReactNode {
  useKeys()
  return (
    <>
      <Particulars />
      <Foot />
    </>
  )
}

function cornerSelected(corner: string): Desk {
  const desk = renderOnDesk(<Column />)
  act(() => desk.stores.session.getState().select({ kind: 'corner', track: 'track-1', corner }))
  return desk
}

const cornerOf = ({ stores }: Desk, id: string): unknown =>
  stores.plan.getState().plan.tracks['track-1']?.corners.find((corner) => corner.id === id)

describe('the particulars of a corner', () => {
  it('show what the class gives, and say that it does', () => {
    cornerSelected('pi-1')
    expect(screen.getByRole('heading', { name: 'PI 1' })).toBeVisible()
    expect(screen.getByRole('textbox', { name: 'Radius' })).toHaveValue('32 in')
    expect(screen.getByRole('textbox', { name: 'Radius' })).toHaveAccessibleDescription('by class')
    expect(screen.getByRole('textbox', { name: 'Easement in' })).toHaveValue('12 in')
  })

  it('show what comes out: a right angle to the left', () => {
    cornerSelected('pi-1')
    expect(screen.getByText('90.00° left')).toBeVisible()
  })

  it('take a typed radius into the plan as one step that undo names', async () => {
    const desk = cornerSelected('pi-1')
    const radius = screen.getByRole('textbox', { name: 'Radius' })
    await hand.clear(radius)
    await hand.type(radius, `2' 10"{Enter}`)
    expect(cornerOf(desk, 'pi-1')).toMatchObject({ radius: expect.closeTo(863.6, 9), easementIn: 'class' })
    expect(desk.stores.plan.getState().undoStack).toHaveLength(1)
    expect(radius).toHaveAccessibleDescription(/≥ 28 in/)
    await hand.click(screen.getByRole('button', { name: 'Undo: set radius at PI 1 of track Harbour line' }))
    expect(cornerOf(desk, 'pi-1')).toMatchObject({ radius: 'class' })
  })

  it('go back to the class', async () => {
    const desk = cornerSelected('pi-2')
    await hand.click(screen.getByRole('button', { name: 'Radius: to class' }))
    expect(cornerOf(desk, 'pi-2')).toMatchObject({ radius: 'class' })
    expect(screen.getByRole('textbox', { name: 'Radius' })).toHaveValue('32 in')
  })

  it('make one step of a held arrow', async () => {
    const desk = cornerSelected('pi-2')
    await hand.type(screen.getByRole('textbox', { name: 'Radius' }), '{ArrowUp>4/}')
    expect(screen.getByRole('textbox', { name: 'Radius' })).toHaveValue('24¾ in')
    expect(desk.stores.plan.getState().undoStack).toHaveLength(1)
  })

  it('take back a step with Ctrl Z while nothing is half typed in the field', async () => {
    const desk = cornerSelected('pi-1')
    await hand.clear(screen.getByRole('textbox', { name: 'Radius' }))
    await hand.type(screen.getByRole('textbox', { name: 'Radius' }), '40{Enter}')
    await hand.keyboard('{Control>}z{/Control}')
    expect(cornerOf(desk, 'pi-1')).toMatchObject({ radius: 'class' })
    await hand.keyboard('{Control>}{Shift>}z{/Shift}{/Control}')
    expect(cornerOf(desk, 'pi-1')).toMatchObject({ radius: expect.closeTo(1016, 9) })
  })

  it('tell the largest radius that fits, and take it at a press, from the class to a line', async () => {
    const desk = cornerSelected('pi-1')
    const radius = screen.getByRole('textbox', { name: 'Radius' })
    await hand.clear(radius)
    await hand.type(radius, '30 ft{Enter}')
    expect(desk.stores.derived.getState().derived.network.tracks.get('track-1')?.alignment.ok).toBe(false)
    await hand.click(screen.getByRole('button', { name: /^Radius: the largest that fits/ }))
    const taken = desk.stores.plan.getState().plan.tracks['track-1']?.corners[0]?.radius
    expect(desk.stores.derived.getState().derived.network.tracks.get('track-1')?.alignment.ok).toBe(true)
    expect(screen.queryByRole('button', { name: /^Radius: the largest that fits/ })).toBeNull()
    // A millimetre more is too much.
    const change = { radius: Number(taken) + 1 }
    act(() => void desk.stores.plan.getState().apply({ kind: 'corner.set', track: 'track-1', corner: 'pi-1', change }))
    expect(desk.stores.derived.getState().derived.network.tracks.get('track-1')?.alignment.ok).toBe(false)
  })

  it('say what is missing when the easements do not fit', async () => {
    cornerSelected('pi-1')
    const easement = screen.getByRole('textbox', { name: 'Easement in' })
    await hand.clear(easement)
    await hand.type(easement, '8 ft{Enter}')
    // A spiral of 96 in to R 32 in turns 96 / (2 x 32) = 1.5 rad, the other one 12 / 64 = 0.1875: more than pi / 2.
    expect(await screen.findByRole('list', { name: 'Findings here' })).toHaveTextContent(
      /The easements at PI 1 turn 6\.69° more than the corner does/,
    )
  })

  it('leave the plan alone for an entry that is no length', async () => {
    const desk = cornerSelected('pi-1')
    const before = desk.stores.plan.getState().plan
    await hand.clear(screen.getByRole('textbox', { name: 'Radius' }))
    await hand.type(screen.getByRole('textbox', { name: 'Radius' }), 'wide{Enter}')
    expect(screen.getByRole('alert')).toHaveTextContent('“wide” is not a number')
    expect(desk.stores.plan.getState().plan).toBe(before)
  })
})

describe('what is said of grades', () => {
  it('stands with a track: it lies level', () => {
    const desk = renderOnDesk(<Column />)
    act(() => desk.stores.session.getState().select({ kind: 'record', table: 'tracks', id: 'track-1' }))
    expect(screen.getByText('Grade').parentElement).toHaveTextContent('Gradelevelonly a helix climbs')
  })

  it('is set for a class, in per cent', async () => {
    const desk = renderOnDesk(<Column />)
    act(() => desk.stores.session.getState().select({ kind: 'record', table: 'lineClasses', id: 'main' }))
    const grade = screen.getByRole('textbox', { name: 'Steepest grade' })
    await hand.clear(grade)
    await hand.type(grade, '1 in 40{Enter}')
    expect(desk.stores.plan.getState().plan.lineClasses['main']?.maxGrade).toBeCloseTo(0.025, 12)
    expect(grade).toHaveValue('2.5 %')
  })
})

describe('the particulars of benchwork', () => {
  it('move the far end of a side to a typed length', async () => {
    const desk = renderOnDesk(<Column />)
    act(() => desk.stores.session.getState().select({ kind: 'record', table: 'benchworks', id: 'benchwork-1' }))
    const side = screen.getByRole('textbox', { name: 'Side from point 2' })
    expect(side).toHaveValue('9′ 0″')
    await hand.clear(side)
    await hand.type(side, '8 ft{Enter}')
    expect(desk.stores.plan.getState().plan.benchworks['benchwork-1']?.outline[2]).toEqual({
      x: expect.closeTo(3657.6, 9),
      y: expect.closeTo(2438.4, 9),
    })
  })
})

describe('the particulars of a turnout', () => {
  it('show the numbers that standard stands for', () => {
    const desk = renderOnDesk(<Column />)
    act(() => desk.stores.session.getState().select({ kind: 'record', table: 'turnouts', id: 'turnout-1' }))
    // Points of 11 ft at 1:87.1 are 1.515 in (trade habit: 11 ft for No. 5 and 6; common practice, no source).
    expect(screen.getByRole('textbox', { name: 'Point length' })).toHaveValue('1.515 in')
    expect(screen.getByRole('textbox', { name: 'Frog' })).toHaveValue('No. 6')
  })

  it('start a track from the leg and put its end into the hand', async () => {
    const desk = renderOnDesk(<Column />)
    act(() => desk.stores.session.getState().select({ kind: 'record', table: 'turnouts', id: 'turnout-1' }))
    await hand.click(screen.getByRole('button', { name: 'Start a track from its leg' }))
    const { plan } = desk.stores.plan.getState()
    const added = Object.values(plan.tracks).find((track) => track.id !== 'track-1')
    expect(added?.start).toEqual({ kind: 'leg', turnout: 'turnout-1', leg: 'diverging' })
    expect(desk.stores.session.getState().selection).toEqual({ kind: 'trackEnd', track: added?.id, end: 'end' })
    expect(desk.stores.derived.getState().derived.network.tracks.get(added?.id ?? '')?.alignment.ok).toBe(true)
  })
})

describe('a corner of several radii', () => {
  async function several(): Promise<Desk> {
    const desk = cornerSelected('pi-1')
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Curve' }), 'several radii')
    return desk
  }

  it('comes from a corner of one: its radius, and a second arc flatter by a quarter', async () => {
    const desk = await several()
    expect(cornerOf(desk, 'pi-1')).toMatchObject({
      radius: {
        first: { radius: 'class', turn: { kind: 'share', share: 1 } },
        next: [{ easement: 'class', radius: 1016, turn: { kind: 'share', share: 1 } }],
      },
    })
    expect(screen.getByRole('textbox', { name: 'Radius 2' })).toHaveValue('40 in')
    // 40 in has four fifths of the curvature of 32 in: a fifth is gained, so a fifth of the class's 12 in is long enough.
    expect(screen.getByRole('textbox', { name: 'Easement to arc 2' })).toHaveValue('2¹³⁄₃₂ in')
    expect(screen.getByText((_, element) => element?.className === 'field-label' && element.textContent === 'CS · SC')).toBeVisible()
  })

  it('takes an angle or a share for the turn of an arc, and says what is wrong with anything else', async () => {
    const desk = await several()
    const turn = screen.getByRole('textbox', { name: 'Turn 2' })
    await hand.clear(turn)
    await hand.type(turn, '20{Enter}')
    expect(cornerOf(desk, 'pi-1')).toMatchObject({ radius: { next: [{ turn: { kind: 'angle', turnRad: Math.PI / 9 } }] } })
    await hand.clear(turn)
    await hand.type(turn, 'share 0{Enter}')
    expect(turn).toHaveAccessibleDescription(/A share is more than nothing/)
    await hand.clear(turn)
    await hand.type(turn, '200{Enter}')
    expect(turn).toHaveAccessibleDescription(/less than 180°/)
    await hand.clear(turn)
    await hand.type(turn, 'share 2{Enter}')
    expect(cornerOf(desk, 'pi-1')).toMatchObject({ radius: { next: [{ turn: { kind: 'share', share: 2 } }] } })
  })

  it('gets one more arc, loses it again, and becomes one of one radius', async () => {
    const desk = await several()
    await hand.click(screen.getByRole('button', { name: 'Add an arc' }))
    expect(screen.getByRole('textbox', { name: 'Radius 3' })).toBeVisible()
    await hand.click(screen.getByRole('button', { name: 'Take the last arc off' }))
    expect(screen.queryByRole('textbox', { name: 'Radius 3' })).toBeNull()
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Curve' }), 'arc with easements')
    expect(cornerOf(desk, 'pi-1')).toMatchObject({ radius: 'class' })
  })
})
