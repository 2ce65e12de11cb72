import { useEffect, useMemo } from 'react'
import type { ReactNode } from 'react'
import { carsOnRoom, standingLength } from '../../core/clearance/index.ts'
import type { FoulingPoint, Standing, StandingBound } from '../../core/clearance/index.ts'
import { pathCurvatureAt, pathNearest, pathPoseAt, poseOffset } from '../../core/geom/index.ts'
import type { Path, Pose } from '../../core/geom/types.ts'
import type { Network } from '../../core/network/index.ts'
import type { Finding } from '../../core/checks/types.ts'
import type { Selection } from '../../store/types.ts'
import { useView } from '../canvas/canvasContext.ts'
import { detailAt } from '../canvas/detail.ts'
import { findingLeaders } from '../canvas/findingLanes.ts'
import { boxAround, boxesMeet, isWithin, labelBox } from '../canvas/labels.ts'
import type { PlanLabel, ScreenBox } from '../canvas/labels.ts'
import { Label, isShown } from '../canvas/markParts.tsx'
import { pathTransform, polylineText } from '../canvas/svgPath.ts'
import { curvePlaces, trackLabels } from '../canvas/trackLabels.ts'
import { screenOfPlan } from '../canvas/viewport.ts'
import type { ScreenPoint, View } from '../canvas/viewport.ts'
import { useDerived, usePlan, usePrefs, useSession, useStores } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import type { MeasurePrefs } from '../../words/measure.ts'
import { roomText } from '../../words/runningText.ts'
import { roomQuestions, standingsWatch } from './standingsWatch.ts'
import type { RoomQuestion, Standings } from './standingsWatch.ts'
import './running.css'

/** Fouling points on the plan, and what stands clear between them on the tracks that the selection is about. */
export default function FoulingMarks(): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  useEffect(() => standingsWatch(stores, desk), [stores, desk])
  return (
    <g className="fouling-marks">
      <Points />
      <Rooms />
    </g>
  )
}

/** Beyond the ends of the ties the bar of a fouling point stands out by so much of their length. */
const barShare = 0.16

function Points(): ReactNode {
  const points = useDesk((desk) => desk.standings?.points ?? null)
  return points === null || points.length === 0 ? null : <PointsOf points={points} />
}

function PointsOf({ points }: { readonly points: readonly FoulingPoint[] }): ReactNode {
  const network = useDerived((state) => state.derived.network)
  const railway = usePlan((state) => state.plan.railway)
  const view = useView()
  const bars = useMemo(
    () =>
      points.flatMap((point) => {
        const pose = poseOf(point, network)
        const half = railway.tieLengthMm * (0.5 + barShare)
        return pose === null ? [] : [polylineText([poseOffset(pose, half), poseOffset(pose, -half)], false)]
      }),
    [points, network, railway.tieLengthMm],
  )
  const detail = detailAt(view.pxPerMm, railway, null)
  if (detail === 'far') return null
  return (
    <>
      <path className="fouling-bar" transform={pathTransform(view)} d={bars.join('')} />
      {detail === 'near' ? points.map((point, i) => <PointName key={i} point={point} network={network} view={view} />) : null}
    </>
  )
}

function PointName({ point, network, view }: { readonly point: FoulingPoint; readonly network: Network; readonly view: View }): ReactNode {
  const tieLengthMm = usePlan((state) => state.plan.railway.tieLengthMm)
  const pose = poseOf(point, network)
  if (pose === null) return null
  const at = screenOfPlan(view, poseOffset(pose, tieLengthMm * (0.5 + barShare) + 6 / view.pxPerMm))
  return isShown(at, view) ? (
    <Label at={at} tone="soft" anchor="middle">
      fouling point
    </Label>
  ) : null
}

function poseOf({ track, stationMm }: FoulingPoint, network: Network): Pose | null {
  const alignment = network.tracks.get(track)?.alignment
  return alignment?.ok === true ? pathPoseAt(alignment.path, Math.min(stationMm, alignment.path.lengthMm)) : null
}

/** Between its ends the measure of a room is drawn by chords of so many px. */
const chordPx = 8
/** From the ends of the ties to the measure, px. */
const besidePx = 11
/** Rounding of stations at the end of a line. */
const slackMm = 1e-6
/** A room shorter than this on the screen has no place for its words, px. */
const leastRoomPx = 60

function Rooms(): ReactNode {
  const standings = useDesk((desk) => desk.standings)
  const selection = useSession((session) => session.selection)
  const isSelecting = useSession((session) => session.tool === 'select')
  // Most tracks meet nothing: then no step of a drag asks for more.
  const isAny = usePlan(
    ({ plan }) =>
      standings !== null && isSelecting && roomQuestions(selection, plan).some((question) => roomsAsked(standings, question).length > 0),
  )
  return standings === null || !isAny ? null : <RoomsOf standings={standings} selection={selection} />
}

/** Of a track that nothing meets there are none: it is as long as it is, and its particulars say so. */
function roomsAsked({ rooms }: Standings, { track, boundBy }: RoomQuestion): readonly Standing[] {
  const isAsked = (at: StandingBound): boolean => at.kind !== 'end' && (boundBy === null || boundBy.includes(at.record))
  return (rooms.get(track) ?? []).filter(({ from, to }) => isAsked(from) || isAsked(to))
}

function RoomsOf({ standings, selection }: { readonly standings: Standings; readonly selection: Selection }): ReactNode {
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const network = useDerived((state) => state.derived.network)
  const findings = useDerived((state) => state.findings)
  const view = useView()
  // Words keep clear of what is written and marked already, and of each other.
  const taken = takenBy(selection, network, findings, view, prefs)
  return roomQuestions(selection, plan).flatMap((question) => {
    const id = question.track
    const track = network.tracks.get(id)
    if (track?.alignment.ok !== true) return []
    const cars = track.lineClass.cars.flatMap((car) => plan.vehicles[car] ?? [])
    const { path, isClosed } = track.alignment
    // What stands clear is worked out after the line: until it is, a line that became shorter holds some of it no more.
    const isOn = ({ fromMm, toMm }: Standing): boolean => fromMm <= path.lengthMm && toMm <= (isClosed ? 2 : 1) * path.lengthMm + slackMm
    return roomsAsked(standings, question)
      .filter(isOn)
      .filter(({ fromMm, toMm }) => (toMm - fromMm) * view.pxPerMm >= leastRoomPx)
      .map((room) => {
        const longest = cars.toSorted((one, other) => other.overCouplersMm - one.overCouplersMm)[0]
        const lengthMm = standingLength(room)
        const kind = longest === undefined ? null : { name: longest.name, count: carsOnRoom(lengthMm, longest.overCouplersMm) }
        const measure = measureOf(room, path, network, plan.railway.tieLengthMm, view)
        const label = wordsPlace(roomText(lengthMm, kind, prefs), measure.places, taken, view)
        if (label !== null) taken.push(labelBox(label))
        return <Room key={`${id} ${room.fromMm}`} d={measure.d} label={label} />
      })
  })
}

function Room({ d, label }: { readonly d: string; readonly label: PlanLabel | null }): ReactNode {
  return (
    <g className="room-measure">
      <path d={d} />
      {label === null ? null : (
        <Label at={label.at} anchor={label.anchor}>
          {label.words}
        </Label>
      )}
    </g>
  )
}

/** Scale and words in the lower right corner of the canvas. */
const cornerPx = { width: 450, height: 40 } as const
/** About the place of a finding and its mark, and about a tick or a knob, so much is taken, px. */
const aboutMarkPx = 12

/** What is written about the selected track, and the marks of findings. */
function takenBy(selection: Selection, network: Network, findings: readonly Finding[], view: View, prefs: MeasurePrefs): ScreenBox[] {
  const id =
    selection.kind === 'record' ? selection.id : selection.kind === 'corner' || selection.kind === 'trackEnd' ? selection.track : null
  const track = id === null ? undefined : network.tracks.get(id)
  const labels = track === undefined ? [] : trackLabels(track, selection.kind === 'corner' ? selection.corner : null, view, prefs)
  const line = track?.alignment.ok === true ? track.alignment : null
  const ticks = line?.corners.flatMap((place) => curvePlaces(line.path, place).map(([, pose]) => pose)) ?? []
  const marks = findings.map((finding) => screenOfPlan(view, finding)).filter((place) => isShown(place, view))
  const leaders = findingLeaders(marks)
  const { width, height } = view.size
  return [
    { left: width - cornerPx.width, right: width, top: height - cornerPx.height, bottom: height },
    ...labels.map(labelBox),
    ...marks.map(({ left, top }, i) => ({
      left: left - aboutMarkPx,
      right: left + aboutMarkPx,
      top: Math.min(top, top - (leaders[i] ?? 0)) - aboutMarkPx,
      bottom: Math.max(top, top - (leaders[i] ?? 0)),
    })),
    ...ticks.map((pose) => boxAround(screenOfPlan(view, pose), aboutMarkPx)),
  ]
}

interface WordsAt {
  readonly at: ScreenPoint
  readonly out: ScreenPoint
  readonly bend: number
}

/** The measure of a room beside its track, and the places where its words may stand. */
function measureOf(
  room: Standing,
  path: Path,
  network: Network,
  tieLengthMm: number,
  view: View,
): { readonly d: string; readonly places: readonly WordsAt[] } {
  const lengthMm = room.toMm - room.fromMm
  const side = freeSide(room, path, network)
  const offMm = side * (tieLengthMm / 2 + besidePx / view.pxPerMm)
  const count = Math.max(2, Math.ceil((lengthMm * view.pxPerMm) / chordPx))
  const within = (stationMm: number): number => (stationMm > path.lengthMm + slackMm ? stationMm - path.lengthMm : stationMm)
  const placeAt = (stationMm: number, mm: number): ScreenPoint => screenOfPlan(view, poseOffset(pathPoseAt(path, within(stationMm)), mm))
  const points = Array.from({ length: count + 1 }, (_, i) => placeAt(room.fromMm + (lengthMm * i) / count, offMm))
  const ends = [room.fromMm, room.toMm].map((stationMm) => {
    const [a, b] = [placeAt(stationMm, offMm - (side * 5) / view.pxPerMm), placeAt(stationMm, offMm + (side * 5) / view.pxPerMm)]
    return `M${a.left} ${a.top}L${b.left} ${b.top}`
  })
  const places = outsPx.flatMap((px) =>
    wordsShares.map((share) => {
      const stationMm = room.fromMm + lengthMm * share
      return {
        at: placeAt(stationMm, offMm),
        out: placeAt(stationMm, offMm + (side * px) / view.pxPerMm),
        bend: Math.abs(pathCurvatureAt(path, within(stationMm))),
      }
    }),
  )
  return { d: `M${points.map(({ left, top }) => `${left} ${top}`).join('L')}${ends.join('')}`, places }
}

/** Where along a room its words may stand; the sooner named the better. */
const wordsShares = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9, 0.05, 0.95] as const

/** From the measure to its words, px; where it stands upright they begin or end there. */
const outPx = 10
/** Farther out where something is written there already, px. */
const outsPx = [outPx, 27, 44] as const
const asideShare = 0.75

/** A bend no sharper than this runs off under no words, 1/mm. */
const slightBend = 1 / 2500

/**
 * Beside the measure, away from the track, where it is straight, nothing else is written and the words do not run off the table. null:
 * there is no such place, and words over words tell nothing: the particulars have them.
 */
function wordsPlace(words: string, places: readonly WordsAt[], taken: readonly ScreenBox[], view: View): PlanLabel | null {
  const free = places.flatMap(({ at, out, bend }): readonly (PlanLabel & { readonly bend: number })[] => {
    const [right, down] = [out.left - at.left, out.top - at.top]
    const aside = asideShare * Math.hypot(right, down)
    const anchor = right > aside ? 'start' : right < -aside ? 'end' : 'middle'
    const top = out.top + 4 + (anchor === 'middle' ? Math.sign(down) * 5 : 0)
    const label = { words, at: { left: out.left, top }, anchor, tone: 'ink', bend } as const
    const box = labelBox(label)
    return isWithin(box, view) && !taken.some((other) => boxesMeet(box, other)) ? [label] : []
  })
  return free.find(({ bend }) => bend < slightBend) ?? free.toSorted((one, other) => one.bend - other.bend)[0] ?? null
}

/** The side of a room on which no track lies that it is bounded by. */
function freeSide({ from, to, fromMm, toMm }: Standing, path: Path, network: Network): 1 | -1 {
  const middleMm = (fromMm + toMm) / 2
  const pose = pathPoseAt(path, middleMm > path.lengthMm ? middleMm - path.lengthMm : middleMm)
  for (const bound of [from, to]) {
    if (bound.kind !== 'track') continue
    const other = network.tracks.get(bound.record)?.alignment
    if (other?.ok !== true) continue
    const { stationMm } = pathNearest(other.path, pose)
    const at = pathPoseAt(other.path, stationMm)
    const leftMm = (at.y - pose.y) * Math.cos(pose.headingRad) - (at.x - pose.x) * Math.sin(pose.headingRad)
    return leftMm > 0 ? -1 : 1
  }
  return 1
}
