import type { ReactNode } from 'react'
import type { ListTable } from '../../core/deliver/index.ts'
import type { Tick } from '../../core/plan/types.ts'
import { useSession, useStores } from '../context.ts'
import { RailStrips, SheetStrips } from './CuttingStrips.tsx'
import './laying.css'
import { tickSet } from './tickSet.ts'
import { useLists } from './useLists.ts'
import type { ListsNow } from './useLists.ts'
import { WordTable } from './WordTable.tsx'

/** The lists of a stage over the whole table: cutting strips to scale, then every table. */
export default function ListPages(): ReactNode {
  const stage = useSession((session) => session.stage)
  const lists = useLists()
  const isTrack = stage === 'track'
  return (
    // To be scrolled by keyboard as well.
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex
    <section className="list-pages" aria-label={isTrack ? 'Lists of track' : 'Lists of roadbed'} tabIndex={0}>
      {lists === null ? (
        <p className="lead">The lists appear here as soon as they are made.</p>
      ) : isTrack ? (
        <>
          <RailStrips lists={lists} />
          {lists.words.rails.map((table) => (
            <RailTable key={table.title} table={table} lists={lists} />
          ))}
          {lists.words.ties.map((table) => (
            <TieTable key={table.title} table={table} lists={lists} />
          ))}
          <WordTable table={lists.words.shopping} />
        </>
      ) : (
        <>
          <SheetStrips lists={lists} />
          {lists.words.roadbed.map((table) => (
            <WordTable key={table.title} table={table} />
          ))}
          <WordTable table={lists.words.shopping} />
        </>
      )}
    </section>
  )
}

/** Rails are laid in the order of their list, and ticked off there. */
function RailTable({ table, lists }: { readonly table: ListTable; readonly lists: ListsNow }): ReactNode {
  const isOrder = table === lists.words.rails[0]
  if (!isOrder) return <WordTable table={table} />
  const cells = table.rows.map(([mark = '']) => <TickBox key={mark} lists={lists} list="rail" mark={mark} name={mark} done="laid" />)
  return <WordTable table={table} ahead={{ head: 'Laid', cells }} />
}

/** Ties are ticked off length by length; the last row of their list adds up. */
function TieTable({ table, lists }: { readonly table: ListTable; readonly lists: ListsNow }): ReactNode {
  const isSaw = table === lists.words.ties[0]
  if (!isSaw) return <WordTable table={table} />
  const cells = lists.lists.ties.list.lines.map((_, i) => (
    <TickBox key={i} lists={lists} list="tie" mark={String(i)} name={`ties ${table.rows[i]?.[1] ?? ''} long`} done="cut" />
  ))
  return <WordTable table={table} ahead={{ head: 'Cut', cells }} />
}

function TickBox({
  lists,
  list,
  mark,
  name,
  done,
}: {
  readonly lists: ListsNow
  readonly list: Tick['list']
  readonly mark: string
  readonly name: string
  readonly done: Tick['done']
}): ReactNode {
  const stores = useStores()
  const tick = lists.ticks.of[list].get(mark)
  return (
    <input
      type="checkbox"
      className="tick-box"
      aria-label={`${name}, ${done}`}
      checked={tick?.done === done}
      onChange={(event) => tickSet(stores, lists, list, mark, done, event.currentTarget.checked)}
    />
  )
}
