import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen } from '@testing-library/react'
import { afterEach, expect, it } from 'vitest'
import { Particulars } from '../../src/app/particulars/Particulars.tsx'
import { aTrack, planWith } from '../support/plans.ts'
import { hand, renderOnDesk } from './desk.tsx'

afterEach(cleanup)

const inch = 25.4

it('a track says how far the one beside it lies, and sees when it is parallel no more', async () => {
  const free = (x: number, y: number) => ({ kind: 'free', x, y }) as const
  const plan = planWith({
    tracks: [
      aTrack({ end: free(96 * inch, 0) }),
      aTrack({ id: 'track-2', name: 'Siding', start: free(0, 2 * inch), end: free(96 * inch, 2 * inch) }),
    ],
  })
  const { stores } = renderOnDesk(<Particulars />, plan)
  act(() => stores.session.getState().select({ kind: 'record', table: 'tracks', id: 'track-2' }))
  const row = await screen.findByText('Beside')
  expect(row.parentElement).toHaveTextContent('Main: 2 in all along, for 8′ 0″')
  act(() => void stores.plan.getState().apply({ kind: 'track.setEnd', id: 'track-1', end: free(96 * inch, -inch) }))
  expect(screen.getByText('Beside').parentElement).toHaveTextContent(/Main: 2 in to 3 in, for/)
  await hand.click(screen.getByRole('button', { name: 'Main: go there' }))
  expect(stores.session.getState().selection).toEqual({ kind: 'record', table: 'tracks', id: 'track-1' })
})
