import type { ReactNode } from 'react'
import { cornerPlacePoints } from '../../core/alignment/index.ts'
import type { Alignment, CornerPlace } from '../../core/alignment/types.ts'
import { pathPoseAt, pointDistance, poseOffset } from '../../core/geom/index.ts'
import type { Path, Pose } from '../../core/geom/types.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import { trackHandles } from '../../tools/index.ts'
import { usePrefs } from '../context.ts'
import { labelHeld } from './labels.ts'
import { isShown, Knob, Label } from './markParts.tsx'
import { PlanSpace } from './still.tsx'
import { centrelineText, polylineText, screenLineText } from './svgPath.ts'
import { curvePlaces, isDrawnCurve, trackLabels } from './trackLabels.ts'
import { screenOfPlan, type View } from './viewport.ts'

interface Props {
  readonly networkTrack: NetworkTrack
  readonly corner: string | null
  readonly end: 'start' | 'end' | null
  readonly view: View
}

/** The selected track: its centreline, the tangents it was built on, and what can be taken hold of. Words lie over all lines. */
export function TrackMarks({ networkTrack, corner, end, view }: Props): ReactNode {
  const prefs = usePrefs((state) => state)
  const { alignment, track } = networkTrack
  const handles = trackHandles(networkTrack)
  const lines = handles.sides.map(([a, b]) => polylineText([a, b], false)).join('')
  return (
    <g className="track-marks">
      <PlanSpace view={view}>
        <path className="construction" d={lines} />
        {alignment.ok ? <path className="chosen-line" d={centrelineText(alignment.path)} /> : null}
      </PlanSpace>
      {alignment.ok ? <Curves alignment={alignment} chosen={corner} view={view} /> : null}
      {alignment.ok ? <Direction path={alignment.path} view={view} /> : null}
      {handles.corners.map((at, index) => {
        const stored = track.corners[index]
        return <Knob key={stored?.id ?? index} at={at} view={view} kind="pi" isChosen={stored !== undefined && stored.id === corner} />
      })}
      {handles.start === null ? null : <Knob at={handles.start} view={view} kind="end" isChosen={end === 'start'} />}
      {handles.end === null ? null : <Knob at={handles.end} view={view} kind="end" isChosen={end === 'end'} />}
      {trackLabels(networkTrack, corner, view, prefs)
        .map((label) => labelHeld(label, view))
        .map(({ words, at, anchor, tone }, index) => (
          <Label key={index} at={at} anchor={anchor} tone={tone}>
            {words}
          </Label>
        ))}
    </g>
  )
}

type Solved = Extract<Alignment, { ok: true }>

/** Where each curve begins and ends; for the chosen one its centre too. */
function Curves({
  alignment,
  chosen,
  view,
}: {
  readonly alignment: Solved
  readonly chosen: string | null
  readonly view: View
}): ReactNode {
  return alignment.corners
    .filter((place) => isDrawnCurve(place, view))
    .map((place) => <Curve key={place.cornerId} path={alignment.path} place={place} isChosen={place.cornerId === chosen} view={view} />)
}

function Curve({
  path,
  place,
  isChosen,
  view,
}: {
  readonly path: Path
  readonly place: CornerPlace
  readonly isChosen: boolean
  readonly view: View
}): ReactNode {
  const points = cornerPlacePoints(path, place)
  const { solution } = place
  const side = Math.sign(solution.deflectionRad)
  return (
    <g className="curve-marks">
      {solution.arcs.map((arc, index) =>
        isChosen && arc.lengthMm > 0 ? (
          <Centre
            key={index}
            sc={points.joins[index - 1]?.to ?? points.sc}
            cs={points.joins[index]?.from ?? points.cs}
            radiusMm={arc.radiusMm * side}
            view={view}
          />
        ) : null,
      )}
      <path
        className="tick"
        d={curvePlaces(path, place)
          .map(([, pose]) => tickText(pose, view))
          .join('')}
      />
    </g>
  )
}

/** A tick across the line; nothing where it is not seen. */
function tickText(pose: Pose, view: View): string {
  if (!isShown(screenOfPlan(view, pose), view)) return ''
  const mm = 1 / view.pxPerMm
  const [a, b] = [screenOfPlan(view, poseOffset(pose, 9 * mm)), screenOfPlan(view, poseOffset(pose, -9 * mm))]
  return `M${a.left} ${a.top}L${b.left} ${b.top}`
}

function Centre({
  sc,
  cs,
  radiusMm,
  view,
}: {
  readonly sc: Pose
  readonly cs: Pose
  readonly radiusMm: number
  readonly view: View
}): ReactNode {
  const centre = poseOffset(sc, radiusMm)
  const { left, top } = screenOfPlan(view, centre)
  return (
    <>
      <path className="construction is-fine" d={screenLineText([sc, centre, cs], view)} />
      {isShown({ left, top }, view) ? <path className="centre-cross" d={`M${left - 5} ${top}h10M${left} ${top - 5}v10`} /> : null}
    </>
  )
}

/** A small arrow that shows which way stations rise. */
function Direction({ path, view }: { readonly path: Path; readonly view: View }): ReactNode {
  if (path.lengthMm * view.pxPerMm < 80) return null
  const pose = pathPoseAt(path, Math.min(path.lengthMm, 34 / view.pxPerMm))
  const mm = 1 / view.pxPerMm
  const tip = screenOfPlan(view, { x: pose.x + Math.cos(pose.headingRad) * 7 * mm, y: pose.y + Math.sin(pose.headingRad) * 7 * mm })
  const [a, b] = [screenOfPlan(view, poseOffset(pose, 4 * mm)), screenOfPlan(view, poseOffset(pose, -4 * mm))]
  if (pointDistance(pose, path.end) === 0) return null
  return <path className="direction" d={`M${a.left} ${a.top}L${tip.left} ${tip.top}L${b.left} ${b.top}Z`} />
}
