import { elementCurvatureAt, elementPoseAt, elementSharpness } from './element.ts'
import { elementEvaluator, evaluatorPoseAt } from './evaluator.ts'
import { invariant } from './invariant.ts'
import { pathPoseAt, pathStationHeld } from './path.ts'
import { poseOffset } from './pose.ts'
import type { Path, PathElement, Point, Pose } from './types.ts'

/** The stretch of a path to be drawn, at an offset (left +), within a tolerance, mm. */
export interface PathStretch {
  readonly fromMm: number
  readonly toMm: number
  readonly offsetMm: number
  readonly toleranceMm: number
}

/** A stretch of one element, along..until in mm from the element's start. */
export interface ElementStretch {
  readonly element: PathElement
  readonly fromMm: number
  readonly toMm: number
}

/** The elements between two stations, each cut to them, in order. */
export function pathElementStretches(path: Path, fromMm: number, toMm: number): ElementStretch[] {
  const from = pathStationHeld(path, fromMm)
  const to = pathStationHeld(path, toMm)
  invariant(from <= to, () => `a stretch must not run backwards: ${fromMm} to ${toMm}`)
  return path.elements.flatMap((element) => {
    const first = Math.max(from - element.startStationMm, 0)
    const last = Math.min(to - element.startStationMm, element.lengthMm)
    return last > first ? [{ element, fromMm: first, toMm: last }] : []
  })
}

/**
 * Largest second derivative by station of the line at an offset d, 1/mm.
 * The line is z + d N; its derivatives are (1 - k d) T and -k' d T + k (1 - k d) N.
 */
function stretchBend({ element, fromMm, toMm }: ElementStretch, offsetMm: number): number {
  const ends = [elementCurvatureAt(element, fromMm), elementCurvatureAt(element, toMm)]
  const least = Math.min(...ends)
  const most = Math.max(...ends)
  const bends = [least, most]
  // k (1 - k d) has its own extreme at k = 1 / (2 d).
  if (offsetMm !== 0) bends.push(Math.min(Math.max(1 / (2 * offsetMm), least), most))
  const across = Math.max(...bends.map((k) => Math.abs(k * (1 - k * offsetMm))))
  return Math.hypot(across, elementSharpness(element) * offsetMm)
}

/** Into how many equal steps a stretch is cut so that chords keep to the tolerance: a chord over u leaves a curve by at most max|r''| u^2 / 8. */
function stretchSteps(stretch: ElementStretch, offsetMm: number, toleranceMm: number): number {
  const lengthMm = stretch.toMm - stretch.fromMm
  return Math.max(1, Math.ceil(lengthMm * Math.sqrt(stretchBend(stretch, offsetMm) / (8 * toleranceMm))))
}

/**
 * Stations between which straight chords follow the line at an offset within a tolerance, first and last included.
 *
 * Domain:     0 <= from <= to <= length, tolerance > 0.
 * Exactness:  guaranteed (stretchSteps). Every join of elements is among them.
 * Throws:     InvariantError outside the domain.
 */
export function pathStations(path: Path, fromMm: number, toMm: number, offsetMm: number, toleranceMm: number): number[] {
  invariant(toleranceMm > 0, 'a tolerance must be above 0')
  const stations = [pathStationHeld(path, fromMm)]
  for (const stretch of pathElementStretches(path, fromMm, toMm)) {
    const lengthMm = stretch.toMm - stretch.fromMm
    const count = stretchSteps(stretch, offsetMm, toleranceMm)
    const begin = stretch.element.startStationMm + stretch.fromMm
    for (let i = 1; i < count; i++) stations.push(begin + (lengthMm * i) / count)
    stations.push(Math.min(stretch.element.startStationMm + stretch.toMm, path.lengthMm))
  }
  return stations
}

/** From this many poses of one element on, making it ready first is the quicker way (bench/clothoid.ts). */
const worthPreparing = 24
/** Error of a prepared pose, mm: nothing beside the tolerance of any drawing. */
const preparedToleranceMm = 1e-9

/**
 * Points of the line at an offset such that straight chords follow it within the tolerance.
 *
 * Domain, exactness and errors as pathStations, at whose stations the points lie, to 1e-9 mm.
 */
export function pathFlatten(path: Path, { fromMm, toMm, offsetMm, toleranceMm }: PathStretch): Point[] {
  invariant(toleranceMm > 0, 'a tolerance must be above 0')
  const points: Point[] = []
  const add = (pose: Pose): void => {
    const { x, y } = offsetMm === 0 ? pose : poseOffset(pose, offsetMm)
    points.push({ x, y })
  }
  for (const stretch of pathElementStretches(path, fromMm, toMm)) {
    const { element, fromMm: first, toMm: last } = stretch
    const count = stretchSteps(stretch, offsetMm, toleranceMm)
    const isWorth = element.k0 !== element.k1 && count >= worthPreparing
    const prepared = isWorth ? elementEvaluator(element, element.start, preparedToleranceMm) : null
    const poseAt = (s: number): Pose => (prepared ? evaluatorPoseAt(prepared, s) : elementPoseAt(element, element.start, s))
    for (let i = points.length === 0 ? 0 : 1; i < count; i++) add(poseAt(first + ((last - first) * i) / count))
    add(elementPoseAt(element, element.start, last))
  }
  if (points.length === 0) add(path.elements.length === 0 ? path.end : pathPoseAt(path, fromMm))
  return points
}
