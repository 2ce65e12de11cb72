import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen } from '@testing-library/react'
import { afterEach, expect, it } from 'vitest'
import NewRoom from '../../src/app/file/NewRoom.tsx'
import { ExampleCard } from '../../src/app/stages/ExampleCard.tsx'
import { planEdit } from '../../src/app/planEdit.ts'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(cleanup)

it('says what lies on the desk as long as nothing of it is the person’s own, and begins a room', async () => {
  const { stores, desk } = renderOnDesk(<ExampleCard />)
  expect(screen.queryByRole('button')).toBeNull()
  act(() => desk.getState().set({ example: stores.plan.getState().committed }))
  await hand.click(screen.getByRole('button', { name: 'Begin a room of your own' }))
  expect(desk.getState().dialog).toBe('newRoom')
  act(() => void planEdit(stores, { kind: 'track.set', id: 'track-1', change: { name: 'Mine now' } }))
  expect(screen.queryByRole('button')).toBeNull()
})

it('asks for scale and measures when a room begins, and warns only of what could be missed', async () => {
  const { stores, desk } = renderOnDesk(<NewRoom />)
  expect(screen.getByRole('button', { name: 'Save the plan to a file first' })).toBeVisible()
  act(() => desk.getState().set({ example: stores.plan.getState().committed }))
  expect(screen.queryByRole('button', { name: 'Save the plan to a file first' })).toBeNull()
  await hand.selectOptions(screen.getByRole('combobox', { name: 'Lengths in' }), 'millimetres')
  await hand.click(screen.getByRole('button', { name: 'Begin the new room' }))
  expect(stores.prefs.getState().units).toBe('metric')
  expect(stores.plan.getState().plan.tracks).toEqual({})
})
