import type { Point } from '../geom/types.ts'
import type { NetworkTrack } from '../network/types.ts'
import { endsNearMm } from '../network/index.ts'
import { keptInTurn } from '../plan/index.ts'

/** Places of the other tracks of a list that end near an end of one, rising: all that end within endsNearMm, and some a little farther away. */
export type TrackEnds = (place: number, at: 'start' | 'end') => readonly number[]

/** What counts as near reaches half a square at most, so that no neighbour is farther away than the next one. */
const SQUARE_MM = 2 * endsNearMm
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

const noPlaces: readonly number[] = []

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

/** A function that tells which ends of solved, open tracks have company; nothing is looked up anew as long as each stays in its square. */
export function trackEndsCreate(): (tracks: readonly NetworkTrack[]) => TrackEnds {
  const squaresOf = keptInTurn(endSquares)
  let before: readonly Ends[] = []
  let near: NearEnds = { start: [], end: [] }
  return (tracks) => {
    const all = tracks.map((track) => squaresOf(track))
    if (all.length !== before.length || all.some((ends, i) => !areSame(ends, before[i]))) near = nearEnds(all)
    before = all
    return (place, at) => near[at][place] ?? noPlaces
  }
}

/** What lies at places of a list; most ends have no company. */
export const tracksAt = (tracks: readonly NetworkTrack[], places: readonly number[]): readonly NetworkTrack[] =>
  places.flatMap((place) => tracks[place] ?? [])

const areSame = (a: Ends, b: Ends | undefined): boolean =>
  a === b || (a !== null && b !== null && b !== undefined && a.start.own === b.start.own && a.end.own === b.end.own)

/** For the ends of each track the places of others that end near, in the order of the list. */
type NearEnds = Readonly<Record<'start' | 'end', readonly (readonly number[])[]>>

function nearEnds(all: readonly Ends[]): NearEnds {
  const bySquare = new Map<number, number[]>()
  for (const [place, ends] of all.entries()) {
    if (ends === null) continue
    for (const { own } of [ends.start, ends.end]) {
      const list = bySquare.get(own)
      if (list === undefined) bySquare.set(own, [place])
      else list.push(place)
    }
  }
  const nearTo = (at: 'start' | 'end') =>
    all.map((ends, place): readonly number[] => {
      const found = ends === null ? [] : ends[at].near.flatMap((square) => bySquare.get(square) ?? noPlaces)
      const others = found.filter((one) => one !== place)
      return others.length === 0 ? noPlaces : [...new Set(others)].toSorted((a, b) => a - b)
    })
  return { start: nearTo('start'), end: nearTo('end') }
}
