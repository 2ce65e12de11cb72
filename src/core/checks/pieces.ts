import { boxesOverlap, boxGrow, pathPoseAt } from '../geom/index.ts'
import type { Box, Path } from '../geom/types.ts'
import type { Run, Span } from './run.ts'

/** A piece of a run, and a box that holds it. */
export interface Piece extends Span {
  readonly box: Box
}

/** Pieces this long, mm: shorter ones cost more to compare than they save. */
const PIECE_MM = 250

/** A path in pieces. A piece leaves the chord of its ends by no more than an arc of the sharpest curve would. */
export function pathPieces(path: Path, mostCurvature: number): readonly Piece[] {
  const count = Math.max(1, Math.ceil(path.lengthMm / PIECE_MM))
  const longMm = path.lengthMm / count
  // Of a piece that turns by more than half a circle no chord says much: it lies within its length of both ends.
  const besideMm = Math.min(longMm, (longMm * longMm * mostCurvature) / 4) + 1e-6
  let before = pathPoseAt(path, 0)
  return Array.from({ length: count }, (_, i) => {
    const toMm = i === count - 1 ? path.lengthMm : longMm * (i + 1)
    const [a, b] = [before, pathPoseAt(path, toMm)]
    before = b
    const box = { minX: Math.min(a.x, b.x), minY: Math.min(a.y, b.y), maxX: Math.max(a.x, b.x), maxY: Math.max(a.y, b.y) }
    return { fromMm: longMm * i, toMm, box: boxGrow(box, besideMm) }
  })
}

/** Stretches of a run outside of which it is surely farther than this from another; whole pieces, those that touch made one. */
export function stretchesNear(run: Run, other: Run, withinMm: number): readonly Span[] {
  const reachable = boxGrow(other.box, withinMm)
  return piecesJoined(
    run.pieces().filter(({ box }) => {
      if (!boxesOverlap(box, reachable)) return false
      const grown = boxGrow(box, withinMm)
      return other.pieces().some((piece) => boxesOverlap(piece.box, grown))
    }),
  )
}

/** The same to a box. */
export function stretchesNearBox(run: Run, box: Box, withinMm: number): readonly Span[] {
  const grown = boxGrow(box, withinMm)
  return boxesOverlap(run.box, grown) ? piecesJoined(run.pieces().filter((piece) => boxesOverlap(piece.box, grown))) : []
}

function piecesJoined(pieces: readonly Piece[]): readonly Span[] {
  const spans: { fromMm: number; toMm: number }[] = []
  for (const { fromMm, toMm } of pieces) {
    const last = spans.at(-1)
    if (last?.toMm === fromMm) last.toMm = toMm
    else spans.push({ fromMm, toMm })
  }
  return spans
}
