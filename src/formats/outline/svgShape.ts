import { SVGPathData } from 'svg-pathdata'
import type { Point } from '../../core/geom/index.ts'
import { svgUserLength } from './svgLength.ts'
import { affineApply } from './svgTransform.ts'
import type { Affine } from './svgTransform.ts'

/** A line of a drawing by its points. */
interface Chain {
  readonly points: readonly Point[]
  readonly isClosed: boolean
}

/** Chords of a curve keep within this share of how far its control points reach. */
const CURVE_TOLERANCE = 1e-4

export type Attributes = Readonly<Record<string, string>>

/** Elements that are lines or outlines. */
export const svgShapeNames: ReadonlySet<string> = new Set(['path', 'rect', 'circle', 'ellipse', 'line', 'polyline', 'polygon'])

/**
 * An element's lines, transformed and flattened.
 *
 * Outcome:    null for a shape that draws nothing or is measured in shares of the page.
 * Throws:     an Error with words, where path data cannot be read.
 */
export function svgShapeChains(name: string, attributes: Attributes, matrix: Affine): readonly Chain[] | null {
  const data = pathDataOf(name, attributes)
  return data === null || data.trim() === '' ? null : chainsOf(data, matrix)
}

function pathDataOf(name: string, attributes: Attributes): string | null {
  // Radii and sizes that are missing are none; places that are missing are zero.
  const at = (key: string): number | null => (attributes[key] === undefined ? 0 : svgUserLength(attributes[key]))
  switch (name) {
    case 'path':
      return attributes['d'] ?? null
    case 'line':
      return ['x1', 'y1', 'x2', 'y2'].some((key) => at(key) === null) ? null : `M${at('x1')} ${at('y1')}L${at('x2')} ${at('y2')}`
    case 'polyline':
    case 'polygon': {
      const points = attributes['points']?.trim() ?? ''
      return points === '' ? null : `M${points}${name === 'polygon' ? 'Z' : ''}`
    }
    case 'circle':
    case 'ellipse': {
      const [cx, cy] = [at('cx'), at('cy')]
      const [rx, ry] = name === 'circle' ? [at('r'), at('r')] : [at('rx'), at('ry')]
      if (cx === null || cy === null || rx === null || ry === null || !(rx > 0) || !(ry > 0)) return null
      return `M${cx + rx} ${cy}A${rx} ${ry} 0 0 1 ${cx - rx} ${cy}A${rx} ${ry} 0 0 1 ${cx + rx} ${cy}Z`
    }
    case 'rect': {
      const [x, y, width, height] = [at('x'), at('y'), at('width'), at('height')]
      if (x === null || y === null || width === null || height === null || !(width > 0) || !(height > 0)) return null
      return rectData(x, y, width, height, attributes)
    }
    default:
      return null
  }
}

/** Corners are rounded by one radius or two, the other as the one, at most by half a side. [SVG-2] section 10.2. */
function rectData(x: number, y: number, width: number, height: number, attributes: Attributes): string {
  const [askedX, askedY] = [svgUserLength(attributes['rx']), svgUserLength(attributes['ry'])]
  const rx = Math.min(askedX ?? askedY ?? 0, width / 2)
  const ry = Math.min(askedY ?? askedX ?? 0, height / 2)
  if (!(rx > 0) || !(ry > 0)) return `M${x} ${y}h${width}v${height}h${-width}Z`
  const arc = (dx: number, dy: number): string => `a${rx} ${ry} 0 0 1 ${dx} ${dy}`
  const [across, down] = [width - 2 * rx, height - 2 * ry]
  return `M${x + rx} ${y}h${across}${arc(rx, ry)}v${down}${arc(-rx, ry)}h${-across}${arc(-rx, -ry)}v${-down}${arc(rx, -ry)}Z`
}

function chainsOf(data: string, matrix: Affine): readonly Chain[] {
  const { commands } = new SVGPathData(data).toAbs().normalizeHVZ(false).normalizeST().qtToC().aToC()
  const chains: Chain[] = []
  let points: Point[] = []
  let begin: Point = { x: 0, y: 0 }
  const end = (isClosed: boolean): void => {
    const [first, last] = [points[0], points.at(-1)]
    const isTwice = isClosed && points.length > 1 && first !== undefined && last !== undefined && first.x === last.x && first.y === last.y
    if (points.length > 1) chains.push({ points: isTwice ? points.slice(0, -1) : points, isClosed })
    points = []
  }
  for (const command of commands) {
    switch (command.type) {
      case SVGPathData.MOVE_TO:
        end(false)
        begin = affineApply(matrix, command)
        points = [begin]
        break
      case SVGPathData.LINE_TO:
        if (points.length === 0) points = [begin]
        points.push(affineApply(matrix, command))
        break
      case SVGPathData.CURVE_TO: {
        if (points.length === 0) points = [begin]
        const { x1, y1, x2, y2 } = command
        points.push(
          ...curvePoints([points.at(-1) ?? begin, ...[{ x: x1, y: y1 }, { x: x2, y: y2 }, command].map((p) => affineApply(matrix, p))]),
        )
        break
      }
      case SVGPathData.CLOSE_PATH:
        end(true)
        break
    }
  }
  end(false)
  return chains
}

/**
 * Points of a cubic after its first. A chord over a step h of the parameter is off by at most h²/8 times the second derivative, which is
 * at most six times the larger of both second differences of the control points.
 */
function curvePoints(controls: readonly Point[]): readonly Point[] {
  const [a, b, c, d] = controls
  if (a === undefined || b === undefined || c === undefined || d === undefined) return []
  const reach = Math.max(Math.hypot(b.x - a.x, b.y - a.y), Math.hypot(c.x - a.x, c.y - a.y), Math.hypot(d.x - a.x, d.y - a.y))
  const bend = 6 * Math.max(Math.hypot(a.x - 2 * b.x + c.x, a.y - 2 * b.y + c.y), Math.hypot(b.x - 2 * c.x + d.x, b.y - 2 * c.y + d.y))
  const count = reach > 0 ? Math.max(1, Math.ceil(Math.sqrt(bend / (8 * CURVE_TOLERANCE * reach)))) : 1
  return Array.from({ length: count }, (_, i) => {
    if (i === count - 1) return d
    const t = (i + 1) / count
    const u = 1 - t
    const [p, q, r, s] = [u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t]
    return { x: p * a.x + q * b.x + r * c.x + s * d.x, y: p * a.y + q * b.y + r * c.y + s * d.y }
  })
}
