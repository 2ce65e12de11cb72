import '@testing-library/jest-dom/vitest'
import { act, cleanup, fireEvent, render, screen, within } from '@testing-library/react'
import { afterEach, expect, it } from 'vitest'
import { Foot } from '../../src/app/Foot.tsx'
import { usePointed } from '../../src/app/pointed.ts'
import { renderOnDesk } from './desk.tsx'

afterEach(cleanup)

it('the foot has the same buttons in the same order whatever can be undone or brought back', () => {
  const { stores } = renderOnDesk(<Foot />)
  const group = within(screen.getByRole('group', { name: 'Kept, steps, actions' }))
  const names = (): readonly string[] =>
    group.getAllByRole('button').map((button) => button.getAttribute('aria-label') ?? button.textContent ?? '')
  const title = (text: string): void => void stores.plan.getState().apply({ kind: 'railway.set', change: { title: text } })
  expect(names()).toEqual(['All steps…', 'find any action', 'Nothing to undo', 'Nothing to redo'])
  act(() => title('One'))
  expect(names()).toEqual(['All steps…', 'find any action', 'Undo: name the railway One', 'Nothing to redo'])
  act(() => stores.plan.getState().undo())
  expect(names()).toEqual(['All steps…', 'find any action', 'Nothing to undo', 'Redo: name the railway One'])
  fireEvent.click(group.getByRole('button', { name: 'Redo: name the railway One' }))
  expect(stores.plan.getState().plan.railway.title).toBe('One')
})

it('the page knows whether it is gone about by pointer or by keys', () => {
  function Page(): null {
    usePointed()
    return null
  }
  render(<Page />)
  const isPointed = (): boolean => 'pointed' in document.documentElement.dataset
  expect(isPointed()).toBe(false)
  fireEvent.pointerDown(document.body)
  fireEvent.keyDown(document.body, { key: 'Escape' })
  fireEvent.keyDown(document.body, { key: 'Enter' })
  expect(isPointed()).toBe(true)
  fireEvent.keyDown(document.body, { key: 'Tab' })
  expect(isPointed()).toBe(false)
})
