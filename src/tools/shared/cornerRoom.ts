import { cornerSolve, easementByRule } from '../../core/alignment/index.ts'
import type { CornerSolution } from '../../core/alignment/types.ts'
import { pointDistance, pointLerp } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import type { LineClass, TrackEndName } from '../../core/plan/types.ts'

/** A new corner can turn by this with the curve of its class: less has no room to be of use. Common practice, no source. */
const turnRad = Math.PI / 6

/** Where a new corner of a side has room for a curve. */
export interface CornerRoom {
  readonly at: Point
  readonly turnRad: number
  /** The side is too short for it: the free end that has to be taken on straight, and by how much. */
  readonly longer: { readonly end: TrackEndName; readonly byMm: number } | null
  /** Neither end of the side can give room: a curve of the class does not fit. */
  readonly isShort: boolean
}

/**
 * The place of a new corner between two points of the traverse: in the middle, or where the curves beside it leave room. Side i runs to corner i.
 * wished: where the hand wants it on that side; in a short last side it may have to lie farther on.
 */
export function cornerRoom(
  { track, lineClass, alignment }: NetworkTrack,
  index: number,
  from: Point,
  to: Point,
  wished: Point | null,
): CornerRoom {
  const solved = (i: number): CornerSolution | undefined => {
    const id = track.corners[i]?.id
    return alignment.ok ? alignment.corners.find(({ cornerId }) => cornerId === id)?.solution : undefined
  }
  const isClosed = track.end.kind === 'closed'
  const count = track.corners.length
  const beforeMm = solved(isClosed ? (index + count - 1) % count : index - 1)?.tangentOutMm ?? 0
  const afterMm = solved(isClosed ? index % count : index)?.tangentInMm ?? 0
  const sideMm = pointDistance(from, to)
  const { needMm, turnRad: turn } = curveOf(lineClass)
  const at = (alongMm: number): Point => pointLerp(from, to, alongMm / sideMm)
  const room = (place: Point, longer: CornerRoom['longer'] = null, isShort = false): CornerRoom => ({
    at: place,
    turnRad: turn,
    longer,
    isShort,
  })
  const freeMm = sideMm - beforeMm - afterMm
  const middleMm = beforeMm + freeMm / 2
  const wishMm = wished === null ? null : pointDistance(from, wished)
  if (wishMm !== null && freeMm >= 2 * needMm) return room(at(wishMm))
  if (sideMm / 2 >= needMm + Math.max(beforeMm, afterMm)) return room(at(sideMm / 2))
  if (freeMm >= 2 * needMm) return room(at(middleMm))
  if (alignment.ok && !isClosed && index === count && track.end.kind === 'free') {
    const alongMm = Math.max(beforeMm + needMm, wishMm ?? 0)
    return room(at(alongMm), { end: 'end', byMm: alongMm + needMm - sideMm })
  }
  if (alignment.ok && !isClosed && index === 0 && track.start.kind === 'free') {
    const alongMm = wishMm ?? sideMm - afterMm - needMm
    return room(at(alongMm), alongMm < needMm ? { end: 'start', byMm: needMm - alongMm } : null, alongMm > sideMm - afterMm - needMm)
  }
  return room(at(wishMm ?? (freeMm > 0 ? middleMm : sideMm / 2)), null, true)
}

/** What the curve of a class takes of either side, and the turn that this is for: some more than its easements turn alone. */
function curveOf({ usualRadiusMm, easement }: LineClass): { readonly needMm: number; readonly turnRad: number } {
  const rule = easementByRule(easement, usualRadiusMm)
  const easementMm = rule.ok ? rule.lengthMm : 0
  const turn = Math.min(Math.max(turnRad, (1.2 * easementMm) / usualRadiusMm), Math.PI / 2)
  const solved = cornerSolve({ deflectionRad: turn, radiusMm: usualRadiusMm, easementInMm: easementMm, easementOutMm: easementMm })
  return { needMm: solved.ok ? solved.corner.tangentInMm : 0, turnRad: turn }
}
