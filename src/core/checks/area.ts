import { EndType, FillRule, JoinType, differenceD, inflatePathsD, unionD } from 'clipper2-ts'
import type { Point } from '../geom/types.ts'
import type { Benchwork, Table } from '../plan/types.ts'

/** What all benchwork covers together: rings, inside by the even-odd rule. Edges are kept as plain numbers, for they are asked often. */
export interface BenchArea {
  readonly rings: readonly (readonly Point[])[]
  /** x and y of both ends of each edge, four numbers an edge. */
  readonly edges: Float64Array
}

/** Digits behind the point that the union keeps: a ten-thousandth of a millimetre, under any margin that means something. */
const DECIMALS = 4

/**
 * Pieces closer than twice this are one piece: a tenth of a millimetre. Less, and pieces set edge to edge at an angle would part
 * by rounding; more, and a real saw cut would vanish.
 */
const CLOSING_MM = 0.05

/** A closing leaves corners sharper than about 30 degrees a hundredth of a millimetre short. */
const MITER_LIMIT = 4

/**
 * The union of all pieces of benchwork, holes taken out where no other piece covers them.
 *
 * Domain:     any outlines; a self-crossing one counts by the even-odd rule (and is a finding of its own).
 * Exactness:  1e-4 mm; cracks of up to 0.1 mm between pieces are closed. A single piece is taken as it is.
 * Throws:     never.
 */
export function benchArea(benchworks: Table<Benchwork>): BenchArea {
  const pieces = Object.values(benchworks)
  const only = pieces.length === 1 ? pieces[0] : undefined
  const rings = only === undefined ? piecesUnion(pieces) : [only.outline, ...only.holes]
  return areaOfRings(rings)
}

/** The area of any rings, inside by the even-odd rule. */
export function areaOfRings(rings: readonly (readonly Point[])[]): BenchArea {
  return { rings, edges: ringsEdges(rings) }
}

function piecesUnion(pieces: readonly Benchwork[]): readonly (readonly Point[])[] {
  const copied = (ring: readonly Point[]): { x: number; y: number }[] => ring.map(({ x, y }) => ({ x, y }))
  const covered = pieces.flatMap(({ outline, holes }) => differenceD([copied(outline)], holes.map(copied), FillRule.EvenOdd, DECIMALS))
  const together = unionD(covered, [], FillRule.NonZero, DECIMALS)
  const grown = inflatePathsD(together, CLOSING_MM, JoinType.Miter, EndType.Polygon, MITER_LIMIT, DECIMALS)
  return inflatePathsD(grown, -CLOSING_MM, JoinType.Miter, EndType.Polygon, MITER_LIMIT, DECIMALS)
}

function ringsEdges(rings: readonly (readonly Point[])[]): Float64Array {
  const numbers: number[] = []
  for (const ring of rings) {
    for (const [i, b] of ring.entries()) {
      const a = ring.at(i - 1)
      if (a !== undefined) numbers.push(a.x, a.y, b.x, b.y)
    }
  }
  return Float64Array.from(numbers)
}

/**
 * Distance from a point to the edge of the area, mm: positive inside, negative outside. -Infinity for an area without edges
 * would leave the core, so ask only areas that have some.
 */
export function areaEdgeDistance({ edges }: BenchArea, { x, y }: Point): number {
  let isInside = false
  let least = Infinity
  for (let i = 0; i + 3 < edges.length; i += 4) {
    const ax = edges[i] ?? 0
    const ay = edges[i + 1] ?? 0
    const dx = (edges[i + 2] ?? 0) - ax
    const dy = (edges[i + 3] ?? 0) - ay
    const px = x - ax
    const py = y - ay
    if (ay > y !== ay + dy > y && dx * py - dy * px > 0 === dy > 0) isInside = !isInside
    const square = dx * dx + dy * dy
    const t = square === 0 ? 0 : Math.min(1, Math.max(0, (px * dx + py * dy) / square))
    const qx = px - t * dx
    const qy = py - t * dy
    const distance = qx * qx + qy * qy
    if (distance < least) least = distance
  }
  return isInside ? Math.sqrt(least) : -Math.sqrt(least)
}
