import type { Point } from '../geom/types.ts'
import type { NetworkTrack } from '../network/types.ts'
import { endsNearMm } from '../network/index.ts'
import { placesOtherwise } from '../plan/index.ts'

/** Which ends of the solved, open tracks of a list have company. */
export interface TrackEnds {
  readonly tracks: readonly NetworkTrack[]
  /** Places of tracks that have company at an end, rising. */
  readonly places: readonly number[]
  /** Places of other tracks that end near an end of one, rising: all that end within endsNearMm, and some a little farther away. Of the newest list. */
  readonly near: (place: number, at: 'start' | 'end') => readonly number[]
}

/** What counts as near is no farther away than the next square. */
const SQUARE_MM = endsNearMm
/** More squares than any room is long. */
const COLUMN = 2 ** 26

const squareOf = ({ x, y }: Point): number => Math.floor(x / SQUARE_MM) * COLUMN + Math.floor(y / SQUARE_MM)

/** From a square to itself and to those around it. */
const around: readonly number[] = [-COLUMN, 0, COLUMN].flatMap((column) => [column - 1, column, column + 1])

/** Squares of both ends of a track; null: it has none, or is not solved. */
type Ends = Readonly<Record<'start' | 'end', number>> | null

/** Places of those near both ends of a track. */
type Company = Readonly<Record<'start' | 'end', readonly number[]>>

const noPlaces: readonly number[] = []

function endSquares(track: NetworkTrack | undefined): Ends {
  if (track?.alignment.ok !== true || track.alignment.isClosed) return null
  const { elements, end } = track.alignment.path
  return { start: squareOf(elements[0]?.start ?? end), end: squareOf(end) }
}

const areSame = (a: Ends, b: Ends): boolean => a === b || (a !== null && b !== null && a.start === b.start && a.end === b.end)

/** What is known of the ends of a list of tracks. */
interface Known {
  readonly tracks: readonly NetworkTrack[]
  /** In the place of each track. */
  readonly ends: Ends[]
  /** Places of tracks by the squares of their ends; one with both ends in a square stands there twice. */
  readonly inSquare: Map<number, number[]>
  /** Of those that have company at an end. */
  readonly company: Map<number, Company>
  readonly places: readonly number[]
}

/**
 * A function that tells which ends have company. After an edit only those tracks are looked up that have an end in another square than before, and
 * those around them, before and now.
 */
export function trackEndsCreate(): (tracks: readonly NetworkTrack[]) => TrackEnds {
  let last: Known | null = null
  return (tracks) => {
    const changed = last === null ? null : placesOtherwise(last.tracks, tracks)
    const known = last === null || changed === null ? knownOf(tracks) : knownAfter(last, tracks, changed)
    last = known
    return { tracks, places: known.places, near: (place, at) => known.company.get(place)?.[at] ?? noPlaces }
  }
}

/** What lies at places of a list; most ends have no company. */
export const tracksAt = (tracks: readonly NetworkTrack[], places: readonly number[]): readonly NetworkTrack[] =>
  places.flatMap((place) => tracks[place] ?? [])

function knownOf(tracks: readonly NetworkTrack[]): Known {
  const ends = tracks.map((track) => endSquares(track))
  const known = { tracks, ends, inSquare: new Map(), company: new Map(), places: noPlaces }
  for (const place of ends.keys()) endsPut(known, place)
  return { ...known, places: companyAnew(known, ends.keys()) }
}

/** changed: places of the tracks that are others. */
function knownAfter(known: Known, tracks: readonly NetworkTrack[], changed: readonly number[]): Known {
  const { ends } = known
  const near = new Set<number>()
  const noteNear = (place: number, of: Ends): void => {
    near.add(place)
    if (of !== null) for (const square of [of.start, of.end]) for (const other of placesAround(known, square, place)) near.add(other)
  }
  for (const place of changed) {
    const [was, now] = [ends[place] ?? null, endSquares(tracks[place])]
    if (areSame(was, now)) continue
    noteNear(place, was)
    endsTake(known, place)
    ends[place] = now
    endsPut(known, place)
    noteNear(place, now)
  }
  return { ...known, tracks, places: companyAnew(known, near) }
}

function endsPut({ ends, inSquare }: Known, place: number): void {
  const own = ends[place] ?? null
  if (own === null) return
  for (const square of [own.start, own.end]) {
    const there = inSquare.get(square)
    if (there === undefined) inSquare.set(square, [place])
    else there.push(place)
  }
}

function endsTake({ ends, inSquare }: Known, place: number): void {
  const own = ends[place] ?? null
  if (own === null) return
  for (const square of [own.start, own.end]) {
    const left = (inSquare.get(square) ?? noPlaces).filter((one) => one !== place)
    if (left.length === 0) inSquare.delete(square)
    else inSquare.set(square, left)
  }
}

/** Places of tracks that end in a square or around it, but for one; rising. */
function placesAround({ inSquare }: Known, square: number, but: number): readonly number[] {
  let found: Set<number> | null = null
  for (const step of around)
    for (const place of inSquare.get(square + step) ?? noPlaces) if (place !== but) (found ??= new Set()).add(place)
  return found === null ? noPlaces : [...found].sort((a, b) => a - b)
}

/** Looks up those that end near some tracks; all places with company then, the same list where none came or went. */
function companyAnew(known: Known, places: Iterable<number>): readonly number[] {
  const { ends, company } = known
  let areOthers = false
  for (const place of places) {
    const own = ends[place] ?? null
    const start = own === null ? noPlaces : placesAround(known, own.start, place)
    const end = own === null ? noPlaces : placesAround(known, own.end, place)
    const hasCompany = start.length > 0 || end.length > 0
    if (hasCompany !== company.has(place)) areOthers = true
    if (hasCompany) company.set(place, { start, end })
    else company.delete(place)
  }
  return areOthers ? [...company.keys()].sort((a, b) => a - b) : known.places
}
