import { poseSlot } from './clothoid.ts'
import type { PoseSlot } from './clothoid.ts'
import {
  elementCurvatureAt,
  elementMirror,
  elementPoseAt,
  elementPoseInto,
  elementReverse,
  elementSharpness,
  elementSplit,
} from './element.ts'
import { boxGrow, boxOfPoints } from './box.ts'
import { invariant } from './invariant.ts'
import { pointDistance } from './point.ts'
import { poseCompose, poseMirror, poseOffset } from './pose.ts'
import type { Box, CurveElement, Path, PathElement, Point, Pose, StationPose } from './types.ts'

/**
 * How far a station may lie outside the path and still mean its end, mm. It swallows the rounding of sums of lengths;
 * a thousandth of what anyone can set out, so a wrong station is still caught.
 */
export const stationSlackMm = 1e-6

/**
 * A path from its elements, each starting where the one before it ends.
 *
 * Domain:  lengths >= 0 and finite; elements without length are dropped, so a path may have none.
 * Throws:  InvariantError for a negative or non-finite number (a bug of the caller; user input is checked before).
 */
export function pathFromElements(start: Pose, elements: readonly CurveElement[]): Path {
  invariant(Number.isFinite(start.x + start.y + start.headingRad), 'a path must start in a finite pose')
  const placed: PathElement[] = []
  let station = 0
  let pose: Pose = { x: start.x, y: start.y, headingRad: start.headingRad }
  for (const { lengthMm, k0, k1 } of elements) {
    invariant(lengthMm >= 0 && Number.isFinite(lengthMm + k0 + k1), 'an element must have finite curvature and a length of 0 or more')
    if (lengthMm === 0) continue
    const element: PathElement = { lengthMm, k0, k1, startStationMm: station, start: pose }
    placed.push(element)
    pose = elementPoseAt(element, pose, lengthMm)
    station += lengthMm
  }
  return { elements: placed, lengthMm: station, end: pose }
}

/** Straight path between two points; without elements when they coincide. */
export function pathLine(a: Point, b: Point): Path {
  const headingRad = Math.atan2(b.y - a.y, b.x - a.x)
  return pathFromElements({ x: a.x, y: a.y, headingRad }, [{ lengthMm: pointDistance(a, b), k0: 0, k1: 0 }])
}

/** Circular path; the radius is positive for a left curve and negative for a right one, mm, not 0. */
export function pathArc(start: Pose, radiusMm: number, lengthMm: number): Path {
  invariant(radiusMm !== 0, 'an arc must have a radius')
  return pathFromElements(start, [{ lengthMm, k0: 1 / radiusMm, k1: 1 / radiusMm }])
}

/** Pose in which a path starts; its end when it has no elements. */
export function pathStart(path: Path): Pose {
  return path.elements[0]?.start ?? path.end
}

/**
 * A station held to the path.
 *
 * Throws: InvariantError when it lies outside by more than stationSlackMm.
 */
export function pathStationHeld(path: Path, stationMm: number): number {
  if (!(stationMm >= -stationSlackMm && stationMm <= path.lengthMm + stationSlackMm))
    invariant(false, `station ${stationMm} lies outside a path of ${path.lengthMm} mm`)
  return Math.min(Math.max(stationMm, 0), path.lengthMm)
}

/** Index of the element that holds a station, the later one at a join; that of the first or last one beyond the ends. */
export function pathElementIndex({ elements }: Path, stationMm: number): number {
  let low = 0
  let high = elements.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    const element = elements[middle]
    if (element && element.startStationMm <= stationMm) low = middle
    else high = middle - 1
  }
  return low
}

/** How far along its element a station held to the path is, mm. */
const alongElement = (element: PathElement, heldMm: number): number => Math.min(heldMm - element.startStationMm, element.lengthMm)

/**
 * The element that holds a station and how far along it that is; null only for a path without elements.
 * At a join it is the later element.
 */
export function pathElementAt(
  path: Path,
  stationMm: number,
): { readonly element: PathElement; readonly index: number; readonly alongMm: number } | null {
  const station = pathStationHeld(path, stationMm)
  const index = pathElementIndex(path, station)
  const element = path.elements[index]
  return element ? { element, index, alongMm: alongElement(element, station) } : null
}

/**
 * Pose and curvature at a station.
 *
 * Domain:     0 <= station <= length; within stationSlackMm outside it counts as the end.
 * Exactness:  1e-13 of the element's length plus rounding. Curvature at a join of unlike curvatures is that behind it.
 * Throws:     InvariantError outside.
 */
export function pathPoseAt(path: Path, stationMm: number): StationPose {
  const held = pathStationHeld(path, stationMm)
  const element = path.elements[pathElementIndex(path, held)]
  if (element === undefined) return { ...path.end, stationMm: 0, curvature: 0 }
  const alongMm = alongElement(element, held)
  elementPoseInto(scratch, element, alongMm)
  return {
    x: scratch[0] ?? 0,
    y: scratch[1] ?? 0,
    headingRad: scratch[2] ?? 0,
    stationMm: held,
    curvature: elementCurvatureAt(element, alongMm),
  }
}

const scratch = poseSlot()

/** The pose alone, written into a slot. */
export function pathPoseInto(slot: PoseSlot, path: Path, stationMm: number): void {
  const held = pathStationHeld(path, stationMm)
  const element = path.elements[pathElementIndex(path, held)]
  if (element === undefined) {
    slot[0] = path.end.x
    slot[1] = path.end.y
    slot[2] = path.end.headingRad
  } else elementPoseInto(slot, element, alongElement(element, held))
}

/** Curvature at a station, 1/mm; at a join of unlike curvatures that behind it. 0 for a path without elements. */
export function pathCurvatureAt(path: Path, stationMm: number): number {
  const at = pathElementAt(path, stationMm)
  return at ? elementCurvatureAt(at.element, at.alongMm) : 0
}

/** Point at an offset from the path, mm, positive to the left; exact at the point. */
export function pathOffsetPoint(path: Path, stationMm: number, offsetMm: number): Point {
  const pose = poseOffset(pathPoseAt(path, stationMm), offsetMm)
  return { x: pose.x, y: pose.y }
}

/** Path with every element in a new place, nothing integrated again. */
function pathPlaced(path: Path, place: (pose: Pose) => Pose, change: (element: CurveElement) => CurveElement): Path {
  return {
    elements: path.elements.map((element) => ({
      ...change(element),
      startStationMm: element.startStationMm,
      start: place(element.start),
    })),
    lengthMm: path.lengthMm,
    end: place(path.end),
  }
}

/** Rigid motion: a path given in a frame (x ahead, y left of its pose), in the plan. Stations and curvatures stay. */
export function pathMove(path: Path, frame: Pose): Path {
  return pathPlaced(
    path,
    (pose) => poseCompose(frame, pose),
    ({ lengthMm, k0, k1 }) => ({ lengthMm, k0, k1 }),
  )
}

/** Mirror image about the x axis; left curves become right ones. Twice is the identity, exactly. */
export function pathMirror(path: Path): Path {
  return pathPlaced(path, poseMirror, elementMirror)
}

/** The same line run through from its end. The whole path turns by one half turn, so headings stay continuous. */
export function pathReverse(path: Path): Path {
  const halfTurn = path.end.headingRad > 0 ? -Math.PI : Math.PI
  const turned = (pose: Pose): Pose => ({ x: pose.x, y: pose.y, headingRad: pose.headingRad + halfTurn })
  const elements: PathElement[] = []
  let station = 0
  let start = turned(path.end)
  for (let i = path.elements.length - 1; i >= 0; i--) {
    const element = path.elements[i]
    if (element === undefined) continue
    const { lengthMm, k0, k1 } = elementReverse(element)
    elements.push({ lengthMm, k0, k1, startStationMm: station, start })
    station += lengthMm
    start = turned(element.start)
  }
  return { elements, lengthMm: path.lengthMm, end: start }
}

/** Paths laid end to end; each ends where the next one starts. Each stays where it is: chained anew, the rounding of an offset easement would add up. */
export function pathsJoined(paths: readonly Path[]): Path {
  const elements: PathElement[] = []
  let startMm = 0
  for (const path of paths) {
    for (const element of path.elements) elements.push({ ...element, startStationMm: startMm + element.startStationMm })
    startMm += path.lengthMm
  }
  return { elements, lengthMm: startMm, end: paths.at(-1)?.end ?? { x: 0, y: 0, headingRad: 0 } }
}

/**
 * The stretch of a path between two stations, stations counted anew from its start.
 *
 * Domain:  0 <= from <= to <= length.
 * Throws:  InvariantError outside.
 */
export function pathSlice(path: Path, fromMm: number, toMm: number): Path {
  const from = pathStationHeld(path, fromMm)
  const to = pathStationHeld(path, toMm)
  invariant(from <= to, () => `a slice must not run backwards: ${fromMm} to ${toMm}`)
  const elements: PathElement[] = []
  let cut: PathElement | null = null
  let cutMm = 0
  for (const element of path.elements) {
    const first = Math.max(from - element.startStationMm, 0)
    const last = Math.min(to - element.startStationMm, element.lengthMm)
    if (last <= first) continue
    const { lengthMm, k0, k1 } = elementSplit(elementSplit(element, last)[0], first)[1]
    const start = first === 0 ? element.start : elementPoseAt(element, element.start, first)
    elements.push({ lengthMm, k0, k1, startStationMm: Math.max(0, element.startStationMm + first - from), start })
    cut = element
    cutMm = last
  }
  if (cut !== null) return { elements, lengthMm: to - from, end: elementPoseAt(cut, cut.start, cutMm) }
  const { x, y, headingRad } = pathPoseAt(path, from)
  return { elements, lengthMm: to - from, end: { x, y, headingRad } }
}

/** Distances along an element at which its tangent is level or plumb, where alone x and y can turn back. */
function elementTurningPoints(element: PathElement): number[] {
  const { k0, k1, lengthMm, start } = element
  const c = elementSharpness(element)
  const inflection = k0 * k1 < 0 ? -k0 / c : lengthMm
  const found: number[] = []
  for (const [from, to] of [
    [0, inflection],
    [inflection, lengthMm],
  ] as const) {
    if (to <= from) continue
    const heading = (s: number): number => start.headingRad + s * (k0 + 0.5 * c * s)
    const quarter = Math.PI / 2
    const first = Math.ceil(Math.min(heading(from), heading(to)) / quarter)
    const last = Math.floor(Math.max(heading(from), heading(to)) / quarter)
    for (let n = first; n <= last; n++) {
      const turn = n * quarter - start.headingRad
      // Root of (c/2) s^2 + k0 s - turn = 0 on this side of the inflection, in the form that does not cancel.
      const root = Math.sqrt(Math.max(0, k0 * k0 + 2 * c * turn))
      const sign = (from === 0 ? k0 || k1 : k1) < 0 ? -1 : 1
      const s = from === 0 ? (2 * turn) / (k0 + sign * root) : (sign * root - k0) / c
      if (s >= from && s <= to) found.push(s)
    }
  }
  return found
}

/**
 * Box round a path, grown by a margin, mm.
 *
 * Exactness:  exact up to rounding: the ends and every place where the tangent is level or plumb.
 */
export function pathBox(path: Path, marginMm: number): Box {
  const points: Point[] = [path.end]
  for (const element of path.elements) {
    points.push(element.start)
    for (const s of elementTurningPoints(element)) points.push(elementPoseAt(element, element.start, s))
  }
  const box = boxOfPoints(points)
  invariant(box !== null, 'a path has at least its end point')
  return boxGrow(box, marginMm)
}

const boxesKept = new WeakMap<Path, Box>()

/** The box of a path without a margin, worked out once for as long as the path lives. */
export function pathBoxKept(path: Path): Box {
  const known = boxesKept.get(path)
  if (known !== undefined) return known
  const box = pathBox(path, 0)
  boxesKept.set(path, box)
  return box
}
