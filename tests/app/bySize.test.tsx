import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen, within } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { App } from '../../src/app/App.tsx'
import { actionsNow } from '../../src/app/commands/actions.ts'
import { ringArea } from '../../src/core/geom/index.ts'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(cleanup)

const button = (name: string): HTMLElement => screen.getByRole('button', { name })
const region = (name: string): HTMLElement | null => screen.queryByRole('region', { name })

async function type(name: string, text: string): Promise<void> {
  const field = screen.getByRole('textbox', { name })
  await hand.clear(field)
  await hand.type(field, `${text}{Enter}`)
}

/** With a room of 4 by 3 m in metric, and nothing in it. */
async function inRoom(): Promise<ReturnType<typeof renderOnDesk>> {
  const rendered = renderOnDesk(<App />)
  const { stores } = rendered
  await act(async () => {
    stores.prefs.getState().setPrefs({ units: 'metric' })
    for (const id of Object.keys(stores.plan.getState().plan.benchworks))
      stores.plan.getState().apply({ kind: 'remove', table: 'benchworks', id })
    const points = [
      { x: 0, y: 0 },
      { x: 4000, y: 0 },
      { x: 4000, y: 3000 },
      { x: 0, y: 3000 },
    ]
    stores.plan.getState().apply({ kind: 'wall.add', record: { name: 'Room 1', points, isClosed: true, thicknessMm: 100 } })
  })
  return rendered
}

describe('while its sizes are typed', () => {
  it('an L lies over the plan as it will stand, and the corners have the numbers that the form calls them by', async () => {
    const { stores, desk } = await inRoom()
    await hand.click(button('Add an L or a U by its sizes'))
    const ghost = () => desk.getState().benchGhost
    expect(ghost()?.corners.map(({ number, at, isTaken }) => [number, at.x, at.y, isTaken])).toEqual([
      [1, 0, 0, true],
      [2, 4000, 0, false],
      [3, 4000, 3000, false],
      [4, 0, 3000, false],
    ])
    await type('Leg A', '2000')
    await type('Leg B', '2500')
    const shown = ghost()?.outline ?? []
    await hand.click(button('Add this L'))
    const [made] = Object.values(stores.plan.getState().plan.benchworks)
    expect(made?.outline).toEqual(shown)
    expect(Math.max(...shown.map(({ x }) => x))).toBeCloseTo(2500, 6)
    expect(Math.max(...shown.map(({ y }) => y))).toBeCloseTo(2000, 6)
    expect(ghost()).toBeNull()
  })
})

describe('a shelf along a wall', () => {
  it('lies over the plan as it will stand, with the points of the wall by their numbers', async () => {
    const { stores, desk } = await inRoom()
    const [wall] = Object.values(stores.plan.getState().plan.walls)
    await act(async () => stores.session.getState().select({ kind: 'record', table: 'walls', id: wall?.id ?? '' }))
    await hand.click(await screen.findByRole('button', { name: 'Run a shelf along it' }))
    const ghost = () => desk.getState().benchGhost
    expect(ghost()?.corners.map(({ number, at, isTaken }) => [number, at.x, at.y, isTaken])).toEqual([
      [1, 0, 0, true],
      [2, 4000, 0, true],
      [3, 4000, 3000, false],
      [4, 0, 3000, false],
    ])
    await type('Deep', '450')
    await act(async () => ghost()?.corners[2]?.onTake())
    const shown = ghost()?.outline ?? []
    // Along the lower wall and up the right one, 450 mm deep: by hand.
    expect(Math.abs(ringArea(shown))).toBeCloseTo(4000 * 450 + (3000 - 450) * 450, 0)
    await hand.click(button('Add this shelf'))
    const [made] = Object.values(stores.plan.getState().plan.benchworks)
    expect(made?.outline).toEqual(shown)
    expect(ghost()).toBeNull()
  })
})

describe('one thing is made at a time', () => {
  it('is shut by Escape wherever the focus is, and gives the focus back to its button', async () => {
    renderOnDesk(<App />)
    await hand.click(button('Add a table by its size'))
    expect(screen.getByRole('textbox', { name: 'Along' })).toHaveFocus()
    await hand.keyboard('{Escape}')
    expect(region('A table by its size')).toBeNull()
    expect(button('Add a table by its size')).toHaveFocus()
    await hand.click(button('Add a table by its size'))
    await act(async () => screen.getByRole('application').focus())
    await hand.keyboard('{Escape}')
    expect(region('A table by its size')).toBeNull()
  })

  it('gives a half typed size back first, as every field does', async () => {
    renderOnDesk(<App />)
    await hand.click(button('Add a table by its size'))
    await hand.type(screen.getByRole('textbox', { name: 'Deep' }), '9')
    await hand.keyboard('{Escape}')
    expect(region('A table by its size')).not.toBeNull()
    await hand.keyboard('{Escape}')
    expect(region('A table by its size')).toBeNull()
  })

  it('is opened by the finder from any stage, with the tool in hand laid down', async () => {
    const { stores, desk } = renderOnDesk(<App />)
    act(() => stores.session.getState().setStage('line'))
    act(() => stores.session.getState().setTool('track'))
    await act(async () =>
      actionsNow(stores, desk)
        .find(({ id }) => id === 'legs-by-size')
        ?.run(),
    )
    expect(stores.session.getState()).toMatchObject({ stage: 'room', tool: 'select' })
    expect(region('An L or a U by its sizes')).not.toBeNull()
  })

  it('is shut when something else is begun, and lays down the tool in hand', async () => {
    const { stores } = renderOnDesk(<App />)
    await hand.click(button('Add a table by its size'))
    await hand.click(button('Draw benchwork'))
    expect(region('A table by its size')).toBeNull()
    await hand.click(button('Add an L or a U by its sizes'))
    expect(stores.session.getState().tool).toBe('select')
    expect(region('An L or a U by its sizes')).not.toBeNull()
    await hand.click(button('Add a table by its size'))
    expect(region('An L or a U by its sizes')).toBeNull()
    await hand.click(button('Type the room as measured'))
    expect(region('A table by its size')).toBeNull()
  })
})

describe('an L or a U by its sizes', () => {
  it('stands in a corner of the room in one step, its inner corner cut', async () => {
    const { stores } = await inRoom()
    const steps = stores.plan.getState().undoStack.length
    await hand.click(button('Add an L or a U by its sizes'))
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Stands' }), 'corner 2, Room 1')
    await type('Leg A', '2500')
    await type('A deep', '700')
    await type('Leg B', '1800')
    await type('B deep', '500')
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Inner corner' }), 'cut off, at 45° where it is square')
    await type('Cut off by', '200')
    await hand.click(button('Add this L'))
    const [piece] = Object.values(stores.plan.getState().plan.benchworks)
    expect(region('An L or a U by its sizes')).toBeNull()
    expect(stores.plan.getState().undoStack).toHaveLength(steps + 1)
    // Leg A comes along the lower wall to corner 2, leg B goes up from there.
    const points = piece?.outline.map(({ x, y }) => [Math.round(x), Math.round(y)]) ?? []
    for (const corner of [
      [1500, 0],
      [4000, 0],
      [4000, 1800],
      [3500, 1800],
      [3500, 900],
      [3300, 700],
      [1500, 700],
    ])
      expect(points).toContainEqual(corner)
    expect(points).toHaveLength(7)
    act(() => void stores.plan.getState().undo())
    expect(stores.plan.getState().plan.benchworks).toEqual({})
  })

  it('lets a U fill its wall, and says which leg is longer than its wall', async () => {
    const { stores } = await inRoom()
    await hand.click(button('Add an L or a U by its sizes'))
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Shape' }), 'U: three legs')
    expect(screen.getByRole('textbox', { name: 'Leg B' })).toHaveValue('4000 mm')
    await type('Leg C', '3100')
    expect(screen.getByRole('alert')).toHaveTextContent('Leg C is 3100 mm long and its wall 3000 mm')
    await hand.click(button('Add this U'))
    expect(stores.plan.getState().plan.benchworks).toEqual({})
    await type('Leg C', '3000')
    await type('Leg A', '2000')
    await hand.click(button('Add this U'))
    const [piece] = Object.values(stores.plan.getState().plan.benchworks)
    // Three legs 600 deep: 4000 + 3000 + 2000 along their backs, less two squares that they share.
    expect(ringArea(piece?.outline ?? [])).toBeCloseTo(600 * 9000 - 2 * 600 * 600, 3)
  })

  it('says what takes all of a leg, naming the leg', async () => {
    await inRoom()
    await hand.click(button('Add an L or a U by its sizes'))
    await type('Leg A', '550')
    expect(screen.getByRole('alert')).toHaveTextContent(
      'Along leg A no front edge is left: it is 550 mm long, and the depths at its ends take 600 mm',
    )
  })

  it('is pointed to its place by keyboard as well, and Escape takes it back into the form', async () => {
    const { stores } = await inRoom()
    await hand.click(button('Add an L or a U by its sizes'))
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Stands' }), 'where I point')
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Leg B goes' }), 'up')
    await hand.click(button('Point at its corner'))
    await screen.findByRole('application', { name: /^L-table: click where its corner stands/ })
    await hand.keyboard('{Escape}')
    expect(screen.queryByRole('application', { name: /^L-table/ })).toBeNull()
    expect(region('An L or a U by its sizes')).not.toBeNull()
    act(() => stores.session.getState().setViewport({ centre: { x: 1000, y: 1000 }, pxPerMm: 0.1 }))
    await hand.click(button('Point at its corner'))
    expect(await screen.findByRole('application', { name: /^L-table/ })).toHaveFocus()
    await hand.keyboard('{Enter}')
    const [piece] = Object.values(stores.plan.getState().plan.benchworks)
    expect(piece?.outline).toContainEqual({ x: 1000, y: 1000 })
    // Up: the leg behind the corner ends above it, the other to its left.
    expect(piece?.outline).toContainEqual({ x: 1000, y: 3400 })
    expect(region('An L or a U by its sizes')).toBeNull()
  })
})

it('begins a table in round measures of the rule that is chosen', async () => {
  const { stores } = renderOnDesk(<App />)
  for (const [units, sizes] of [
    ['metric', ['2400 mm', '900 mm']],
    ['imperial', ['8′ 0″', '3′ 0″']],
  ] as const) {
    act(() => stores.prefs.getState().setPrefs({ units }))
    await hand.click(button('Add a table by its size'))
    const form = region('A table by its size')
    if (form === null) throw new Error('no form')
    expect(
      within(form)
        .getAllByRole<HTMLInputElement>('textbox')
        .map(({ value }) => value),
    ).toEqual(sizes)
    await hand.keyboard('{Escape}')
  }
})
