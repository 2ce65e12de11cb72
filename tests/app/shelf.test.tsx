import '@testing-library/jest-dom/vitest'
import { cleanup, screen, waitFor, within } from '@testing-library/react'
import { afterEach, describe, expect, it, vi } from 'vitest'
import { CompareView } from '../../src/app/shelf/CompareView.tsx'
import ShelfSheet from '../../src/app/shelf/ShelfSheet.tsx'
import type { Plan } from '../../src/core/plan/types.ts'
import type { PlanLibrary, ShelvedPlan } from '../../src/store/index.ts'
import { hand, renderOnDesk, roomPlan } from './desk.tsx'

afterEach(() => {
  cleanup()
})

const titled = (title: string): Plan => ({ ...roomPlan(), railway: { ...roomPlan().railway, title } })

function libraryOf(...titles: readonly string[]): PlanLibrary & { readonly held: ShelvedPlan[] } {
  const held = titles.map((title, n): ShelvedPlan => ({ id: `plan-${n}`, savedAtMs: n * 1000, document: titled(title), awayAtMs: null }))
  return {
    held,
    plans: async () => ({ deskId: 'desk', others: [...held] }),
    versions: async (planId) => [{ planId, savedAtMs: 5, document: titled('Long ago') }],
    async add(document, savedAtMs) {
      held.push({ id: `plan-${held.length}`, savedAtMs, document, awayAtMs: null })
      return `plan-${held.length - 1}`
    },
    async change(id, change) {
      const at = held.findIndex((plan) => plan.id === id)
      const before = held[at]
      if (before !== undefined) held[at] = { ...before, ...change }
    },
  }
}

describe('the shelf of plans', () => {
  it('opens one, renames, duplicates, puts away and takes back', async () => {
    const library = libraryOf('Mole')
    const { stores } = renderOnDesk(<ShelfSheet />, roomPlan(), undefined, library)
    const name = await screen.findByRole('textbox', { name: 'Name of Mole' })
    await hand.clear(name)
    await hand.type(name, 'Pier{Enter}')
    await waitFor(() => expect(library.held[0]).toMatchObject({ document: { railway: { title: 'Pier' } } }))
    await hand.click(await screen.findByRole('button', { name: 'Put away' }))
    await hand.click(await screen.findByText('Put away: 1'))
    expect(screen.queryByRole('button', { name: 'Open' })).toBeNull()
    await hand.click(screen.getByRole('button', { name: 'Take back' }))
    await screen.findByRole('button', { name: 'Open' })
    await hand.click(screen.getAllByRole('button', { name: 'Duplicate' })[0] as HTMLElement)
    await screen.findByRole('textbox', { name: 'Name of Test quay, second' })
    await hand.click(screen.getAllByRole('button', { name: 'Open' })[0] as HTMLElement)
    expect(stores.plan.getState().committed.railway.title).toBe('Pier')
  })

  it('brings an earlier version back', async () => {
    const { stores } = renderOnDesk(<ShelfSheet />, roomPlan(), undefined, libraryOf())
    await waitFor(() => expect(screen.getByRole('button', { name: 'Versions' })).toBeEnabled())
    await hand.click(screen.getByRole('button', { name: 'Versions' }))
    await hand.click(await screen.findByRole('button', { name: 'Bring back' }))
    expect(stores.plan.getState().committed.railway.title).toBe('Long ago')
  })

  it('says when the browser keeps nothing, and the plan on the desk stays', async () => {
    const library = { ...libraryOf(), plans: vi.fn(() => Promise.reject(new Error('no room'))) }
    renderOnDesk(<ShelfSheet />, roomPlan(), undefined, library)
    expect(await screen.findByRole('alert')).toHaveTextContent(/no room.*Save plans to files/)
  })

  it('marks on the picture what the list says, by signs', async () => {
    const before = roomPlan()
    const after = { ...before, turnouts: {}, tracks: { ...before.tracks, 'track-2': moved(before) } }
    renderOnDesk(<CompareView before={before} after={after} />)
    const picture = screen.getByRole('img', { name: /Both plans/ })
    expect(within(picture).getByText('+')).toBeInTheDocument()
    expect(within(picture).getByText('−')).toBeInTheDocument()
    expect(screen.getByText(/Track Second: only in the second/)).toBeInTheDocument()
    expect(screen.getByText(/Turnout East quay: only in the first/)).toBeInTheDocument()
  })
})

function moved(plan: Plan): Plan['tracks'][string] {
  const track = plan.tracks['track-1']
  if (track === undefined) throw new Error('The room has no track.')
  return { ...track, id: 'track-2', name: 'Second', start: { kind: 'free', x: 500, y: 500 } }
}
