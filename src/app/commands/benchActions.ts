import type { StoreApi } from 'zustand/vanilla'
import type { Id } from '../../core/plan/types.ts'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'
import type { Action } from './action.ts'
import { needs } from './needs.ts'

/** What is made for the bench of what is selected, and what the room is taken from. */
export function benchActions(stores: Stores, desk: StoreApi<DeskState>, track: Id | null): readonly Action[] {
  const { selection, select } = stores.session.getState()
  const { set } = desk.getState()
  const work = selection.kind === 'record' && (selection.table === 'turnouts' || selection.table === 'crossings') ? selection : null
  /** A form of the stage column; the tool in hand is laid down for it. */
  const bySize = (form: NonNullable<DeskState['bySize']>): void => {
    const { setTool, setStage } = stores.session.getState()
    setTool('select')
    setStage('room')
    set({ bySize: form, drawer: 'stage' })
  }
  return [
    {
      id: 'setout',
      group: 'Do',
      words: 'Set this track out at the bench',
      needs: needs.track,
      isPossible: track !== null,
      run() {
        if (track === null) return
        select({ kind: 'record', table: 'tracks', id: track })
        set({ bench: { kind: 'setout', id: track } })
      },
    },
    {
      id: 'build',
      group: 'Do',
      words: 'Build this turnout or crossing',
      needs: needs.work,
      isPossible: work !== null,
      run: () => (work === null ? undefined : set({ bench: { kind: 'build', id: work.id } })),
    },
    {
      id: 'room-measured',
      group: 'Do',
      words: 'Type the room as measured…',
      isPossible: true,
      run: () => set({ dialog: 'roomMeasured' }),
    },
    { id: 'table-by-size', group: 'Do', words: 'Add a table by its size', isPossible: true, run: () => bySize('table') },
    { id: 'legs-by-size', group: 'Do', words: 'Add an L or a U by its sizes', isPossible: true, run: () => bySize('legs') },
    { id: 'post-by-size', group: 'Do', words: 'Add a post by its size', isPossible: true, run: () => bySize('post') },
    {
      id: 'underlay',
      group: 'Do',
      words: 'Lay a picture under the plan…',
      isPossible: true,
      run: () => set({ dialog: 'underlay' }),
    },
  ]
}
