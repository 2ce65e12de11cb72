import { pathPoseAt } from '../../geom/index.ts'
import type { Path } from '../../geom/types.ts'
import { easementByRule } from '../easement.ts'
import { traverseSolve } from '../traverse.ts'
import type { Traverse, TraverseCorner } from '../types.ts'
import { fieldPlaceAt } from './corridor.ts'
import type { CorridorField } from './corridor.ts'
import { shapeOf } from './design.ts'
import type { Design, Frame, Shape } from './design.ts'
import { designMeasure } from './measure.ts'
import type { Measure } from './measure.ts'
import { meritOf, stepSolve } from './step.ts'
import type { Aim } from './step.ts'
import type { LinearSolve } from './types.ts'

/** What all rounds of one easing share. */
export interface Work {
  readonly solve: LinearSolve
  readonly frame: Frame
  readonly field: CorridorField
  /** Radius of the sharpest curve as given, mm: steps and samples are scaled by it. */
  readonly scaleMm: number
  readonly roundsMost: number
  rounds: number
  isStopped: boolean
  /** The solver's word when it last had no answer, and how often it had one. */
  says: string | null
  answers: number
}

/** A design that keeps all limits, as the exact solver has confirmed. */
export interface Confirmed {
  readonly design: Design
  readonly shape: Shape
  readonly measure: Measure
  readonly traverse: Traverse
  readonly path: Path
}

/** Nearer to a chain than asked by no more than this is rounding, mm. */
export const TOUCH_MM = 1e-3

/** Broken limits of at most this, mm, are worth being confirmed: linear programs keep them with ten times as much to spare. */
const BROKEN_MM = 2e-6

/** How far apart the corridor is looked at, in radii; lowest places between are found anyway (measure.ts). */
const SAMPLE_RADII = 0.04

/** First trust region, the largest and the least, in radii; a bend's is so many times the share that a move is of the radius. */
const FIRST_STEP_RADII = 0.08
const MOST_STEP_RADII = 0.2
const LEAST_STEP_RADII = 1e-7
const BEND_PER_MOVE = 4
const MOST_BEND = 0.5

/**
 * What a mm of broken limit costs, as a share of radius. The less, the more freely the line goes round by what is not allowed; too
 * little, and it stays there: then it grows.
 */
const BROKEN_WEIGHT = 0.1
const BROKEN_WEIGHT_GROWS = 10
const MOST_BROKEN_WEIGHT = 100

/** A merit that would fall by less than this is settled. */
const SETTLED = 1e-7

/** A step counts when the merit falls by at least this part of what the linear model promised; from the second on the next may be longer. */
const FALLS_ENOUGH = 0.1
const FALLS_WELL = 0.7

export const workIsOver = ({ rounds, roundsMost, isStopped }: Work): boolean => isStopped || rounds >= roundsMost

/** The exact line of a design; null when it does not work out, or touches a chain. */
export function designConfirm(work: Work, design: Design, shape: Shape, measure: Measure): Confirmed | null {
  const traverse = designTraverse(work.frame, design, shape)
  if (traverse === null) return null
  const alignment = traverseSolve(traverse)
  if (!alignment.ok || pathSlack(work.field, alignment.path).slackMm < -TOUCH_MM) return null
  return { design, shape, measure, traverse, path: alignment.path }
}

/** The traverse that a design stands for; null where the class has no easement for a radius. */
export function designTraverse(frame: Frame, design: Design, shape: Shape): Traverse | null {
  const corners: TraverseCorner[] = []
  for (const [i, { source, at, curvature }] of design.corners.entries()) {
    const bent = shape.corners[i]
    const isEasementOnly = source.radiusMm === null
    const radiusMm = isEasementOnly ? null : 1 / curvature
    const length = (easement: number | 'class', solvedMm: number | undefined): number | null => {
      if (isEasementOnly) return solvedMm ?? 0
      if (easement !== 'class') return easement
      const result = easementByRule(frame.rule, 1 / curvature)
      return result.ok ? result.lengthMm : null
    }
    const easementInMm = length(source.easementIn, bent?.into.lengthMm)
    const easementOutMm = length(source.easementOut, bent?.out.lengthMm)
    if (easementInMm === null || easementOutMm === null) return null
    corners.push({ id: source.id ?? `eased-${i}`, x: at.x, y: at.y, radiusMm, easementInMm, easementOutMm })
  }
  return { start: frame.start, corners, end: frame.end }
}

/** Shortest stride of the walk, mm: a chain's corner that pokes in between two of them does so by less than TOUCH_MM wherever it is not a needle. */
const STRIDE_MM = 0.5

/** The place of a path with the least slack to the corridor, by a walk that strides as far as the slack allows. */
export function pathSlack(field: CorridorField, path: Path): { readonly slackMm: number; readonly stationMm: number } {
  let least = { slackMm: field.reachMm, stationMm: 0 }
  for (let stationMm = 0; ; ) {
    const { x, y } = pathPoseAt(path, stationMm)
    const { slackMm } = fieldPlaceAt(field, x, y)
    if (slackMm < least.slackMm) least = { slackMm, stationMm }
    if (stationMm >= path.lengthMm) return least
    stationMm = Math.min(path.lengthMm, stationMm + Math.max(STRIDE_MM, slackMm))
  }
}

/**
 * Rounds of linear programs from one design, all with the same PIs: the best line that they confirm, or null.
 * Yields after each round. On the way limits may be broken; the merit makes that dear, and the last rounds mend it.
 */
export function* designPolish(work: Work, begin: Design, aim: Aim, roundsMost: number): Generator<void, Confirmed | null, void> {
  const { frame, field, scaleMm } = work
  const stepMm = SAMPLE_RADII * scaleMm
  const first = shapeOf(frame, begin)
  if (first === null) return null
  let design = begin
  let shape = first
  let measure = designMeasure(frame, design, shape, field, stepMm)
  let brokenWeight = BROKEN_WEIGHT
  let merit = meritOf(aim, measure, brokenWeight)
  let best: Confirmed | null = null
  let bestMerit = Infinity
  const keep = (): void => {
    if (measure.brokenMm > BROKEN_MM || merit >= bestMerit) return
    const confirmed = designConfirm(work, design, shape, measure)
    if (confirmed === null) return
    best = confirmed
    bestMerit = merit
  }
  keep()
  let stepRadii = FIRST_STEP_RADII
  for (let round = 0; round < roundsMost && !workIsOver(work); round++) {
    const trust = { moveMm: stepRadii * scaleMm, bend: Math.min(MOST_BEND, BEND_PER_MOVE * stepRadii) }
    const outcome = stepSolve(frame, design, shape, measure, field, aim, brokenWeight, trust, work.solve)
    work.rounds++
    yield
    if (!outcome.ok) {
      work.says = outcome.says
      return best
    }
    work.answers++
    const { promised } = outcome.step
    if (promised < SETTLED) {
      if (measure.brokenMm <= BROKEN_MM || brokenWeight >= MOST_BROKEN_WEIGHT) return best
      brokenWeight *= BROKEN_WEIGHT_GROWS
      merit = meritOf(aim, measure, brokenWeight)
      continue
    }
    const nextShape = shapeOf(frame, outcome.step.design)
    const nextMeasure = nextShape && designMeasure(frame, outcome.step.design, nextShape, field, stepMm)
    const nextMerit = nextMeasure === null ? Infinity : meritOf(aim, nextMeasure, brokenWeight)
    const fallen = merit - nextMerit
    if (nextShape !== null && nextMeasure !== null && fallen > FALLS_ENOUGH * promised) {
      design = outcome.step.design
      shape = nextShape
      measure = nextMeasure
      merit = nextMerit
      keep()
      if (fallen > FALLS_WELL * promised) stepRadii = Math.min(MOST_STEP_RADII, stepRadii * 2)
    } else {
      stepRadii /= 3
      if (stepRadii < LEAST_STEP_RADII) return best
    }
  }
  return best
}
