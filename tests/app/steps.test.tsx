import '@testing-library/jest-dom/vitest'
import { cleanup, screen, waitFor, within } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import StepsSheet from '../../src/app/steps/StepsSheet.tsx'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(cleanup)

describe('the steps', () => {
  it('are listed newest first, and one that is chosen is the last that stands', async () => {
    const { stores } = renderOnDesk(<StepsSheet />)
    const { apply } = stores.plan.getState()
    const frogOf = (): number | undefined => stores.plan.getState().plan.turnouts['turnout-1']?.frog
    expect(screen.getByRole('button', { name: /Nothing has been done yet/ })).toHaveAttribute('aria-current', 'step')
    apply({ kind: 'turnout.set', id: 'turnout-1', change: { frog: 7 } })
    apply({ kind: 'turnout.set', id: 'turnout-1', change: { frog: 8 } })
    apply({ kind: 'turnout.set', id: 'turnout-1', change: { hand: 'right' } })
    const rows = (): HTMLElement[] => within(screen.getByRole('list')).getAllByRole('button')
    await waitFor(() => expect(screen.getAllByRole('listitem')).toHaveLength(4))
    const [, , frogSeven] = rows()
    if (frogSeven === undefined) throw new Error('no such step')
    await hand.click(frogSeven)
    expect([frogOf(), stores.plan.getState().redoStack.length]).toEqual([7, 2])
    expect(rows()[2]).toHaveAttribute('aria-current', 'step')
    expect(rows()[0]).toHaveTextContent(/undone/)
    const [newest] = rows()
    if (newest === undefined) throw new Error('no such step')
    await hand.click(newest)
    expect([frogOf(), stores.plan.getState().plan.turnouts['turnout-1']?.hand]).toEqual([8, 'right'])
    await hand.click(screen.getByRole('button', { name: /^Before all of these/ }))
    expect([frogOf(), stores.plan.getState().undoStack.length]).toEqual([6, 0])
  })
})
