import { pointDistance } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'

/** A corner sharper than this would throw the mitre of a thick wall across the room; it is cut there. */
const longestMitre = 4

/**
 * The body of a wall for the picture: its face and the line one thickness to the right of it, mitred. An open wall is one
 * ring, a closed one two (the space between them is the wall, by the even-odd rule). Too few points: nothing.
 */
export function wallOutline(points: readonly Point[], thicknessMm: number, isClosed: boolean): readonly (readonly Point[])[] {
  const face = points.filter((point, i) => i === 0 || pointDistance(point, points[i - 1] ?? point) > 1e-6)
  if (face.length < 2) return []
  const back = face.map((point, i) => {
    const before = face[i - 1] ?? (isClosed ? face.at(-1) : undefined)
    const after = face[i + 1] ?? (isClosed ? face[0] : undefined)
    return mitre(before, point, after, thicknessMm)
  })
  return isClosed ? [face, back] : [[...face, ...back.toReversed()]]
}

/** The point one thickness to the right of both sides that meet here. */
function mitre(before: Point | undefined, at: Point, after: Point | undefined, thicknessMm: number): Point {
  const right = (from: Point, to: Point): Point => {
    const length = pointDistance(from, to) || 1
    return { x: (to.y - from.y) / length, y: -(to.x - from.x) / length }
  }
  const a = before === undefined ? null : right(before, at)
  const b = after === undefined ? null : right(at, after)
  const n = a !== null && b !== null ? { x: a.x + b.x, y: a.y + b.y } : (a ?? b ?? { x: 0, y: 0 })
  const square = n.x * n.x + n.y * n.y
  // For unit normals a and b the mitre is (a + b) / (1 + a.b), and 1 + a.b is half the square of the sum.
  const k = a !== null && b !== null ? Math.min(2 / Math.max(square, 1e-9), longestMitre) : 1
  return { x: at.x + n.x * k * thicknessMm, y: at.y + n.y * k * thicknessMm }
}
