import { pointDistance } from '../../geom/index.ts'
import { STRAIGHT_RAD } from '../corner.ts'
import { cornerDirections, lineFoot, sideBehind } from './design.ts'
import type { Design, DesignCorner, Frame, HeldLine, Shape } from './design.ts'

/** An end this near to a held line lies on it, mm. */
const ON_LINE_MM = 1e-6

/** Corners that turn at least this much, rad, are worth being split in two. */
const SPLIT_RAD = 0.35

/** A design with a corner left out: its two sides become one, on the line that held either. null: both are held, or too few would be left. */
export function cornerDropped(frame: Frame, design: Design, corner: number): Design | null {
  const { corners, lines } = design
  const count = corners.length
  const behind = sideBehind(frame, count, corner)
  const before = lines[corner] ?? null
  const after = lines[behind] ?? null
  if (corners[corner]?.isHeld === true || (before !== null && after !== null) || count <= (frame.isClosed ? 3 : 1)) return null
  const line = before ?? after
  const kept = corners.filter((_, i) => i !== corner)
  // Side `behind` goes with the corner; what is left keeps its number up to it.
  const nextLines = lines.flatMap((one, i) => (i === corner ? [line] : i === behind ? [] : [one]))
  const rolled = behind === 0 ? [line, ...nextLines.slice(1, -1), ...nextLines.slice(-1)].slice(0, kept.length) : nextLines
  const side = behind === 0 ? 0 : corner
  return designOnLines(frame, { corners: kept, lines: rolled }, side, line)
}

/** Two corners that turn more than this together, rad, have a common PI too far away. */
const MERGED_RAD = 2.6

/**
 * A design with a corner and the next one made one, where their outer sides cross: what two curves of one hand do, one may do better.
 * null: they are not of one hand, turn too much together, or something is held.
 */
export function cornersMerged(frame: Frame, design: Design, shape: Shape, corner: number): Design | null {
  const count = design.corners.length
  const next = frame.isClosed ? (corner + 1) % count : corner + 1
  const [one, other] = [design.corners[corner], design.corners[next]]
  const [bent, nextBent] = [shape.corners[corner], shape.corners[next]]
  const before = shape.sides[corner]
  const after = shape.sides[sideBehind(frame, count, next)]
  if (
    one === undefined ||
    other === undefined ||
    bent === undefined ||
    nextBent === undefined ||
    before === undefined ||
    after === undefined
  )
    return null
  const between = design.lines[sideBehind(frame, count, corner)] ?? null
  if (one.isHeld || other.isHeld || between !== null || next < corner || count <= (frame.isClosed ? 3 : 1)) return null
  const turn = bent.turnRad + nextBent.turnRad
  if (bent.turnRad * nextBent.turnRad <= 0 || Math.abs(turn) > MERGED_RAD) return null
  const across = before.ux * after.uy - before.uy * after.ux
  const alongMm = ((other.at.x - one.at.x) * after.uy - (other.at.y - one.at.y) * after.ux) / across
  const at = { x: one.at.x + alongMm * before.ux, y: one.at.y + alongMm * before.uy }
  const merged: DesignCorner = { ...one, at, curvature: Math.max(one.curvature, other.curvature) }
  return {
    corners: design.corners.flatMap((old, i) => (i === corner ? [merged] : i === next ? [] : [old])),
    lines: design.lines.filter((_, i) => i !== next),
  }
}

/** Puts both ends of a side on the line that holds it, where they are PIs. */
function designOnLines(frame: Frame, design: Design, side: number, line: HeldLine | null): Design | null {
  if (line === null) return design
  const count = design.corners.length
  const before = side === 0 && frame.isClosed ? count - 1 : side - 1
  const beside = [side, sideBehind(frame, count, side), before]
  // A PI that another line holds too would have to lie where both cross, and an end of the line cannot move; such a move is left out.
  for (const i of beside) if (i !== side && (design.lines[i] ?? null) !== null) return null
  const ends = frame.isClosed ? [] : [...(side === 0 ? [frame.start] : []), ...(side === count ? [frame.end] : [])]
  if (ends.some((end) => end.kind === 'free' && pointDistance(lineFoot(line, end.at), end.at) > ON_LINE_MM)) return null
  const corners = design.corners.map(
    (corner, i): DesignCorner => (i === side || i === before ? { ...corner, at: lineFoot(line, corner.at) } : corner),
  )
  return { corners, lines: design.lines }
}

/**
 * A design with a corner in two, each with half of its turn and the same curvature: without easements the very same line.
 * null: it turns less than leastRad, or a line holds one of its sides.
 */
export function cornerSplit(frame: Frame, design: Design, shape: Shape, corner: number, leastRad: number = SPLIT_RAD): Design | null {
  const one = design.corners[corner]
  const bent = shape.corners[corner]
  const side = shape.sides[corner]
  const next = shape.sides[sideBehind(frame, design.corners.length, corner)]
  if (one === undefined || bent === undefined || side === undefined || next === undefined || one.isHeld) return null
  const turn = Math.abs(bent.turnRad)
  if (turn < Math.max(leastRad, STRAIGHT_RAD)) return null
  // From the PI back to where half the turn's own PI lies: the tangent of the whole less that of the half.
  const backMm = (Math.tan(turn / 2) - Math.tan(turn / 4)) / bent.curvature
  const first: DesignCorner = { ...one, at: { x: one.at.x - backMm * side.ux, y: one.at.y - backMm * side.uy } }
  const source = { ...one.source, id: null }
  const second: DesignCorner = { ...one, source, at: { x: one.at.x + backMm * next.ux, y: one.at.y + backMm * next.uy } }
  return {
    corners: design.corners.flatMap((other, i) => (i === corner ? [first, second] : [other])),
    lines: design.lines.flatMap((line, i) => (i === corner ? [line, null] : [line])),
  }
}

/** How far a jolted PI goes, in radii of its curve. */
const JOLTS_RADII = [0.15, 0.5]

/**
 * Designs with one corner shoved out and in along its bisector, or to either side along the line that holds it: another side of a post
 * is not reached by small steps.
 */
export function cornerJolts(frame: Frame, design: Design, shape: Shape, corner: number): readonly Design[] {
  const one = design.corners[corner]
  const before = shape.sides[corner]
  const after = shape.sides[sideBehind(frame, design.corners.length, corner)]
  if (one === undefined || before === undefined || after === undefined || one.isHeld) return []
  const directions = cornerDirections(frame, design, corner)
  const [only] = directions
  const out = { x: before.ux - after.ux, y: before.uy - after.uy }
  const length = Math.hypot(out.x, out.y)
  const along = directions.length === 2 ? (length > 0 ? { x: out.x / length, y: out.y / length } : null) : only
  if (along === null || along === undefined) return []
  return JOLTS_RADII.flatMap((radii) =>
    [-1, 1].map((sign): Design => {
      const byMm = (sign * radii) / one.curvature
      const at = { x: one.at.x + byMm * along.x, y: one.at.y + byMm * along.y }
      return { ...design, corners: design.corners.map((other, i) => (i === corner ? { ...one, at } : other)) }
    }),
  )
}
