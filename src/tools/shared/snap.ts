import { pointDistance, pointDot, pointPolar, pointSubtract, segmentNearest } from '../../core/geom/index.ts'
import type { Point, Pose } from '../../core/geom/types.ts'
import type { Modifiers, Snap, SnapKind } from '../types.ts'

/*
 * Snapping: from a few points and lines that the hand may mean, a ranked list of candidates. It knows nothing of plans;
 * snapTargets.ts gathers points and edges, each tool adds its own lines.
 */

export interface SnapPoint {
  readonly kind: Extract<SnapKind, 'firstPoint' | 'leg' | 'trackEnd' | 'pi' | 'benchworkCorner' | 'wallCorner'>
  readonly at: Point
  readonly leg?: NonNullable<Snap['leg']>
}

export interface SnapEdge {
  readonly kind: Extract<SnapKind, 'benchworkEdge' | 'joist' | 'wallEdge'>
  readonly a: Point
  readonly b: Point
}

/** A line that the point may slide on; `isRay`: only ahead of the pose. */
export interface SnapLine {
  readonly kind: Extract<SnapKind, 'legTangent' | 'tangent' | 'parallel' | 'angle' | 'guide' | 'lineUpAcross' | 'lineUpAlong'>
  readonly pose: Pose
  readonly isRay: boolean
}

export interface SnapRequest {
  readonly at: Point
  readonly toleranceMm: number
  readonly modifiers: Modifiers
  readonly points: readonly SnapPoint[]
  readonly edges: readonly SnapEdge[]
  readonly lines: readonly SnapLine[]
  /** The point to measure from, for steps of 45 degrees; null: no steps. */
  readonly from: Point | null
  /** Points to line up with, left-right and up-down. */
  readonly lineUp: readonly Point[]
  /** Lengths (with `from`) or coordinates (without) come in whole steps of this, mm; null: as they are. */
  readonly wholeMm: number | null
  /** The point may only lie here, whatever else draws it. */
  readonly bound: Pose | null
  /** What is drawn is to fit what stands there: its sides end on edges and go along them, by whole measures from their corners. */
  readonly fitsEdges?: boolean
}

/** Lower comes first: a thing to join beats a line, a line beats an edge, all beat a round number. */
const rank: Readonly<Record<SnapKind, number>> = {
  firstPoint: 0,
  leg: 0,
  trackEnd: 1,
  pi: 1,
  benchworkCorner: 1,
  wallCorner: 1,
  angleAndLine: 2,
  guidesCross: 2,
  parallelsCross: 2,
  edgeMet: 2,
  wallMet: 2,
  alongEdge: 2,
  alongWall: 2,
  legTangent: 3,
  guide: 3,
  tangent: 3,
  parallel: 3,
  angle: 3,
  lineUpAcross: 4,
  lineUpAlong: 4,
  benchworkEdge: 5,
  joist: 5,
  wallEdge: 5,
  // Of a turnout on its track: slide.ts.
  touches: 1,
  curveEnd: 2,
  evenTies: 3,
  offJoist: 0,
  whole: 6,
}

const step45 = Math.PI / 4
/** A step of 45 degrees draws from this far to either side, so that a long side can still be drawn a little off it. */
const stepPullRad = (7 * Math.PI) / 180

/** All places that the pointer may mean, best first. Empty while Alt is held. */
export function snapCandidates(request: SnapRequest): readonly Snap[] {
  if (request.bound !== null) return [snapBound(request, request.bound)]
  if (request.modifiers.alt) return []
  const lines = snapLines(request)
  const all: Snap[] = []
  // With Shift only the step of 45 degrees counts, and what lies on it.
  const isHeld = request.modifiers.shift && request.from !== null
  if (!isHeld) {
    for (const point of request.points) add(all, request, point.kind, point.at, null, point.leg ?? null)
    for (const edge of request.edges) {
      const { at } = segmentNearest(edge.a, edge.b, request.at)
      add(all, request, edge.kind, wholeOnEdge(edge, at, request), [edge.a, edge.b], null)
      addAlong(all, request, edge)
    }
  }
  lines.forEach((line, index) => {
    const at = nearestOnLine(line, request.at)
    if (at === null) return
    if (isHeld && line.kind !== 'angle') return
    const whole = wholeAlong(line, at, request)
    all.push({ kind: line.kind, point: whole, distanceMm: pointDistance(at, request.at), guide: [line.pose, whole], leg: null })
    addMet(all, request, line)
    for (const other of lines.slice(index + 1)) {
      const cross = lineCrossing(line.pose, other.pose)
      if (cross === null || (isHeld && other.kind === 'angle')) continue
      add(all, request, crossKind(line, other), cross, [other.pose, cross], null)
    }
  })
  if (all.length === 0 && request.wholeMm !== null && !isHeld) {
    const at = wholePoint(request.at, request.from, request.wholeMm)
    all.push({ kind: 'whole', point: at, distanceMm: pointDistance(at, request.at), guide: null, leg: null })
  }
  const rankOf = ({ kind }: Snap): number => (request.fitsEdges === true && isEdge(kind) ? EDGE_FIRST : rank[kind])
  return all.sort((a, b) => rankOf(a) - rankOf(b) || a.distanceMm - b.distanceMm)
}

/** An edge that is to be fitted beats the line through its own corners. */
const EDGE_FIRST = rank.lineUpAcross - 0.5
const isEdge = (kind: SnapKind): boolean => kind === 'benchworkEdge' || kind === 'wallEdge' || kind === 'joist'

function crossKind(a: SnapLine, b: SnapLine): SnapKind {
  if (a.kind !== b.kind) return 'angleAndLine'
  return a.kind === 'guide' ? 'guidesCross' : a.kind === 'parallel' ? 'parallelsCross' : 'angleAndLine'
}

/** The best candidate, and the point to use: the pointer's own where nothing draws it. */
export function snapBest(request: SnapRequest): { readonly point: Point; readonly snap: Snap | null } {
  const snap = snapCandidates(request)[0] ?? null
  return { point: snap?.point ?? request.at, snap }
}

function add(all: Snap[], request: SnapRequest, kind: SnapKind, point: Point, guide: Snap['guide'], leg: Snap['leg']): void {
  const distanceMm = pointDistance(point, request.at)
  // A leg's pose must not smuggle its heading into the plan.
  if (distanceMm <= request.toleranceMm) all.push({ kind, point: { x: point.x, y: point.y }, distanceMm, guide, leg })
}

/** Where a line runs onto an edge. */
function addMet(all: Snap[], request: SnapRequest, line: SnapLine): void {
  if (request.fitsEdges !== true) return
  for (const { kind, a, b } of request.edges) {
    if (kind === 'joist') continue
    const cross = lineCrossing(line.pose, { ...a, headingRad: Math.atan2(b.y - a.y, b.x - a.x) })
    if (cross === null || pointDistance(segmentNearest(a, b, cross).at, cross) > ON_MM) continue
    add(all, request, kind === 'wallEdge' ? 'wallMet' : 'edgeMet', cross, [line.pose, cross], null)
  }
}

/** So near to an edge a point lies on it, mm: what is set on one is there but for rounding. */
const ON_MM = 1e-3

/** A side that began on an edge, on along it however it lies. */
function addAlong(all: Snap[], request: SnapRequest, edge: SnapEdge): void {
  const { from, wholeMm } = request
  if (request.fitsEdges !== true || from === null || edge.kind === 'joist') return
  if (pointDistance(segmentNearest(edge.a, edge.b, from).at, from) > ON_MM) return
  const { at } = segmentNearest(edge.a, edge.b, request.at)
  if (pointDistance(at, from) === 0 || pointDistance(at, request.at) > request.toleranceMm) return
  const whole = wholeMm === null ? at : wholePoint(at, from, wholeMm)
  add(all, request, edge.kind === 'wallEdge' ? 'alongWall' : 'alongEdge', whole, [from, whole], null)
}

/** A point of an edge, by whole measures from the nearer of its ends, not beyond the other. */
function wholeOnEdge({ a, b }: SnapEdge, at: Point, { fitsEdges, wholeMm }: SnapRequest): Point {
  const [near, far] = pointDistance(a, at) <= pointDistance(b, at) ? [a, b] : [b, a]
  if (fitsEdges !== true || wholeMm === null || pointDistance(near, at) === 0) return at
  const whole = wholePoint(at, near, wholeMm)
  return pointDistance(near, whole) > pointDistance(near, far) ? at : whole
}

function snapBound(request: SnapRequest, bound: Pose): Snap {
  const ahead = pointDot(pointSubtract(request.at, bound), pointPolar(bound.headingRad, 1))
  const raw = Math.max(ahead, 0)
  const length = request.wholeMm === null || request.modifiers.alt ? raw : wholeOf(raw, request.wholeMm)
  const offset = pointPolar(bound.headingRad, length)
  const point = { x: bound.x + offset.x, y: bound.y + offset.y }
  return { kind: 'legTangent', point, distanceMm: pointDistance(point, request.at), guide: [bound, point], leg: null }
}

/** Lines near enough to draw the pointer: those given, the step of 45 degrees, and those through points to line up with. */
function snapLines(request: SnapRequest): readonly SnapLine[] {
  const lines: SnapLine[] = []
  const { at, from, toleranceMm } = request
  if (from !== null && pointDistance(from, at) > 0) {
    const heading = Math.atan2(at.y - from.y, at.x - from.x)
    const stepped = Math.round(heading / step45) * step45
    if (request.modifiers.shift) {
      const guides = request.lines.filter(({ kind }) => kind === 'guide')
      return [{ kind: 'angle', pose: { ...from, headingRad: stepped }, isRay: true }, ...guides, ...lineUpLines(request)]
    }
    const line: SnapLine = { kind: 'angle', pose: { ...from, headingRad: stepped }, isRay: true }
    if (Math.abs(heading - stepped) <= stepPullRad && isNear(line, at, toleranceMm)) lines.push(line)
  }
  lines.push(...request.lines.filter((line) => isNear(line, at, toleranceMm)), ...lineUpLines(request))
  return lines
}

function lineUpLines(request: SnapRequest): readonly SnapLine[] {
  const lines: SnapLine[] = []
  let across: Point | null = null
  let along: Point | null = null
  for (const p of request.lineUp) {
    if (Math.abs(p.y - request.at.y) <= Math.min(request.toleranceMm, along === null ? Infinity : Math.abs(along.y - request.at.y)))
      along = p
    if (Math.abs(p.x - request.at.x) <= Math.min(request.toleranceMm, across === null ? Infinity : Math.abs(across.x - request.at.x)))
      across = p
  }
  if (along !== null) lines.push({ kind: 'lineUpAlong', pose: { x: along.x, y: along.y, headingRad: 0 }, isRay: false })
  if (across !== null) lines.push({ kind: 'lineUpAcross', pose: { x: across.x, y: across.y, headingRad: Math.PI / 2 }, isRay: false })
  return lines
}

function isNear(line: SnapLine, at: Point, toleranceMm: number): boolean {
  const near = nearestOnLine(line, at)
  return near !== null && pointDistance(near, at) <= toleranceMm
}

/** Unit vector, exact for quarter turns so that a snapped side is level to the last digit. */
function direction(headingRad: number): Point {
  const quarters = headingRad / (Math.PI / 2)
  const turn = Math.round(quarters)
  if (Math.abs(quarters - turn) > 1e-12) return pointPolar(headingRad, 1)
  const odd = Math.abs(turn % 2)
  const sign = Math.abs(turn % 4) >= 2 ? -1 : 1
  return odd === 0 ? { x: sign, y: 0 } : { x: 0, y: ((turn % 4) + 4) % 4 === 1 ? 1 : -1 }
}

function nearestOnLine(line: SnapLine, at: Point): Point | null {
  const d = direction(line.pose.headingRad)
  const along = pointDot(pointSubtract(at, line.pose), d)
  if (line.isRay && along < 0) return null
  return { x: line.pose.x + d.x * along, y: line.pose.y + d.y * along }
}

/** On a ray from the last point, and in line with a corner that is to be fitted, the length comes in whole steps; else the place stays. */
function wholeAlong(line: SnapLine, at: Point, request: SnapRequest): Point {
  const isLineUp = line.kind === 'lineUpAcross' || line.kind === 'lineUpAlong'
  if (request.wholeMm === null || !(line.kind === 'angle' || (isLineUp && request.fitsEdges === true))) return at
  const d = direction(line.pose.headingRad)
  const length = wholeOf(pointDot(pointSubtract(at, line.pose), d), request.wholeMm)
  return { x: line.pose.x + d.x * length, y: line.pose.y + d.y * length }
}

function wholePoint(at: Point, from: Point | null, wholeMm: number): Point {
  if (from === null) return { x: wholeOf(at.x, wholeMm), y: wholeOf(at.y, wholeMm) }
  const length = pointDistance(from, at)
  const k = length === 0 ? 0 : wholeOf(length, wholeMm) / length
  return { x: from.x + (at.x - from.x) * k, y: from.y + (at.y - from.y) * k }
}

/** Where two lines meet; null when nearly parallel (under a degree: the crossing would be far off and shaky). */
function lineCrossing(a: Pose, b: Pose): Point | null {
  const u = direction(a.headingRad)
  const v = direction(b.headingRad)
  const cross = u.x * v.y - u.y * v.x
  if (Math.abs(cross) < 0.0175) return null
  const t = ((b.x - a.x) * v.y - (b.y - a.y) * v.x) / cross
  return { x: a.x + u.x * t, y: a.y + u.y * t }
}

/** The nearest whole number of steps, as the decimal it is (24 in is 609.6, not 609.5999999999999) and never minus zero. */
export function wholeOf(valueMm: number, stepMm: number): number {
  return Math.round(Math.round(valueMm / stepMm) * stepMm * 1e6) / 1e6 + 0
}

/**
 * A whole step of length that is at least `minimumPx` wide on the screen: 1/16 in to 1 ft, or 1 mm to 100 mm.
 * Null when far out, where a step would be a jump.
 */
export function wholeStepMm(pxPerMm: number, units: 'imperial' | 'metric', minimumPx = 4): number | null {
  const inch = 25.4
  const steps = units === 'imperial' ? [inch / 16, inch / 8, inch / 4, inch / 2, inch, 3 * inch, 6 * inch] : [1, 2, 5, 10, 20, 50, 100]
  return steps.find((step) => step * pxPerMm >= minimumPx) ?? null
}
