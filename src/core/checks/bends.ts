import type { Path } from '../geom/types.ts'
import type { Run } from './run.ts'

/** A stretch that bends one way all along, from where curvature leaves zero to where it returns to zero or changes hand. */
export interface Bend {
  readonly hand: 1 | -1
  readonly fromMm: number
  readonly toMm: number
  /** Easement over which curvature comes from zero, and over which it runs out; 0: at once. */
  readonly easesInMm: number
  readonly easesOutMm: number
}

/** What lies between two bends in a row. On a loop it may run over station zero; then it ends past the run's length. */
export interface BendGap {
  readonly before: Bend
  readonly after: Bend
  readonly fromMm: number
  readonly toMm: number
  /**
   * The straight, with half of the easements that lead out of the one bend and into the other: an easement takes half of its
   * length from the straight that the bare curve would have, so easing a curve changes nothing here.
   */
  readonly countedMm: number
  /** Curvature runs out and comes up by easements on both sides. */
  readonly isGradual: boolean
}

/** A piece of a path whose curvature does not change its sign. */
interface Piece {
  readonly fromMm: number
  readonly toMm: number
  readonly k0: number
  readonly k1: number
}

function piecesOf(path: Path): readonly Piece[] {
  return path.elements.flatMap(({ startStationMm: fromMm, lengthMm, k0, k1 }): Piece[] => {
    const toMm = fromMm + lengthMm
    if (k0 * k1 >= 0) return [{ fromMm, toMm, k0, k1 }]
    const middleMm = fromMm + (lengthMm * k0) / (k0 - k1)
    return [
      { fromMm, toMm: middleMm, k0, k1: 0 },
      { fromMm: middleMm, toMm, k0: 0, k1 },
    ]
  })
}

/** The bends of a path, in order. */
function bendsOf(path: Path): readonly Bend[] {
  const bends: Bend[] = []
  // Curvature at the end of the piece before; 0 as well behind a straight.
  let k = 0
  for (const { fromMm, toMm, k0, k1 } of piecesOf(path)) {
    const last = bends.at(-1)
    const easesOutMm = k1 === 0 ? toMm - fromMm : 0
    if (last !== undefined && k * k0 > 0) bends[bends.length - 1] = { ...last, toMm, easesOutMm }
    else if (k0 !== 0 || k1 !== 0) {
      const hand = k0 + k1 > 0 ? 1 : -1
      bends.push({ hand, fromMm, toMm, easesInMm: k0 === 0 ? toMm - fromMm : 0, easesOutMm })
    }
    k = k1
  }
  return bends
}

/**
 * Every two bends in a row of a run, with what lies between them; of a loop also the last and the first.
 *
 * Exactness:  that of the path. Bends of one hand that meet at a curvature above zero are one, as in a compound curve.
 */
export function bendGaps({ path, isClosed }: Pick<Run, 'path' | 'isClosed'>): readonly BendGap[] {
  const bends = bendsOf(path)
  const gaps = bends.slice(1).flatMap((after, i): BendGap[] => {
    const before = bends[i]
    return before === undefined ? [] : [gapBetween(before, after, 0)]
  })
  const first = bends[0]
  const last = bends.at(-1)
  if (!isClosed || first === undefined || last === undefined) return gaps
  const isOneBend = (path.elements[0]?.k0 ?? 0) * (path.elements.at(-1)?.k1 ?? 0) > 0
  return isOneBend ? gaps : [...gaps, gapBetween(last, first, path.lengthMm)]
}

function gapBetween(before: Bend, after: Bend, roundMm: number): BendGap {
  const toMm = after.fromMm + roundMm
  return {
    before,
    after,
    fromMm: before.toMm,
    toMm,
    countedMm: toMm - before.toMm + before.easesOutMm / 2 + after.easesInMm / 2,
    isGradual: before.easesOutMm > 0 && after.easesInMm > 0,
  }
}
