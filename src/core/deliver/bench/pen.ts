import type { Point } from '../../geom/types.ts'
import { segmentMap } from '../chain.ts'
import type { DrawItem, LineRole, TextItem } from '../types.ts'

/** Strokes and words of bench sheets. All stand on the layer of the sheet itself: a drawing that is nothing but its lines is not thinned out. */
export function penPath(role: LineRole, points: readonly Point[], shape: { isClosed?: boolean; fill?: number } = {}): readonly DrawItem[] {
  const [start, ...rest] = points
  if (!start) return []
  return [
    {
      kind: 'stroke',
      layer: 'sheet',
      role,
      start,
      segments: rest.map((to) => ({ kind: 'line', to })),
      isClosed: shape.isClosed ?? false,
      fill: shape.fill ?? null,
    },
  ]
}

export function penLine(role: LineRole, from: Point, to: Point): DrawItem {
  return { kind: 'stroke', layer: 'sheet', role, start: from, segments: [{ kind: 'line', to }], isClosed: false, fill: null }
}

/** The control points of a quarter circle lie this part of the radius along its tangents. */
const quarterHandle = 0.5522847498

export function penRing(role: LineRole, middle: Point, radiusMm: number): DrawItem {
  const q = quarterHandle * radiusMm
  const r = radiusMm
  const p = (x: number, y: number): Point => ({ x: middle.x + x, y: middle.y + y })
  return {
    kind: 'stroke',
    layer: 'sheet',
    role,
    start: p(r, 0),
    segments: [
      { kind: 'cubic', c1: p(r, q), c2: p(q, r), to: p(0, r) },
      { kind: 'cubic', c1: p(-q, r), c2: p(-r, q), to: p(-r, 0) },
      { kind: 'cubic', c1: p(-r, -q), c2: p(-q, -r), to: p(0, -r) },
      { kind: 'cubic', c1: p(q, -r), c2: p(r, -q), to: p(r, 0) },
    ],
    isClosed: true,
    fill: null,
  }
}

/** An arc of no more than a quarter circle. Off the circle by less than 3 parts in 10,000 of its radius. */
export function penArc(role: LineRole, middle: Point, radiusMm: number, fromRad: number, toRad: number): DrawItem {
  const handle = (4 / 3) * Math.tan((toRad - fromRad) / 4) * radiusMm
  const on = (rad: number): Point => ({ x: middle.x + radiusMm * Math.cos(rad), y: middle.y + radiusMm * Math.sin(rad) })
  const [start, to] = [on(fromRad), on(toRad)]
  return {
    kind: 'stroke',
    layer: 'sheet',
    role,
    start,
    segments: [
      {
        kind: 'cubic',
        c1: { x: start.x - handle * Math.sin(fromRad), y: start.y + handle * Math.cos(fromRad) },
        c2: { x: to.x + handle * Math.sin(toRad), y: to.y - handle * Math.cos(toRad) },
        to,
      },
    ],
    isClosed: false,
    fill: null,
  }
}

export function penText(
  text: string,
  at: Point,
  sizeMm: number,
  how: Partial<Pick<TextItem, 'anchor' | 'weight' | 'grey' | 'angleRad'>> = {},
): TextItem {
  return { kind: 'text', layer: 'sheet', at, text, sizeMm, angleRad: 0, anchor: 'start', weight: 'regular', grey: 0, ...how }
}

/** What was drawn elsewhere, at its place on the page: lines by `place`, letters as large as they are. */
export function penPlaced(items: readonly DrawItem[], place: (p: Point) => Point): readonly DrawItem[] {
  return items.map((item): DrawItem => {
    if (item.kind === 'text') return { ...item, at: place(item.at) }
    return { ...item, start: place(item.start), segments: item.segments.map((segment) => segmentMap(segment, place)) }
  })
}
