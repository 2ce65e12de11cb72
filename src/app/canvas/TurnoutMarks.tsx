import type { ReactNode } from 'react'
import { poseOffset, poseToPlan } from '../../core/geom/index.ts'
import type { Pose } from '../../core/geom/types.ts'
import type { NetworkTurnout } from '../../core/network/types.ts'
import { frogText } from '../../words/measure.ts'
import { isShown, Label } from './markParts.tsx'
import { PlanSpace } from './still.tsx'
import { turnoutRoutesText } from './svgPath.ts'
import { screenOfPlan, type View } from './viewport.ts'

/** The selected turnout: both routes, its frog point, and the leg that a track can start from. */
export function TurnoutMarks({ networkTurnout, view }: { readonly networkTurnout: NetworkTurnout; readonly view: View }): ReactNode {
  const { result, turnout } = networkTurnout
  if (result.pose === null || result.geometry === null) return null
  const frog = screenOfPlan(view, poseToPlan(result.pose, result.geometry.frogPoint))
  const side = turnout.hand === 'left' ? -1 : 1
  // Beside the straight route, clear of its ties.
  const { leadMm, request } = result.geometry
  const word = screenOfPlan(view, poseToPlan(result.pose, { x: leadMm / 2, y: side * (request.tieLengthMm / 2 + 14 / view.pxPerMm) }))
  return (
    <g className="turnout-marks">
      <PlanSpace view={view}>
        <path className="chosen-line" d={turnoutRoutesText(networkTurnout)} />
      </PlanSpace>
      <path className="centre-cross" d={`M${frog.left - 4} ${frog.top}h8M${frog.left} ${frog.top - 4}v8`} />
      {result.ok ? result.legs.map(({ leg, pose }) => <LegArrow key={leg} pose={pose} view={view} />) : null}
      <PointsTick pose={result.pose} view={view} />
      <Label at={{ left: word.left, top: word.top + 4 }} anchor="middle" tone="hand">
        {`${frogText(turnout.frog)} ${turnout.hand === 'left' ? 'L' : 'R'}`}
      </Label>
    </g>
  )
}

/** A leg: where a track starts, and which way. */
export function LegArrow({ pose, view }: { readonly pose: Pose; readonly view: View }): ReactNode {
  const at = screenOfPlan(view, pose)
  if (!isShown(at, view)) return null
  const mm = 1 / view.pxPerMm
  const along = (ahead: number, left: number) => screenOfPlan(view, poseToPlan(pose, { x: ahead * mm, y: left * mm }))
  const [tip, a, b] = [along(15, 0), along(7, 4.5), along(7, -4.5)]
  return (
    <g className="leg">
      <circle cx={at.left} cy={at.top} r={4} />
      <path d={`M${a.left} ${a.top}L${tip.left} ${tip.top}L${b.left} ${b.top}`} />
    </g>
  )
}

/** A tick across the host at the point of switch. */
function PointsTick({ pose, view }: { readonly pose: Pose; readonly view: View }): ReactNode {
  const mm = 1 / view.pxPerMm
  const [a, b] = [screenOfPlan(view, poseOffset(pose, 11 * mm)), screenOfPlan(view, poseOffset(pose, -11 * mm))]
  return <path className="tick is-hand" d={`M${a.left} ${a.top}L${b.left} ${b.top}`} />
}
