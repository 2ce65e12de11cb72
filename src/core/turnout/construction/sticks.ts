import type { PathElement } from '../../geom/types.ts'
import type { BendMark, BuiltMeasures, Filing, RailStick, StickPiece } from './types.ts'
import type { RailFacts } from './railFacts.ts'

/** A corner is drawn as an arc with tangents of a rail head; an arc no longer than so many heads is one. */
const bendHeads = 3
/** What turns less is no mark on a rail. */
const leastBendRad = (0.2 * Math.PI) / 180
/** Flatter than this is straight at the bench: ten kilometres, rounding. */
const straightPerMm = 1e-7
/** Shorter pieces are left over by rounding. */
const leastPieceMm = 1e-6

/** The cut list: every rail as a stick with its pieces, bends and filed ends. Lengths are those of the gauge lines, exactly. */
export function railSticks(rails: readonly RailFacts[], measures: BuiltMeasures): readonly RailStick[] {
  return rails.map((facts) => {
    const { index, rail, part, route, side } = facts
    const pieces = piecesJoined(rail.gaugeLine.elements.map((element) => pieceOf(element, measures)))
    return {
      rail: index,
      role: rail.role,
      part,
      route,
      side: side === 1 ? 'left' : 'right',
      lengthMm: rail.gaugeLine.lengthMm,
      pieces,
      bends: pieces.flatMap((piece): readonly BendMark[] =>
        piece.kind === 'bend' ? [{ atMm: piece.fromMm + piece.lengthMm / 2, turnRad: piece.turnRad }] : [],
      ),
      filings: filingsOf(facts),
    }
  })
}

/** Pieces that go on as one at the bench are one: straights in line, arcs of one radius, and what is too short to be seen. */
function piecesJoined(pieces: readonly StickPiece[]): readonly StickPiece[] {
  return pieces.reduce<readonly StickPiece[]>((joined, piece) => {
    const last = joined.at(-1)
    if (last === undefined) return [piece]
    const isSame =
      last.kind === piece.kind &&
      (piece.kind === 'straight' ||
        (piece.kind === 'arc' &&
          Math.sign(last.turnRad) === Math.sign(piece.turnRad) &&
          Math.abs(1 / (last.radiusMm ?? 1) - 1 / (piece.radiusMm ?? 1)) < straightPerMm))
    if (!isSame && piece.lengthMm >= leastPieceMm && last.lengthMm >= leastPieceMm) return [...joined, piece]
    const longer = last.lengthMm >= piece.lengthMm ? last : piece
    return [
      ...joined.slice(0, -1),
      { ...longer, fromMm: last.fromMm, lengthMm: last.lengthMm + piece.lengthMm, turnRad: last.turnRad + piece.turnRad },
    ]
  }, [])
}

function pieceOf({ lengthMm, k0, k1, startStationMm: fromMm }: PathElement, { railHeadMm }: BuiltMeasures): StickPiece {
  const turnRad = ((k0 + k1) / 2) * lengthMm
  if (Math.abs(k0) < straightPerMm && Math.abs(k1) < straightPerMm)
    return { kind: 'straight', fromMm, lengthMm, radiusMm: null, turnRad: 0 }
  if (Math.abs(k1 - k0) > straightPerMm) return { kind: 'easement', fromMm, lengthMm, radiusMm: null, turnRad }
  const isBend = lengthMm <= bendHeads * railHeadMm && Math.abs(turnRad) >= leastBendRad
  return { kind: isBend ? 'bend' : 'arc', fromMm, lengthMm, radiusMm: 1 / Math.abs((k0 + k1) / 2), turnRad }
}

/**
 * Planing of a point, filing of a frog's rail: the angle between the filed face and the rail's own, from its taper. For a
 * point rail of straight points that is the switch angle; for a rail of a vee half the frog angle; for a point of an elbow
 * the whole of it, as it is filed on one side.
 */
function filingsOf({ rail, part }: RailFacts): readonly Filing[] {
  const [first, last] = [rail.headTaper?.[0], rail.headTaper?.at(-1)]
  if (first === undefined || last === undefined || last.alongMm <= first.alongMm) return []
  const lengthMm = last.alongMm - first.alongMm
  // A vee has an edge, its actual point; an elbow's is filed to nothing.
  const isElbow = part === 'frog' && first.headMm === 0
  return [
    {
      kind: part === 'point' ? 'point' : isElbow ? 'elbow' : 'frog',
      end: 'start',
      lengthMm,
      tipMm: first.headMm,
      angleRad: Math.atan2(last.headMm - first.headMm, lengthMm),
    },
  ]
}
