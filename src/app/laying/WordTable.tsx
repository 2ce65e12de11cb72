import type { ReactNode } from 'react'
import type { ListTable } from '../../core/deliver/index.ts'

/** A list as a table. ahead: what stands before each row, with its head, as a box to tick. */
export function WordTable({
  table,
  ahead,
}: {
  readonly table: ListTable
  readonly ahead?: { readonly head: string; readonly cells: readonly ReactNode[] }
}): ReactNode {
  const { title, notes, columns, rows } = table
  const look = (i: number): string | undefined => (columns[i]?.align === 'right' ? 'is-number' : undefined)
  return (
    <section className="list-table" aria-label={title}>
      <h3>{title}</h3>
      {notes.map((note) => (
        <p key={note} className="small">
          {note}
        </p>
      ))}
      {rows.length === 0 ? null : (
        <table>
          <thead>
            <tr>
              {ahead === undefined ? null : <th scope="col">{ahead.head}</th>}
              {columns.map(({ head }, i) => (
                <th key={head} scope="col" className={look(i)}>
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
                  <td key={i} className={look(i)}>
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
