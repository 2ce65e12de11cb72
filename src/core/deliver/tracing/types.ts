import type { Point } from '../../geom/types.ts'

/** What a line of the tracing belongs to. */
export const traceLayers = [
  'wall',
  'obstacle',
  'benchwork',
  'hatch',
  'joist',
  'centreline',
  'rail-gauge',
  'rail-head',
  'rail-foot',
  'tie',
  'gap',
  'throw-hole',
  'cut',
  'name',
] as const
export type TraceLayer = (typeof traceLayers)[number]

/**
 * A line, true arc, or chain of points. Arcs run anticlockwise from one angle to the other, rad; `to` is the greater. A polyline stands for
 * what has no true arc: easements, tapers.
 */
export type TraceShape =
  | { readonly kind: 'line'; readonly from: Point; readonly to: Point }
  | { readonly kind: 'arc'; readonly centre: Point; readonly radiusMm: number; readonly fromRad: number; readonly toRad: number }
  | { readonly kind: 'polyline'; readonly points: readonly Point[]; readonly isClosed: boolean }
  | { readonly kind: 'text'; readonly at: Point; readonly heightMm: number; readonly angleRad: number; readonly text: string }

export interface TraceItem {
  readonly layer: TraceLayer
  readonly shape: TraceShape
}
