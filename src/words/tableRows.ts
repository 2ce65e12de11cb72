import type { ListTable } from '../core/deliver/index.ts'

/** Tables for a spreadsheet, one below the other: its title, its heads, its rows, what there is to know, and an empty row. */
export function tableRows(tables: readonly ListTable[]): readonly (readonly string[])[] {
  return tables.flatMap(({ title, columns, rows, notes }) => [
    [title],
    columns.map(({ head }) => head),
    ...rows,
    ...notes.map((note) => [note]),
    [],
  ])
}
