import type { Point } from '../../geom/types.ts'
import { fieldNearAt } from './corridor.ts'
import type { CorridorField } from './corridor.ts'
import { cornerDirections, shapeChanged, shapePoseAt } from './design.ts'
import type { Design, Frame, Shape } from './design.ts'
import { sampleDependsOn, shapeRooms } from './measure.ts'
import type { Measure } from './measure.ts'

/** One thing that may change: a PI along a direction (mm), or a corner's radius (as a share of itself): sides and arcs are linear in both. */
export type Unknown =
  | { readonly kind: 'move'; readonly corner: number; readonly along: Point }
  | { readonly kind: 'bend'; readonly corner: number }

export function designUnknowns(frame: Frame, design: Design): readonly Unknown[] {
  return design.corners.flatMap(({ isHeld }, corner): Unknown[] =>
    isHeld
      ? []
      : [...cornerDirections(frame, design, corner).map((along): Unknown => ({ kind: 'move', corner, along })), { kind: 'bend', corner }],
  )
}

/** The design with its unknowns changed by so much. */
export function designStepped(design: Design, unknowns: readonly Unknown[], by: readonly number[]): Design {
  const corners = [...design.corners]
  for (const [i, unknown] of unknowns.entries()) {
    const corner = corners[unknown.corner]
    const change = by[i] ?? 0
    if (corner === undefined || change === 0) continue
    corners[unknown.corner] =
      unknown.kind === 'bend'
        ? { ...corner, curvature: corner.curvature / (1 + change) }
        : { ...corner, at: { x: corner.at.x + change * unknown.along.x, y: corner.at.y + change * unknown.along.y } }
  }
  return { ...design, corners }
}

/** Trust region: how far PIs may move, mm, and by what share radii may change. */
export interface Trust {
  readonly moveMm: number
  readonly bend: number
}

/** Something that must not become negative, mm: what it is now, and by how much each unknown changes it. */
export interface Limit {
  readonly columns: readonly number[]
  readonly values: readonly number[]
  readonly now: number
  /** What it truly is on another shape; null where that is not asked. */
  readonly at: (changed: Shape) => number | null
}

/**
 * All limits of a design, linearised.
 *
 * The distance to an edge is a convex function of the point, so its linear model promises less than the point will have;
 * what errs is only how the line bends when its PIs move.
 */
export function designLimits(
  frame: Frame,
  design: Design,
  shape: Shape,
  measure: Measure,
  unknowns: readonly Unknown[],
  field: CorridorField,
  trust: Trust,
): readonly Limit[] {
  const beside = unknowns.map((unknown) => shapesBeside(frame, design, shape, unknown))
  return [...roomLimits(frame, design, measure, beside), ...nearnessLimits(frame, shape, measure, unknowns, beside, field, trust)]
}

/** Step of the difference quotients: mm for a move, share for a bend. Central, so its error is of the order of its square. */
const DIFFERENCE = 1e-4

/** Both shapes that a small change of one unknown gives. */
function shapesBeside(frame: Frame, design: Design, shape: Shape, unknown: Unknown): readonly [Shape, Shape] | null {
  const [less, more] = [-DIFFERENCE, DIFFERENCE].map((by) =>
    shapeChanged(frame, designStepped(design, [unknown], [by]), shape, unknown.corner),
  )
  return less && more ? [less, more] : null
}

type Beside = readonly [Shape, Shape] | null

function roomLimits(frame: Frame, design: Design, measure: Measure, beside: readonly Beside[]): readonly Limit[] {
  const slopes = beside.map((shapes) => {
    if (shapes === null) return []
    const [less, more] = shapes.map((one) => shapeRooms(frame, design, one))
    return measure.rooms.map((_, i) => ((more?.[i] ?? 0) - (less?.[i] ?? 0)) / (2 * DIFFERENCE))
  })
  return measure.rooms.map((now, i): Limit => {
    const columns: number[] = []
    const values: number[] = []
    for (const [column, slope] of slopes.entries()) {
      const value = slope[i] ?? 0
      if (Math.abs(value) < NEGLIGIBLE) continue
      columns.push(column)
      values.push(value)
    }
    return { columns, values, now, at: (changed) => shapeRooms(frame, design, changed)[i] ?? null }
  })
}

/** Slopes under this are the difference quotient's rounding. */
const NEGLIGIBLE = 1e-9

/** How many times as far as a PI the line beside it may move. */
const MOVE_REACH = 4

/** How far any of the line may move within a trust region, mm: PIs and, by their radius, the middles of curves. */
function mostSway(shape: Shape, { moveMm, bend }: Trust): number {
  const external = Math.max(0, ...shape.corners.map(({ turnRad, curvature }) => (1 / Math.cos(turnRad / 2) - 1) / curvature))
  return MOVE_REACH * moveMm + bend * external
}

function nearnessLimits(
  frame: Frame,
  shape: Shape,
  measure: Measure,
  unknowns: readonly Unknown[],
  beside: readonly Beside[],
  field: CorridorField,
  trust: Trust,
): readonly Limit[] {
  const count = shape.corners.length
  const paired = new Set(measure.pairs.flatMap(({ here, there }) => [here, there]))
  const reachMm = Math.min(field.reachMm, mostSway(shape, trust))
  const near = measure.samples.flatMap((sample, index) =>
    sample.slackMm < reachMm || paired.has(index)
      ? [{ sample, index, cos: Math.cos(sample.headingRad), sin: Math.sin(sample.headingRad) }]
      : [],
  )
  if (near.length === 0) return []
  const columns: number[][] = near.map(() => [])
  const values: number[][] = near.map(() => [])
  const sways = near.map(() => 0)
  for (const [column, unknown] of unknowns.entries()) {
    const shapes = beside[column] ?? null
    if (shapes === null) continue
    const mostBy = unknown.kind === 'move' ? trust.moveMm : trust.bend
    for (const [i, { sample, cos, sin }] of near.entries()) {
      const { place } = sample
      if (unknown.kind === 'bend' && (place.kind !== 'corner' || place.corner !== unknown.corner)) continue
      if (!sampleDependsOn(frame, count, place, unknown.corner)) continue
      const less = shapePoseAt(shapes[0], place)
      const more = shapePoseAt(shapes[1], place)
      if (less === null || more === null) continue
      // Only the part square to the line counts: along itself the line stays what it is.
      const slope = ((more.y - less.y) * cos - (more.x - less.x) * sin) / (2 * DIFFERENCE)
      if (Math.abs(slope) < NEGLIGIBLE) continue
      columns[i]?.push(column)
      values[i]?.push(slope)
      sways[i] = (sways[i] ?? 0) + Math.abs(slope) * mostBy
    }
  }
  const edges = near.flatMap(({ sample, cos, sin }, i): Limit[] => {
    const swayMm = sways[i] ?? 0
    if (sample.slackMm > swayMm) return []
    return fieldNearAt(field, sample, swayMm).flatMap(({ slackMm, awayX, awayY, slackAt }): Limit[] => {
      const lean = awayY * cos - awayX * sin
      if (slackMm > Math.abs(lean) * swayMm) return []
      const at = (changed: Shape): number | null => {
        const pose = shapePoseAt(changed, sample.place)
        return pose === null ? null : slackAt(pose)
      }
      return [{ columns: columns[i] ?? [], values: (values[i] ?? []).map((value) => value * lean), now: slackMm, at }]
    })
  })
  const rowOf = new Map(near.map(({ index }, i) => [index, i]))
  const pairs = measure.pairs.flatMap(({ here, there, distanceMm, awayX, awayY }): Limit[] => {
    const ends = [here, there].map((index, n) => {
      const i = rowOf.get(index) ?? -1
      const end = near[i]
      const lean = end === undefined ? 0 : awayY * end.cos - awayX * end.sin
      return { i, lean: n === 0 ? lean : -lean }
    })
    const swayMm = ends.reduce((sum, { i, lean }) => sum + Math.abs(lean) * (sways[i] ?? 0), 0)
    if (distanceMm - frame.selfKeepMm > swayMm) return []
    const sum = new Map<number, number>()
    for (const { i, lean } of ends)
      for (const [n, column] of (columns[i] ?? []).entries()) sum.set(column, (sum.get(column) ?? 0) + lean * (values[i]?.[n] ?? 0))
    return [{ columns: [...sum.keys()], values: [...sum.values()], now: distanceMm - frame.selfKeepMm, at: () => null }]
  })
  return [...edges, ...pairs]
}
