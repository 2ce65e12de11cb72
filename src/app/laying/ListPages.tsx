import { useMemo } from 'react'
import type { ReactNode } from 'react'
import type { ListTable } from '../../core/deliver/index.ts'
import type { Tick } from '../../core/plan/types.ts'
import { layingListTables } from '../../words/layingLists.ts'
import { usePrefs, useSession, useStores } from '../context.ts'
import { WordTable } from '../tables/WordTable.tsx'
import { RailStrips, SheetStrips } from './CuttingStrips.tsx'
import './laying.css'
import { tickSet } from './tickSet.ts'
import { useLists } from './useLists.ts'
import type { ListsNow } from './useLists.ts'

/** The lists of a stage over the whole table: cutting strips to scale, then every table. */
export default function ListPages(): ReactNode {
  const stage = useSession((session) => session.stage)
  const lists = useLists()
  const isTrack = stage === 'track'
  return (
    // To be scrolled by keyboard as well.
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex
    <section className="list-pages" aria-label={isTrack ? 'Lists of track' : 'Lists of roadbed'} tabIndex={0}>
      {lists === null ? <p className="lead">The lists appear here as soon as they are made.</p> : <Lists lists={lists} isTrack={isTrack} />}
    </section>
  )
}

function Lists({ lists, isTrack }: { readonly lists: ListsNow; readonly isTrack: boolean }): ReactNode {
  const units = usePrefs((prefs) => prefs.units)
  const fraction = usePrefs((prefs) => prefs.fraction)
  const { plan, lists: made, shopping } = lists
  const words = useMemo(() => layingListTables(plan, made, shopping, { units, fraction }), [plan, made, shopping, units, fraction])
  return isTrack ? (
    <>
      <RailStrips lists={lists} />
      {words.rails.map((table, i) => (
        <RailTable key={table.title} table={table} lists={lists} isOrder={i === 0} />
      ))}
      {words.ties.map((table, i) => (
        <TieTable key={table.title} table={table} lists={lists} isSaw={i === 0} />
      ))}
      <WordTable table={words.shopping} />
    </>
  ) : (
    <>
      <SheetStrips lists={lists} />
      {words.roadbed.map((table) => (
        <WordTable key={table.title} table={table} />
      ))}
      <WordTable table={words.shopping} />
    </>
  )
}

interface TickedTable {
  readonly table: ListTable
  readonly lists: ListsNow
}

/** Rails are laid in the order of their list, and ticked off there. */
function RailTable({ table, lists, isOrder }: TickedTable & { readonly isOrder: boolean }): ReactNode {
  if (!isOrder) return <WordTable table={table} />
  const cells = table.rows.map(([mark = '']) => <TickBox key={mark} lists={lists} list="rail" mark={mark} name={mark} done="laid" />)
  return <WordTable table={table} ahead={{ head: 'Laid', cells }} />
}

/** Ties are ticked off length by length; the last row of their list adds up. */
function TieTable({ table, lists, isSaw }: TickedTable & { readonly isSaw: boolean }): ReactNode {
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
    <label className="tick-box">
      <input
        type="checkbox"
        aria-label={`${name}, ${done}`}
        checked={tick?.done === done}
        onChange={(event) => tickSet(stores, lists, list, mark, done, event.currentTarget.checked)}
      />
    </label>
  )
}
