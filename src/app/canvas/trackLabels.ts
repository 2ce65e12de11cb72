import { cornerPlacePoints } from '../../core/alignment/index.ts'
import type { Alignment, CornerPlace } from '../../core/alignment/types.ts'
import { pathPoseAt, pointDistance, poseOffset } from '../../core/geom/index.ts'
import type { Path, Point, Pose } from '../../core/geom/types.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import { trackHandles, type TrackHandles } from '../../tools/index.ts'
import { lengthText, type MeasurePrefs } from '../../words/measure.ts'
import { cornerName } from '../../words/names.ts'
import { labelCost, type PlanLabel } from './labels.ts'
import { isShown } from './markParts.tsx'
import { screenOfPlan, type ScreenPoint, type View } from './viewport.ts'

type Solved = Extract<Alignment, { ok: true }>

/** A curve of fewer pixels would be nothing but its marks. */
const leastCurvePx = 24
/** One of fewer has no room for words. */
const roomyPx = 90
/** A name beside each PI wants this much of the shorter of its two sides, px. */
const cornerRoomPx = 46

export const isDrawnCurve = ({ solution }: CornerPlace, view: View): boolean => solution.totalLengthMm * view.pxPerMm >= leastCurvePx

/** The places of a curve by their names, along rising station. */
export function curvePlaces(path: Path, place: CornerPlace): readonly (readonly [name: string, pose: Pose])[] {
  const points = cornerPlacePoints(path, place)
  const { solution } = place
  // Without an easement TS and SC are one point; the curve then begins there, PC in the older books.
  const isMet = solution.arcs.length === 1 && solution.arcLengthMm === 0
  return [
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
}

/** All that is written on a selected track: places of its curves, their radii and easements, the names of its PIs. */
export function trackLabels(of: NetworkTrack, chosen: string | null, view: View, prefs: MeasurePrefs): readonly PlanLabel[] {
  const { alignment, track } = of
  const handles = trackHandles(of)
  const labels: PlanLabel[] = []
  // What is written later makes way for what stands.
  const write = (...choices: readonly (readonly PlanLabel[])[]): void => {
    const costs = choices.map((choice) => costOf(choice, labels, view))
    const best = choices[costs.indexOf(Math.min(...costs))] ?? []
    labels.push(...best)
  }
  handles.corners.forEach((at, index) => {
    const isChosen = track.corners[index]?.id === chosen
    if (isChosen || hasRoom(at, handles, view)) write([nameOfCorner(at, handles, index, view, cornerName(track, index))])
  })
  if (!alignment.ok) return labels
  for (const place of alignment.corners) {
    if (!isDrawnCurve(place, view) || place.solution.totalLengthMm * view.pxPerMm <= roomyPx) continue
    const side = Math.sign(place.solution.deflectionRad)
    for (const [name, pose] of curvePlaces(alignment.path, place)) {
      if (isShown(screenOfPlan(view, pose), view)) write(...[22, -22].map((out) => [nameOfPlace(name, pose, -side * out, view)]))
    }
    write(...wordsOfCurve(alignment, place, view, prefs))
  }
  return labels
}

/** What a label pays for being cut off by an edge of the plan, as square pixels that it shares with another. */
const cutOff = 40

/** Lower is better; the first of equals is taken. */
const costOf = (choice: readonly PlanLabel[], taken: readonly PlanLabel[], view: View): number =>
  choice.reduce((sum, label) => sum + labelCost(label, taken, view, cutOff), 0)

/** Beside its tick, on the outside of the curve where that is free. */
function nameOfPlace(words: string, pose: Pose, offPx: number, view: View): PlanLabel {
  const at = screenOfPlan(view, poseOffset(pose, offPx / view.pxPerMm))
  return { words, at: { left: at.left, top: at.top + 4 }, anchor: 'middle', tone: 'ink' }
}

/** From the line to the words of its curve, px. */
const inwardPx = [16, 30, 46] as const

/** Radius and easements, inside of the curve beside its middle: near it, or farther in. */
function wordsOfCurve({ path }: Solved, place: CornerPlace, view: View, prefs: MeasurePrefs): readonly (readonly PlanLabel[])[] {
  const { solution, tsMm, stMm } = place
  const side = Math.sign(solution.deflectionRad)
  const pose = pathPoseAt(path, Math.min(Math.max((tsMm + stMm) / 2, 0), path.lengthMm))
  const line = screenOfPlan(view, pose)
  if (!isShown(screenOfPlan(view, poseOffset(pose, (side * inwardPx[0]) / view.pxPerMm)), view)) return [[]]
  const { easementInMm, easementOutMm } = solution
  const radius = `R ${solution.arcs.map(({ radiusMm }) => lengthText(radiusMm, prefs)).join(', ')}`
  const one = Math.abs(easementInMm - easementOutMm) < 1e-6
  const lengths = one ? lengthText(easementInMm, prefs) : `${lengthText(easementInMm, prefs)}, ${lengthText(easementOutMm, prefs)}`
  return inwardPx.map((px) => {
    const at = screenOfPlan(view, poseOffset(pose, (side * px) / view.pxPerMm))
    const anchor = at.left < line.left - 5 ? 'end' : at.left > line.left + 5 ? 'start' : 'middle'
    const top = at.top + (at.top > line.top + 8 ? 8 : at.top < line.top - 8 ? -12 : 0)
    const first: PlanLabel = { words: radius, at: { left: at.left, top }, anchor, tone: 'ink' }
    return easementInMm === 0 && easementOutMm === 0
      ? [first]
      : [first, { words: `easements ${lengths}`, at: { left: at.left, top: top + 16 }, anchor, tone: 'soft' }]
  })
}

function hasRoom(at: Point, { sides }: TrackHandles, view: View): boolean {
  return sides.every(([a, b]) => (a !== at && b !== at) || pointDistance(a, b) * view.pxPerMm > cornerRoomPx)
}

/** A PI's name stands outside of its corner: away from where its two sides lead. */
function nameOfCorner(at: Point, handles: TrackHandles, index: number, view: View, words: string): PlanLabel {
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
  return { words, at: { left: here.left + out.left * 13, top: here.top + out.top * awayPx + 4 }, anchor, tone: 'hand' }
}

function unitTo(from: ScreenPoint, to: ScreenPoint): ScreenPoint {
  const length = Math.hypot(to.left - from.left, to.top - from.top) || 1
  return { left: (to.left - from.left) / length, top: (to.top - from.top) / length }
}
