import type { Point } from '../geom/types.ts'
import type { NetworkTrack } from '../network/types.ts'
import { keptInTurn } from '../plan/index.ts'

/** The tracks that end near an end of a track, itself among them. */
export type TrackEnds = (track: NetworkTrack, at: 'start' | 'end') => readonly NetworkTrack[]

/** Wider than what counts as touching, so that no neighbour is farther away than the next square. */
const SQUARE_MM = 4
/** More squares than any room is long. */
const COLUMN = 2 ** 26

const squareOf = (x: number, y: number): number => Math.floor(x / SQUARE_MM) * COLUMN + Math.floor(y / SQUARE_MM)

interface EndSquares {
  readonly own: number
  /** Those within half a square. */
  readonly near: readonly number[]
}

/** Squares of both ends of a track; null: it has none, or is not solved. */
type Ends = Readonly<Record<'start' | 'end', EndSquares>> | null

const noEnds: readonly NetworkTrack[] = []

function squaresAt({ x, y }: Point): EndSquares {
  const half = SQUARE_MM / 2
  const corners = [squareOf(x - half, y - half), squareOf(x + half, y - half), squareOf(x - half, y + half), squareOf(x + half, y + half)]
  return { own: squareOf(x, y), near: [...new Set(corners)] }
}

function endSquares({ alignment }: NetworkTrack): Ends {
  if (!alignment.ok || alignment.isClosed) return null
  const { elements, end } = alignment.path
  return { start: squaresAt(elements[0]?.start ?? end), end: squaresAt(end) }
}

/** A function that sorts the ends of solved, open tracks into squares; nothing is sorted anew as long as each stays in its own. */
export function trackEndsCreate(): (tracks: readonly NetworkTrack[]) => TrackEnds {
  const squaresOf = keptInTurn(endSquares)
  let before: readonly Ends[] = []
  let bySquare = new Map<number, number[]>()
  return (tracks) => {
    const all = tracks.map((track) => squaresOf(track))
    if (all.length !== before.length || all.some((ends, i) => !areSame(ends, before[i]))) bySquare = sorted(all)
    before = all
    return (track, at) => {
      const squares = squaresOf(track)
      if (squares === null) return noEnds
      let found = noEnds
      for (const square of squares[at].near) {
        const there = bySquare.get(square)
        if (there !== undefined) found = [...found, ...there.flatMap((i) => tracks[i] ?? [])]
      }
      return found
    }
  }
}

const areSame = (a: Ends, b: Ends | undefined): boolean =>
  a === b || (a !== null && b !== null && b !== undefined && a.start.own === b.start.own && a.end.own === b.end.own)

/** Indices of the tracks that end in each square. */
function sorted(all: readonly Ends[]): Map<number, number[]> {
  const bySquare = new Map<number, number[]>()
  for (const [i, ends] of all.entries()) {
    if (ends === null) continue
    for (const { own } of [ends.start, ends.end]) {
      const list = bySquare.get(own)
      if (list === undefined) bySquare.set(own, [i])
      else list.push(i)
    }
  }
  return bySquare
}
