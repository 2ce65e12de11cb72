import { memo, useCallback, useId, useState } from 'react'
import type { KeyboardEvent, ReactNode } from 'react'
import type { Id, TableName } from '../../core/plan/types.ts'
import { useSession, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { planBoxOfRecord } from '../places.ts'
import { tableWord, upperFirst } from '../../words/names.ts'
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
  const goTo = useCallback(
    (id: Id) => {
      viewportShow(stores, planBoxOfRecord(stores, table, id))
      setDesk({ drawer: null })
      document.querySelector<HTMLElement>('.canvas')?.focus({ preventScroll: true })
    },
    [stores, table, setDesk],
  )
  const help = useId()
  const isWhole = useSession(({ selection }) => selection.kind === 'record')
  const [most, setMost] = useState(rowsAtOnce)
  if (records.length === 0) return null
  const at = selected === null ? -1 : records.findIndex(({ id }) => id === selected)
  const rows = records.slice(0, most)
  // What is selected is always in the list.
  const chosen = at < most ? undefined : records[at]
  if (chosen !== undefined) rows.push(chosen)
  // Of a class or a car there is nothing on the plan to go to.
  const canGo = isWhole && selected !== null && planBoxOfRecord(stores, table, selected) !== null
  return (
    <section className="record-list">
      <h2>{title}</h2>
      <p
        id={help}
        className="list-help"
        hidden={at < 0 || !canGo}
        title="Arrow keys go along the list; on the plan they move what is chosen."
      >
        press again: to the plan
      </p>
      <ul>
        {rows.map(({ id, name, note }) => (
          <Row
            key={id}
            id={id}
            name={name.trim() === '' ? upperFirst(tableWord(table)) : name}
            note={noteOf === undefined ? note : noteOf(id)}
            isSelected={id === selected}
            help={canGo && id === selected ? help : undefined}
            onPress={canGo && id === selected ? goTo : show}
          />
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
  /** The words that say that pressing it goes on to the plan. */
  readonly help: string | undefined
  readonly onPress: (id: Id) => void
}

/** Up and down go from row to row, as in any list; what is chosen stays so. */
function alongList(event: KeyboardEvent<HTMLButtonElement>): void {
  if (event.ctrlKey || event.metaKey || event.altKey) return
  const row = event.currentTarget.closest('li')
  const rows = row?.parentElement?.children
  const next = {
    ArrowDown: row?.nextElementSibling,
    ArrowUp: row?.previousElementSibling,
    Home: rows?.item(0),
    End: rows?.item(rows.length - 1),
  }[event.key]
  if (next === undefined) return
  event.preventDefault()
  next?.querySelector('button')?.focus()
}

/** One record. While a PI of one of 200 tracks is dragged, only its own row is rendered again. */
const Row = memo(function Row({ id, name, note, isSelected, help, onPress }: RowProps): ReactNode {
  return (
    <li>
      <button
        type="button"
        aria-current={isSelected ? 'true' : undefined}
        aria-describedby={help}
        onClick={() => onPress(id)}
        onKeyDown={alongList}
      >
        <span>{name}</span>
        {note === undefined ? null : <span className="note">{note}</span>}
      </button>
    </li>
  )
})
