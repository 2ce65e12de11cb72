import type { ReactNode } from 'react'
import type { Trial } from '../desk.ts'
import { useView } from './canvasContext.ts'
import { centrelineText, pathTransform } from './svgPath.ts'
import { LegArrow } from './TurnoutMarks.tsx'

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
      {trial.ends.map((pose) => (
        <LegArrow key={`${pose.x} ${pose.y} ${pose.headingRad}`} pose={pose} view={view} />
      ))}
    </g>
  )
}
