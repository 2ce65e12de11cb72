import { EndType, JoinType, inflatePathsD } from 'clipper2-ts'
import { pathPoseAt, ringArea, ringContains } from '../../geom/index.ts'
import type { Path, Point } from '../../geom/types.ts'

/** A place where benchwork less its margins falls into pieces between the two ends of a line. */
export interface CorridorParting {
  readonly at: Point
  /** Stations of the line as given: where it leaves the one piece and comes into the other. */
  readonly fromMm: number
  readonly toMm: number
  readonly askedMm: number
  /** Largest margin that leaves both ends in one piece, rounded down to 0.1 mm; null: the benchwork itself is in two. */
  readonly mostMm: number | null
}

/** Step along the line, mm: a piece that is shorter along it is none that a line could go by. */
const STEP_MM = 5

/** Margins are told to this, mm. */
const GRAIN_MM = 0.1

/**
 * Where no line from the one end to the other can keep the margin, because the benchwork is too narrow between them or in two.
 *
 * Units:      mm.
 * Domain:     rings of the united benchwork, holes turning the other way; an open line; a margin > 0.
 * Exactness:  stations to 5 mm; the margin to 0.1 mm. An end within the margin counts to the piece that its line comes into first.
 * Outcome:    the first such place along the line; null: both ends lie in one piece, or the line is in none.
 * Throws:     never.
 */
export function corridorParting(rings: readonly (readonly Point[])[], path: Path, marginMm: number): CorridorParting | null {
  const gap = gapOf(rings, path, marginMm)
  if (gap === null) return null
  const { x, y } = pathPoseAt(path, (gap.fromMm + gap.toMm) / 2)
  return { at: { x, y }, ...gap, askedMm: marginMm, mostMm: marginMost(rings, path, marginMm) }
}

interface Gap {
  readonly fromMm: number
  readonly toMm: number
}

function gapOf(rings: readonly (readonly Point[])[], path: Path, marginMm: number): Gap | null {
  const inset = inflatePathsD(
    rings.map((ring) => ring.map(({ x, y }) => ({ x, y }))),
    -marginMm,
    JoinType.Miter,
    EndType.Polygon,
  )
  const steps = Math.max(1, Math.ceil(path.lengthMm / STEP_MM))
  const inside: { readonly piece: number; readonly stationMm: number }[] = []
  for (let i = 0; i <= steps; i++) {
    const stationMm = (path.lengthMm * i) / steps
    const piece = pieceAt(inset, pathPoseAt(path, stationMm))
    if (piece !== null) inside.push({ piece, stationMm })
  }
  const [first, last] = [inside[0], inside.at(-1)]
  if (first === undefined || last === undefined || first.piece === last.piece) return null
  const beyond = inside.findIndex(({ piece }) => piece !== first.piece)
  return { fromMm: inside[beyond - 1]?.stationMm ?? 0, toMm: inside[beyond]?.stationMm ?? path.lengthMm }
}

/** The piece that a point lies in: the smallest outer ring round it, unless it lies in a hole of that; null: none. */
function pieceAt(inset: readonly (readonly Point[])[], at: Point): number | null {
  let [piece, pieceArea] = [-1, Infinity]
  let [holeArea] = [Infinity]
  for (const [i, ring] of inset.entries()) {
    if (!ringContains(ring, at)) continue
    const area = ringArea(ring)
    if (area > 0 && area < pieceArea) [piece, pieceArea] = [i, area]
    if (area < 0) holeArea = Math.min(holeArea, -area)
  }
  return piece < 0 || holeArea < pieceArea ? null : piece
}

function marginMost(rings: readonly (readonly Point[])[], path: Path, marginMm: number): number | null {
  let [good, bad] = [0, Math.floor(marginMm / GRAIN_MM)]
  while (bad - good > 1) {
    const middle = Math.floor((good + bad) / 2)
    if (gapOf(rings, path, middle * GRAIN_MM) === null) good = middle
    else bad = middle
  }
  return good === 0 ? null : good * GRAIN_MM
}
