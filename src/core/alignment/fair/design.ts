import { angleWrap, pointDot } from '../../geom/index.ts'
import type { Point, Pose } from '../../geom/types.ts'
import type { EasementRule } from '../../plan/types.ts'
import { STRAIGHT_RAD } from '../corner.ts'
import { easementByRule } from '../easement.ts'
import { spiralSolve } from '../spiral.ts'
import type { Spiral } from '../spiral.ts'
import type { Traverse } from '../types.ts'
import type { FairCorner } from './types.ts'

/** What stays the same while a line is eased. */
export interface Frame {
  readonly start: Traverse['start']
  readonly end: Traverse['end']
  readonly isClosed: boolean
  readonly rule: EasementRule
  /** How far the line must keep from its own other parts, mm; 0: it does not matter. */
  readonly selfKeepMm: number
}

/** A side that must stay on its line, and the stretch of it that must stay straight, if any. */
export interface HeldLine {
  readonly at: Point
  readonly ux: number
  readonly uy: number
  readonly fromMm: number
  readonly toMm: number
}

/** A corner with its two unknowns: where its PI is, and the curvature of its curve. */
export interface DesignCorner {
  readonly source: FairCorner
  readonly at: Point
  /** 1/mm, > 0. */
  readonly curvature: number
  readonly isHeld: boolean
}

/** One line that might be: the corners, and for each side the line that holds it or null. Side i runs to corner i. */
export interface Design {
  readonly corners: readonly DesignCorner[]
  readonly lines: readonly (HeldLine | null)[]
}

export interface ShapeSide {
  readonly from: Point
  readonly to: Point
  readonly ux: number
  readonly uy: number
  /** Along its direction; negative when a held side runs the wrong way. */
  readonly lengthMm: number
}

/** A corner's curve worked out even where it does not fit: then its arc is negative. */
export interface ShapeCorner {
  readonly turnRad: number
  readonly curvature: number
  readonly into: Spiral
  readonly out: Spiral
  readonly tangentInMm: number
  readonly tangentOutMm: number
  readonly arcMm: number
}

export interface Shape {
  readonly sides: readonly ShapeSide[]
  readonly corners: readonly ShapeCorner[]
}

/** Ends of side i, or null for a number that is no side. */
function sideEnds(frame: Frame, corners: readonly DesignCorner[], side: number): readonly [Point, Point] | null {
  const before = side === 0 && frame.isClosed ? corners.length - 1 : side - 1
  const from = corners[before]?.at ?? (frame.start.kind === 'free' ? frame.start.at : frame.start.pose)
  const to = corners[side]?.at ?? (frame.end.kind === 'free' ? frame.end.at : frame.end.kind === 'leg' ? frame.end.pose : null)
  return to === null ? null : [from, to]
}

export const sideCount = (frame: Frame, corners: number): number => (frame.isClosed ? corners : corners + 1)

/** Index of the side behind corner i. */
export const sideBehind = (frame: Frame, corners: number, corner: number): number =>
  frame.isClosed && corner === corners - 1 ? 0 : corner + 1

function sideOf(frame: Frame, design: Design, side: number): ShapeSide | null {
  const ends = sideEnds(frame, design.corners, side)
  if (ends === null) return null
  const [from, to] = ends
  const line = design.lines[side] ?? null
  const dx = to.x - from.x
  const dy = to.y - from.y
  if (line !== null) return { from, to, ux: line.ux, uy: line.uy, lengthMm: dx * line.ux + dy * line.uy }
  const lengthMm = Math.hypot(dx, dy)
  return lengthMm === 0 ? null : { from, to, ux: dx / lengthMm, uy: dy / lengthMm, lengthMm }
}

/** Easements of a corner at a curvature and a turn; null: the class's rule has none for it. */
function easements({ source, curvature }: DesignCorner, turnRad: number, rule: EasementRule): readonly [number, number] | null {
  const given = (easement: number | 'class'): number => (easement === 'class' ? 0 : easement)
  if (source.radiusMm === null) {
    const sumMm = given(source.easementIn) + given(source.easementOut)
    const shareIn = sumMm > 0 ? given(source.easementIn) / sumMm : 0.5
    const totalMm = (2 * Math.abs(turnRad)) / curvature
    return [totalMm * shareIn, totalMm * (1 - shareIn)]
  }
  const isByClass = source.easementIn === 'class' || source.easementOut === 'class'
  const result = isByClass ? easementByRule(rule, 1 / curvature) : null
  if (result?.ok === false) return null
  const length = (easement: number | 'class'): number => (easement === 'class' ? (result?.lengthMm ?? 0) : easement)
  return [length(source.easementIn), length(source.easementOut)]
}

/** A turn beyond this, rad, has tangents that no room holds; tan of its half must not run away. */
const MOST_TURN_RAD = 3.1

/** A corner's curve; known: the same corner before, whose spirals still hold when its curvature and easements did not change. */
function cornerOf(frame: Frame, corner: DesignCorner, before: ShapeSide, after: ShapeSide, known: ShapeCorner | null): ShapeCorner | null {
  const turnRad = angleWrap(Math.atan2(after.uy, after.ux) - Math.atan2(before.uy, before.ux))
  const turn = Math.abs(turnRad)
  const { curvature } = corner
  if (turn > MOST_TURN_RAD) return null
  if (turn < STRAIGHT_RAD) {
    const none = spiralSolve(0, 1 / curvature)
    return { turnRad, curvature, into: none, out: none, tangentInMm: 0, tangentOutMm: 0, arcMm: 0 }
  }
  const radiusMm = 1 / curvature
  let into = known?.into
  let out = known?.out
  if (into === undefined || out === undefined || corner.source.radiusMm === null) {
    const lengths = easements(corner, turnRad, frame.rule)
    if (lengths === null) return null
    into = spiralSolve(lengths[0], radiusMm)
    out = lengths[1] === lengths[0] ? into : spiralSolve(lengths[1], radiusMm)
  }
  const half = Math.tan(turn / 2)
  const unequalMm = into === out ? 0 : (out.shiftMm - into.shiftMm) / Math.sin(turn)
  return {
    turnRad,
    curvature,
    into,
    out,
    tangentInMm: into.kMm + (radiusMm + into.shiftMm) * half + unequalMm,
    tangentOutMm: out.kMm + (radiusMm + out.shiftMm) * half - unequalMm,
    arcMm: (turn - into.angleRad - out.angleRad) * radiusMm,
  }
}

/** The line of a design; null where a side or a corner has no shape at all. */
export function shapeOf(frame: Frame, design: Design): Shape | null {
  const count = design.corners.length
  const sides: ShapeSide[] = []
  for (let i = 0; i < sideCount(frame, count); i++) {
    const side = sideOf(frame, design, i)
    if (side === null) return null
    sides.push(side)
  }
  const corners: ShapeCorner[] = []
  for (const [i, corner] of design.corners.entries()) {
    const before = sides[i]
    const after = sides[sideBehind(frame, count, i)]
    const shape = before === undefined || after === undefined ? null : cornerOf(frame, corner, before, after, null)
    if (shape === null) return null
    corners.push(shape)
  }
  return { sides, corners }
}

/**
 * The shape after one corner has changed: only its two sides and the three corners beside them are worked out anew. Spirals are kept
 * where the curvature is what it was; keepsOwn false: not for the changed corner itself, whose easements are others.
 */
export function shapeChanged(frame: Frame, design: Design, shape: Shape, changed: number, keepsOwn = true): Shape | null {
  const count = design.corners.length
  const sides = [...shape.sides]
  const corners = [...shape.corners]
  for (const i of [changed, sideBehind(frame, count, changed)]) {
    const side = sideOf(frame, design, i)
    if (side === null) return null
    sides[i] = side
  }
  for (const step of [-1, 0, 1]) {
    const i = frame.isClosed ? (changed + step + count) % count : changed + step
    const corner = design.corners[i]
    const before = sides[i]
    const after = sides[sideBehind(frame, count, i)]
    const known = shape.corners[i]
    if (corner === undefined || before === undefined || after === undefined || known === undefined) continue
    const isKnown = corner.curvature === known.curvature && Math.abs(known.turnRad) >= STRAIGHT_RAD && (keepsOwn || step !== 0)
    const next = cornerOf(frame, corner, before, after, isKnown ? known : null)
    if (next === null) return null
    corners[i] = next
  }
  return { sides, corners }
}

/** A place on a shape: a share of a side from point to point, or of one of the three parts of a corner's curve. */
export type ShapePlace =
  | { readonly kind: 'side'; readonly side: number; readonly share: number }
  | { readonly kind: 'corner'; readonly corner: number; readonly part: 0 | 1 | 2; readonly share: number }

/** Pose of a place; for a side its direction is that of the side. */
export function shapePoseAt(shape: Shape, place: ShapePlace): Pose | null {
  if (place.kind === 'side') {
    const side = shape.sides[place.side]
    if (side === undefined) return null
    const { from, ux, uy, lengthMm } = side
    const along = lengthMm * place.share
    return { x: from.x + ux * along, y: from.y + uy * along, headingRad: Math.atan2(uy, ux) }
  }
  const side = shape.sides[place.corner]
  const corner = shape.corners[place.corner]
  if (side === undefined || corner === undefined) return null
  return cornerPoseAt(side, corner, place.part, place.share)
}

/** Pose within a corner's curve, from the corner's own frame: TS at the origin, heading +x, turning left, then mirrored and placed. */
function cornerPoseAt(side: ShapeSide, corner: ShapeCorner, part: 0 | 1 | 2, share: number): Pose {
  const { turnRad, curvature, into, out, tangentInMm, tangentOutMm, arcMm } = corner
  const turn = Math.abs(turnRad)
  let x: number
  let y: number
  let heading: number
  if (part === 1) {
    const radius = 1 / curvature
    heading = into.angleRad + share * arcMm * curvature
    x = into.kMm + radius * Math.sin(heading)
    y = into.shiftMm + radius * (1 - Math.cos(heading))
  } else {
    const lengthMm = part === 0 ? into.lengthMm : out.lengthMm
    const alongMm = (part === 0 ? share : 1 - share) * lengthMm
    // A spiral's beginning is the spiral of the radius that it has reached there.
    const piece = spiralSolve(alongMm, alongMm === 0 ? 1 : lengthMm / (curvature * alongMm))
    if (part === 0) {
      x = piece.xMm
      y = piece.yMm
      heading = piece.angleRad
    } else {
      // Seen backwards from ST, mirrored: u back along the second tangent, v to its inner side.
      const cos = Math.cos(turn)
      const sin = Math.sin(turn)
      const backMm = tangentOutMm - piece.xMm
      x = tangentInMm + backMm * cos - piece.yMm * sin
      y = backMm * sin + piece.yMm * cos
      heading = turn - piece.angleRad
    }
  }
  const hand = turnRad < 0 ? -1 : 1
  const { to, ux, uy } = side
  const alongMm = x - tangentInMm
  const acrossMm = hand * y
  return {
    x: to.x + alongMm * ux - acrossMm * uy,
    y: to.y + alongMm * uy + acrossMm * ux,
    headingRad: Math.atan2(uy, ux) + hand * heading,
  }
}

/** Directions in which a corner's PI may move: two, one along the line that holds it, or none. */
export function cornerDirections(frame: Frame, design: Design, corner: number): readonly Point[] {
  const { lines, corners } = design
  const before = lines[corner] ?? null
  const after = lines[sideBehind(frame, corners.length, corner)] ?? null
  if (before === null && after === null) return [AHEAD, ACROSS]
  if (before !== null && after !== null) return []
  const line = before ?? after
  return line === null ? [] : [{ x: line.ux, y: line.uy }]
}

const AHEAD: Point = { x: 1, y: 0 }
const ACROSS: Point = { x: 0, y: 1 }

/** Foot of a point on a held line. */
export function lineFoot(line: HeldLine, point: Point): Point {
  const along = pointDot({ x: point.x - line.at.x, y: point.y - line.at.y }, { x: line.ux, y: line.uy })
  return { x: line.at.x + along * line.ux, y: line.at.y + along * line.uy }
}
