import type { ReactNode } from 'react'
import type { ListTable } from '../../core/deliver/index.ts'
import './wordTable.css'

/** A list as a table. ahead: what stands before each row, with its head, as a box to tick. look: a class of the part that it is on. */
export function WordTable({
  table,
  ahead,
  look,
}: {
  readonly table: ListTable
  readonly ahead?: { readonly head: string; readonly cells: readonly ReactNode[] }
  readonly look?: string
}): ReactNode {
  const { title, notes, columns, rows } = table
  const sideOf = (i: number): string | undefined => (columns[i]?.align === 'right' ? 'is-number' : undefined)
  return (
    <section className={look === undefined ? 'word-table' : `word-table ${look}`} aria-label={title}>
      <h3>{title}</h3>
      {notes.map((note) => (
        <p key={note} className="small soft">
          {note}
        </p>
      ))}
      {rows.length === 0 ? null : (
        <table>
          <thead>
            <tr>
              {ahead === undefined ? null : <th scope="col">{ahead.head}</th>}
              {columns.map(({ head }, i) => (
                // Heads may be alike, as the two edges of a card.
                <th key={i} scope="col" className={sideOf(i)}>
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row, index) => (
              // Rows of a list have no name of their own; the list is made anew as a whole.
              <tr key={index}>
                {ahead === undefined ? null : <td>{ahead.cells[index]}</td>}
                {row.map((cell, i) => (
                  <td key={i} className={sideOf(i)}>
                    {cell}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  )
}
