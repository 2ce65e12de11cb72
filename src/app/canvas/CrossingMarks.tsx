import type { ReactNode } from 'react'
import { poseToPlan } from '../../core/geom/index.ts'
import type { NetworkCrossing } from '../../core/network/types.ts'
import { crossingSizeText } from '../../words/turnoutText.ts'
import { Label } from './markParts.tsx'
import { crossingRoutesText, pathTransform } from './svgPath.ts'
import { screenOfPlan, type View } from './viewport.ts'

/** The selected crossing: its routes with the slips, where its tracks meet, its number. */
export function CrossingMarks({ crossing, view }: { readonly crossing: NetworkCrossing; readonly view: View }): ReactNode {
  const { pose, result } = crossing
  const at = screenOfPlan(view, pose)
  if (!result.ok) return <path className="centre-cross" d={`M${at.left - 6} ${at.top}h12M${at.left} ${at.top - 6}v12`} />
  const { request, number, angleRad } = result.crossing
  const word = screenOfPlan(view, poseToPlan(pose, { x: 0, y: request.tieLengthMm + 14 / view.pxPerMm }))
  return (
    <g className="turnout-marks">
      <path className="chosen-line" transform={pathTransform(view)} d={crossingRoutesText(crossing)} />
      <path className="centre-cross" d={`M${at.left - 4} ${at.top}h8M${at.left} ${at.top - 4}v8`} />
      <Label at={{ left: word.left, top: word.top + 4 }} anchor="middle" tone="hand">
        {crossingSizeText(number, angleRad)}
      </Label>
    </g>
  )
}
