import { pathNearestWithin } from '../../geom/index.ts'
import type { Path, Point } from '../../geom/types.ts'
import { shapeChanged, shapeOf, shapePoseAt } from '../fair/design.ts'
import type { Design, DesignCorner, Frame, Shape, ShapePlace, ShapeSide } from '../fair/design.ts'
import { sampleDependsOn } from '../fair/measure.ts'
import { traverseSolve } from '../traverse.ts'
import type { Alignment, Traverse } from '../types.ts'
import { MEDIAN_DEVIATION, median } from './clean.ts'
import type { TraceProgress, TraceWish } from './types.ts'

type Solved = Extract<Alignment, { ok: true }>

/** A line that works out, with how the points lie to it. */
export interface Fitted {
  readonly frame: Frame
  readonly design: Design
  readonly shape: Shape
  readonly alignment: Solved
  /** Of each point: station of its nearest place and offset from there, + left. */
  readonly stationsMm: readonly number[]
  readonly offsetsMm: readonly number[]
}

/** One number that may change. */
type Unknown =
  | { readonly kind: 'start'; readonly along: Point }
  | { readonly kind: 'end'; readonly along: Point }
  | { readonly kind: 'move'; readonly corner: number; readonly along: Point }
  | { readonly kind: 'bend'; readonly corner: number }
  | { readonly kind: 'easementIn'; readonly corner: number }
  | { readonly kind: 'easementOut'; readonly corner: number }

/** An easement of exactly this length is left out and stays out. */
const NO_EASEMENT = 0

/** Curves fit into their sides by this share, so that rounding does not push them out. */
const FITS = 1 - 1e-9

/** How far around its last place a point's nearest place is looked for, mm and as a share of the line. */
const WINDOW_MM = 150
const WINDOW_SHARE = 0.06

/** Difference quotients: mm for moves and easements, share for bends. */
const DIFFERENCE = 1e-4

/** Huber's limit in standard errors: beyond it a point pulls no harder. */
const HUBER = 1.345

/** How offsets are weighed: beyond cutMm not at all; up to evenMm alike, however small the others are; those held in full. */
export interface Weighing {
  readonly cutMm: number
  readonly evenMm: number
  readonly held: readonly boolean[]
}

/** How long the search has been going on, and whether it has been told to stop. */
export interface Work {
  rounds: number
  isStopped: boolean
}

/** Rounds of least squares at most, and the fall of the error that ends them. */
const ROUNDS = 25
const SETTLED = 1e-7

const LEAST_DAMPING = 1e-9
const MOST_DAMPING = 1e7

/** Fits a design to its frame so that it works out: curves scaled down where they want more of a side, or of a turn, than there is. */
export function designFitted(frame: Frame, design: Design): { readonly design: Design; readonly shape: Shape } | null {
  let { corners } = design
  for (let look = 0; look < 60; look++) {
    const shape = shapeOf(frame, { ...design, corners })
    if (shape === null) return null
    const scales = corners.map(() => 1)
    const count = corners.length
    for (const [i, side] of shape.sides.entries()) {
      const before = frame.isClosed && i === 0 ? count - 1 : i - 1
      const needMm = (shape.corners[before]?.tangentOutMm ?? 0) + (shape.corners[i]?.tangentInMm ?? 0)
      if (needMm <= side.lengthMm) continue
      for (const n of [before, i]) if (n in scales) scales[n] = Math.min(scales[n] ?? 1, (FITS * side.lengthMm) / needMm)
    }
    const turns = shape.corners.map(({ arcMm, into, out, curvature }) =>
      arcMm < 0 ? (into.angleRad + out.angleRad + arcMm * curvature) / (into.angleRad + out.angleRad) : 1,
    )
    if (scales.every((scale) => scale === 1) && turns.every((turn) => turn === 1)) return { design: { ...design, corners }, shape }
    corners = corners.map((corner, i): DesignCorner => {
      const scale = scales[i] ?? 1
      const easementScale = scale * Math.max(0, turns[i] ?? 1) * (turns[i] === 1 ? 1 : FITS)
      return changed(corner, corner.curvature / scale, easementsOf(corner)[0] * easementScale, easementsOf(corner)[1] * easementScale)
    })
  }
  return null
}

const easementsOf = ({ source }: DesignCorner): readonly [number, number] => [Number(source.easementIn), Number(source.easementOut)]

function changed(corner: DesignCorner, curvature: number, easementIn: number, easementOut: number): DesignCorner {
  return { ...corner, curvature, source: { ...corner.source, radiusMm: 1 / curvature, easementIn, easementOut } }
}

export function designTraverse(frame: Frame, design: Design): Traverse {
  return {
    start: frame.start,
    end: frame.end,
    corners: design.corners.map((corner, i) => {
      const [easementInMm, easementOutMm] = easementsOf(corner)
      return { id: `c${i + 1}`, x: corner.at.x, y: corner.at.y, radiusMm: 1 / corner.curvature, easementInMm, easementOutMm }
    }),
  }
}

/** The frame with its free ends as far out as the curves beside them want; along their sides, so that these keep their directions. */
function frameRoomy(frame: Frame, design: Design): Frame {
  if (frame.isClosed || design.corners.length === 0) return frame
  const shape = shapeOf(frame, design)
  const [first, last] = [shape?.sides[0], shape?.sides.at(-1)]
  if (shape === null || first === undefined || last === undefined) return frame
  const before = (shape.corners[0]?.tangentInMm ?? 0) - first.lengthMm
  const behind = (shape.corners.at(-1)?.tangentOutMm ?? 0) - last.lengthMm
  const moved = (at: Point, side: ShapeSide, byMm: number): Point => ({ x: at.x + byMm * side.ux, y: at.y + byMm * side.uy })
  return {
    ...frame,
    ...(before > 0 && frame.start.kind === 'free' ? { start: { kind: 'free', at: moved(frame.start.at, first, -before / FITS) } } : {}),
    ...(behind > 0 && frame.end.kind === 'free' ? { end: { kind: 'free', at: moved(frame.end.at, last, behind / FITS) } } : {}),
  }
}

/** The frame with its free ends at the feet of the outermost points, or as far out as the curves want. */
export function frameTrimmed(fitted: Fitted, first: Point, last: Point): Frame {
  const { frame, shape, design } = fitted
  const [head, tail] = [shape.sides[0], shape.sides.at(-1)]
  if (frame.isClosed || head === undefined || tail === undefined || frame.start.kind !== 'free' || frame.end.kind !== 'free') return frame
  const foot = (point: Point, side: ShapeSide, leastMm: number, mostMm: number): Point => {
    const alongMm = (point.x - side.from.x) * side.ux + (point.y - side.from.y) * side.uy
    const heldMm = Math.min(Math.max(alongMm, leastMm), mostMm)
    return { x: side.from.x + heldMm * side.ux, y: side.from.y + heldMm * side.uy }
  }
  const isOne = design.corners.length === 0
  const start = foot(first, head, -Infinity, isOne ? Infinity : head.lengthMm - (shape.corners[0]?.tangentInMm ?? 0) / FITS)
  const end = foot(last, tail, isOne ? -Infinity : (shape.corners.at(-1)?.tangentOutMm ?? 0) / FITS, Infinity)
  return { ...frame, start: { kind: 'free', at: start }, end: { kind: 'free', at: end } }
}

/** How points lie to a design; null where it cannot be made to work out. expectedMm: where each is looked for, by station. */
export function designAgainst(
  given: Frame,
  raw: Design,
  points: readonly Point[],
  expectedMm: (index: number, path: Path) => number,
): Fitted | null {
  const frame = frameRoomy(given, raw)
  const fits = designFitted(frame, raw)
  if (fits === null) return null
  const alignment = traverseSolve(designTraverse(frame, fits.design))
  if (!alignment.ok) return null
  const { path } = alignment
  const windowMm = WINDOW_MM + WINDOW_SHARE * path.lengthMm
  const stationsMm: number[] = []
  const offsetsMm: number[] = []
  for (const [i, point] of points.entries()) {
    const expected = Math.min(Math.max(expectedMm(i, path), 0), path.lengthMm)
    const from = Math.max(0, expected - windowMm)
    const to = Math.min(path.lengthMm, expected + windowMm)
    let near = pathNearestWithin(path, point, from, to)
    // Station zero of a closed line is nowhere special: what lies near it may belong to the other end.
    if (frame.isClosed && (from === 0 || to === path.lengthMm)) {
      const other =
        from === 0
          ? pathNearestWithin(path, point, path.lengthMm - windowMm / 2, path.lengthMm)
          : pathNearestWithin(path, point, 0, windowMm / 2)
      if (other.distanceMm < near.distanceMm) near = other
    }
    stationsMm.push(near.stationMm)
    offsetsMm.push(near.offsetMm)
  }
  return { frame, design: fits.design, shape: fits.shape, alignment, stationsMm, offsetsMm }
}

const median3 = (a: number, b: number, c: number): number => Math.max(Math.min(a, b), Math.min(Math.max(a, b), c))

/** The largest offset that a point and its neighbours agree on: one stray point alone says nothing, unless it is held. */
export function agreedWorst(offsetsMm: readonly number[], held: readonly boolean[]): { readonly worstMm: number; readonly index: number } {
  let worst = { worstMm: 0, index: 0 }
  for (const [i, offset] of offsetsMm.entries()) {
    const agreed = Math.abs(held[i] === true ? offset : median3(offsetsMm[i - 1] ?? 0, offset, offsetsMm[i + 1] ?? 0))
    if (agreed > worst.worstMm) worst = { worstMm: agreed, index: i }
  }
  return worst
}

/** Standard error of the offsets, robust: from the median of their sizes. */
export function offsetsError(offsetsMm: readonly number[]): number {
  return median(offsetsMm.map(Math.abs)) / MEDIAN_DEVIATION
}

/**
 * Least squares with damped Gauss-Newton steps (Levenberg, Marquardt) on PIs, radii and easements; far points weighed less
 * after Huber, and those beyond the cut not at all.
 *
 * Exactness:  for points that lie on such a line, to rounding of the distance.
 * Outcome:    the best line, never worse than the first. Says how far it is at each step, and ends early when told to.
 */
export function* designRefine(
  work: Work,
  first: Fitted,
  points: readonly Point[],
  weighing: Weighing,
  mostRounds = ROUNDS,
): Generator<TraceProgress, Fitted, TraceWish> {
  let fitted = first
  let damping = 1e-3
  for (let round = 0; round < mostRounds && damping < MOST_DAMPING && !work.isStopped; round++) {
    work.rounds++
    const { worstMm } = agreedWorst(fitted.offsetsMm, weighing.held)
    const wish = yield { rounds: work.rounds, corners: fitted.design.corners.length, worstMm }
    if (wish === 'stop') work.isStopped = true
    const weights = offsetsWeights(fitted.offsetsMm, weighing)
    const error = weighed(fitted.offsetsMm, weights)
    const unknowns = designUnknowns(fitted)
    const { matrix, right } = normalEquations(fitted, unknowns, weights)
    let isBetter = false
    let fall = 0
    while (!isBetter && damping < MOST_DAMPING) {
      const by = choleskySolve(damped(matrix, damping), right)
      const stepped = by && designChanged(fitted.frame, fitted.design, unknowns, by)
      const { stationsMm } = fitted
      const { lengthMm } = fitted.alignment.path
      const next =
        stepped && designAgainst(stepped.frame, stepped.design, points, (i, path) => ((stationsMm[i] ?? 0) * path.lengthMm) / lengthMm)
      const nextError = next === null ? Infinity : weighed(next.offsetsMm, weights)
      if (next !== null && nextError < error) {
        fall = error - nextError
        fitted = next
        isBetter = true
        damping = Math.max(LEAST_DAMPING, damping / 8)
      } else damping *= 6
    }
    if (!isBetter || fall < SETTLED * error) break
  }
  return fitted
}

function offsetsWeights(offsetsMm: readonly number[], { cutMm, evenMm, held }: Weighing): readonly number[] {
  const limit = Math.max(evenMm, HUBER * offsetsError(offsetsMm))
  return offsetsMm.map((offset, i) => {
    if (held[i] === true) return 1
    const size = Math.abs(offset)
    return size > cutMm ? 0 : size <= limit || size === 0 ? 1 : limit / size
  })
}

const weighed = (offsetsMm: readonly number[], weights: readonly number[]): number =>
  offsetsMm.reduce((sum, offset, i) => sum + (weights[i] ?? 0) * offset * offset, 0)

function designUnknowns({ frame, design, shape }: Fitted): readonly Unknown[] {
  const { sides } = shape
  const first = sides[0]
  const last = sides.at(-1)
  const ends: Unknown[] =
    frame.isClosed || first === undefined || last === undefined
      ? []
      : [
          { kind: 'start', along: { x: -first.uy, y: first.ux } },
          { kind: 'end', along: { x: -last.uy, y: last.ux } },
        ]
  return [
    ...ends,
    ...design.corners.flatMap((one, corner): Unknown[] => [
      { kind: 'move', corner, along: { x: 1, y: 0 } },
      { kind: 'move', corner, along: { x: 0, y: 1 } },
      { kind: 'bend', corner },
      ...(one.source.easementIn === NO_EASEMENT ? [] : [{ kind: 'easementIn', corner } as const]),
      ...(one.source.easementOut === NO_EASEMENT ? [] : [{ kind: 'easementOut', corner } as const]),
    ]),
  ]
}

/** Easements that would become shorter than this are as long as this, mm: simplifying takes them away altogether. */
const LEAST_EASEMENT_MM = 1e-3

function designChanged(
  frame: Frame,
  design: Design,
  unknowns: readonly Unknown[],
  by: readonly number[],
): { readonly frame: Frame; readonly design: Design } {
  const corners = [...design.corners]
  let { start, end } = frame
  for (const [i, unknown] of unknowns.entries()) {
    const change = by[i] ?? 0
    if (unknown.kind === 'start' || unknown.kind === 'end') {
      const shifted = (at: Point): Point => ({ x: at.x + change * unknown.along.x, y: at.y + change * unknown.along.y })
      if (unknown.kind === 'start' && start.kind === 'free') start = { kind: 'free', at: shifted(start.at) }
      if (unknown.kind === 'end' && end.kind === 'free') end = { kind: 'free', at: shifted(end.at) }
      continue
    }
    const corner = corners[unknown.corner]
    if (corner === undefined) continue
    const [into, out] = easementsOf(corner)
    if (unknown.kind === 'move') {
      corners[unknown.corner] = { ...corner, at: { x: corner.at.x + change * unknown.along.x, y: corner.at.y + change * unknown.along.y } }
    } else if (unknown.kind === 'bend')
      corners[unknown.corner] = changed(corner, corner.curvature / Math.max(1 + change, LEAST_SHARE), into, out)
    else if (unknown.kind === 'easementIn')
      corners[unknown.corner] = changed(corner, corner.curvature, Math.max(LEAST_EASEMENT_MM, into + change), out)
    else corners[unknown.corner] = changed(corner, corner.curvature, into, Math.max(LEAST_EASEMENT_MM, out + change))
  }
  return { frame: { ...frame, start, end }, design: { ...design, corners } }
}

/** A radius shrinks in one step to no less than this part of itself. */
const LEAST_SHARE = 0.3

/** The place of a station on the shape that the alignment was laid from. */
export function placeAt({ frame, shape, alignment }: Pick<Fitted, 'frame' | 'shape' | 'alignment'>, stationMm: number): ShapePlace {
  const { corners } = alignment
  const next = corners.findIndex(({ stMm }) => stationMm <= stMm)
  const corner = corners[next]
  const bent = shape.corners[next]
  if (corner !== undefined && bent !== undefined && stationMm >= corner.tsMm) {
    const { tsMm, scMm, csMm, stMm } = corner
    if (stationMm < scMm) return { kind: 'corner', corner: next, part: 0, share: (stationMm - tsMm) / (scMm - tsMm) }
    if (stationMm <= csMm) return { kind: 'corner', corner: next, part: 1, share: csMm > scMm ? (stationMm - scMm) / (csMm - scMm) : 0 }
    return { kind: 'corner', corner: next, part: 2, share: (stationMm - csMm) / (stMm - csMm) }
  }
  if (corner !== undefined && bent !== undefined) {
    const side = shape.sides[next]
    const alongMm = (side?.lengthMm ?? 0) - bent.tangentInMm - (corner.tsMm - stationMm)
    return { kind: 'side', side: next, share: side === undefined ? 0 : alongMm / side.lengthMm }
  }
  const last = corners.length - 1
  const side = frame.isClosed ? 0 : last + 1
  const alongMm = (shape.corners[last]?.tangentOutMm ?? 0) + stationMm - (corners[last]?.stMm ?? 0)
  const lengthMm = shape.sides[side]?.lengthMm ?? 0
  return { kind: 'side', side, share: lengthMm === 0 ? 0 : alongMm / lengthMm }
}

/** How fast the place of each point moves square to the line with each unknown, gathered into the normal equations. */
function normalEquations(
  fitted: Fitted,
  unknowns: readonly Unknown[],
  weights: readonly number[],
): { readonly matrix: readonly (readonly number[])[]; readonly right: readonly number[] } {
  const { frame, design, shape, alignment, stationsMm, offsetsMm } = fitted
  const count = design.corners.length
  const beside = unknowns.map((unknown) =>
    [-DIFFERENCE, DIFFERENCE].map((by) => {
      const next = designChanged(frame, design, [unknown], [by])
      if (unknown.kind === 'start' || unknown.kind === 'end') return shapeOf(next.frame, next.design)
      return shapeChanged(frame, next.design, shape, unknown.corner, unknown.kind === 'move')
    }),
  )
  const matrix = unknowns.map(() => unknowns.map(() => 0))
  const right = unknowns.map(() => 0)
  for (const [i, stationMm] of stationsMm.entries()) {
    const weight = weights[i] ?? 0
    if (weight === 0) continue
    const place = placeAt({ frame, shape, alignment }, stationMm)
    const pose = shapePoseAt(shape, place)
    if (pose === null) continue
    const [cos, sin] = [Math.cos(pose.headingRad), Math.sin(pose.headingRad)]
    const columns: number[] = []
    const slopes: number[] = []
    for (const [column, unknown] of unknowns.entries()) {
      if (!dependsOn(frame, count, place, unknown)) continue
      const [lessShape, moreShape] = beside[column] ?? []
      const less = lessShape ? shapePoseAt(lessShape, place) : null
      const more = moreShape ? shapePoseAt(moreShape, place) : null
      if (less === null || more === null) continue
      columns.push(column)
      slopes.push(((more.y - less.y) * cos - (more.x - less.x) * sin) / (2 * DIFFERENCE))
    }
    for (const [a, column] of columns.entries()) {
      const slope = slopes[a] ?? 0
      const row = matrix[column]
      if (row === undefined) continue
      right[column] = (right[column] ?? 0) + weight * slope * (offsetsMm[i] ?? 0)
      for (const [b, other] of columns.entries()) row[other] = (row[other] ?? 0) + weight * slope * (slopes[b] ?? 0)
    }
  }
  return { matrix, right }
}

function dependsOn(frame: Frame, count: number, place: ShapePlace, unknown: Unknown): boolean {
  if (unknown.kind === 'start') return place.kind === 'side' ? place.side === 0 : place.corner === 0
  if (unknown.kind === 'end') return place.kind === 'side' ? place.side === count : place.corner === count - 1
  if (unknown.kind === 'move') return sampleDependsOn(frame, count, place, unknown.corner)
  return place.kind === 'corner' && place.corner === unknown.corner
}

function damped(matrix: readonly (readonly number[])[], damping: number): number[][] {
  const most = Math.max(...matrix.map((row, i) => row[i] ?? 0))
  return matrix.map((row, i) => row.map((value, j) => (i === j ? value + damping * Math.max(value, most * 1e-9) : value)))
}

/** Solves a symmetric positive definite system; null when it is none. */
function choleskySolve(matrix: number[][], right: readonly number[]): number[] | null {
  const n = right.length
  for (let j = 0; j < n; j++) {
    const row = matrix[j] ?? []
    let pivot = row[j] ?? 0
    for (let k = 0; k < j; k++) pivot -= (row[k] ?? 0) ** 2
    if (!(pivot > 0)) return null
    const root = Math.sqrt(pivot)
    row[j] = root
    for (let i = j + 1; i < n; i++) {
      const lower = matrix[i] ?? []
      let value = lower[j] ?? 0
      for (let k = 0; k < j; k++) value -= (lower[k] ?? 0) * (row[k] ?? 0)
      lower[j] = value / root
    }
  }
  const x = [...right]
  for (let i = 0; i < n; i++) {
    const row = matrix[i] ?? []
    let value = x[i] ?? 0
    for (let k = 0; k < i; k++) value -= (row[k] ?? 0) * (x[k] ?? 0)
    x[i] = value / (row[i] ?? 1)
  }
  for (let i = n - 1; i >= 0; i--) {
    let value = x[i] ?? 0
    for (let k = i + 1; k < n; k++) value -= (matrix[k]?.[i] ?? 0) * (x[k] ?? 0)
    x[i] = value / (matrix[i]?.[i] ?? 1)
  }
  return x.every(Number.isFinite) ? x : null
}

/** The corner whose curve, or the side whose tangent, holds a station. */
export function stationOwner(fitted: Fitted, stationMm: number): { readonly kind: 'corner' | 'side'; readonly index: number } {
  const place = placeAt(fitted, stationMm)
  return place.kind === 'corner' ? { kind: 'corner', index: place.corner } : { kind: 'side', index: place.side }
}
