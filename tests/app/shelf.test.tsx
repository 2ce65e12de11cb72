import '@testing-library/jest-dom/vitest'
import { cleanup, screen, waitFor, within } from '@testing-library/react'
import { afterEach, describe, expect, it, vi } from 'vitest'
import { CompareView } from '../../src/app/shelf/CompareView.tsx'
import ShelfSheet from '../../src/app/shelf/ShelfSheet.tsx'
import type { Plan } from '../../src/core/plan/types.ts'
import type { KeptPlan, PlanLibrary } from '../../src/store/index.ts'
import { hand, renderOnDesk, roomPlan } from './desk.tsx'

afterEach(() => {
  cleanup()
})

const titled = (title: string): Plan => ({ ...roomPlan(), railway: { ...roomPlan().railway, title } })

function libraryOf(...titles: readonly string[]): PlanLibrary & { readonly held: KeptPlan[] } {
  const held = titles.map(
    (title, n): KeptPlan => ({ id: `plan-${n}`, revision: 1, savedAtMs: n * 1000, document: titled(title), awayAtMs: null }),
  )
  return {
    held,
    plans: async () => [...held],
    versions: async (planId) => [{ planId, savedAtMs: 5, document: titled('Long ago') }],
    async add(document, savedAtMs) {
      held.push({ id: `plan-${held.length}`, revision: 1, savedAtMs, document, awayAtMs: null })
      return `plan-${held.length - 1}`
    },
    async change(id, change) {
      const at = held.findIndex((plan) => plan.id === id)
      const before = held[at]
      if (before !== undefined) held[at] = { ...before, ...change }
    },
    remove: async (id) =>
      void held.splice(
        held.findIndex((plan) => plan.id === id),
        1,
      ),
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

  it('throws away for good only what was put away', async () => {
    const library = libraryOf('Mole')
    renderOnDesk(<ShelfSheet />, roomPlan(), undefined, library)
    await hand.click(await screen.findByRole('button', { name: 'Put away' }))
    await hand.click(await screen.findByText('Put away: 1'))
    await hand.click(screen.getByRole('button', { name: 'Throw away for good' }))
    await waitFor(() => expect(library.held).toEqual([]))
    expect(screen.queryByText(/^Put away: /)).toBeNull()
  })

  it('leaves a plan that another page has open as it is, and one that cannot be read can be taken away as it is', async () => {
    const library = libraryOf('Mole')
    library.held.push({ id: 'elsewhere', revision: 1, savedAtMs: 3000, document: titled('Quay'), awayAtMs: null })
    library.held.push({ id: 'odd', revision: 1, savedAtMs: 4000, document: { version: 99 }, awayAtMs: null })
    renderOnDesk(<ShelfSheet />, roomPlan(), undefined, library)
    const quay = within((await screen.findByText(/open in another page/)).closest('li') as HTMLElement)
    expect(quay.queryByRole('textbox')).toBeNull()
    expect(quay.queryByRole('button', { name: 'Put away' })).toBeNull()
    expect(quay.getByRole('button', { name: 'Open' })).toBeEnabled()
    const odd = within(screen.getByText(/cannot be read/).closest('li') as HTMLElement)
    expect(odd.getByRole('button', { name: 'Save it as it is' })).toBeEnabled()
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
