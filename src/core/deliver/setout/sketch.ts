import { boxesOverlap, boxOfPoints, poseToLocal } from '../../geom/index.ts'
import type { Box, Point, Pose } from '../../geom/types.ts'
import { chainMap, chainOfPoints, type Chain } from '../chain.ts'
import { textItemCorners, textWidthMm } from '../text.ts'
import type { DrawItem, LineRole } from '../types.ts'
import type { SetoutFigure } from './types.ts'

/** A line of a sketch in plan mm. isContext: drawn where it falls into the figure, but the figure is not made to hold it. */
export interface SketchLine {
  readonly kind: 'line'
  readonly role: LineRole
  readonly chain: Chain
  readonly isContext: boolean
}

/** Words at a place of the plan, moved by so much on the paper. `dx` 0 stands in the middle, else it begins or ends there. */
export interface SketchLabel {
  readonly kind: 'label'
  readonly at: Point
  readonly text: string
  readonly dx: number
  readonly dy: number
  readonly weight: 'regular' | 'bold'
}

/** A ring of fixed size about a place: a point to be marked, a pin. */
export interface SketchSpot {
  readonly kind: 'spot'
  readonly at: Point
  readonly isFilled: boolean
}

/** A distance shown beside its line, with end marks: moved by so much square to it on the paper (+ left from a to b). */
export interface SketchDimension {
  readonly kind: 'dimension'
  readonly a: Point
  readonly b: Point
  readonly asideMm: number
  readonly text: string
}

export type SketchPart = SketchLine | SketchLabel | SketchSpot | SketchDimension

const WIDTH_MM = 130
const MOST_HEIGHT_MM = 92
const RIM_X_MM = 13
const RIM_Y_MM = 11
const TEXT_MM = 3.1
const SPOT_MM = 0.9

export function sketchLine(role: LineRole, points: readonly Point[], isContext = false): readonly SketchLine[] {
  const chain = chainOfPoints(points)
  return chain ? [{ kind: 'line', role, chain, isContext }] : []
}

/** Lays a sketch on a small paper, the frame's x axis level, as large as it goes. */
export function sketchLay(frame: Pose, parts: readonly SketchPart[]): SetoutFigure {
  const seen = parts.flatMap(partPoints).map((p) => poseToLocal(frame, p))
  const box: Box = boxOfPoints(seen) ?? { minX: 0, minY: 0, maxX: 1, maxY: 1 }
  const [wide, high] = [Math.max(box.maxX - box.minX, 1e-6), Math.max(box.maxY - box.minY, 1e-6)]
  const scale = Math.min((WIDTH_MM - 2 * RIM_X_MM) / wide, (MOST_HEIGHT_MM - 2 * RIM_Y_MM) / high)
  const heightMm = high * scale + 2 * RIM_Y_MM
  const left = (WIDTH_MM - wide * scale) / 2
  const place = (p: Point): Point => {
    const local = poseToLocal(frame, p)
    return { x: left + (local.x - box.minX) * scale, y: RIM_Y_MM + (local.y - box.minY) * scale }
  }
  return { widthMm: WIDTH_MM, heightMm, items: wordsApart(parts.flatMap((part) => partItems(part, place, heightMm))) }
}

/** Words that would stand on earlier ones are left out: the measures come first, and every name is in the table. */
function wordsApart(items: readonly DrawItem[]): readonly DrawItem[] {
  const taken: Box[] = []
  return items.filter((item) => {
    if (item.kind !== 'text') return true
    const box = boxOfPoints(textItemCorners(item, 0.3))
    if (box === null || taken.some((other) => boxesOverlap(box, other))) return false
    taken.push(box)
    return true
  })
}

/** What the figure must hold. */
function partPoints(part: SketchPart): readonly Point[] {
  switch (part.kind) {
    case 'line':
      return part.isContext ? [] : [part.chain.start, ...part.chain.segments.map(({ to }) => to)]
    case 'dimension':
      return [part.a, part.b]
    case 'label':
      return []
    case 'spot':
      return [part.at]
  }
}

function partItems(part: SketchPart, place: (p: Point) => Point, heightMm: number): readonly DrawItem[] {
  switch (part.kind) {
    case 'line': {
      const { start, segments } = chainMap(part.chain, place)
      return [
        { kind: 'stroke', layer: part.isContext ? 'benchwork' : 'marks', role: part.role, start, segments, isClosed: false, fill: null },
      ]
    }
    case 'label': {
      const at = place(part.at)
      const anchor = part.dx === 0 ? 'middle' : part.dx > 0 ? 'start' : 'end'
      return [words({ x: at.x + part.dx, y: at.y + part.dy - 0.35 * TEXT_MM }, part.text, anchor, part.weight, heightMm)]
    }
    case 'spot':
      return [spot(place(part.at), part.isFilled)]
    case 'dimension':
      return dimension(place(part.a), place(part.b), part.asideMm, part.text, heightMm)
  }
}

function words(at: Point, text: string, anchor: 'start' | 'middle' | 'end', weight: 'regular' | 'bold', heightMm: number): DrawItem {
  // Kept on the paper: a label beside a point at the rim would run over it.
  const width = textWidthMm(text, TEXT_MM)
  const from = anchor === 'start' ? 0 : anchor === 'end' ? -width : -width / 2
  const x = Math.min(Math.max(at.x, 1 - from), WIDTH_MM - 1 - width - from)
  const y = Math.min(Math.max(at.y, 1.2), heightMm - TEXT_MM)
  return { kind: 'text', layer: 'sheet', at: { x, y }, text, sizeMm: TEXT_MM, angleRad: 0, anchor, weight, grey: 0 }
}

/** A circle of four cubics; 0.5523 of the radius is the handle that keeps it round to a few parts in ten thousand. */
function spot(at: Point, isFilled: boolean): DrawItem {
  const [r, h] = [SPOT_MM, 0.5523 * SPOT_MM]
  const p = (dx: number, dy: number): Point => ({ x: at.x + dx, y: at.y + dy })
  return {
    kind: 'stroke',
    layer: 'sheet',
    role: 'tick',
    start: p(r, 0),
    segments: [
      { kind: 'cubic', c1: p(r, h), c2: p(h, r), to: p(0, r) },
      { kind: 'cubic', c1: p(-h, r), c2: p(-r, h), to: p(-r, 0) },
      { kind: 'cubic', c1: p(-r, -h), c2: p(-h, -r), to: p(0, -r) },
      { kind: 'cubic', c1: p(h, -r), c2: p(r, -h), to: p(r, 0) },
    ],
    isClosed: true,
    fill: isFilled ? 0 : 1,
  }
}

function dimension(a: Point, b: Point, asideMm: number, text: string, heightMm: number): readonly DrawItem[] {
  const length = Math.hypot(b.x - a.x, b.y - a.y)
  const [nx, ny] = length === 0 ? [0, 1] : [-(b.y - a.y) / length, (b.x - a.x) / length]
  const moved = (p: Point, by: number): Point => ({ x: p.x + nx * by, y: p.y + ny * by })
  const stroke = (from: Point, to: Point): DrawItem => ({
    kind: 'stroke',
    layer: 'marks',
    role: 'tick',
    start: from,
    segments: [{ kind: 'line', to }],
    isClosed: false,
    fill: null,
  })
  const [p, q] = [moved(a, asideMm), moved(b, asideMm)]
  const middle = { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 }
  // Level lines carry their words beyond them, upright ones beside them.
  const isLevel = Math.abs(nx) < Math.abs(ny)
  const beyond = Math.sign(asideMm === 0 ? 1 : asideMm)
  const at = isLevel
    ? { x: middle.x + nx * beyond * 2.6, y: middle.y + ny * beyond * 2.6 - 0.35 * TEXT_MM }
    : { x: middle.x + Math.sign(nx * beyond) * 1.4, y: middle.y - 0.35 * TEXT_MM }
  const anchor = isLevel ? 'middle' : nx * beyond > 0 ? 'start' : 'end'
  return [
    stroke(p, q),
    stroke(moved(p, -1.1), moved(p, 1.1)),
    stroke(moved(q, -1.1), moved(q, 1.1)),
    words(at, text, anchor, 'regular', heightMm),
  ]
}
