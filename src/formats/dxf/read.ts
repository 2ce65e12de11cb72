import Parser from 'dxf-parser'
import type { IEntity } from 'dxf-parser'
import type { Point } from '../../core/geom/index.ts'
import type { DrawingResult, DrawnOutline } from '../outline/types.ts'

/** $INSUNITS of the header. */
const unitsMm: Readonly<Record<number, number>> = { 1: 25.4, 2: 304.8, 4: 1, 5: 10, 6: 1000, 8: 2.54e-5, 9: 0.0254, 10: 914.4, 14: 100 }

/** Chords of an arc keep within this share of its radius. */
const ARC_TOLERANCE = 1e-4

interface Loose {
  readonly [key: string]: unknown
}

/**
 * Outlines of a DXF drawing: lines, polylines with their bulges, arcs and circles as chains of points. What stands in blocks, and splines,
 * texts and the like, is counted and left out.
 *
 * Units:      the drawing's own; unitMm says what they are, when it says so.
 * Throws:     never.
 */
export function dxfRead(text: string): DrawingResult {
  if (!/^\s*(?:999\s*[\r\n]+[^\r\n]*[\r\n]+)*\s*0\s*[\r\n]+\s*SECTION/.test(text))
    return { ok: false, problem: { kind: 'notDrawing', expected: 'DXF', says: 'it does not begin with a section' } }
  try {
    const drawing = new Parser().parseSync(text)
    if (drawing === null) return { ok: false, problem: { kind: 'notDrawing', expected: 'DXF', says: 'nothing in it' } }
    const leftOut = new Map<string, number>()
    const outlines = drawing.entities.flatMap((entity) => {
      const found = outlineOf(entity as IEntity & Loose)
      if (found === null) leftOut.set(entity.type, (leftOut.get(entity.type) ?? 0) + 1)
      return found === null || found.points.length < 2 ? [] : [{ layer: entity.layer, ...found }]
    })
    if (outlines.length === 0) return { ok: false, problem: { kind: 'noOutlines', expected: 'DXF' } }
    const code = drawing.header?.['$INSUNITS']
    return { ok: true, unitMm: typeof code === 'number' ? (unitsMm[code] ?? null) : null, outlines, leftOut }
  } catch (error) {
    return { ok: false, problem: { kind: 'notDrawing', expected: 'DXF', says: error instanceof Error ? error.message : String(error) } }
  }
}

function outlineOf(entity: IEntity & Loose): Omit<DrawnOutline, 'layer'> | null {
  switch (entity.type) {
    case 'LINE':
    case 'LWPOLYLINE':
    case 'POLYLINE': {
      const vertices = Array.isArray(entity['vertices']) ? (entity['vertices'] as readonly Loose[]) : []
      const isClosed = entity['shape'] === true
      return { points: bulged(vertices, isClosed), isClosed }
    }
    case 'ARC':
    case 'CIRCLE': {
      const centre = pointOf(entity['center'])
      const radius = entity['radius']
      if (centre === null || typeof radius !== 'number' || !(radius > 0)) return null
      const isClosed = entity.type === 'CIRCLE'
      const from = isClosed ? 0 : Number(entity['startAngle'])
      const swept = isClosed
        ? 2 * Math.PI
        : ((Number(entity['endAngle']) - from) % (2 * Math.PI)) + (Number(entity['endAngle']) < from ? 2 * Math.PI : 0)
      const points = arcPoints(centre, radius, from, swept)
      return { points: isClosed ? points.slice(0, -1) : points, isClosed }
    }
    default:
      return null
  }
}

function pointOf(value: unknown): Point | null {
  if (typeof value !== 'object' || value === null || !('x' in value) || !('y' in value)) return null
  const { x, y } = value
  return typeof x === 'number' && typeof y === 'number' && Number.isFinite(x) && Number.isFinite(y) ? { x, y } : null
}

/** Vertices with their bulges: the tangent of a quarter of the angle that the arc to the next one turns, left positive. */
function bulged(vertices: readonly Loose[], isClosed: boolean): readonly Point[] {
  const points: Point[] = []
  for (const [i, vertex] of vertices.entries()) {
    const from = pointOf(vertex)
    if (from === null) continue
    points.push(from)
    const bulge = typeof vertex['bulge'] === 'number' ? vertex['bulge'] : 0
    const next = pointOf(vertices[i + 1] ?? (isClosed ? vertices[0] : undefined))
    if (bulge === 0 || next === null) continue
    const turn = 4 * Math.atan(bulge)
    const chord = Math.hypot(next.x - from.x, next.y - from.y)
    const radius = chord / (2 * Math.sin(turn / 2))
    const heading = Math.atan2(next.y - from.y, next.x - from.x) - turn / 2
    const centre = { x: from.x - radius * Math.sin(heading), y: from.y + radius * Math.cos(heading) }
    const first = Math.atan2(from.y - centre.y, from.x - centre.x)
    points.push(...arcPoints(centre, Math.abs(radius), first, turn).slice(1, -1))
  }
  return points
}

function arcPoints(centre: Point, radius: number, fromRad: number, sweptRad: number): readonly Point[] {
  // A chord over an angle a is off by r (1 - cos a/2), nearly r a^2 / 8.
  const count = Math.max(1, Math.ceil(Math.abs(sweptRad) / Math.sqrt(8 * ARC_TOLERANCE)))
  return Array.from({ length: count + 1 }, (_, i) => {
    const angle = fromRad + (sweptRad * i) / count
    return { x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) }
  })
}
