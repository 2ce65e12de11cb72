import { pointLerp, polylineSides } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import type { Opening, Wall } from '../../plan/types.ts'

/** An opening where it lies in its wall: along the wall's line, and the way square to it. */
export interface OpeningPlace {
  /** Its two ends on the line of the wall. */
  readonly from: Point
  readonly to: Point
  /** Unit vector along the wall, and how thick the wall is to the right of it. */
  readonly along: Point
  readonly thicknessMm: number
}

/** A wall without thickness still parts the floor: it is taken as thick as a board, mm. */
export const THIN_WALL_MM = 1

/**
 * Where an opening lies; an opening that runs past the end of its straight length of wall ends there. null: the wall is
 * gone or shorter than where it should begin.
 */
export function openingPlace({ fromMm, widthMm }: Opening, wall: Wall | null): OpeningPlace | null {
  if (wall === null) return null
  const { points, isClosed, thicknessMm } = wall
  const side = polylineSides(points, isClosed).find(({ startMm, lengthMm }) => fromMm >= startMm && fromMm < startMm + lengthMm)
  if (side === undefined) return null
  const { a, b, startMm, lengthMm } = side
  const at = (stationMm: number): Point => pointLerp(a, b, Math.min(1, (stationMm - startMm) / lengthMm))
  return {
    from: at(fromMm),
    to: at(fromMm + widthMm),
    along: { x: (b.x - a.x) / lengthMm, y: (b.y - a.y) / lengthMm },
    thicknessMm: Math.max(thicknessMm, THIN_WALL_MM),
  }
}

/** How far an opening's rectangle reaches past both faces of the wall, so that it and the floor hang together, mm. */
const PAST_FACE_MM = 0.1

/** The floor in an opening. */
export function openingRing({ from, to, along, thicknessMm }: OpeningPlace): readonly Point[] {
  const at = ({ x, y }: Point, rightMm: number): Point => ({ x: x + along.y * rightMm, y: y - along.x * rightMm })
  const far = thicknessMm + PAST_FACE_MM
  return [at(from, far), at(to, far), at(to, -PAST_FACE_MM), at(from, -PAST_FACE_MM)]
}
