import { pathFlatten, pointDistance, poseToPlan } from '../geom/index.ts'
import type { Polygon } from '../geom/index.ts'
import type { Path, Point, Pose } from '../geom/types.ts'
import { chordToleranceMm } from './limits.ts'
import type { Prism } from './types.ts'

export const polygonOf = (outline: readonly Point[]): Polygon => ({ outline, holes: [] })

/** An outline that rises from the plan. Corners that no tool could tell apart become one: between them stands no face. */
export function prismUp({ outline, holes }: Polygon, fromMm: number, toMm: number): Prism {
  return { axis: 'z', polygon: { outline: cornersApart(outline), holes: holes.map(cornersApart) }, fromMm, toMm }
}

function cornersApart(ring: readonly Point[]): readonly Point[] {
  return ring.filter((corner, i) => pointDistance(corner, ring.at(i - 1) ?? corner) > chordToleranceMm || ring.length < 4)
}

/** A rectangle in a frame: along its x, and across. */
export function rectangle(frame: Pose, [fromX, toX]: readonly [number, number], [fromY, toY]: readonly [number, number]): Point[] {
  return [
    { x: fromX, y: fromY },
    { x: toX, y: fromY },
    { x: toX, y: toY },
    { x: fromX, y: toY },
  ].map((corner) => poseToPlan(frame, corner))
}

/** Corners on a circle for a chord tolerance; a whole multiple of four, so that the circle keeps its width both ways. */
export function circle(centre: Point, radiusMm: number): Point[] {
  const quarter = Math.max(2, Math.ceil(Math.PI / 4 / Math.acos(1 - Math.min(0.5, chordToleranceMm / radiusMm))))
  const count = 4 * quarter
  return Array.from({ length: count }, (_, i) => {
    const angle = (2 * Math.PI * i) / count
    return { x: centre.x + radiusMm * Math.cos(angle), y: centre.y + radiusMm * Math.sin(angle) }
  })
}

/** The line at an offset of a path, left +, as chords. */
export function side(path: Path, offsetMm: number, fromMm = 0, toMm = path.lengthMm): Point[] {
  return pathFlatten(path, { fromMm, toMm, offsetMm, toleranceMm: chordToleranceMm })
}

/** The band along a stretch of a path, from so far right of it to so far left. */
export function band(path: Path, leftMm: number, rightMm: number, fromMm = 0, toMm = path.lengthMm): Point[] {
  return [...side(path, -rightMm, fromMm, toMm), ...side(path, leftMm, fromMm, toMm).toReversed()]
}

export const originPose: Pose = { x: 0, y: 0, headingRad: 0 }
