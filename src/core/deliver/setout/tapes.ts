import { pointCross, pointDistance, pointSubtract } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import { sightBlocked } from './room.ts'
import type { FixedPoint } from './types.ts'

/*
 * Two tapes from two pins meet in a point. Where they cross at an angle c, an error of one tape moves the point by 1/sin c of
 * it: least at 90 degrees, twice as much at 30 and 150, which is where surveying practice stops (common practice, no source).
 */
export const CROSSING_LEAST_RAD = Math.PI / 6
export const CROSSING_MOST_RAD = (5 * Math.PI) / 6

/** Nearer to its pin than this a tape cannot be hooked and read, mm. */
const LEAST_TAPE_MM = 25

export interface TiePair {
  readonly a: FixedPoint
  readonly b: FixedPoint
  readonly side: 'left' | 'right'
}

/** True when a tape can be drawn from a pin to a point. */
export function tapeSight(blocks: Parameters<typeof sightBlocked>[0], pin: Point, at: Point): boolean {
  return pointDistance(pin, at) >= LEAST_TAPE_MM && sightBlocked(blocks, pin, at) === null
}

/** On which side of the line from a to b a point lies. */
export function tieSide(a: Point, b: Point, p: Point): 'left' | 'right' {
  return pointCross(pointSubtract(b, a), pointSubtract(p, a)) >= 0 ? 'left' : 'right'
}

/** Of the pairs that cross well over a point, the one with the shortest tapes. */
export function tiePair(pins: readonly FixedPoint[], at: Point, isSeen: (pin: FixedPoint) => boolean): TiePair | null {
  const seen = pins.filter(isSeen).map((pin) => ({
    pin,
    tapeMm: pointDistance(pin, at),
    rad: Math.atan2(pin.y - at.y, pin.x - at.x),
  }))
  let best: { readonly pair: TiePair; readonly sumMm: number } | null = null
  for (const [i, a] of seen.entries()) {
    for (const b of seen.slice(i + 1)) {
      const crossing = crossingRad(a.rad, b.rad)
      const sumMm = a.tapeMm + b.tapeMm
      if (crossing < CROSSING_LEAST_RAD || crossing > CROSSING_MOST_RAD || (best !== null && sumMm >= best.sumMm)) continue
      best = { pair: { a: a.pin, b: b.pin, side: tieSide(a.pin, b.pin, at) }, sumMm }
    }
  }
  return best?.pair ?? null
}

/** Angle between two directions, 0 to pi. */
export function crossingRad(aRad: number, bRad: number): number {
  const turn = Math.abs(aRad - bRad) % (2 * Math.PI)
  return turn > Math.PI ? 2 * Math.PI - turn : turn
}

/** Where two tapes meet on one side of their pins; null when they are too short or too unequal to meet. */
export function tapesMeet(a: Point, tapeA: number, b: Point, tapeB: number, side: 'left' | 'right'): Point | null {
  const apart = pointDistance(a, b)
  if (apart === 0) return null
  const along = (apart * apart + tapeA * tapeA - tapeB * tapeB) / (2 * apart)
  const square = tapeA * tapeA - along * along
  if (square < 0) return null
  const across = side === 'left' ? Math.sqrt(square) : -Math.sqrt(square)
  const [ux, uy] = [(b.x - a.x) / apart, (b.y - a.y) / apart]
  return { x: a.x + along * ux - across * uy, y: a.y + along * uy + across * ux }
}
