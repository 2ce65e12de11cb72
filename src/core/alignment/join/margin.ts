import type { JoinCurve } from './curve.ts'

/*
 * How much room a join of one family has, in closed form.
 *
 * Seen from the start, heading 0, mirrored so that the first curve turns left. h(a) is the direction a, n(a) its left normal.
 * A line of straights x1, t + v, x2 >= 0 (t the least tangent between) and curves of turns d1, d2 leads to
 *   x1 h(0) + [k1 h(0) + P1 (n(0) - n(d1)) + k1 h(d1)] + (t + v) h(d1) + [k2 h(d1) + s P2 (n(d1) - n(D)) + k2 h(D)] + x2 h(D)
 * where P = R + p, s = +1 for curves the same way and -1 for a reverse, and D = d1 + s d2 is the whole turn. What is left
 * of the end point once everything but x1, v, x2 is taken off,
 *   G = W - k1 h(0) - k2 h(D) - P1 n(0) + s P2 n(D) + (P1 - s P2) n(d1) - (k1 + k2 + t) h(d1),
 * must lie in the cone of h(0), h(d1), h(D). While the headings stay within half a turn, the cone is that of the two outer ones,
 * low and high, and G lies in it when
 *   low x G >= 0   and   G x high >= 0.
 * For a given radius both are sinusoids of d1. The margin is the largest value of the smaller one: it has its
 * place at an end of the range of d1, at a peak of one or where the two cross, and those few are tried. So for its radius the
 * margin is exact and global. Not below zero: a line exists.
 *
 * Every heading of the line lies between low and high. So each curve takes from both products, and more with a larger radius: the
 * margin falls as a radius grows, in either curve. Therefore one radius for both curves reaches the largest minimum. (Where only
 * a wider curve would have room for its easements on a short turn, two radii could do what one cannot; such lines are not sought.)
 */

/** Where the end lies, in the frame of the start (mirrored for a first curve to the right), and what the line turns. */
export interface Reach {
  readonly x: number
  readonly y: number
  readonly turnRad: number
}

/** marginMm: distance by which the cone is kept, mm; firstTurnRad: turn of the first curve there. */
export interface Margin {
  readonly marginMm: number
  readonly firstTurnRad: number
}

/** No turn lets the curves hold what they must. */
export const NO_ROOM: Margin = { marginMm: -Infinity, firstTurnRad: 0 }

const TURN = 2 * Math.PI

/** c + a cos d + b sin d */
interface Sinusoid {
  readonly c: number
  readonly a: number
  readonly b: number
}

const valueAt = ({ c, a, b }: Sinusoid, d: number): number => c + a * Math.cos(d) + b * Math.sin(d)

/** Largest value of the smaller of two sinusoids between two angles less than a turn apart. */
function largestOfLower(one: Sinusoid, other: Sinusoid, from: number, to: number): Margin {
  let best = NO_ROOM
  const take = (angle: number): void => {
    const d = angle + TURN * Math.ceil((from - angle) / TURN)
    if (d > to) return
    const marginMm = Math.min(valueAt(one, d), valueAt(other, d))
    if (marginMm > best.marginMm) best = { marginMm, firstTurnRad: d }
  }
  take(from)
  take(to)
  take(Math.atan2(one.b, one.a))
  take(Math.atan2(other.b, other.a))
  const a = one.a - other.a
  const b = one.b - other.b
  const cosine = (other.c - one.c) / Math.hypot(a, b)
  if (Math.abs(cosine) <= 1) {
    const axis = Math.atan2(b, a)
    const aside = Math.acos(cosine)
    take(axis - aside)
    take(axis + aside)
  }
  return best
}

/** What is left of the end point when the ends of the curves at d = 0 and D are taken off: G without its terms in d1. */
export function reachLeft(reach: Reach, first: JoinCurve, second: JoinCurve, side: 1 | -1): { readonly x: number; readonly y: number } {
  const cos = Math.cos(reach.turnRad)
  const sin = Math.sin(reach.turnRad)
  const swing = side * second.tangentRadiusMm
  return {
    x: reach.x - first.kMm - second.kMm * cos - swing * sin,
    y: reach.y - second.kMm * sin - first.tangentRadiusMm + swing * cos,
  }
}

/**
 * Margin of one curve to the left by 0 < D <= pi; the first turn is D.
 *
 * Units:      mm, rad. Exactness: exact. Throws: never.
 */
export function marginOneCurve(curve: JoinCurve, reach: Reach): Margin {
  const turn = reach.turnRad
  if (curve.leastTurnRad > turn) return NO_ROOM
  // A second curve that turns nothing adds P2 n(D) - P2 n(D) and its own k; here there is one curve with k at both of its ends.
  const left = reachLeft(reach, curve, curve, 1)
  const marginMm = Math.min(left.y, left.x * Math.sin(turn) - left.y * Math.cos(turn))
  return { marginMm, firstTurnRad: turn }
}

/** Margin of two curves to the left that turn 0 < D <= pi together, with a tangent of at least `betweenMm`. */
export function marginSameWay(first: JoinCurve, second: JoinCurve, betweenMm: number, reach: Reach): Margin {
  const turn = reach.turnRad
  const from = first.leastTurnRad
  const to = turn - second.leastTurnRad
  if (from > to) return NO_ROOM
  const left = reachLeft(reach, first, second, 1)
  const spread = first.tangentRadiusMm - second.tangentRadiusMm
  const between = first.kMm + second.kMm + betweenMm
  const cos = Math.cos(turn)
  const sin = Math.sin(turn)
  const low: Sinusoid = { c: left.y, a: spread, b: -between }
  const high: Sinusoid = { c: left.x * sin - left.y * cos, a: -spread * cos - between * sin, b: -spread * sin + between * cos }
  return largestOfLower(low, high, from, to)
}

/** A reverse may swing this much beyond the headings of its ends; further, it would run back. */
export const REVERSE_SWING_RAD = Math.PI / 2

/** Margin of a curve to the left and one to the right that turn -pi < D < pi together, no heading beyond half a turn from another. */
export function marginReverse(first: JoinCurve, second: JoinCurve, betweenMm: number, reach: Reach): Margin {
  const turn = reach.turnRad
  const lowest = Math.min(0, turn)
  const from = Math.max(first.leastTurnRad, turn + second.leastTurnRad)
  const to = Math.min(lowest + Math.PI, Math.max(0, turn) + REVERSE_SWING_RAD)
  if (from > to) return NO_ROOM
  const left = reachLeft(reach, first, second, -1)
  const spread = first.tangentRadiusMm + second.tangentRadiusMm
  const between = first.kMm + second.kMm + betweenMm
  const cos = Math.cos(lowest)
  const sin = Math.sin(lowest)
  const low: Sinusoid = { c: left.y * cos - left.x * sin, a: spread * cos + between * sin, b: spread * sin - between * cos }
  const high: Sinusoid = { c: -spread, a: -left.y, b: left.x }
  return largestOfLower(low, high, from, to)
}
