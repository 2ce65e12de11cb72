import { useMemo } from 'react'
import type { ReactNode } from 'react'
import { readingMeasure } from '../../core/readings/index.ts'
import type { Guide } from '../../core/plan/types.ts'
import { useDerived, usePlan, usePrefs, useSession } from '../context.ts'
import { useView } from '../canvas/canvasContext.ts'
import { pathTransform, polylineText } from '../canvas/svgPath.ts'
import { readingLabels } from './readingLabels.ts'
import { MeasuredMark } from './ReadingMark.tsx'

/** Guides and pinned measurements. */
export default function AidMarks(): ReactNode {
  const guides = usePlan((state) => state.plan.guides)
  const chosen = useSession(({ selection }) => (selection.kind === 'record' ? `${selection.table} ${selection.id}` : null))
  return (
    <g className="aids">
      {Object.values(guides).map((guide) => (
        <GuideLine key={guide.id} guide={guide} isChosen={chosen === `guides ${guide.id}`} />
      ))}
      <Readings chosen={chosen} />
    </g>
  )
}

/** Pinned measurements, their figures out of each other's way. */
function Readings({ chosen }: { readonly chosen: string | null }): ReactNode {
  const readings = usePlan((state) => state.plan.readings)
  const network = useDerived((state) => state.derived.network)
  const prefs = usePrefs((state) => state)
  const view = useView()
  const all = Object.values(readings)
  const measured = useMemo(() => Object.values(readings).map(({ of }) => readingMeasure(of, network)), [readings, network])
  const labels = readingLabels(measured, view, prefs)
  return all.map(({ id }, i) => {
    const one = measured[i]
    return one === undefined ? null : (
      <MeasuredMark key={id} measured={one} label={labels[i] ?? null} isChosen={chosen === `readings ${id}`} />
    )
  })
}

/** A line without ends, drawn as far as one can see. */
function GuideLine({ guide: { at, angleRad }, isChosen }: { readonly guide: Guide; readonly isChosen: boolean }): ReactNode {
  const view = useView()
  const { centre, size, pxPerMm } = view
  const [cos, sin] = [Math.cos(angleRad), Math.sin(angleRad)]
  // From the foot of the middle of the view as far as the view is wide and high, to either side.
  const foot = (centre.x - at.x) * cos + (centre.y - at.y) * sin
  const reach = (size.width + size.height) / pxPerMm
  const end = (along: number): { readonly x: number; readonly y: number } => ({ x: at.x + cos * along, y: at.y + sin * along })
  return (
    <path
      className={isChosen ? 'guide-line is-chosen' : 'guide-line'}
      transform={pathTransform(view)}
      d={polylineText([end(foot - reach), end(foot + reach)], false)}
    />
  )
}
