import { EndType, FillRule, JoinType, differenceD, inflatePathsD, intersectD, unionD } from 'clipper2-ts'
import { boxOfPoints, ringArea, ringContains } from '../../geom/index.ts'
import type { Polygon } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'

/** Rings of an area: outer ones anticlockwise, holes clockwise. */
export type Rings = readonly (readonly Point[])[]

/** Digits behind the point that the polygon library keeps, mm. */
const DECIMALS = 4

/** How far the chords of a rounded corner may lie off it, mm: no tape measure tells it. */
const ARC_MM = 0.05

/** Widths are found to this, mm. */
export const GRAIN_MM = 0.1

const ROUND_MITER = 2

type Path = { x: number; y: number }[]

const copied = (rings: Rings): Path[] => rings.map((ring) => ring.map(({ x, y }) => ({ x, y })))

/** Each ring for itself a solid, whichever way round it was drawn. */
export function ringsSolid(rings: Rings): Rings {
  return unionD(
    copied(rings).map((ring) => (ringArea(ring) < 0 ? ring.toReversed() : ring)),
    [],
    FillRule.NonZero,
    DECIMALS,
  )
}

/** Rings that are inside by the even-odd rule. */
export const ringsEvenOdd = (rings: Rings): Rings => unionD(copied(rings), [], FillRule.EvenOdd, DECIMALS)

export const ringsTogether = (a: Rings, b: Rings): Rings => unionD(copied(a), copied(b), FillRule.NonZero, DECIMALS)

export const ringsWithout = (rings: Rings, cut: Rings): Rings => differenceD(copied(rings), copied(cut), FillRule.NonZero, DECIMALS)

export const ringsShared = (a: Rings, b: Rings): Rings => intersectD(copied(a), copied(b), FillRule.NonZero, DECIMALS)

/** All points within a distance of the area; of a negative distance, all points that lie at least so deep in it. */
export function ringsGrown(rings: Rings, byMm: number): Rings {
  if (byMm === 0) return rings
  return inflatePathsD(copied(rings), byMm, JoinType.Round, EndType.Polygon, ROUND_MITER, DECIMALS, ARC_MM)
}

/** The parts of an area, each with the holes that lie in it and in no smaller part. */
export function ringsPieces(rings: Rings): readonly Polygon[] {
  const outlines = rings.filter((ring) => ringArea(ring) > 0).toSorted((a, b) => ringArea(a) - ringArea(b))
  const holesOf = new Map<readonly Point[], (readonly Point[])[]>(outlines.map((outline) => [outline, []]))
  for (const hole of rings) {
    if (ringArea(hole) >= 0) continue
    const owner = outlines.find((outline) => hole.every((point) => ringHolds(outline, point)))
    if (owner !== undefined) holesOf.get(owner)?.push(hole)
  }
  return outlines.map((outline) => ({ outline, holes: holesOf.get(outline) ?? [] }))
}

/** A hole may touch the outline around it; only then is one of its corners on the edge and not counted as inside. */
function ringHolds(outline: readonly Point[], point: Point): boolean {
  return ringContains(outline, point) || outline.some(({ x, y }) => x === point.x && y === point.y)
}

/** The widest disc that an area holds. */
export interface WidestDisc {
  readonly diameterMm: number
  readonly at: Point
}

/**
 * The widest disc within an area; null: it holds none of GRAIN_MM.
 *
 * Exactness: diameter to GRAIN_MM, never too large by more than twice the chords' error.
 */
export function widestDisc(rings: Rings): WidestDisc | null {
  const box = boxOfPoints(rings.flat())
  if (box === null) return null
  let [low, high] = [0, Math.min(box.maxX - box.minX, box.maxY - box.minY) + GRAIN_MM]
  let at: Point | null = null
  while (high - low > GRAIN_MM / 2) {
    const middle = (low + high) / 2
    const [left] = ringsGrown(rings, -middle / 2).flat()
    if (left === undefined) high = middle
    else {
      low = middle
      at = left
    }
  }
  return at === null ? null : { diameterMm: low, at: { x: at.x, y: at.y } }
}
