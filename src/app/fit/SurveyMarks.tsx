import type { ReactNode } from 'react'
import { useView } from '../canvas/canvasContext.ts'
import { isShown, Label } from '../canvas/markParts.tsx'
import { screenOfPlan } from '../canvas/viewport.ts'
import type { ScreenPoint, View } from '../canvas/viewport.ts'
import { useDesk } from '../desk.ts'
import './fit.css'

/** Half a cross, px: smaller where the plan is seen from afar, so that neighbours stay apart. */
const armOf = ({ pxPerMm }: View): number => Math.min(4, Math.max(2, 20 * pxPerMm))

/** Measured places on the plan: small crosses, turned where they do not count; the one in question named. */
export default function SurveyMarks(): ReactNode {
  const survey = useDesk((desk) => desk.survey)
  const view = useView()
  if (survey === null) return null
  const { places, verdicts, pointed } = survey
  const arm = armOf(view)
  const marks = places.map((place, index) => ({ at: screenOfPlan(view, place), isLeftOut: verdicts.get(index) === 'leftOut' }))
  const seen = marks.filter(({ at }) => isShown(at, view))
  const chosen = pointed === null ? undefined : marks[pointed]
  return (
    <g className="survey">
      <path className="survey-cross" d={seen.flatMap(({ at, isLeftOut }) => (isLeftOut ? [] : upright(at, arm))).join('')} />
      <path className="survey-cross is-left-out" d={seen.flatMap(({ at, isLeftOut }) => (isLeftOut ? turned(at, arm) : [])).join('')} />
      {chosen === undefined || pointed === null ? null : (
        <>
          <circle className="survey-ring" cx={chosen.at.left} cy={chosen.at.top} r={9} />
          <Label at={{ left: chosen.at.left + 13, top: chosen.at.top - 9 }} tone="hand">
            {pointed + 1}
          </Label>
        </>
      )}
    </g>
  )
}

const upright = ({ left, top }: ScreenPoint, arm: number): string => `M${left - arm} ${top}h${2 * arm}M${left} ${top - arm}v${2 * arm}`

const turned = ({ left, top }: ScreenPoint, arm: number): string =>
  `M${left - arm} ${top - arm}l${2 * arm} ${2 * arm}M${left - arm} ${top + arm}l${2 * arm} ${-2 * arm}`
