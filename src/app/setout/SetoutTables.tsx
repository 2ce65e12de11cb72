import { useMemo } from 'react'
import type { ReactNode } from 'react'
import { ANGLE_STEP_RAD, setoutLengthText, setoutValueText } from '../../core/deliver/index.ts'
import type { RuleMarks, SetoutFigure, SetoutGroup, SetoutTable } from '../../core/deliver/index.ts'
import type { Sheet } from '../../core/deliver/types.ts'
import { svgFromSheet } from '../../formats/svg.ts'
import { usePrefs } from '../context.ts'
import { fineText } from '../../words/measure.ts'
import { centreReachText, setoutNoteText } from '../../words/setoutText.ts'

/** The figure, what to know first, and a table for each base. */
export function SetoutTables({ table, withExact }: { readonly table: SetoutTable; readonly withExact: boolean }): ReactNode {
  return (
    <>
      <Figure figure={table.figure} />
      {table.notes.length === 0 ? null : (
        <ul className="problems">
          {table.notes.map((note) => {
            const text = setoutNoteText(note, table.marks)
            return <li key={text}>{text}</li>
          })}
        </ul>
      )}
      {table.groups.map((group, i) => (
        <GroupTable key={groupKey(group, i)} group={group} marks={table.marks} withExact={withExact} />
      ))}
    </>
  )
}

const groupKey = (group: SetoutGroup, index: number): string => `${index} ${group.title}`

function Figure({ figure }: { readonly figure: SetoutFigure }): ReactNode {
  const { widthMm, heightMm, items } = figure
  const markup = useMemo(() => {
    const sheet: Sheet = {
      kind: 'full-size',
      name: 'figure',
      title: 'What to measure',
      paper: { name: 'figure', widthMm, heightMm },
      window: { minX: 0, minY: 0, maxX: widthMm, maxY: heightMm },
      toPage: { planOrigin: { x: 0, y: 0 }, angleRad: 0, pageOrigin: { x: 0, y: 0 }, scaleX: 1, scaleY: 1 },
      items,
    }
    return svgFromSheet(sheet, { idPrefix: 'setout', decimals: 2 })
  }, [widthMm, heightMm, items])
  return (
    // Our own drawing; the texts in it are escaped where it is made.
    <div
      className="setout-figure"
      role="img"
      aria-label="What to measure"
      style={{ aspectRatio: `${widthMm} / ${heightMm}` }}
      dangerouslySetInnerHTML={{ __html: markup }}
    />
  )
}

/** A true value finer than any rule, for the one who asks. */
function exactText(unit: 'mm' | 'rad', value: number, marks: RuleMarks): string {
  const size = Math.abs(value)
  if (unit === 'rad') return `${((size * 180) / Math.PI).toFixed(4)}°`
  return marks.units === 'metric' ? size.toFixed(3) : (size / 25.4).toFixed(4)
}

function GroupTable({
  group,
  marks,
  withExact,
}: {
  readonly group: SetoutGroup
  readonly marks: RuleMarks
  readonly withExact: boolean
}): ReactNode {
  const { base, title, facts, columns, rows } = group
  const prefs = usePrefs((state) => state)
  return (
    <section className="setout-part">
      <h3>{title}</h3>
      {base.kind === 'centre' ? (
        <p className="small">
          {centreReachText(base.reach, base.barBlockedBy)}
          {base.pins === null
            ? null
            : ` Tape A from ${base.pins[0].name}, tape B from ${base.pins[1].name}; the centre lies to the ${base.side ?? ''} as you look from A to B.`}
        </p>
      ) : null}
      {facts.length === 0 ? null : (
        <p className="small soft">
          {facts.map((fact) => `${fact.column.words} ${setoutValueText(fact.column, fact.rounded, marks, ANGLE_STEP_RAD)}`).join(' · ')}
        </p>
      )}
      <table className="setout-rows">
        <thead>
          <tr>
            <th scope="col">Station</th>
            <th scope="col">
              <span className="visually-hidden">Name</span>
            </th>
            {columns.map(({ key, words }) => (
              <th scope="col" key={key}>
                {words}
              </th>
            ))}
            <th scope="col">Off by</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row, i) => (
            // Several places may share a station and a name; their order is theirs alone.
            // oxlint-disable-next-line react/no-array-index-key
            <tr key={i}>
              <th scope="row">{setoutLengthText(row.stationMm, marks)}</th>
              <td className="setout-name">{row.name}</td>
              {columns.map((column, c) => {
                const value = row.values[c]
                return (
                  <td key={column.key}>
                    {value === undefined ? null : setoutValueText(column, value.rounded, marks, ANGLE_STEP_RAD)}
                    {withExact && value !== undefined ? (
                      <span className="setout-exact">{exactText(column.unit, value.exact, marks)}</span>
                    ) : null}
                  </td>
                )
              })}
              <td className="soft">{fineText(row.errorMm, prefs)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
