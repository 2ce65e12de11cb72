import { memo, useCallback, useState } from 'react'
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

/** More rows at once cost more than a frame, and nobody reads them through. */
const rowsAtOnce = 300

/** Records of one table by name: the way to each of them without a pointer. */
export function RecordList({
  table,
  title,
  records,
  noteOf,
}: {
  readonly table: TableName
  readonly title: string
  readonly records: readonly ListedRecord[]
  /** What a row notes, where it is only made for the rows that are shown. */
  readonly noteOf?: (id: Id) => ReactNode
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
  const show = useCallback(
    (id: Id) => {
      stores.session.getState().select({ kind: 'record', table, id })
      viewportShow(stores, planBoxOfRecord(stores, table, id))
      setDesk({ drawer: 'particulars' })
    },
    [stores, table, setDesk],
  )
  const [most, setMost] = useState(rowsAtOnce)
  if (records.length === 0) return null
  const at = selected === null ? -1 : records.findIndex(({ id }) => id === selected)
  const rows = records.slice(0, most)
  // What is selected is always in the list.
  const chosen = at < most ? undefined : records[at]
  if (chosen !== undefined) rows.push(chosen)
  return (
    <section className="record-list">
      <h2>{title}</h2>
      <ul>
        {rows.map(({ id, name, note }) => (
          <Row key={id} id={id} name={name} note={noteOf === undefined ? note : noteOf(id)} isSelected={id === selected} onShow={show} />
        ))}
      </ul>
      {records.length > most ? (
        <button type="button" className="act" onClick={() => setMost(most + rowsAtOnce)}>
          Show more of {records.length}
        </button>
      ) : null}
    </section>
  )
}

interface RowProps {
  readonly id: Id
  readonly name: string
  readonly note: ReactNode
  readonly isSelected: boolean
  readonly onShow: (id: Id) => void
}

/** One record. While a PI of one of 200 tracks is dragged, only its own row is rendered again. */
const Row = memo(function Row({ id, name, note, isSelected, onShow }: RowProps): ReactNode {
  return (
    <li>
      <button type="button" aria-current={isSelected ? 'true' : undefined} onClick={() => onShow(id)}>
        <span>{name}</span>
        {note === undefined ? null : <span className="note">{note}</span>}
      </button>
    </li>
  )
})
