import type { ReactNode } from 'react'
import type { Trial, TrialEnd } from '../desk.ts'
import { useView } from './canvasContext.ts'
import { centrelineText, pathTransform } from './svgPath.ts'
import { LegArrow } from './TurnoutMarks.tsx'
import { screenOfPlan } from './viewport.ts'
import type { View } from './viewport.ts'

/** Lines held over the plan for a look: the one in question strong, what else could be chosen faint, and the ends to choose from. */
export function TrialLines({ trial }: { readonly trial: Trial }): ReactNode {
  const view = useView()
  return (
    <g className="trial">
      <g transform={pathTransform(view)}>
        {trial.others.map((path, i) => (
          <path key={i} className="construction is-fine" d={centrelineText(path)} />
        ))}
        {trial.chosen === null ? null : <path className="draft-line" d={centrelineText(trial.chosen)} />}
      </g>
      {trial.ends.map((end) => (
        <EndMark key={`${end.pose.x} ${end.pose.y} ${end.pose.headingRad}`} end={end} view={view} />
      ))}
    </g>
  )
}

/** A ring may be missed by this much, px. */
const ringReachPx = 14

/** The ring at an end: what is pressed there is that end, whatever else lies under it. */
function EndMark({ end: { pose, isTaken, onTake }, view }: { readonly end: TrialEnd; readonly view: View }): ReactNode {
  const at = screenOfPlan(view, pose)
  return (
    <g
      className="trial-end"
      data-taken={isTaken ? '' : undefined}
      data-own-pointer={onTake === null ? undefined : ''}
      onClick={onTake ?? undefined}
    >
      <LegArrow pose={pose} view={view} />
      {isTaken ? <circle className="end-taken" cx={at.left} cy={at.top} r={8} /> : null}
      {onTake === null ? null : <circle className="end-grip" cx={at.left} cy={at.top} r={ringReachPx} />}
    </g>
  )
}
