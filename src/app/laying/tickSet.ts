import type { Tick } from '../../core/plan/types.ts'
import type { Stores } from '../context.ts'
import { planEdit } from '../planEdit.ts'
import type { ListsNow } from './useLists.ts'

/** Ticks a piece off as cut or laid, or takes that back. What is laid was cut; what is not laid after all still is. */
export function tickSet(stores: Stores, lists: ListsNow, list: Tick['list'], mark: string, done: Tick['done'], isDone: boolean): void {
  const tick = lists.ticks.of[list].get(mark)
  const key = lists.tickables.find((one) => one.list === list && one.mark === mark)?.key
  if (tick === undefined) {
    if (isDone && key !== undefined) planEdit(stores, { kind: 'tick.add', record: { list, piece: key, done } })
  } else if (isDone) planEdit(stores, { kind: 'tick.set', id: tick.id, change: { done } })
  else if (done === 'laid') planEdit(stores, { kind: 'tick.set', id: tick.id, change: { done: 'cut' } })
  else planEdit(stores, { kind: 'remove', table: 'ticks', id: tick.id })
}
