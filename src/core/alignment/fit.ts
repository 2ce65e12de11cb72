import { rootBrent } from '../geom/index.ts'
import type { ByClass, Corner, EasementRule } from '../plan/types.ts'
import { STRAIGHT_RAD, cornerSolve } from './corner.ts'
import { easementByRule } from './easement.ts'
import { traversePolygon } from './polygon.ts'
import { ROOM_ROUNDING_MM, cornerBefore, sideAfter, traverseCorners, traverseNotFinite } from './traverse.ts'
import type { CompoundRequest, CornerRequest, Traverse, TraverseCorner } from './types.ts'

/** What a corner has to itself: its turn and how much of either side its neighbours leave. */
interface Room {
  readonly corner: TraverseCorner
  readonly deflectionRad: number
  readonly inMm: number
  readonly outMm: number
}

/**
 * The answer is kept on the fitting side of the root by this part of itself, so that rounding cannot push it over.
 * A millionth of a millimetre in a metre.
 */
const INSIDE = 1e-9

/** Neighbours that cannot be solved ask for nothing: what they would need is not known. */
function cornerRoom(traverse: Traverse, index: number): Room | null {
  if (traverseNotFinite(traverse).length > 0) return null
  const corner = traverse.corners[index]
  const polygon = traversePolygon(traverse)
  const before = polygon.sides[index]
  const after = sideAfter(polygon, index)
  const deflectionRad = polygon.deflections[index]
  if (corner === undefined || deflectionRad === undefined || before?.isGood !== true || after?.isGood !== true) return null
  if (!(Math.abs(deflectionRad) >= STRAIGHT_RAD)) return null
  const { corners } = traverseCorners(traverse, polygon)
  const nextIndex = polygon.isClosed ? (index + 1) % polygon.pis.length : index + 1
  return {
    corner,
    deflectionRad,
    inMm: before.lengthMm - (corners[cornerBefore(polygon, index)]?.tangentOutMm ?? 0),
    outMm: after.lengthMm - (corners[nextIndex]?.tangentInMm ?? 0),
  }
}

/** By how much a request overruns its room, mm; null when it cannot be solved at all. */
function overrun(room: Room, request: CornerRequest): number | null {
  const result = cornerSolve(request)
  if (!result.ok) return null
  return Math.max(result.corner.tangentInMm - room.inMm, result.corner.tangentOutMm - room.outMm)
}

/**
 * The largest radius that a corner can have between its neighbours as they are, its easements as long as they are.
 *
 * Units:      mm.
 * Domain:     a corner with a turn; its own radius is not looked at.
 * Exactness:  within a billionth of itself, on the fitting side.
 * Outcome:    null when no radius fits: the easements alone turn too much for the sides, the corner is straight, or it has several.
 * Throws:     never.
 */
export function radiusLargestFitting(traverse: Traverse, corner: number): number | null {
  const room = cornerRoom(traverse, corner)
  if (room === null || (room.corner.radiusMm !== null && typeof room.corner.radiusMm === 'object')) return null
  const { easementInMm, easementOutMm } = room.corner
  const request = (radiusMm: number): CornerRequest => ({ deflectionRad: room.deflectionRad, radiusMm, easementInMm, easementOutMm })
  const turn = Math.abs(room.deflectionRad)
  const roomMm = Math.min(room.inMm, room.outMm)
  if (!(roomMm > 0)) return null
  // Under this radius the easements turn more than the corner; a bare curve starts from a bend that is all corner.
  const leastMm = ((easementInMm + easementOutMm) / (2 * turn)) * (1 + INSIDE)
  const smallest = leastMm > 0 ? leastMm : roomMm * INSIDE
  const atSmallest = overrun(room, request(smallest))
  if (atSmallest === null || atSmallest > 0) return null
  // Tangent distances exceed R tan(D/2) less the easements' small pull, so this radius is too large or nearly so.
  let largest = Math.max(smallest, roomMm / Math.tan(turn / 2)) * 2
  while ((overrun(room, request(largest)) ?? 1) <= 0) largest *= 2
  const root = rootBrent((radiusMm) => overrun(room, request(radiusMm)) ?? Number.NaN, smallest, largest, 0)
  if (!root.ok) return null
  const fitting = Math.max(smallest, root.x * (1 - INSIDE))
  const left = overrun(room, request(fitting))
  return left !== null && left <= ROOM_ROUNDING_MM ? fitting : null
}

/** Whether a corner fits between its neighbours as they are, with its own radius and easements. Throws: never. */
export function radiusFits(traverse: Traverse, corner: number): boolean {
  const room = cornerRoom(traverse, corner)
  if (room === null) return false
  const { radiusMm, easementInMm, easementOutMm } = room.corner
  const overMm = overrun(room, { deflectionRad: room.deflectionRad, radiusMm, easementInMm, easementOutMm })
  return overMm !== null && overMm <= ROOM_ROUNDING_MM
}

export interface EasementPair {
  readonly easementInMm: number
  readonly easementOutMm: number
}

/**
 * The longest easements that a corner can have between its neighbours, in the proportion they have to each other (equal when
 * both are zero), its radius or radii as they are. An easement-only corner grows or shrinks as a whole.
 *
 * Units:      mm.
 * Domain:     a corner with a turn and a radius > 0, or easement-only with some easement.
 * Exactness:  within a billionth of themselves, on the fitting side.
 * Outcome:    null when the bare radius does not fit either.
 * Throws:     never.
 */
export function easementsLargestFitting(traverse: Traverse, corner: number): EasementPair | null {
  const room = cornerRoom(traverse, corner)
  if (room === null) return null
  const { radiusMm, easementInMm, easementOutMm } = room.corner
  if (!(easementInMm >= 0 && easementOutMm >= 0)) return null
  const sumMm = easementInMm + easementOutMm
  const shareIn = sumMm > 0 ? easementInMm / sumMm : 0.5
  const shareOut = 1 - shareIn
  const request = (totalMm: number): CornerRequest => ({
    deflectionRad: room.deflectionRad,
    radiusMm,
    easementInMm: totalMm * shareIn,
    easementOutMm: totalMm * shareOut,
  })
  const pair = (totalMm: number): EasementPair => ({ easementInMm: totalMm * shareIn, easementOutMm: totalMm * shareOut })

  if (radiusMm === null) {
    // Easement-only corners of one turn and proportion are all alike: everything grows in step.
    const unit = cornerSolve(request(1))
    if (!unit.ok) return null
    const totalMm = Math.min(room.inMm / unit.corner.tangentInMm, room.outMm / unit.corner.tangentOutMm) * (1 - INSIDE)
    return totalMm > 0 ? pair(totalMm) : null
  }
  const bare = overrun(room, request(0))
  if (bare === null || bare > ROOM_ROUNDING_MM) return null
  const mostMm = easementsMost(radiusMm, Math.abs(room.deflectionRad), shareIn) * (1 - INSIDE)
  const atMost = overrun(room, request(mostMm))
  if (atMost !== null && atMost <= 0) return pair(mostMm)
  const root = rootBrent((totalMm) => overrun(room, request(totalMm)) ?? Number.NaN, 0, mostMm, 0)
  return root.ok ? pair(root.x * (1 - INSIDE)) : pair(0)
}

/** Both outer easements together when no arc with a share is left between them, mm; 0 where the rest turns too much already. */
function easementsMost(radiusMm: number | CompoundRequest, turnRad: number, shareIn: number): number {
  if (typeof radiusMm === 'number') return 2 * radiusMm * turnRad
  const { first, next } = radiusMm
  let leftRad = turnRad - (first.turn.kind === 'angle' ? first.turn.turnRad : 0)
  let before = first
  for (const arc of next) {
    leftRad -= (arc.easementMm * (1 / before.radiusMm + 1 / arc.radiusMm)) / 2 + (arc.turn.kind === 'angle' ? arc.turn.turnRad : 0)
    before = arc
  }
  return (2 * Math.max(0, leftRad)) / (shareIn / first.radiusMm + (1 - shareIn) / before.radiusMm)
}

/** A radius is doubled so often in search of one that is wide enough; then it is a thousand times any room. */
const MOST_DOUBLINGS = 60

/**
 * The least radius with which the easements of a corner turn no more than the corner does. Easements by class are those of the radius
 * looked for; typed ones stay.
 *
 * Units:      mm, rad.
 * Domain:     turnRad > 0, a radius > 0 to begin at.
 * Exactness:  within a billionth of itself, on the fitting side.
 * Outcome:    null when the easements are none, or no numbers to work with: then any radius would do, or none.
 * Throws:     never.
 * Source:     derived here: easements turn (L1 + L2) / 2 R, which falls as R grows, by class too (L grows as the root of R).
 */
export function radiusLeastFitting(
  { easementIn, easementOut }: Pick<Corner, 'easementIn' | 'easementOut'>,
  rule: EasementRule,
  turnRad: number,
  fromMm: number,
): number | null {
  const lengthMm = (easement: ByClass, radiusMm: number): number | null => {
    if (easement !== 'class') return easement
    const ruled = easementByRule(rule, radiusMm)
    return ruled.ok ? ruled.lengthMm : null
  }
  const isWideEnough = (radiusMm: number): boolean => {
    const [into, out] = [lengthMm(easementIn, radiusMm), lengthMm(easementOut, radiusMm)]
    return into !== null && out !== null && into >= 0 && out >= 0 && into + out <= 2 * radiusMm * turnRad
  }
  if (!(turnRad > 0 && fromMm > 0) || isWideEnough(fromMm * INSIDE)) return null
  let [lowMm, highMm] = [fromMm * INSIDE, fromMm]
  for (let i = 0; !isWideEnough(highMm); i++) {
    if (i === MOST_DOUBLINGS) return null
    lowMm = highMm
    highMm *= 2
  }
  while (highMm - lowMm > highMm * INSIDE) {
    const middleMm = (lowMm + highMm) / 2
    if (isWideEnough(middleMm)) highMm = middleMm
    else lowMm = middleMm
  }
  return highMm
}
