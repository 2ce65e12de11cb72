import type { ReactNode } from 'react'
import type { Point } from '../../core/geom/types.ts'
import { usePrefs } from '../context.ts'
import { LengthField } from '../fields/fields.tsx'
import type { Keep } from '../fields/ValueField.tsx'

export interface PointEdit {
  /** Keeps a new place of point `index`. */
  readonly keepPoint: (index: number, toPoint: (value: number) => Point) => Keep<number>
  /** Absent: points cannot be taken out any more. */
  readonly onRemove: ((index: number) => void) | null
  readonly onInsert: (index: number, at: Point) => void
  readonly selected: number | null
  readonly onSelect: ((index: number) => void) | null
}

/**
 * Points of an outline or a polyline by number: x, y and the side to the next point, each typed. A typed side moves
 * its far end along the side.
 */
export function RingTable({
  name,
  points,
  isClosed,
  edit,
}: {
  readonly name: string
  readonly points: readonly Point[]
  readonly isClosed: boolean
  readonly edit: PointEdit
}): ReactNode {
  const unit = usePrefs((prefs) => prefs.units) === 'metric' ? ', mm' : ''
  return (
    <table className="ring" aria-label={name}>
      <thead>
        <tr>
          <th scope="col">
            <span className="visually-hidden">Point</span>
          </th>
          <th scope="col">{`Right${unit}`}</th>
          <th scope="col">{`Up${unit}`}</th>
          <th scope="col">{`To next${unit}`}</th>
          <th scope="col">
            <span className="visually-hidden">Change</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {points.map((point, index) => (
          <RingRow key={index} name={name} points={points} index={index} point={point} isClosed={isClosed} edit={edit} />
        ))}
      </tbody>
    </table>
  )
}

function RingRow(props: {
  readonly name: string
  readonly points: readonly Point[]
  readonly index: number
  readonly point: Point
  readonly isClosed: boolean
  readonly edit: PointEdit
}): ReactNode {
  const { points, index, point, isClosed, edit } = props
  const nextIndex = index + 1 < points.length ? index + 1 : isClosed ? 0 : null
  const next = nextIndex === null ? undefined : points[nextIndex]
  const side = next === undefined ? null : Math.hypot(next.x - point.x, next.y - point.y)
  const number = index + 1
  return (
    <tr aria-current={edit.selected === index ? 'true' : undefined}>
      <th scope="row">
        {edit.onSelect === null ? (
          number
        ) : (
          <button type="button" className="word" aria-label={`Select point ${number}`} onClick={() => edit.onSelect?.(index)}>
            {number}
          </button>
        )}
      </th>
      <td>
        <LengthField
          hideLabel
          label={`Point ${number} right`}
          kind="cell"
          range="any"
          value={point.x}
          keep={edit.keepPoint(index, (x) => ({ x, y: point.y }))}
        />
      </td>
      <td>
        <LengthField
          hideLabel
          label={`Point ${number} up`}
          kind="cell"
          range="any"
          value={point.y}
          keep={edit.keepPoint(index, (y) => ({ x: point.x, y }))}
        />
      </td>
      <td>
        {next === undefined || nextIndex === null || side === null || side === 0 ? null : (
          <LengthField
            hideLabel
            label={`Side from point ${number}`}
            kind="cell"
            value={side}
            keep={edit.keepPoint(nextIndex, (mm) => ({
              x: point.x + ((next.x - point.x) / side) * mm,
              y: point.y + ((next.y - point.y) / side) * mm,
            }))}
          />
        )}
      </td>
      <td className="ring-change">
        {next === undefined ? null : (
          <button
            type="button"
            aria-label={`Add a point after point ${number}`}
            title="Add a point on this side"
            onClick={() => edit.onInsert(index + 1, { x: (point.x + next.x) / 2, y: (point.y + next.y) / 2 })}
          >
            +
          </button>
        )}
        {edit.onRemove === null ? null : (
          <button type="button" aria-label={`Take point ${number} out`} title="Take this point out" onClick={() => edit.onRemove?.(index)}>
            −
          </button>
        )}
      </td>
    </tr>
  )
}
