import type { Point } from '../../geom/types.ts'
import { STRAIGHT_RAD } from '../corner.ts'
import { fieldNearAt } from './corridor.ts'
import type { CorridorField } from './corridor.ts'
import { cornerDirections, shapeChanged, shapePoseAt } from './design.ts'
import type { Design, Frame, Shape } from './design.ts'
import { sampleDependsOn, shapeRooms } from './measure.ts'
import type { Measure } from './measure.ts'
import type { LinearRow, LinearSolve } from './types.ts'

/** One thing that may change: a PI along a direction (mm), or a corner's radius (as a share of itself): sides and arcs are linear in both. */
export type Unknown =
  | { readonly kind: 'move'; readonly corner: number; readonly along: Point }
  | { readonly kind: 'bend'; readonly corner: number }

/** What is made small: the sharpest curvature, or the sum of all curvatures with none above `most`. */
export type Aim = { readonly kind: 'sharpest' } | { readonly kind: 'sum'; readonly most: number }

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

/** Step of the difference quotients: mm for a move, share for a bend. Central, so its error is of the order of its square. */
const DIFFERENCE = 1e-4

/** All limits are asked for with this much to spare, mm, so that what is left of curving them does not break them. */
const SPARE_MM = 2e-5

/** The curvature of a radius of a hundred metres is as good as none, and no curve is made wider, 1/mm. */
export const STRAIGHT = 1e-5

/** What the rest of the line counts while the sharpest curve is what matters: enough to choose between equals. */
const REST_WEIGHT = 1e-3

export interface StepResult {
  readonly design: Design
  /** By how much the linear model says the merit falls. */
  readonly promised: number
}

export type StepOutcome = { readonly ok: true; readonly step: StepResult } | { readonly ok: false; readonly says: string }

/**
 * Merit of a measured design, the less the better: in logarithms, so that a per cent of radius weighs the same in a tram loop and on a main.
 * brokenWeight: what a mm of broken limit costs.
 */
export function meritOf(aim: Aim, { sharpest, sum, brokenMm }: Measure, brokenWeight: number): number {
  const rest = Math.log(Math.max(sum, STRAIGHT))
  const broken = brokenWeight * brokenMm
  if (aim.kind === 'sharpest') return Math.log(Math.max(sharpest, STRAIGHT)) + REST_WEIGHT * rest + broken
  return rest + broken + OVER_WEIGHT * Math.max(0, Math.log(sharpest / aim.most))
}

/** Sharper than allowed while the sum is made small: never worth it. */
const OVER_WEIGHT = 100

/** Trust region: how far PIs may move, mm, and by what share radii may change. */
export interface Trust {
  readonly moveMm: number
  readonly bend: number
}

/**
 * The best step within a trust region by a linear program: all limits linearised about the design.
 *
 * The distance to an edge is a convex function of the point, so its linear model promises less than the point will have;
 * what errs is only how the line bends when its PIs move.
 */
export function stepSolve(
  frame: Frame,
  design: Design,
  shape: Shape,
  measure: Measure,
  field: CorridorField,
  aim: Aim,
  brokenWeight: number,
  trust: Trust,
  solve: LinearSolve,
): StepOutcome {
  const unknowns = designUnknowns(frame, design)
  const count = unknowns.length
  const sharpestColumn = count
  const brokenColumn = count + 1
  const rows = [
    ...roomRows(frame, design, shape, measure, unknowns, brokenColumn),
    ...corridorRows(frame, design, shape, measure, unknowns, field, trust, brokenColumn),
  ]
  const sharpest = Math.max(measure.sharpest, STRAIGHT)
  // The sharpest column is the logarithm of the sharpest curvature; a radius larger by a share lowers its own by as much.
  const cost = Array.from({ length: count + 2 }, () => 0)
  const restWeight = aim.kind === 'sharpest' ? REST_WEIGHT : 1
  for (const [column, unknown] of unknowns.entries()) {
    const curvature = design.corners[unknown.corner]?.curvature
    if (unknown.kind !== 'bend' || curvature === undefined) continue
    if (isBent(shape, unknown.corner)) cost[column] = (-restWeight * curvature) / Math.max(measure.sum, STRAIGHT)
    rows.push({ columns: [column, sharpestColumn], values: [1, 1], least: Math.log(curvature / sharpest) })
  }
  cost[sharpestColumn] = aim.kind === 'sharpest' ? 1 : 0
  cost[brokenColumn] = brokenWeight
  const bound = unknowns.map((unknown) => (unknown.kind === 'move' ? trust.moveMm : trust.bend))
  // How much wider a curve may become before it is as good as straight.
  const widest = unknowns.map(({ kind, corner }, i) => {
    const curvature = design.corners[corner]?.curvature ?? 0
    return kind === 'move' ? trust.moveMm : Math.max(0, Math.min(bound[i] ?? 0, curvature / STRAIGHT - 1))
  })
  const most = aim.kind === 'sum' ? Math.max(0, Math.log(aim.most / sharpest)) : Infinity
  const outcome = solve({
    cost,
    lower: [...bound.map((by) => -by), -Infinity, 0],
    upper: [...widest, most, Infinity],
    rows,
  })
  if (outcome.status !== 'optimal') return { ok: false, says: outcome.says }
  const after = cost.reduce((total, weight, i) => total + weight * (outcome.x[i] ?? 0), 0)
  return { ok: true, step: { design: designStepped(design, unknowns, outcome.x), promised: brokenWeight * measure.brokenMm - after } }
}

const isBent = (shape: Shape, corner: number): boolean => Math.abs(shape.corners[corner]?.turnRad ?? 0) >= STRAIGHT_RAD

/** Both shapes that a small change of one unknown gives. */
function shapesBeside(frame: Frame, design: Design, shape: Shape, unknown: Unknown): readonly [Shape, Shape] | null {
  const [less, more] = [-DIFFERENCE, DIFFERENCE].map((by) =>
    shapeChanged(frame, designStepped(design, [unknown], [by]), shape, unknown.corner),
  )
  return less && more ? [less, more] : null
}

function roomRows(
  frame: Frame,
  design: Design,
  shape: Shape,
  measure: Measure,
  unknowns: readonly Unknown[],
  brokenColumn: number,
): readonly LinearRow[] {
  const slopes = unknowns.map((unknown) => {
    const beside = shapesBeside(frame, design, shape, unknown)
    if (beside === null) return []
    const [less, more] = beside.map((one) => shapeRooms(frame, design, one))
    return measure.rooms.map((_, i) => ((more?.[i] ?? 0) - (less?.[i] ?? 0)) / (2 * DIFFERENCE))
  })
  return measure.rooms.map((room, i): LinearRow => {
    const columns: number[] = [brokenColumn]
    const values: number[] = [1]
    for (const [column, slope] of slopes.entries()) {
      const value = slope[i] ?? 0
      if (Math.abs(value) < NEGLIGIBLE) continue
      columns.push(column)
      values.push(value)
    }
    return { columns, values, least: SPARE_MM - room }
  })
}

/** Slopes under this are the difference quotient's rounding. */
const NEGLIGIBLE = 1e-9

function corridorRows(
  frame: Frame,
  design: Design,
  shape: Shape,
  measure: Measure,
  unknowns: readonly Unknown[],
  field: CorridorField,
  trust: Trust,
  brokenColumn: number,
): readonly LinearRow[] {
  const paired = new Set(measure.pairs.flatMap(({ here, there }) => [here, there]))
  const near = measure.samples.flatMap((sample, index) =>
    sample.slackMm < field.reachMm || paired.has(index) ? [{ ...sample, index }] : [],
  )
  if (near.length === 0) return []
  const columns: number[][] = near.map(() => [])
  const values: number[][] = near.map(() => [])
  const sways = near.map(() => 0)
  for (const [column, unknown] of unknowns.entries()) {
    const beside = shapesBeside(frame, design, shape, unknown)
    if (beside === null) continue
    for (const [i, { place, headingRad }] of near.entries()) {
      if (unknown.kind === 'bend' ? place.kind !== 'corner' || place.corner !== unknown.corner : false) continue
      if (!sampleDependsOn(frame, design.corners.length, place, unknown.corner)) continue
      const less = shapePoseAt(beside[0], place)
      const more = shapePoseAt(beside[1], place)
      if (less === null || more === null) continue
      // Only the part square to the line counts: along itself the line stays what it is.
      const square = (more.y - less.y) * Math.cos(headingRad) - (more.x - less.x) * Math.sin(headingRad)
      const slope = square / (2 * DIFFERENCE)
      if (Math.abs(slope) < NEGLIGIBLE) continue
      columns[i]?.push(column)
      values[i]?.push(slope)
      sways[i] = (sways[i] ?? 0) + Math.abs(slope) * (unknown.kind === 'move' ? trust.moveMm : trust.bend)
    }
  }
  const edgeRows = near.flatMap((sample, i): LinearRow[] => {
    const swayMm = sways[i] ?? 0
    if (sample.slackMm > swayMm) return []
    const sin = Math.sin(sample.headingRad)
    const cos = Math.cos(sample.headingRad)
    return fieldNearAt(field, sample, swayMm).flatMap(({ slackMm, awayX, awayY }): LinearRow[] => {
      const lean = awayY * cos - awayX * sin
      if (slackMm > Math.abs(lean) * swayMm) return []
      return [
        {
          columns: [...(columns[i] ?? []), brokenColumn],
          values: [...(values[i] ?? []).map((value) => value * lean), 1],
          least: SPARE_MM - slackMm,
        },
      ]
    })
  })
  const rowOf = new Map(near.map(({ index }, i) => [index, i]))
  const pairRows = measure.pairs.flatMap(({ here, there, distanceMm, awayX, awayY }): LinearRow[] => {
    const ends = [here, there].map((index, n) => {
      const i = rowOf.get(index) ?? -1
      const sample = near[i]
      const lean = sample === undefined ? 0 : awayY * Math.cos(sample.headingRad) - awayX * Math.sin(sample.headingRad)
      return { i, lean: n === 0 ? lean : -lean }
    })
    const swayMm = ends.reduce((sum, { i, lean }) => sum + Math.abs(lean) * (sways[i] ?? 0), 0)
    if (distanceMm - frame.selfKeepMm > swayMm) return []
    const sum = new Map<number, number>([[brokenColumn, 1]])
    for (const { i, lean } of ends)
      for (const [n, column] of (columns[i] ?? []).entries()) sum.set(column, (sum.get(column) ?? 0) + lean * (values[i]?.[n] ?? 0))
    return [{ columns: [...sum.keys()], values: [...sum.values()], least: SPARE_MM + frame.selfKeepMm - distanceMm }]
  })
  return [...edgeRows, ...pairRows]
}
