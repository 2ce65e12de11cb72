import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import ImportSheet from '../../src/app/file/ImportSheet.tsx'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(cleanup)

/** The dialog with a file in it. */
function taken(name: string, text: string): ReturnType<typeof renderOnDesk> {
  const made = renderOnDesk(<ImportSheet />)
  act(() => made.desk.getState().set({ dialog: 'import', incoming: { name, text } }))
  return made
}

describe('a list of corners that is taken in', () => {
  it('asks for the unit that it does not say, before anything can be taken', async () => {
    const { stores } = taken('room.csv', 'x,y\n0,0\n3000,0\n3000,2000\nnonsense\n0,2000\n')
    expect(screen.getByRole('button', { name: 'Take it in' })).toBeDisabled()
    expect(screen.getByText(/^Line 5, “nonsense”, has no two measures/)).toBeVisible()
    await hand.selectOptions(screen.getByRole('combobox', { name: 'Unit' }), 'millimetres')
    await hand.click(screen.getByRole('button', { name: 'Take it in' }))
    const corners = Object.values(stores.plan.getState().plan.benchworks).map(({ outline }) => outline)
    expect(corners).toContainEqual([
      { x: 0, y: 0 },
      { x: 3000, y: 0 },
      { x: 3000, y: 2000 },
      { x: 0, y: 2000 },
    ])
  })

  it('is refused row by row where it holds no line', () => {
    const { stores } = taken('room.csv', 'x,y\n0,zero\n3000,0\n')
    expect(screen.getByRole('alert')).toHaveTextContent('There are fewer than two points in the list')
    expect(screen.getByText(/^Line 2, “0,zero”: y cannot be read\./)).toBeVisible()
    expect(stores.plan.getState().undoStack).toHaveLength(0)
  })
})
