import { ringArea } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'

/** A corner of a room as it was measured: its inside angle, the diagonal across it (from the far ends of its two sides), or nothing. */
export type MeasuredCorner =
  | { readonly kind: 'angle'; readonly angleRad: number }
  | { readonly kind: 'diagonal'; readonly lengthMm: number }
  | { readonly kind: 'none' }

/** A side of a room as it was measured, and the corner at its end, between it and the next side. */
export interface MeasuredSide {
  readonly lengthMm: number
  readonly corner: MeasuredCorner
}

/** How a round of sides fails to come back to where it began. */
export interface Misclosure {
  /** Sum of the inside angles less (n - 2) half turns; null: an angle is missing, so that nothing is left to check the others by. */
  readonly angleRad: number | null
  /** From the first point to where the last side ends, as measured (after the angles were spread, where they are). */
  readonly dxMm: number
  readonly dyMm: number
  readonly distanceMm: number
  /** Length of the way round. */
  readonly perimeterMm: number
}

export type TraverseProblem =
  | { readonly kind: 'fewSides'; readonly have: number }
  /** side: counted from 0. */
  | { readonly kind: 'badLength'; readonly side: number; readonly lengthMm: number }
  | { readonly kind: 'badAngle'; readonly side: number; readonly angleRad: number }
  /** Two sides and a diagonal that make no triangle: it must be longer than one and shorter than the other. */
  | { readonly kind: 'badDiagonal'; readonly side: number; readonly lengthMm: number; readonly aboveMm: number; readonly belowMm: number }
  /** Two angles that were not measured cannot both be had from the others. */
  | { readonly kind: 'anglesMissing'; readonly sides: readonly number[] }
  /** The last side runs the wrong way or the measures belong to no room: off by more than a tenth of the way round. */
  | { readonly kind: 'tooFarOff'; readonly misclosure: Misclosure }

export type Traverse =
  | { readonly ok: true; readonly points: readonly Point[]; readonly misclosure: Misclosure }
  | { readonly ok: false; readonly problem: TraverseProblem }

/** Beyond this share of the way round an error is a blunder, not to be spread. Common practice, no source. */
const BLUNDER_SHARE = 0.1

/**
 * The corners of a room from its sides in order, walked round with the room on the left, beginning at `from` along the x axis.
 *
 * isSpread: the closing error is spread. Angles first, in equal parts; then lengths by the compass rule: each side takes its share by
 *           its length of what the round is off in x and y. Else the corners lie where the measures put them and the last side is
 *           drawn to the first corner.
 * One angle may be left out; it is then what the others leave. The angle behind the last side is the one at the first corner.
 * Source:   the compass rule for closed traverses, [BOWDITCH] in the references.
 * Throws:   never.
 */
export function roomTraverse(sides: readonly MeasuredSide[], isSpread: boolean, from: Point = { x: 0, y: 0 }): Traverse {
  const problem = sidesProblem(sides)
  if (problem !== null) return { ok: false, problem }
  const measured = sides.map((_, side) => cornerAngle(sides, side))
  const wantedRad = (sides.length - 2) * Math.PI
  const sumRad = measured.reduce<number>((sum, angleRad) => sum + (angleRad ?? 0), 0)
  const missing = measured.indexOf(null)
  const angleOff = missing < 0 ? sumRad - wantedRad : null
  const eachRad = isSpread && angleOff !== null ? angleOff / sides.length : 0
  const angles = measured.map((angleRad) => (angleRad === null ? wantedRad - sumRad : angleRad - eachRad))
  const left = angles[missing]
  if (left !== undefined && !isInside(left)) return { ok: false, problem: { kind: 'badAngle', side: missing, angleRad: left } }

  const steps: Point[] = []
  let headingRad = 0
  for (const [i, { lengthMm }] of sides.entries()) {
    steps.push({ x: lengthMm * Math.cos(headingRad), y: lengthMm * Math.sin(headingRad) })
    headingRad += Math.PI - (angles[i] ?? 0)
  }
  const dxMm = steps.reduce((sum, { x }) => sum + x, 0)
  const dyMm = steps.reduce((sum, { y }) => sum + y, 0)
  const perimeterMm = sides.reduce((sum, { lengthMm }) => sum + lengthMm, 0)
  const misclosure: Misclosure = { angleRad: angleOff, dxMm, dyMm, distanceMm: Math.hypot(dxMm, dyMm), perimeterMm }
  if (misclosure.distanceMm > BLUNDER_SHARE * perimeterMm) return { ok: false, problem: { kind: 'tooFarOff', misclosure } }

  const points: Point[] = []
  let at = from
  for (const [i, { x, y }] of steps.entries()) {
    points.push(at)
    const share = isSpread ? (sides[i]?.lengthMm ?? 0) / perimeterMm : 0
    at = { x: at.x + x - dxMm * share, y: at.y + y - dyMm * share }
  }
  return { ok: true, points, misclosure }
}

const isInside = (angleRad: number): boolean => angleRad > 0 && angleRad < 2 * Math.PI

function sidesProblem(sides: readonly MeasuredSide[]): TraverseProblem | null {
  if (sides.length < 3) return { kind: 'fewSides', have: sides.length }
  const noAngle: number[] = []
  for (const [side, { lengthMm }] of sides.entries()) if (!(lengthMm > 0 && lengthMm <= 1e6)) return { kind: 'badLength', side, lengthMm }
  for (const [side, { lengthMm, corner }] of sides.entries()) {
    if (corner.kind === 'none') noAngle.push(side)
    if (corner.kind === 'angle' && !isInside(corner.angleRad)) return { kind: 'badAngle', side, angleRad: corner.angleRad }
    if (corner.kind !== 'diagonal') continue
    const nextMm = sides[(side + 1) % sides.length]?.lengthMm ?? 0
    const [aboveMm, belowMm] = [Math.abs(lengthMm - nextMm), lengthMm + nextMm]
    if (!(corner.lengthMm > aboveMm && corner.lengthMm < belowMm))
      return { kind: 'badDiagonal', side, lengthMm: corner.lengthMm, aboveMm, belowMm }
  }
  return noAngle.length > 1 ? { kind: 'anglesMissing', sides: noAngle } : null
}

/** The inside angle at the end of a side, that of a diagonal by the law of cosines; null: not measured. Domain: sides without a problem. */
function cornerAngle(sides: readonly MeasuredSide[], side: number): number | null {
  const [one, next] = [sides[side], sides[(side + 1) % sides.length]]
  if (one === undefined || next === undefined || one.corner.kind === 'none') return null
  if (one.corner.kind === 'angle') return one.corner.angleRad
  const [a, b, c] = [one.lengthMm, next.lengthMm, one.corner.lengthMm]
  return Math.acos(Math.max(-1, Math.min(1, (a * a + b * b - c * c) / (2 * a * b))))
}

/** The sides of a closed ring with the room on its left, as if measured; the way round is turned where it runs the other way. */
export function ringSides(ring: readonly Point[]): readonly MeasuredSide[] {
  const points = ringArea(ring) < 0 ? ring.toReversed() : ring
  return points.map((a, i) => {
    const [b, c] = [points[(i + 1) % points.length] ?? a, points[(i + 2) % points.length] ?? a]
    const back = Math.atan2(a.y - b.y, a.x - b.x)
    const on = Math.atan2(c.y - b.y, c.x - b.x)
    const angle = back - on
    return { lengthMm: Math.hypot(b.x - a.x, b.y - a.y), corner: { kind: 'angle', angleRad: angle <= 0 ? angle + 2 * Math.PI : angle } }
  })
}
