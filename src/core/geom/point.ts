import type { Point } from './types.ts'

/** Sum of two vectors, mm. */
export function pointAdd(a: Point, b: Point): Point {
  return { x: a.x + b.x, y: a.y + b.y }
}

/** Vector from b to a, mm. */
export function pointSubtract(a: Point, b: Point): Point {
  return { x: a.x - b.x, y: a.y - b.y }
}

/** Vector times a number. */
export function pointScale(a: Point, factor: number): Point {
  return { x: a.x * factor, y: a.y * factor }
}

/** Scalar product, mm^2. */
export function pointDot(a: Point, b: Point): number {
  return a.x * b.x + a.y * b.y
}

/** Cross product, mm^2: positive when b points to the left of a. */
export function pointCross(a: Point, b: Point): number {
  return a.x * b.y - a.y * b.x
}

/** Distance, mm; does not overflow for large values. */
export function pointDistance(a: Point, b: Point): number {
  return Math.hypot(a.x - b.x, a.y - b.y)
}

/** Point on the line through a (t = 0) and b (t = 1); exact at both. */
export function pointLerp(a: Point, b: Point, t: number): Point {
  return { x: a.x * (1 - t) + b.x * t, y: a.y * (1 - t) + b.y * t }
}

/** Vector turned about the origin, rad, positive anticlockwise. */
export function pointRotate(p: Point, angleRad: number): Point {
  const cos = Math.cos(angleRad)
  const sin = Math.sin(angleRad)
  return { x: p.x * cos - p.y * sin, y: p.x * sin + p.y * cos }
}

/** Vector of a length (mm) in a direction (rad). */
export function pointPolar(angleRad: number, lengthMm: number): Point {
  return { x: lengthMm * Math.cos(angleRad), y: lengthMm * Math.sin(angleRad) }
}

/** Vector turned a quarter to the left. Exact. */
export function pointLeft(p: Point): Point {
  return { x: -p.y, y: p.x }
}

/** True when the points lie no farther apart than the tolerance, mm. */
export function pointEquals(a: Point, b: Point, toleranceMm: number): boolean {
  return pointDistance(a, b) <= toleranceMm
}
