import type { ReactNode } from 'react'
import { readingMeasure } from '../../core/readings/index.ts'
import type { Measured } from '../../core/readings/index.ts'
import type { ReadingOf } from '../../core/plan/types.ts'
import { useDerived, usePrefs } from '../context.ts'
import { useView } from '../canvas/canvasContext.ts'
import type { PlanLabel } from '../canvas/labels.ts'
import { Label } from '../canvas/markParts.tsx'
import { pathTransform, polylineText } from '../canvas/svgPath.ts'
import { screenOfPlan } from '../canvas/viewport.ts'
import { readingLabels } from './readingLabels.ts'

/** A measurement that is being taken, alone in the hand. */
export default function ReadingMark({ of, isChosen }: { readonly of: ReadingOf; readonly isChosen: boolean }): ReactNode {
  const network = useDerived((state) => state.derived.network)
  const prefs = usePrefs((state) => state)
  const view = useView()
  const measured = readingMeasure(of, network)
  const [label = null] = readingLabels([measured], view, prefs)
  return <MeasuredMark measured={measured} label={label} isChosen={isChosen} />
}

/** A measurement on the plan: the line that it was taken along, its ends, and its figure. */
export function MeasuredMark({
  measured,
  label,
  isChosen,
}: {
  readonly measured: Measured
  readonly label: PlanLabel | null
  readonly isChosen: boolean
}): ReactNode {
  const view = useView()
  if (measured.kind === 'unknown') return null
  const { line } = measured
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
      {label === null ? null : (
        <Label at={label.at} anchor={label.anchor} tone={label.tone}>
          {label.words}
        </Label>
      )}
    </g>
  )
}
