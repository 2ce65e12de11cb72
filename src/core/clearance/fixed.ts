import { pointDistance, pointLerp, polylineSides, ringContains, ringNearest, segmentIntersection } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { Plan, Wall } from '../plan/types.ts'
import type { BandEdges } from '../vehicles/index.ts'
import { bandPlace, strideOn } from './swept.ts'
import type { FixedGap, FixedShape, SweptTrack } from './types.ts'

/** Walls, whole, and obstacles of a plan as shapes, each for itself; also what hangs over the floor. */
export function fixedShapes(plan: Plan): readonly FixedShape[] {
  return [
    ...Object.values(plan.walls).map((wall) => ({ kind: 'walls', record: wall.id, rings: wallRings(wall), isRoom: false }) as const),
    ...Object.values(plan.obstacles).map(
      ({ id, outline }) => ({ kind: 'obstacles', record: id, rings: [outline], isRoom: false }) as const,
    ),
  ]
}

/** Each length of a wall as a ring of its own, its thickness to the right; at corners they touch or overlap, which does no harm. */
export function wallRings({
  points,
  thicknessMm,
  isClosed,
}: Pick<Wall, 'points' | 'thicknessMm' | 'isClosed'>): readonly (readonly Point[])[] {
  return polylineSides(points, isClosed).map(({ a, b, lengthMm }) => {
    const [dx, dy] = [((b.y - a.y) / lengthMm) * thicknessMm, (-(b.x - a.x) / lengthMm) * thicknessMm]
    return [a, b, { x: b.x + dx, y: b.y + dy }, { x: a.x + dx, y: a.y + dy }]
  })
}

/**
 * How near a swept band comes to something that stands still; for benchwork, to its edge from within.
 *
 * Exactness: the band's edges as chords of their step. Where the band is cut into: how far, square to the line.
 * Outcome:   null for a shape without edges or a band without reach.
 */
export function fixedGap(swept: SweptTrack, shape: FixedShape): FixedGap | null {
  let best: FixedGap | null = null
  const take = (gapMm: number, runMm: number, { x, y }: Point): void => {
    if (best === null || gapMm < best.gapMm)
      best = { kind: shape.kind, record: shape.record, gapMm, stationMm: runMm - swept.line.startMm, x, y }
  }
  edgesAgainstShape(swept, shape, take)
  for (const corner of shape.rings.flat()) {
    const { gapMm, nearest } = bandPlace(swept, corner)
    take(gapMm, nearest.stationMm, corner)
  }
  return swept.band.reaches.some(({ leftMm, rightMm }) => leftMm + rightMm > 0) ? best : null
}

type Take = (gapMm: number, runMm: number, at: Point) => void

function edgesAgainstShape({ band, edges }: SweptTrack, { rings, isRoom }: FixedShape, take: Take): void {
  const { reaches } = band
  let least = Infinity
  for (let index = 0; index < reaches.length; ) {
    const [left, right, reach] = [edges.left[index], edges.right[index], reaches[index]]
    if (!left || !right || !reach) return
    const gaps = [left, right].map((point) => ({ point, gapMm: signedDistance(rings, isRoom, point) }))
    const cuts = [ribCut(rings, left, right), middleCut(rings, edges, index)]
    gaps.push(...cuts.filter((cut) => cut !== null))
    let here = Infinity
    for (const { point, gapMm } of gaps) {
      here = Math.min(here, gapMm)
      if (reach.leftMm + reach.rightMm > 0) take(gapMm, reach.stationMm, point)
    }
    least = Math.min(least, here)
    index = strideOn(reaches, index, here - Math.max(0, least))
  }
}

/** Distance to the nearest edge, negative on the wrong side of it. Rings of a solid may overlap: in any of them is within. */
export function signedDistance(rings: readonly (readonly Point[])[], isRoom: boolean, point: Point): number {
  let least = Infinity
  let deepest = 0
  let within = 0
  for (const ring of rings) {
    const distanceMm = ringNearest(ring, point)?.distanceMm ?? Infinity
    least = Math.min(least, distanceMm)
    if (!ringContains(ring, point)) continue
    within += 1
    deepest = Math.max(deepest, distanceMm)
  }
  if (isRoom) return within % 2 === 1 ? least : -least
  return within > 0 ? -deepest : least
}

interface Cut {
  readonly point: Point
  readonly gapMm: number
}

/** How far an edge that cuts across a band at a station stands in it: to the nearer side. */
function ribCut(rings: FixedShape['rings'], left: Point, right: Point): Cut | null {
  const widthMm = pointDistance(left, right)
  let deepest: Cut | null = null
  for (const { at, t } of meetings(rings, left, right)) {
    const gapMm = -Math.min(t, 1 - t) * widthMm
    if (deepest === null || gapMm < deepest.gapMm) deepest = { point: at, gapMm }
  }
  return deepest
}

/** What runs right across a band between this station and the next cuts its middle: half of the width has to give way. */
function middleCut(rings: FixedShape['rings'], { left, right }: BandEdges, index: number): Cut | null {
  const [a, b, c, d] = [left[index], right[index], left[index + 1], right[index + 1]]
  if (!a || !b || !c || !d) return null
  const [first] = meetings(rings, pointLerp(a, b, 0.5), pointLerp(c, d, 0.5))
  return first === undefined
    ? null
    : { point: first.at, gapMm: -(pointDistance(a, b) + (pointDistance(c, d) - pointDistance(a, b)) * first.t) / 2 }
}

/** Where a segment meets the edges of rings, and how far along it (0 to 1). */
function meetings(rings: FixedShape['rings'], from: Point, to: Point): readonly { readonly at: Point; readonly t: number }[] {
  return rings.flatMap((ring) =>
    ring.flatMap((a, i) => {
      const b = ring[(i + 1) % ring.length]
      const meeting = b && segmentIntersection(from, to, a, b)
      return meeting ? [meeting] : []
    }),
  )
}
