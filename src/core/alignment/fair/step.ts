import { STRAIGHT_RAD } from '../corner.ts'
import type { CorridorField } from './corridor.ts'
import { sideBehind } from './design.ts'
import type { Design, Frame, Shape } from './design.ts'
import { designLimits, designStepped, designUnknowns } from './limits.ts'
import type { Trust } from './limits.ts'
import type { Measure } from './measure.ts'
import type { LinearRow, LinearSolve } from './types.ts'

/** What is made small: the sharpest curvature, or the sum of all curvatures with none above `most`. */
export type Aim = { readonly kind: 'sharpest' } | { readonly kind: 'sum'; readonly most: number }

/** All limits are asked for with this much to spare, mm, so that what is left of curving them does not break them. */
const SPARE_MM = 2e-5

/** The curvature of a radius of a hundred metres is as good as none, and no curve is made wider, 1/mm. */
export const STRAIGHT = 1e-5

/** What the rest of the line counts while the sharpest curve is what matters: enough to choose between equals. */
const REST_WEIGHT = 1e-3

/** A step, and by how much the linear model says the merit falls. */
export interface Step {
  readonly design: Design
  readonly promised: number
  /** What the linear model says of each limit after the step, mm. */
  readonly foretold: readonly number[]
}

export type StepOutcome = { readonly ok: true; readonly step: Step } | { readonly ok: false; readonly says: string }

/** The linear model about a design. */
export interface StepModel {
  readonly step: () => StepOutcome
  /**
   * The step anew, with what the first one got wrong taken into account: each limit at its end was another than foretold, for sides and
   * curves bend. Without this a line creeps along a curved limit by small steps.
   */
  readonly mended: (first: Step, changed: Shape) => StepOutcome
}

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

/** The best step within a trust region, by a linear program. */
export function stepModel(
  frame: Frame,
  design: Design,
  shape: Shape,
  measure: Measure,
  field: CorridorField,
  aim: Aim,
  brokenWeight: number,
  trust: Trust,
  solve: LinearSolve,
): StepModel {
  const unknowns = designUnknowns(frame, design)
  const count = unknowns.length
  const sharpestColumn = count
  const brokenColumn = count + 1
  const limits = designLimits(frame, design, shape, measure, unknowns, field, trust)
  const sharpest = Math.max(measure.sharpest, STRAIGHT)
  // The sharpest column is the logarithm of the sharpest curvature; a radius larger by a share lowers its own by as much.
  const cost = Array.from({ length: count + 2 }, () => 0)
  const restWeight = aim.kind === 'sharpest' ? REST_WEIGHT : 1
  const bends: LinearRow[] = []
  for (const [column, unknown] of unknowns.entries()) {
    const curvature = design.corners[unknown.corner]?.curvature
    if (unknown.kind !== 'bend' || curvature === undefined) continue
    if (isBent(shape, unknown.corner)) cost[column] = (-restWeight * curvature) / Math.max(measure.sum, STRAIGHT)
    bends.push({ columns: [column, sharpestColumn], values: [1, 1], least: Math.log(curvature / sharpest) })
  }
  cost[sharpestColumn] = aim.kind === 'sharpest' ? 1 : 0
  cost[brokenColumn] = brokenWeight
  const bound = unknowns.map((unknown) => (unknown.kind === 'move' ? moveBound(frame, shape, unknown.corner, trust) : trust.bend))
  // How much wider a curve may become before it is as good as straight.
  const widest = unknowns.map(({ kind, corner }, i) => {
    const curvature = design.corners[corner]?.curvature ?? 0
    return kind === 'move' ? (bound[i] ?? 0) : Math.max(0, Math.min(bound[i] ?? 0, curvature / STRAIGHT - 1))
  })
  const most = aim.kind === 'sum' ? Math.max(0, Math.log(aim.most / sharpest)) : Infinity
  const lower = [...bound.map((by) => -by), -Infinity, 0]
  const upper = [...widest, most, Infinity]

  const solved = (errors: readonly number[]): StepOutcome => {
    const rows = limits.map(
      ({ columns, values, now }, i): LinearRow => ({
        columns: [...columns, brokenColumn],
        values: [...values, 1],
        least: SPARE_MM - now - (errors[i] ?? 0),
      }),
    )
    const outcome = solve({ cost, lower, upper, rows: [...rows, ...bends] })
    if (outcome.status !== 'optimal') return { ok: false, says: outcome.says }
    const { x } = outcome
    const after = cost.reduce((total, weight, i) => total + weight * (x[i] ?? 0), 0)
    const foretold = limits.map(({ columns, values, now }) =>
      columns.reduce((total, column, i) => total + (values[i] ?? 0) * (x[column] ?? 0), now),
    )
    return { ok: true, step: { design: designStepped(design, unknowns, x), promised: brokenWeight * measure.brokenMm - after, foretold } }
  }
  return {
    step: () => solved([]),
    mended: (first, changed) =>
      solved(
        limits.map(({ at }, i) => {
          const foretold = first.foretold[i] ?? 0
          return (at(changed) ?? foretold) - foretold
        }),
      ),
  }
}

/** A PI moves by at most this part of the shorter of its sides, else a short side might turn round altogether. */
const MOVE_OF_SIDE = 0.3

function moveBound(frame: Frame, shape: Shape, corner: number, { moveMm }: Trust): number {
  const beside = [shape.sides[corner], shape.sides[sideBehind(frame, shape.corners.length, corner)]]
  return Math.min(moveMm, ...beside.map((side) => MOVE_OF_SIDE * Math.abs(side?.lengthMm ?? 0)))
}

const isBent = (shape: Shape, corner: number): boolean => Math.abs(shape.corners[corner]?.turnRad ?? 0) >= STRAIGHT_RAD
