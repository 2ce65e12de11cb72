import type { ReactNode } from 'react'
import { cornerPlacePoints } from '../../core/alignment/index.ts'
import type { Alignment, CornerPlace } from '../../core/alignment/types.ts'
import { pathPoseAt, pointDistance, poseOffset } from '../../core/geom/index.ts'
import type { Path, Point, Pose } from '../../core/geom/types.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import { trackHandles, type TrackHandles } from '../../tools/index.ts'
import { usePrefs } from '../context.ts'
import { lengthText, type MeasurePrefs } from '../../words/measure.ts'
import { cornerName } from '../../words/names.ts'
import { isShown, Knob, Label } from './markParts.tsx'
import { centrelineText, pathTransform, polylineText } from './svgPath.ts'
import { screenOfPlan, type ScreenPoint, type View } from './viewport.ts'

interface Props {
  readonly networkTrack: NetworkTrack
  readonly corner: string | null
  readonly end: 'start' | 'end' | null
  readonly view: View
}

/** The selected track: its centreline, the tangents it was built on, and what can be taken hold of. */
export function TrackMarks({ networkTrack, corner, end, view }: Props): ReactNode {
  const prefs = usePrefs((state) => state)
  const { alignment, track } = networkTrack
  const handles = trackHandles(networkTrack)
  const lines = handles.sides.map(([a, b]) => polylineText([a, b], false)).join('')
  return (
    <g className="track-marks">
      <g transform={pathTransform(view)}>
        <path className="construction" d={lines} />
        {alignment.ok ? <path className="chosen-line" d={centrelineText(alignment.path)} /> : null}
      </g>
      {alignment.ok ? <Curves alignment={alignment} chosen={corner} view={view} prefs={prefs} /> : null}
      {alignment.ok ? <Direction path={alignment.path} view={view} /> : null}
      {handles.corners.map((at, index) => {
        const stored = track.corners[index]
        const isChosen = stored !== undefined && stored.id === corner
        return (
          <g key={stored?.id ?? index}>
            <Knob at={at} view={view} kind="pi" isChosen={isChosen} />
            {isChosen || hasRoom(at, handles, view) ? (
              <CornerName at={at} handles={handles} index={index} view={view} name={cornerName(track, index)} />
            ) : null}
          </g>
        )
      })}
      {handles.start === null ? null : <Knob at={handles.start} view={view} kind="end" isChosen={end === 'start'} />}
      {handles.end === null ? null : <Knob at={handles.end} view={view} kind="end" isChosen={end === 'end'} />}
    </g>
  )
}

/** A name beside each PI wants this much of the shorter of its two sides, px. */
const roomPx = 46

function hasRoom(at: Point, { sides }: TrackHandles, view: View): boolean {
  return sides.every(([a, b]) => (a !== at && b !== at) || pointDistance(a, b) * view.pxPerMm > roomPx)
}

interface CornerNameProps {
  readonly at: Point
  readonly handles: TrackHandles
  readonly index: number
  readonly view: View
  readonly name: string
}

/** A PI's name stands outside of its corner: away from where its two sides lead. */
function CornerName({ at, handles, index, view, name }: CornerNameProps): ReactNode {
  const here = screenOfPlan(view, at)
  const before = handles.sides[index]?.[0] ?? at
  const after = handles.sides[(index + 1) % handles.sides.length]?.[1] ?? at
  const [u, v] = [unitTo(here, screenOfPlan(view, before)), unitTo(here, screenOfPlan(view, after))]
  const [x, y] = [-(u.left + v.left), -(u.top + v.top)]
  const size = Math.hypot(x, y)
  const out = size < 0.05 ? { left: 0, top: -1 } : { left: x / size, top: y / size }
  // A shallow corner lies by its curve, whose marks have their names on that side.
  const awayPx = size < 0.6 ? 28 : 15
  const anchor = out.left > 0.4 ? 'start' : out.left < -0.4 ? 'end' : 'middle'
  return (
    <Label at={{ left: here.left + out.left * 13, top: here.top + out.top * awayPx + 4 }} anchor={anchor} tone="hand">
      {name}
    </Label>
  )
}

function unitTo(from: ScreenPoint, to: ScreenPoint): ScreenPoint {
  const length = Math.hypot(to.left - from.left, to.top - from.top) || 1
  return { left: (to.left - from.left) / length, top: (to.top - from.top) / length }
}

/** A curve of fewer pixels would be nothing but its marks. */
const leastCurvePx = 24

type Solved = Extract<Alignment, { ok: true }>

/** Where each curve begins and ends; for the chosen one its centre, radius and easements too. */
function Curves({
  alignment,
  chosen,
  view,
  prefs,
}: {
  readonly alignment: Solved
  readonly chosen: string | null
  readonly view: View
  readonly prefs: MeasurePrefs
}): ReactNode {
  return alignment.corners.map((place) => {
    if (place.solution.totalLengthMm * view.pxPerMm < leastCurvePx) return null
    return <Curve key={place.cornerId} path={alignment.path} place={place} isChosen={place.cornerId === chosen} view={view} prefs={prefs} />
  })
}

function Curve({
  path,
  place,
  isChosen,
  view,
  prefs,
}: {
  readonly path: Path
  readonly place: CornerPlace
  readonly isChosen: boolean
  readonly view: View
  readonly prefs: MeasurePrefs
}): ReactNode {
  const points = cornerPlacePoints(path, place)
  const { solution } = place
  // Without an easement TS and SC are one point; the curve then begins there, PC in the older books.
  const isMet = solution.arcs.length === 1 && solution.arcLengthMm === 0
  const ticks: readonly (readonly [string, Pose])[] = [
    ...(solution.easementInMm > 0 ? ([['TS', points.ts]] as const) : []),
    // Easements that meet have one point between them.
    [isMet ? 'SC CS' : 'SC', points.sc],
    ...points.joins.flatMap(({ from, to }): readonly (readonly [string, Pose])[] =>
      to.stationMm > from.stationMm
        ? [
            ['CS', from],
            ['SC', to],
          ]
        : [['CC', from]],
    ),
    ...(isMet ? [] : ([['CS', points.cs]] as const)),
    ...(solution.easementOutMm > 0 ? ([['ST', points.st]] as const) : []),
  ]
  const isRoomy = solution.totalLengthMm * view.pxPerMm > 90
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
      {ticks.map(([name, pose], index) => (
        <Tick key={index} name={isRoomy ? name : ''} pose={pose} side={side} view={view} />
      ))}
      {isRoomy ? <CurveWords path={path} place={place} view={view} prefs={prefs} /> : null}
    </g>
  )
}

/** A tick across the line, its name on the outside of the curve. */
function Tick({
  name,
  pose,
  side,
  view,
}: {
  readonly name: string
  readonly pose: Pose
  readonly side: number
  readonly view: View
}): ReactNode {
  const at = screenOfPlan(view, pose)
  if (!isShown(at, view)) return null
  const mm = 1 / view.pxPerMm
  const a = screenOfPlan(view, poseOffset(pose, 9 * mm))
  const b = screenOfPlan(view, poseOffset(pose, -9 * mm))
  const word = screenOfPlan(view, poseOffset(pose, -side * 22 * mm))
  return (
    <>
      <path className="tick" d={`M${a.left} ${a.top}L${b.left} ${b.top}`} />
      {name === '' ? null : (
        <Label at={{ left: word.left, top: word.top + 4 }} anchor="middle" tone="ink">
          {name}
        </Label>
      )}
    </>
  )
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
      <path className="construction is-fine" transform={pathTransform(view)} d={polylineText([sc, centre, cs], false)} />
      <path className="centre-cross" d={`M${left - 5} ${top}h10M${left} ${top - 5}v10`} />
    </>
  )
}

/** Radius and easements, inside of the curve beside its middle. */
function CurveWords({
  path,
  place,
  view,
  prefs,
}: {
  readonly path: Path
  readonly place: CornerPlace
  readonly view: View
  readonly prefs: MeasurePrefs
}): ReactNode {
  const { solution } = place
  const side = Math.sign(solution.deflectionRad)
  const pose = pathPoseAt(path, middleStation(path, place))
  const inward = poseOffset(pose, side * (16 / view.pxPerMm))
  const at = screenOfPlan(view, inward)
  if (!isShown(at, view)) return null
  const line = screenOfPlan(view, pose)
  const anchor = at.left < line.left - 5 ? 'end' : at.left > line.left + 5 ? 'start' : 'middle'
  const top = at.top + (at.top > line.top + 8 ? 8 : at.top < line.top - 8 ? -12 : 0)
  const { easementInMm, easementOutMm } = solution
  const easements =
    easementInMm === 0 && easementOutMm === 0
      ? null
      : Math.abs(easementInMm - easementOutMm) < 1e-6
        ? `easements ${lengthText(easementInMm, prefs)}`
        : `easements ${lengthText(easementInMm, prefs)}, ${lengthText(easementOutMm, prefs)}`
  return (
    <>
      <Label at={{ left: at.left, top }} anchor={anchor}>
        R {solution.arcs.map(({ radiusMm }) => lengthText(radiusMm, prefs)).join(', ')}
      </Label>
      {easements === null ? null : (
        <Label at={{ left: at.left, top: top + 16 }} anchor={anchor} tone="soft">
          {easements}
        </Label>
      )}
    </>
  )
}

function middleStation(path: Path, { tsMm, stMm }: CornerPlace): number {
  return Math.min(Math.max((tsMm + stMm) / 2, 0), path.lengthMm)
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
