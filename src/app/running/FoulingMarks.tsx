import { useEffect, useMemo } from 'react'
import type { ReactNode } from 'react'
import { carsOnRoom } from '../../core/clearance/index.ts'
import type { FoulingPoint, Standing, StandingBound } from '../../core/clearance/index.ts'
import { pathCurvatureAt, pathNearest, pathPoseAt, poseOffset } from '../../core/geom/index.ts'
import type { Path, Pose } from '../../core/geom/types.ts'
import type { Network } from '../../core/network/index.ts'
import type { Vehicle } from '../../core/plan/types.ts'
import { useView } from '../canvas/canvasContext.ts'
import { detailAt } from '../canvas/detail.ts'
import { Label, isShown } from '../canvas/markParts.tsx'
import { pathTransform, polylineText } from '../canvas/svgPath.ts'
import { screenOfPlan } from '../canvas/viewport.ts'
import type { ScreenPoint, View } from '../canvas/viewport.ts'
import { useDerived, usePlan, usePrefs, useSession, useStores } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import { roomText } from '../../words/runningText.ts'
import { roomQuestions, standingsWatch } from './standingsWatch.ts'
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
  const network = useDerived((state) => state.derived.network)
  const railway = usePlan((state) => state.plan.railway)
  const view = useView()
  const bars = useMemo(
    () =>
      (points ?? []).flatMap((point) => {
        const pose = poseOf(point, network)
        const half = railway.tieLengthMm * (0.5 + barShare)
        return pose === null ? [] : [polylineText([poseOffset(pose, half), poseOffset(pose, -half)], false)]
      }),
    [points, network, railway.tieLengthMm],
  )
  const detail = detailAt(view.pxPerMm, railway, null)
  if (points === null || detail === 'far') return null
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
  const plan = usePlan((state) => state.plan)
  const network = useDerived((state) => state.derived.network)
  const view = useView()
  if (standings === null || !isSelecting) return null
  return roomQuestions(selection, plan).flatMap(({ track: id, boundBy }) => {
    const track = network.tracks.get(id)
    const rooms = standings.rooms.get(id) ?? []
    const isAsked = (at: StandingBound): boolean => at.kind !== 'end' && (boundBy === null || boundBy.includes(at.record))
    if (track?.alignment.ok !== true) return []
    const cars = track.lineClass.cars.flatMap((car) => plan.vehicles[car] ?? [])
    const { path, isClosed, corners } = track.alignment
    const curvesAtMm = corners.map(({ tsMm, stMm }) => (tsMm + stMm) / 2)
    // What stands clear is worked out after the line: until it is, a line that became shorter holds some of it no more.
    const isOn = ({ fromMm, toMm }: Standing): boolean => fromMm <= path.lengthMm && toMm <= (isClosed ? 2 : 1) * path.lengthMm + slackMm
    // A track that nothing meets is as long as it is; its particulars say so.
    return rooms
      .filter((room) => isOn(room) && (isAsked(room.from) || isAsked(room.to)))
      .map((room) => (
        <Room key={`${id} ${room.fromMm}`} room={room} path={path} curvesAtMm={curvesAtMm} network={network} cars={cars} view={view} />
      ))
  })
}

function Room({
  room,
  path,
  curvesAtMm,
  network,
  cars,
  view,
}: {
  readonly room: Standing
  readonly path: Path
  /** Middles of its curves, where their own words may stand. */
  readonly curvesAtMm: readonly number[]
  readonly network: Network
  readonly cars: readonly Vehicle[]
  readonly view: View
}): ReactNode {
  const prefs = usePrefs((state) => state)
  const tieLengthMm = usePlan((state) => state.plan.railway.tieLengthMm)
  const lengthMm = room.toMm - room.fromMm
  if (lengthMm * view.pxPerMm < leastRoomPx) return null
  const side = freeSide(room, path, network)
  const offMm = side * (tieLengthMm / 2 + besidePx / view.pxPerMm)
  const count = Math.max(2, Math.ceil((lengthMm * view.pxPerMm) / chordPx))
  const within = (stationMm: number): number => (stationMm > path.lengthMm + slackMm ? stationMm - path.lengthMm : stationMm)
  const poseAt = (stationMm: number): Pose => pathPoseAt(path, within(stationMm))
  const points = Array.from({ length: count + 1 }, (_, i) =>
    screenOfPlan(view, poseOffset(poseAt(room.fromMm + (lengthMm * i) / count), offMm)),
  )
  const ends = [room.fromMm, room.toMm].map((stationMm) => {
    const [a, b] = [offMm - (side * 5) / view.pxPerMm, offMm + (side * 5) / view.pxPerMm].map((mm) =>
      screenOfPlan(view, poseOffset(poseAt(stationMm), mm)),
    )
    return a === undefined || b === undefined ? '' : `M${a.left} ${a.top}L${b.left} ${b.top}`
  })
  const longest = cars.toSorted((a, b) => b.overCouplersMm - a.overCouplersMm)[0]
  const kind = longest === undefined ? null : { name: longest.name, count: carsOnRoom(lengthMm, longest.overCouplersMm) }
  const words = roomText(lengthMm, kind, prefs)
  const wordsPx = words.length * letterPx
  const isByCurve = (share: number): boolean => {
    const atMm = within(room.fromMm + lengthMm * share)
    return curvesAtMm.some((curveMm) => Math.abs(atMm - curveMm) * view.pxPerMm < wordsPx / 2 + curveWordsPx)
  }
  const place = wordsPlace(
    wordsPx,
    [...wordsShares.filter((share) => !isByCurve(share)), ...wordsShares.filter(isByCurve)].map((share) => {
      const pose = poseAt(room.fromMm + lengthMm * share)
      const [at, out] = [offMm, offMm + (side * outPx) / view.pxPerMm].map((mm) => screenOfPlan(view, poseOffset(pose, mm)))
      return {
        at: at ?? { left: 0, top: 0 },
        out: out ?? { left: 0, top: 0 },
        bend: Math.abs(pathCurvatureAt(path, within(room.fromMm + lengthMm * share))),
      }
    }),
    view,
  )
  return (
    <g className="room-measure">
      <path d={`M${points.map(({ left, top }) => `${left} ${top}`).join('L')}${ends.join('')}`} />
      {place === null ? null : (
        <Label at={place.at} anchor={place.anchor}>
          {words}
        </Label>
      )}
    </g>
  )
}

/** Where along a room its words may stand; the sooner named the better. */
const wordsShares = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9, 0.05, 0.95] as const
/** Half of what the words of a curve (its radius, its easements) take along it, px. */
const curveWordsPx = 56
/** Width of a letter of the words, px, on the safe side. */
const letterPx = 6.6

/** From the measure to its words, px; where it stands upright they begin or end there. */
const outPx = 10
const asideRight = 0.75 * outPx

/** A bend no sharper than this runs off under no words, 1/mm. */
const slightBend = 1 / 2500

interface WordsPlace {
  readonly at: ScreenPoint
  readonly anchor: 'start' | 'middle' | 'end'
}

/** Beside the measure, away from the track, where it is straight and the words do not run off the table; curves have words of their own. */
function wordsPlace(
  widthPx: number,
  places: readonly { readonly at: ScreenPoint; readonly out: ScreenPoint; readonly bend: number }[],
  { size }: View,
): WordsPlace | null {
  const found = places.flatMap(({ at, out, bend }): readonly (WordsPlace & { readonly bend: number })[] => {
    const [right, down] = [out.left - at.left, out.top - at.top]
    const anchor = right > asideRight ? 'start' : right < -asideRight ? 'end' : 'middle'
    const left = out.left - (anchor === 'start' ? 0 : anchor === 'end' ? widthPx : widthPx / 2)
    const isSeen = left > 4 && left + widthPx < size.width - 4 && out.top > 30 && out.top < size.height - 12
    return isSeen ? [{ at: { left: out.left, top: out.top + 4 + (anchor === 'middle' ? Math.sign(down) * 5 : 0) }, anchor, bend }] : []
  })
  return found.find(({ bend }) => bend < slightBend) ?? found.toSorted((a, b) => a.bend - b.bend)[0] ?? null
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
