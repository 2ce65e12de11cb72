import type { ReactNode } from 'react'
import type { Id, TableName } from '../../core/plan/types.ts'
import { useSession, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { planBoxOfRecord } from '../places.ts'
import { viewportShow } from '../viewportShow.ts'

export interface ListedRecord {
  readonly id: Id
  readonly name: string
  /** A measure or two at the far right. */
  readonly note?: ReactNode
}

/** Records of one table by name: the way to each of them without a pointer. */
export function RecordList({
  table,
  title,
  records,
}: {
  readonly table: TableName
  readonly title: string
  readonly records: readonly ListedRecord[]
}): ReactNode {
  const stores = useStores()
  const selected = useSession(({ selection }) =>
    selection.kind === 'record' && selection.table === table
      ? selection.id
      : selection.kind === 'corner' || selection.kind === 'trackEnd'
        ? table === 'tracks'
          ? selection.track
          : null
        : null,
  )
  const setDesk = useDesk((desk) => desk.set)
  if (records.length === 0) return null
  return (
    <section className="record-list">
      <h3>{title}</h3>
      <ul>
        {records.map((record) => (
          <li key={record.id}>
            <button
              type="button"
              aria-current={record.id === selected ? 'true' : undefined}
              onClick={() => {
                stores.session.getState().select({ kind: 'record', table, id: record.id })
                viewportShow(stores, planBoxOfRecord(stores, table, record.id))
                setDesk({ drawer: 'particulars' })
              }}
            >
              <span>{record.name}</span>
              {record.note === undefined ? null : <span className="note">{record.note}</span>}
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}
