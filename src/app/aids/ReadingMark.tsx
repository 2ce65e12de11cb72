import type { ReactNode } from 'react'
import { readingMeasure } from '../../core/network/index.ts'
import type { ReadingOf } from '../../core/plan/types.ts'
import { measuredText } from '../../words/readingText.ts'
import { useDerived, usePrefs } from '../context.ts'
import { useView } from '../canvas/canvasContext.ts'
import { isShown, Label } from '../canvas/markParts.tsx'
import { pathTransform, polylineText } from '../canvas/svgPath.ts'
import { screenOfPlan } from '../canvas/viewport.ts'

/** A measurement on the plan: the line that it was taken along, its ends, and its figure. */
export default function ReadingMark({ of, isChosen }: { readonly of: ReadingOf; readonly isChosen: boolean }): ReactNode {
  const network = useDerived((state) => state.derived.network)
  const prefs = usePrefs((state) => state)
  const view = useView()
  const measured = readingMeasure(of, network)
  if (measured.kind === 'unknown') return null
  const { line } = measured
  // Of a curve the words stand at the place itself, of an angle at its corner: the centre may be far off.
  const place = measured.kind === 'radius' ? line[0] : measured.kind === 'angle' ? line[1] : line[Math.floor((line.length - 1) / 2)]
  const next = measured.kind === 'length' ? line[Math.floor((line.length - 1) / 2) + 1] : undefined
  if (place === undefined) return null
  const at = screenOfPlan(view, next === undefined ? place : { x: (place.x + next.x) / 2, y: (place.y + next.y) / 2 })
  return (
    <g className={isChosen ? 'reading is-chosen' : 'reading'}>
      <path
        className={measured.kind === 'radius' ? 'reading-line is-radius' : 'reading-line'}
        transform={pathTransform(view)}
        d={polylineText(line, false)}
      />
      {(measured.kind === 'radius' ? line.slice(0, 1) : [line[0], line.at(-1)]).map((end, i) => {
        if (end === undefined) return null
        const { left, top } = screenOfPlan(view, end)
        return <path key={i} className="reading-end" d={`M${left - 4} ${top - 4}l8 8M${left - 4} ${top + 4}l8 -8`} />
      })}
      {isShown(at, view) ? (
        <Label at={{ left: at.left + 10, top: at.top - 8 }} tone="hand">
          {measuredText(measured, prefs)}
        </Label>
      ) : null}
    </g>
  )
}
