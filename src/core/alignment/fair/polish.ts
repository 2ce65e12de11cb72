import { pathPoseAt } from '../../geom/index.ts'
import type { Path } from '../../geom/types.ts'
import { easementByRule } from '../easement.ts'
import { traverseSolve } from '../traverse.ts'
import type { Traverse, TraverseCorner } from '../types.ts'
import { corridorField, fieldPlaceAt } from './corridor.ts'
import type { CorridorField } from './corridor.ts'
import { shapeOf } from './design.ts'
import type { Design, Frame, HeldLine, Shape, ShapeSide } from './design.ts'
import { designMeasure } from './measure.ts'
import type { Measure } from './measure.ts'
import { STRAIGHT, meritOf, stepModel } from './step.ts'
import type { Aim } from './step.ts'
import type { Corridor, LinearSolve } from './types.ts'

/** What all rounds of one easing share. */
export interface Work {
  readonly solve: LinearSolve
  readonly frame: Frame
  readonly corridor: Corridor
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

/** Where polishing begins, and whether it may pass through what is not allowed on the way. */
export interface Trial {
  readonly design: Design
  readonly isLoose: boolean
}

/** Nearer to a chain than asked by no more than this is rounding, mm. */
export const TOUCH_MM = 1e-3

/** Broken limits of at most this, mm, are worth being confirmed: linear programs keep them with ten times as much to spare. */
const BROKEN_MM = 2e-6

/**
 * How far apart the corridor is looked at: in radii of the sharpest curve as it is, and at most this share of the least keep, so that no
 * post slips through. Lowest places between are found anyway (measure.ts).
 */
const SAMPLE_RADII = 0.04
const SAMPLE_KEEPS = 0.5

/** How far the corridor is known round the line, in radii of its sharpest curve; and at most, mm: farther is another room. */
const REACH_RADII = 0.5
const MOST_REACH_MM = 500

/** First trust region, the largest and the least, in radii of the sharpest curve as it is; a bend's is so many times the share. */
const FIRST_STEP_RADII = 0.08
const MOST_STEP_RADII = 0.2
const LEAST_STEP_RADII = 1e-7
const BEND_PER_MOVE = 4
const MOST_BEND = 0.5

/**
 * What a mm of broken limit costs, as a share of radius. The less, the more freely the line goes round by what is not allowed; too
 * little, and it stays there: then it grows. Loose: so little that it passes through posts to see what lies beyond.
 */
const BROKEN_WEIGHT = 0.1
const LOOSE_WEIGHT = 0.004
const BROKEN_WEIGHT_GROWS = 5
const MOST_BROKEN_WEIGHT = 100

/** Rounds in which the merit must fall by a part of what counts as worth it, else no more is to be hoped for. */
const HOPE_ROUNDS = 5

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
  if (!design.lines.every((line, i) => line === null || sideIsOn(line, shape.sides[i]))) return null
  if (!alignment.ok || pathSlack(work.field, alignment.path).slackMm < -TOUCH_MM) return null
  return { design, shape, measure, traverse, path: alignment.path }
}

/** Held lines hold to this, mm: rounding of a long slide along them. */
const ON_LINE_MM = 1e-6

function sideIsOn(line: HeldLine, side: ShapeSide | undefined): boolean {
  const ends = side === undefined ? [] : [side.from, side.to]
  return ends.every((end) => Math.abs((end.y - line.at.y) * line.ux - (end.x - line.at.x) * line.uy) <= ON_LINE_MM)
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
 * Rounds of linear programs from one design, all with the same PIs, until the merit falls by less than `hope` in HOPE_ROUNDS: the best
 * line that they confirm, or null. toBeat: the merit of the best line so far; what ends up above it is given up.
 * Yields the best so far after each round. On the way limits may be broken; the merit makes that dear, and the last rounds mend it.
 */
export function* designPolish(
  work: Work,
  { design: begin, isLoose }: Trial,
  aim: Aim,
  hope: number,
  toBeat: number,
): Generator<Confirmed | null, Confirmed | null, void> {
  const { frame, scaleMm } = work
  const first = shapeOf(frame, begin)
  if (first === null) return null
  const sharpest = Math.max(...begin.corners.map(({ curvature }) => curvature))
  const field = corridorField(work.corridor, Math.max(work.field.reachMm, Math.min(REACH_RADII / sharpest, MOST_REACH_MM)))
  const stepMm = Math.max(SAMPLE_RADII * scaleMm, Math.min(SAMPLE_RADII / sharpest, SAMPLE_KEEPS * field.leastKeepMm))
  let design = begin
  let shape = first
  let measure = designMeasure(frame, design, shape, field, stepMm)
  let brokenWeight = isLoose ? LOOSE_WEIGHT : BROKEN_WEIGHT
  let merit = meritOf(aim, measure, brokenWeight)
  let best: Confirmed | null = null
  let bestMerit = Infinity
  const tried = (at: Design): { design: Design; shape: Shape; measure: Measure; merit: number } | null => {
    const bent = shapeOf(frame, at)
    if (bent === null) return null
    const measured = designMeasure(frame, at, bent, field, stepMm)
    return { design: at, shape: bent, measure: measured, merit: meritOf(aim, measured, brokenWeight) }
  }
  const keep = (): void => {
    if (measure.brokenMm > BROKEN_MM || merit >= bestMerit) return
    const confirmed = designConfirm(work, design, shape, measure)
    if (confirmed === null) return
    best = confirmed
    bestMerit = merit
  }
  keep()
  let moveMm = FIRST_STEP_RADII / sharpest
  const merits: number[] = []
  while (!workIsOver(work)) {
    merits.push(merit)
    const past = merits.at(-1 - HOPE_ROUNDS)
    if (past !== undefined && past - merit < hope) {
      // What is slow and breaks a limit is made to keep it, unless it is no better than what there is.
      if (measure.brokenMm <= BROKEN_MM || brokenWeight >= MOST_BROKEN_WEIGHT || merit > toBeat) return best
      brokenWeight *= BROKEN_WEIGHT_GROWS
      merit = meritOf(aim, measure, brokenWeight)
      merits.length = 0
    }
    const radiusMm = 1 / Math.max(measure.sharpest, STRAIGHT)
    const trust = { moveMm, bend: Math.min(MOST_BEND, (BEND_PER_MOVE * moveMm) / radiusMm) }
    const model = stepModel(frame, design, shape, measure, field, aim, brokenWeight, trust, work.solve)
    const outcome = model.step()
    work.rounds++
    yield best
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
      merits.length = 0
      continue
    }
    let next = tried(outcome.step.design)
    if (next !== null && merit - next.merit < FALLS_WELL * promised) {
      const mended = model.mended(outcome.step, next.shape)
      const other = mended.ok ? tried(mended.step.design) : null
      if (other !== null && other.merit < next.merit) next = other
    }
    const fallen = merit - (next?.merit ?? Infinity)
    if (next !== null && fallen > FALLS_ENOUGH * promised) {
      ;({ design, shape, measure, merit } = next)
      keep()
      if (fallen > FALLS_WELL * promised) moveMm = Math.min(MOST_STEP_RADII * radiusMm, moveMm * 2)
    } else {
      moveMm /= 3
      if (moveMm < LEAST_STEP_RADII * radiusMm) return best
    }
  }
  return best
}
