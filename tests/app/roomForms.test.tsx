import '@testing-library/jest-dom/vitest'
import { act, cleanup, fireEvent, screen } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { App } from '../../src/app/App.tsx'
import { hand, renderOnDesk } from './desk.tsx'

await import('../../src/app/room/RoomMeasured.tsx')

afterEach(cleanup)

const inch = 25.4
const button = (name: string): HTMLElement => screen.getByRole('button', { name })
const field = (name: string): HTMLElement => screen.getByRole('textbox', { name })

async function type(name: string, text: string): Promise<void> {
  await hand.clear(field(name))
  await hand.type(field(name), `${text}{Enter}`)
}

/** A room of 136 by 116 in, walked with the room on the left, with one door in its first side, and nothing else in it. */
async function inRoom(): Promise<ReturnType<typeof renderOnDesk>> {
  const rendered = renderOnDesk(<App />)
  const { stores } = rendered
  await act(async () => {
    const { plan, apply } = stores.plan.getState()
    for (const id of Object.keys(plan.benchworks)) apply({ kind: 'remove', table: 'benchworks', id })
    const points = [
      [0, 0],
      [136, 0],
      [136, 116],
      [0, 116],
    ].map(([x = 0, y = 0]) => ({ x: x * inch, y: y * inch }))
    apply({ kind: 'wall.add', record: { name: 'Room 1', points, isClosed: true, thicknessMm: 100 } })
    const wall = Object.keys(stores.plan.getState().plan.walls)[0] ?? ''
    const leaf = { hinge: 'from', side: 'left' } as const
    apply({ kind: 'opening.add', record: { name: 'Door 1', wall, fromMm: 52 * inch, widthMm: 32 * inch, leaf, sillMm: null } })
    const opening = Object.keys(stores.plan.getState().plan.openings)[0] ?? ''
    stores.session.getState().select({ kind: 'record', table: 'openings', id: opening })
  })
  return rendered
}

describe('the room by tape', () => {
  it('lets the side across go with the one that is typed until it is typed itself', async () => {
    const { stores, desk } = renderOnDesk(<App />)
    act(() => desk.getState().set({ dialog: 'roomMeasured' }))
    await screen.findByRole('heading', { name: 'The room by tape' })
    await type('Length of side 1', '11 ft 4 in')
    await type('Length of side 2', '9 8')
    expect(field('Length of side 3')).toHaveValue('11′ 4″')
    expect(field('Length of side 4')).toHaveValue('9′ 8″')
    await type('Length of side 3', '11 4 1/4')
    expect(field('Length of side 1')).toHaveValue('11′ 4″')
    await type('Length of side 3', '11 4')
    await hand.click(button('Draw these walls'))
    const [wall] = Object.values(stores.plan.getState().plan.walls)
    expect(wall?.points[2]?.x).toBeCloseTo(136 * inch, 6)
    expect(wall?.points[2]?.y).toBeCloseTo(116 * inch, 6)
  })

  it('keeps what was typed through Escape, and draws nothing while a side is refused', async () => {
    const { stores, desk } = renderOnDesk(<App />)
    const open = async (): Promise<void> => {
      act(() => desk.getState().set({ dialog: 'roomMeasured' }))
      await screen.findByRole('heading', { name: 'The room by tape' })
    }
    await open()
    await type('Length of side 1', '11 4')
    await hand.keyboard('{Escape}')
    expect(desk.getState().dialog).toBeNull()
    await open()
    expect(field('Length of side 1')).toHaveValue('11′ 4″')
    await type('Length of side 2', '-5')
    await hand.click(button('Draw these walls'))
    expect(Object.keys(stores.plan.getState().plan.walls)).toHaveLength(0)
    expect(field('Length of side 2')).toHaveFocus()
    await hand.click(button('Leave it'))
    await open()
    expect(field('Length of side 1')).not.toHaveValue('11′ 4″')
  })
})

describe('a door', () => {
  it('is measured from the corner of its own side, and stays on it', async () => {
    const { stores } = await inRoom()
    const door = () => Object.values(stores.plan.getState().plan.openings)[0]
    expect(field('From')).toHaveValue('4′ 4″')
    await type('From', '99 ft')
    expect(door()?.fromMm).toBeCloseTo(52 * inch, 6)
    expect(screen.getByRole('alert')).toHaveTextContent('From 0″ to 8′ 8″ belongs here.')
    await type('From', '8 8')
    expect(door()?.fromMm).toBeCloseTo(104 * inch, 6)
    await type('Width', '33')
    expect(door()?.widthMm).toBeCloseTo(32 * inch, 6)
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Side' }), '2 to 3')
    expect(field('From')).toHaveValue('7′ 0″')
    expect(door()?.fromMm).toBeCloseTo((136 + 84) * inch, 6)
  })

  it('of a room opens in or out of it', async () => {
    const { stores } = await inRoom()
    const leaf = screen.getByRole('combobox', { name: 'Leaf' })
    expect(leaf).toHaveDisplayValue('opens in, hinge first')
    await hand.selectOptions(leaf, 'opens out, hinge first')
    expect(Object.values(stores.plan.getState().plan.openings)[0]?.leaf).toEqual({ hinge: 'from', side: 'right' })
  })
})

describe('benchwork by its sizes', () => {
  it('takes a corner of the room by its number on the plan', async () => {
    const { desk } = await inRoom()
    await hand.click(button('Add an L or a U by its sizes'))
    const corner = desk.getState().benchGhost?.corners.find(({ number }) => number === 4)
    act(() => corner?.onTake())
    expect(screen.getByRole('combobox', { name: 'Stands' })).toHaveDisplayValue('corner 4, Room 1')
  })

  it('waits where something else is begun, and is forgotten when it is left', async () => {
    await inRoom()
    await hand.click(button('Add an L or a U by its sizes'))
    await type('Leg A', '11 4')
    await hand.click(button('Add a table by its size'))
    await hand.click(button('Add an L or a U by its sizes'))
    expect(field('Leg A')).toHaveValue('11′ 4″')
    await hand.click(button('Leave it'))
    await hand.click(button('Add an L or a U by its sizes'))
    expect(field('Leg A')).toHaveValue('8′ 0″')
  })

  it('stands in the room where there is space, beside what stands there', async () => {
    const { stores } = await inRoom()
    const add = async (): Promise<void> => {
      await hand.click(button('Add a table by its size'))
      await hand.click(button('Add this table'))
    }
    await add()
    await add()
    const boxes = Object.values(stores.plan.getState().plan.benchworks).map(({ outline }) => ({
      x: Math.min(...outline.map((point) => point.x)) / inch,
      y: Math.min(...outline.map((point) => point.y)) / inch,
    }))
    expect(boxes[0]).toEqual({ x: 0, y: 0 })
    expect(boxes[1]?.x).toBeCloseTo(0, 6)
    expect(boxes[1]?.y).toBeCloseTo(36, 6)
  })

  it('makes nothing while a size is refused, and gives the view back when it is left', async () => {
    const { stores } = await inRoom()
    const { viewport } = stores.session.getState()
    await hand.click(button('Add a table by its size'))
    await type('Along', '99 ft')
    expect(stores.session.getState().viewport).not.toEqual(viewport)
    await type('Deep', '-3')
    await hand.click(button('Add this table'))
    expect(Object.keys(stores.plan.getState().plan.benchworks)).toHaveLength(0)
    await hand.click(button('Leave it'))
    expect(stores.session.getState().viewport).toEqual(viewport)
  })
})

describe('undo while one draws', () => {
  it('takes back the last point, and the step before the drawing only when none stands', async () => {
    const { stores } = await inRoom()
    const canvas = document.querySelector('.canvas')
    if (!(canvas instanceof HTMLElement)) throw new Error('no canvas')
    const openings = (): number => Object.keys(stores.plan.getState().plan.openings).length
    act(() => stores.session.getState().setTool('benchwork'))
    fireEvent.keyDown(canvas, { key: '1' })
    fireEvent.change(screen.getByLabelText('Length, angle'), { target: { value: '0; 0' } })
    fireEvent.keyDown(screen.getByLabelText('Length, angle'), { key: 'Enter' })
    expect(button('Undo: last point')).toBeEnabled()
    fireEvent.keyDown(canvas, { key: 'z', ctrlKey: true })
    expect(openings()).toBe(1)
    expect(button('Back one point')).toBeDisabled()
    fireEvent.keyDown(canvas, { key: 'z', ctrlKey: true })
    expect(openings()).toBe(0)
  })
})
