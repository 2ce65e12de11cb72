import { elementPoseAt, elementCurvatureAt, pathPoseAt } from '../geom/index.ts'
import type { Path, PathElement, Point } from '../geom/types.ts'
import type { Chain } from './chain.ts'
import { cubicPoint } from './chain.ts'
import type { Segment } from './types.ts'

/** Greatest distance between a line on a sheet and the exact one. A tenth of the 0.02 mm that a sheet promises, so that
 * rounding and viewers keep the rest; smaller only makes longer files. */
export const EDGE_TOLERANCE_MM = 0.002

/** Longest pieces, so that a page can leave out what is far from it: about a third of a page, and two pages of straight. */
const CURVE_PIECE_MAX_MM = 60
const STRAIGHT_PIECE_MAX_MM = 400

/** An edge that runs beside a path; its offset changes evenly from one end of the stretch to the other. + is left. */
export interface EdgeOffset {
  readonly startMm: number
  readonly endMm: number
}

interface Stretch {
  readonly element: PathElement
  /** From the start of the element. */
  readonly from: number
  readonly to: number
}

/**
 * Edges beside a path between two stations, as chains with the same number of segments, broken at the same stations.
 *
 * Units:      mm; stations are held to the path's length.
 * Domain:     |offset| below the least radius on that side (an edge beyond the centre of its curve has a cusp).
 * Exactness:  within EDGE_TOLERANCE_MM of the exact offset curve; ends exact.
 */
export function edgesAlong(path: Path, fromMm: number, toMm: number, edges: readonly EdgeOffset[]): readonly Chain[] {
  const from = Math.max(0, fromMm)
  const to = Math.min(path.lengthMm, toMm)
  const lengthMm = to - from
  if (!(lengthMm > 0)) return []
  const offsetAt = (edge: EdgeOffset, station: number): number => edge.startMm + ((edge.endMm - edge.startMm) * (station - from)) / lengthMm
  const starts = edges.map((edge) => pointBeside(pathPoseAt(path, from), offsetAt(edge, from)))
  const segments: Segment[][] = edges.map(() => [])

  for (const stretch of stretches(path, from, to)) {
    const { element } = stretch
    const evaluators = edges.map((edge) => {
      const slope = (edge.endMm - edge.startMm) / lengthMm
      return (s: number): EdgePoint => edgePoint(element, s, offsetAt(edge, element.startStationMm + s), slope)
    })
    const pieceMax = element.k0 === 0 && element.k1 === 0 ? STRAIGHT_PIECE_MAX_MM : CURVE_PIECE_MAX_MM
    const pieces = Math.max(1, Math.ceil((stretch.to - stretch.from) / pieceMax))
    for (let i = 0; i < pieces; i++) {
      const a = stretch.from + ((stretch.to - stretch.from) * i) / pieces
      const b = i === pieces - 1 ? stretch.to : stretch.from + ((stretch.to - stretch.from) * (i + 1)) / pieces
      fitInto(segments, evaluators, element, a, b, 0)
    }
  }
  return edges.map((_, i) => ({ start: starts[i] ?? { x: 0, y: 0 }, segments: segments[i] ?? [] }))
}

/** One edge at a constant offset. */
export function edgeAlong(path: Path, fromMm: number, toMm: number, offsetMm: number): Chain | null {
  return edgesAlong(path, fromMm, toMm, [{ startMm: offsetMm, endMm: offsetMm }])[0] ?? null
}

/** The parts of the path's elements between two stations. */
function stretches(path: Path, from: number, to: number): readonly Stretch[] {
  const found: Stretch[] = []
  for (const element of path.elements) {
    const a = Math.max(from - element.startStationMm, 0)
    const b = Math.min(to - element.startStationMm, element.lengthMm)
    if (b - a > 1e-9) found.push({ element, from: a, to: b })
  }
  return found
}

interface EdgePoint extends Point {
  /** Change of place per mm of station. */
  readonly dx: number
  readonly dy: number
}

function edgePoint(element: PathElement, s: number, offset: number, slope: number): EdgePoint {
  const pose = elementPoseAt(element, element.start, s)
  const cos = Math.cos(pose.headingRad)
  const sin = Math.sin(pose.headingRad)
  const along = 1 - elementCurvatureAt(element, s) * offset
  return { x: pose.x - offset * sin, y: pose.y + offset * cos, dx: along * cos - slope * sin, dy: along * sin + slope * cos }
}

function pointBeside(pose: { x: number; y: number; headingRad: number }, offset: number): Point {
  return { x: pose.x - offset * Math.sin(pose.headingRad), y: pose.y + offset * Math.cos(pose.headingRad) }
}

/** Appends to each edge the cubics from a to b; halves the stretch for all edges until every one fits. */
function fitInto(
  into: readonly Segment[][],
  edges: readonly ((s: number) => EdgePoint)[],
  element: PathElement,
  a: number,
  b: number,
  depth: number,
): void {
  const isStraight = element.k0 === 0 && element.k1 === 0
  const fitted = edges.map((edge) => (isStraight ? lineTo(edge(b)) : hermite(edge(a), edge(b), b - a)))
  const fits = isStraight || edges.every((edge, i) => cubicError(edge, fitted[i], a, b) <= EDGE_TOLERANCE_MM)
  if (fits || depth >= 12) {
    fitted.forEach((segment, i) => into[i]?.push(segment))
    return
  }
  const middle = (a + b) / 2
  fitInto(into, edges, element, a, middle, depth + 1)
  fitInto(into, edges, element, middle, b, depth + 1)
}

/** On a straight element an evenly changing offset is a straight line. */
function lineTo(p: Point): Segment {
  return { kind: 'line', to: { x: p.x, y: p.y } }
}

function hermite(p: EdgePoint, q: EdgePoint, h: number): Segment {
  return {
    kind: 'cubic',
    c1: { x: p.x + (p.dx * h) / 3, y: p.y + (p.dy * h) / 3 },
    c2: { x: q.x - (q.dx * h) / 3, y: q.y - (q.dy * h) / 3 },
    to: { x: q.x, y: q.y },
  }
}

/** Greatest distance of the cubic from the edge, square to the edge, at seven places. */
function cubicError(edge: (s: number) => EdgePoint, segment: Segment | undefined, a: number, b: number): number {
  if (segment?.kind !== 'cubic') return 0
  const start = edge(a)
  let worst = 0
  for (let i = 1; i <= 7; i++) {
    const t = i / 8
    const exact = edge(a + (b - a) * t)
    const drawn = cubicPoint(start, segment, t)
    const speed = Math.hypot(exact.dx, exact.dy)
    if (speed < 1e-12) continue
    worst = Math.max(worst, Math.abs((drawn.x - exact.x) * exact.dy - (drawn.y - exact.y) * exact.dx) / speed)
  }
  return worst
}
