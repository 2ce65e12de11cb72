import type { StoreApi } from 'zustand/vanilla'
import { hideables, type Hideable } from '../../store/hidden.ts'
import { sightWords } from './sightWords.ts'
import type { Action } from '../commands/action.ts'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'

/** One kind goes out of sight, or comes back. */
export function sightToggle(stores: Stores, kind: Hideable): void {
  const { hidden, setHidden } = stores.session.getState()
  setHidden(hidden.includes(kind) ? hidden.filter((one) => one !== kind) : [...hidden, kind])
}

/** For the menu: the list of what is in sight, and where something is hidden, the way back. */
export function sightActions(stores: Stores, desk: StoreApi<DeskState>): readonly Action[] {
  const { hidden, setHidden } = stores.session.getState()
  return [
    {
      id: 'sight',
      group: 'Look',
      words: 'What is in sight…',
      also: 'hide show layers visible',
      isPossible: true,
      run: () => desk.getState().set({ isSightOpen: true }),
    },
    ...(hidden.length === 0 ? [] : [showAll(() => setHidden([]))]),
  ]
}

function showAll(run: () => void): Action {
  return { id: 'show-all', group: 'Look', words: 'Show what is hidden', also: 'layers visible unhide', isPossible: true, run }
}

/** Each kind by itself, for the finder and for keys. */
export function sightKindActions(stores: Stores): readonly Action[] {
  const { hidden } = stores.session.getState()
  return hideables.map((kind) => ({
    id: `sight-${kind}`,
    group: 'Look',
    words: `${hidden.includes(kind) ? 'Show' : 'Hide'} the ${sightWords[kind]}`,
    also: 'layer visible',
    isPossible: true,
    run: () => sightToggle(stores, kind),
  }))
}
