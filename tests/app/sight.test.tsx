import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { Canvas } from '../../src/app/canvas/Canvas.tsx'
import { actionsNow } from '../../src/app/commands/actions.ts'
import { findingShow } from '../../src/app/findings.ts'
import { hand, renderOnDesk } from './desk.tsx'

beforeEach(() => {
  localStorage.clear()
  vi.spyOn(Element.prototype, 'getBoundingClientRect').mockReturnValue(DOMRect.fromRect({ width: 800, height: 600 }))
})
afterEach(() => {
  cleanup()
  vi.restoreAllMocks()
})

describe('what is in sight', () => {
  it('is put out of sight kind by kind, by the keyboard alone, and told', async () => {
    const { stores, desk } = renderOnDesk(<Canvas />)
    act(() =>
      actionsNow(stores, desk)
        .find(({ id }) => id === 'sight')
        ?.run(),
    )
    const list = await screen.findByRole('group', { name: 'In sight' })
    expect(screen.getByRole('checkbox', { name: /^Walls/ })).toHaveFocus()
    await hand.keyboard(' {Tab} ')
    expect(stores.session.getState().hidden).toEqual(['room', 'benchwork'])
    expect(screen.getByRole('application')).toHaveAttribute('data-hidden', 'room benchwork')
    expect(screen.getByRole('status')).toHaveTextContent('2 kinds hidden')
    await hand.keyboard('{Escape}')
    expect(list).not.toBeInTheDocument()
    expect(screen.getByRole('application')).toHaveFocus()
    await hand.click(screen.getByRole('button', { name: 'Show what is hidden' }))
    expect(stores.session.getState().hidden).toEqual([])
    expect(screen.queryByText(/hidden/)).toBeNull()
  })

  it('makes way for a tool, and for Escape with a tool in hand', async () => {
    const { stores, desk } = renderOnDesk(<Canvas />)
    const list = (): HTMLElement | null => screen.queryByRole('group', { name: 'In sight' })
    act(() => desk.getState().set({ isSightOpen: true }))
    expect(list()).toBeVisible()
    act(() => stores.session.getState().setTool('measure'))
    expect(list()).toBeNull()
    act(() => desk.getState().set({ isSightOpen: true }))
    act(() => screen.getByRole('application').focus())
    await hand.keyboard('{Escape}')
    expect(list()).toBeNull()
    expect(stores.session.getState().tool).toBe('measure')
  })

  it('holds what a finding is about, once one goes to it', () => {
    const { stores, desk } = renderOnDesk(<Canvas />)
    const [finding] = stores.derived.getState().findings
    if (finding === undefined) throw new Error('the plan of the tests has a finding')
    act(() => {
      for (const kind of ['tracks', 'findings', 'ties'])
        actionsNow(stores, desk)
          .find(({ id }) => id === `sight-${kind}`)
          ?.run()
    })
    expect(stores.session.getState().hidden).toEqual(['tracks', 'findings', 'ties'])
    act(() => findingShow(stores, finding))
    expect(stores.session.getState().hidden).toEqual(['ties'])
  })
})
