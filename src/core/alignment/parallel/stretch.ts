import { pathPoseAt } from '../../geom/index.ts'
import type { Pose } from '../../geom/types.ts'
import { STRAIGHT_RAD } from '../corner.ts'
import type { CornerPlace } from '../types.ts'
import type { ParallelRequest, SolvedAlignment } from './types.ts'

/** A curve of the line with its stations, which on a loop run on past station zero. */
export interface Turn {
  /** Index of the corner in the alignment. */
  readonly corner: number
  readonly place: CornerPlace
  readonly tsMm: number
  readonly scMm: number
  readonly csMm: number
  readonly stMm: number
}

export interface UsedStretch {
  readonly fromMm: number
  readonly toMm: number
  readonly isWholeLoop: boolean
  /** Curves that lie in the stretch, whole or cut inside their arc. */
  readonly turns: readonly Turn[]
}

/** Stations nearer than this are one. */
const ROUNDING_MM = 1e-6

/** Pose at a station that on a loop may run on past its length. */
export function posePast({ path, isClosed }: SolvedAlignment, stationMm: number): Pose {
  const past = isClosed && stationMm > path.lengthMm
  const { x, y, headingRad } = pathPoseAt(path, past ? stationMm - path.lengthMm : stationMm)
  return { x, y, headingRad }
}

/** The stretch of a request with its ends moved out of easements; null when nothing is left of it. */
export function stretchUsed({ alignment, stretch }: ParallelRequest): UsedStretch | null {
  const { path, isClosed } = alignment
  if (stretch.kind === 'whole') return { fromMm: 0, toMm: path.lengthMm, isWholeLoop: isClosed, turns: turnsOf(alignment, 0) }
  const mostMm = isClosed ? 2 * path.lengthMm : path.lengthMm
  const isThere = stretch.fromMm >= -ROUNDING_MM && stretch.fromMm <= path.lengthMm + ROUNDING_MM && stretch.toMm <= mostMm + ROUNDING_MM
  if (!isThere || stretch.toMm - stretch.fromMm > path.lengthMm + ROUNDING_MM) return null
  const turns = isClosed ? [...turnsOf(alignment, 0), ...turnsOf(alignment, path.lengthMm)] : turnsOf(alignment, 0)
  const fromMm = stationFree(turns, Math.max(0, stretch.fromMm), 'from')
  const toMm = stationFree(turns, Math.min(mostMm, stretch.toMm), 'to')
  if (!(toMm - fromMm > ROUNDING_MM)) return null
  return {
    fromMm,
    toMm,
    isWholeLoop: false,
    turns: turns.filter(({ tsMm, stMm }) => stMm > fromMm + ROUNDING_MM && tsMm < toMm - ROUNDING_MM),
  }
}

function turnsOf({ corners }: SolvedAlignment, pastMm: number): readonly Turn[] {
  return corners.flatMap((place, corner): Turn[] => {
    if (Math.abs(place.solution.deflectionRad) < STRAIGHT_RAD) return []
    const { tsMm, scMm, csMm, stMm } = place
    return [{ corner, place, tsMm: tsMm + pastMm, scMm: scMm + pastMm, csMm: csMm + pastMm, stMm: stMm + pastMm }]
  })
}

/** A station moved out of an easement to its tangent, and out of a curve of several radii to the tangent that keeps the curve whole. */
function stationFree(turns: readonly Turn[], stationMm: number, end: 'from' | 'to'): number {
  const turn = turns.find(({ tsMm, stMm }) => tsMm <= stationMm && stationMm <= stMm)
  if (turn === undefined) return stationMm
  if (turn.place.joins.length > 0) return end === 'from' ? turn.tsMm : turn.stMm
  if (stationMm < turn.scMm) return turn.tsMm
  return stationMm > turn.csMm ? turn.stMm : stationMm
}

/** Whether a turn is cut by the start of the stretch: then that lies in its arc. */
export const isCutBefore = ({ tsMm }: Turn, { fromMm }: UsedStretch): boolean => fromMm > tsMm + ROUNDING_MM
export const isCutBehind = ({ stMm }: Turn, { toMm }: UsedStretch): boolean => toMm < stMm - ROUNDING_MM
