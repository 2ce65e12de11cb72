import { pointPolar } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { Railway } from '../plan/types.ts'
import type { DrawItem, PlanToPage } from './types.ts'

/** What tells on a page how it lies in the room. Radians from the page's right. */
export interface Compass {
  /** north: towards it; room: along the plan's x axis, y to its left. */
  readonly kind: 'north' | 'room'
  readonly towardRad: number
}

/** The circle round it, mm. */
const RADIUS_MM = 6
const LETTER_MM = 2.6

/** North where the plan knows it, else the axes of the room. */
export function compassOn({ angleRad }: Pick<PlanToPage, 'angleRad'>, { northRad }: Pick<Railway, 'northRad'>): Compass {
  return northRad === null ? { kind: 'room', towardRad: -angleRad } : { kind: 'north', towardRad: northRad - angleRad }
}

/** North: an arrow with its letter at the head. Room: two arrows from one corner. Page mm. */
export function compassItems({ kind, towardRad }: Compass, middle: Point): readonly DrawItem[] {
  if (kind === 'north') {
    return [...arrow(middle, towardRad, -RADIUS_MM + 1, 2), letter('N', middle, towardRad, RADIUS_MM - 2)]
  }
  const corner = add(middle, pointPolar(towardRad + Math.PI / 4, -RADIUS_MM / 2))
  const up = towardRad + Math.PI / 2
  return [...arrow(corner, towardRad, 0, 5), ...arrow(corner, up, 0, 5), letter('x', corner, towardRad, 6.6), letter('y', corner, up, 6.6)]
}

function add(p: Point, q: Point): Point {
  return { x: p.x + q.x, y: p.y + q.y }
}

/** A shaft between two places along a direction, with a filled head at the second. */
function arrow(from: Point, towardRad: number, startMm: number, endMm: number): readonly DrawItem[] {
  const at = (along: number, across: number): Point =>
    add(add(from, pointPolar(towardRad, along)), pointPolar(towardRad + Math.PI / 2, across))
  const line = (to: Point): { readonly kind: 'line'; readonly to: Point } => ({ kind: 'line', to })
  return [
    {
      kind: 'stroke',
      layer: 'sheet',
      role: 'frame',
      start: at(startMm, 0),
      segments: [line(at(endMm - 1.5, 0))],
      isClosed: false,
      fill: null,
    },
    {
      kind: 'stroke',
      layer: 'sheet',
      role: 'frame',
      start: at(endMm, 0),
      segments: [line(at(endMm - 2, 0.7)), line(at(endMm - 2, -0.7))],
      isClosed: true,
      fill: 0.3,
    },
  ]
}

function letter(text: string, from: Point, towardRad: number, alongMm: number): DrawItem {
  const middle = add(from, pointPolar(towardRad, alongMm))
  return {
    kind: 'text',
    layer: 'sheet',
    at: { x: middle.x, y: middle.y - 0.35 * LETTER_MM },
    text,
    sizeMm: LETTER_MM,
    angleRad: 0,
    anchor: 'middle',
    weight: 'bold',
    grey: 0,
  }
}
