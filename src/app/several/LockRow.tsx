import type { ReactNode } from 'react'
import { lockOf } from '../../core/edit/index.ts'
import type { Id, TableName } from '../../core/plan/types.ts'
import { usePlan, useStores } from '../context.ts'
import { planEdit } from '../planEdit.ts'

/** Says that a record is locked, and locks or unlocks it. */
export function LockRow({ table, id }: { readonly table: TableName; readonly id: Id }): ReactNode {
  const stores = useStores()
  const lock = usePlan((state) => lockOf(state.plan, table, id))
  return (
    <p className="lock-row soft small">
      {lock === null ? 'Free to move and change.' : 'Locked: neither moved nor changed, nor taken out.'}{' '}
      <button
        type="button"
        className="word"
        onClick={() =>
          void planEdit(
            stores,
            lock === null ? { kind: 'lock.add', record: { table, record: id } } : { kind: 'remove', table: 'locks', id: lock.id },
          )
        }
      >
        {lock === null ? 'Lock it' : 'Unlock it'}
      </button>
    </p>
  )
}
