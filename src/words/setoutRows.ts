import { ANGLE_STEP_RAD, setoutLengthText, setoutValueText } from '../core/deliver/index.ts'
import type { SetoutColumn, SetoutTable } from '../core/deliver/index.ts'
import { setoutNoteText } from './setoutText.ts'

const headsOf = ({ words, unit }: SetoutColumn): readonly string[] => [words, `${words}, exact ${unit === 'rad' ? 'degrees' : 'mm'}`]

/** Tables to set out by as rows for a spreadsheet, one below the other: each value as it is set on the rule, and as exact as it is known. */
export function setoutRows(table: SetoutTable): readonly (readonly string[])[] {
  const { marks } = table
  const exact = ({ unit }: SetoutColumn, value: number): string => (unit === 'rad' ? (value * 180) / Math.PI : value).toFixed(6)
  const notes = table.notes.map((note) => [setoutNoteText(note, marks)])
  const groups = table.groups.flatMap(({ title, facts, columns, rows }, i) => [
    ...(i === 0 ? [] : [[]]),
    [title],
    ...facts.map(({ column, rounded, exact: value }) => [
      column.words,
      setoutValueText(column, rounded, marks, ANGLE_STEP_RAD),
      exact(column, value),
    ]),
    ['Station', 'Station, exact mm', 'Place', ...columns.flatMap(headsOf), 'Off by, mm'],
    ...rows.map((row) => [
      setoutLengthText(row.stationMm, marks),
      row.stationMm.toFixed(6),
      row.name,
      ...columns.flatMap((column, c) => {
        const value = row.values[c]
        return value === undefined ? ['', ''] : [setoutValueText(column, value.rounded, marks, ANGLE_STEP_RAD), exact(column, value.exact)]
      }),
      row.errorMm.toFixed(3),
    ]),
  ])
  return [...notes, ...groups]
}
