import type { Box, Point } from '../geom/types.ts'
import type { Segment } from './types.ts'

/** An open run of segments. */
export interface Chain {
  readonly start: Point
  readonly segments: readonly Segment[]
}

export function chainOfPoints(points: readonly Point[]): Chain | null {
  const [start, ...rest] = points
  if (!start) return null
  return { start, segments: rest.map((to) => ({ kind: 'line', to })) }
}

/** The ring as a chain that returns to its first point. */
export function chainOfRing(points: readonly Point[]): Chain | null {
  const first = points[0]
  return first ? chainOfPoints([...points, first]) : null
}

/** A circle in four curves, within 3e-4 of its radius. */
export function chainOfCircle({ x, y }: Point, radiusMm: number): Chain {
  const [r, q] = [radiusMm, 0.5522847498 * radiusMm]
  const p = (dx: number, dy: number): Point => ({ x: x + dx, y: y + dy })
  return {
    start: p(r, 0),
    segments: [
      { kind: 'cubic', c1: p(r, q), c2: p(q, r), to: p(0, r) },
      { kind: 'cubic', c1: p(-q, r), c2: p(-r, q), to: p(-r, 0) },
      { kind: 'cubic', c1: p(-r, -q), c2: p(-q, -r), to: p(0, -r) },
      { kind: 'cubic', c1: p(q, -r), c2: p(r, -q), to: p(r, 0) },
    ],
  }
}

export function segmentMap(segment: Segment, place: (p: Point) => Point): Segment {
  return segment.kind === 'line'
    ? { kind: 'line', to: place(segment.to) }
    : { kind: 'cubic', c1: place(segment.c1), c2: place(segment.c2), to: place(segment.to) }
}

export function chainMap(chain: Chain, place: (p: Point) => Point): Chain {
  return { start: place(chain.start), segments: chain.segments.map((segment) => segmentMap(segment, place)) }
}

/** Last point of the chain. */
export function chainEnd(chain: Chain): Point {
  return chain.segments.at(-1)?.to ?? chain.start
}

export function chainReverse(chain: Chain): Chain {
  const points = [chain.start, ...chain.segments.map((segment) => segment.to)]
  const segments: Segment[] = []
  for (let i = chain.segments.length - 1; i >= 0; i--) {
    const segment = chain.segments[i]
    const to = points[i]
    if (!segment || !to) continue
    segments.push(segment.kind === 'line' ? { kind: 'line', to } : { kind: 'cubic', c1: segment.c2, c2: segment.c1, to })
  }
  return { start: chainEnd(chain), segments }
}

/** Ring round a band: along its first edge, over to the second and back along it. */
export function chainRing(forth: Chain, back: Chain): Chain {
  const reversed = chainReverse(back)
  return {
    start: forth.start,
    segments: [...forth.segments, { kind: 'line', to: reversed.start }, ...reversed.segments, { kind: 'line', to: forth.start }],
  }
}

/** True when the segment may touch the box: control points bound the curve. */
export function segmentNear(from: Point, segment: Segment, box: Box): boolean {
  const points = segment.kind === 'line' ? [from, segment.to] : [from, segment.c1, segment.c2, segment.to]
  return (
    points.some((p) => p.x >= box.minX) &&
    points.some((p) => p.x <= box.maxX) &&
    points.some((p) => p.y >= box.minY) &&
    points.some((p) => p.y <= box.maxY)
  )
}

/** Index ranges [first, after last) of the segments near the box, each as long as possible. */
export function chainRunsNear(chains: readonly Chain[], box: Box): readonly (readonly [number, number])[] {
  const count = Math.min(...chains.map((chain) => chain.segments.length))
  const runs: [number, number][] = []
  for (let i = 0; i < count; i++) {
    const isNear = chains.some((chain) => {
      const segment = chain.segments[i]
      return segment !== undefined && segmentNear(chainPoint(chain, i), segment, box)
    })
    if (!isNear) continue
    const last = runs.at(-1)
    if (last && last[1] === i) last[1] = i + 1
    else runs.push([i, i + 1])
  }
  return runs
}

/** Segments [from, to) as a chain of their own. */
export function chainPart(chain: Chain, from: number, to: number): Chain {
  return { start: chainPoint(chain, from), segments: chain.segments.slice(from, to) }
}

/** Point before segment i. */
function chainPoint(chain: Chain, i: number): Point {
  return i === 0 ? chain.start : (chain.segments[i - 1]?.to ?? chain.start)
}

/** Points along the chain, `perSegment` to each curve; straight segments give their ends. */
export function chainPoints(chain: Chain, perSegment: number): readonly Point[] {
  const points: Point[] = [chain.start]
  let from = chain.start
  for (const segment of chain.segments) {
    if (segment.kind === 'cubic') {
      for (let i = 1; i < perSegment; i++) points.push(cubicPoint(from, segment, i / perSegment))
    }
    points.push(segment.to)
    from = segment.to
  }
  return points
}

/** Point of a cubic at parameter t in [0, 1]. */
export function cubicPoint(from: Point, segment: Extract<Segment, { kind: 'cubic' }>, t: number): Point {
  const u = 1 - t
  const [a, b, c, d] = [u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t]
  return {
    x: a * from.x + b * segment.c1.x + c * segment.c2.x + d * segment.to.x,
    y: a * from.y + b * segment.c1.y + c * segment.c2.y + d * segment.to.y,
  }
}
