import { pathPoseAt } from '../../geom/index.ts'
import { STRAIGHT_RAD } from '../corner.ts'
import { easementByRule } from '../easement.ts'
import { traverseSolve } from '../traverse.ts'
import type { Alignment, Traverse } from '../types.ts'
import { fairBound } from './bound.ts'
import { fairBinds } from './binds.ts'
import { corridorField, fieldPlaceAt } from './corridor.ts'
import { shapeOf, sideBehind, sideCount } from './design.ts'
import type { Design, DesignCorner, Frame, HeldLine } from './design.ts'
import { designMeasure } from './measure.ts'
import type { Measure } from './measure.ts'
import { cornerDropped, cornerJolts, cornerSplit, cornersMerged } from './moves.ts'
import { TOUCH_MM, designConfirm, designPolish, pathSlack, workIsOver } from './polish.ts'
import type { Confirmed, Trial, Work } from './polish.ts'
import { STRAIGHT, meritOf } from './step.ts'
import type { Aim } from './step.ts'
import type { FairAnswer, FairCorner, FairMeasure, FairProblem, FairProgress, FairRequest, LinearSolve } from './types.ts'

/** Asked for after each round: go on, or stop with the best so far. */
export type FairWish = 'goOn' | 'stop'

/** Farther than this from a chain, in radii, no step leads. */
const REACH_RADII = 0.75

/** Parts of all rounds after which no more sets of PIs are tried, so that some are left for what comes after. */
const TRIALS_OF_RADIUS = 0.6
const TRIALS_OF_SUM = 0.9

/**
 * By how much the merit must fall in a few rounds for polishing to go on: little at the end, more on the way there, and much
 * for a changed set of PIs that has yet to prove itself.
 */
const FINE_HOPE = 1e-6
const HOPE = 1e-3
const TRIAL_HOPE = 2e-2

/** By how much of itself the sharpest curvature, or the sum, must fall for a changed set of PIs to be kept. */
const WORTH = 2e-4

/** A curve within this share of the sharpest is one of the sharpest. */
const SHARPEST_SHARE = 1e-3

/**
 * Eases a line: the PIs and radii within the corridor that make the smallest radius as large as it gets, and then the sum of all
 * curvatures as small as it gets with no radius under that.
 *
 * Sequential linear programming: PIs and curvatures are moved by linear programs within a trust region; a step counts when
 * the merit truly falls, and a line when traverseSolve and a walk along it confirm it. Corners are left out, and
 * split in two, where that helps. It finds the best line near the given one; that there is no better one only a bound can tell.
 *
 * Units:      mm, rad, 1/mm.
 * Domain:     a line that works out and lies in the corridor (within 1e-3 mm), without compound curves.
 * Exactness:  never worse than given, never nearer to a chain than asked by more than 1e-3 mm. Ends, legs and held stretches stay
 *             where they are, to rounding. Same request and solver, same answer.
 * Outcome:    yields once a round; the answer is the best line so far when the rounds are used up or the caller stops.
 * Throws:     never, as long as the solver does not.
 * Source:     the linearisation is derived in step.ts; trust regions after any text on nonlinear programming (from memory).
 */
export function* fairRounds(request: FairRequest, solve: LinearSolve): Generator<FairProgress, FairAnswer, FairWish> {
  const begun = workBegin(request, solve)
  if (!begun.ok) return begun
  const { work, given } = begun
  const wide = yield* settle(work, given, { kind: 'sharpest' }, TRIALS_OF_RADIUS * request.roundsMost)
  const best = yield* settle(work, wide, { kind: 'sum', most: wide.measure.sharpest }, TRIALS_OF_SUM * request.roundsMost)
  if (work.says !== null && work.answers === 0) return { ok: false, problem: { kind: 'solverFailed', says: work.says } }
  return {
    ok: true,
    fair: {
      traverse: best.traverse,
      corners: best.design.corners.map((corner, i) => fairCorner(corner, best, i)),
      before: fairMeasure(given),
      after: fairMeasure(best),
      binds: fairBinds(best, work.frame, work.field, request.corridor),
      bound: fairBound(request, given.path),
      rounds: work.rounds,
      ended: work.isStopped ? 'stopped' : workIsOver(work) ? 'budget' : 'settled',
    },
  }
}

type Begun = { readonly ok: true; readonly work: Work; readonly given: Confirmed } | { readonly ok: false; readonly problem: FairProblem }

function workBegin(request: FairRequest, solve: LinearSolve): Begun {
  const refuse = (problem: FairProblem): Begun => ({ ok: false, problem })
  for (const [i, { points, keepsMm }] of request.corridor.chains.entries()) {
    const isFinite = keepsMm.every(Number.isFinite) && points.every(({ x, y }) => Number.isFinite(x) && Number.isFinite(y))
    if (!isFinite) return refuse({ kind: 'notFinite', where: `chain ${i}` })
  }
  const alignment = traverseSolve(requestTraverse(request))
  if (!alignment.ok) return refuse({ kind: 'lineUnsolved', problems: alignment.problems })
  const frame: Frame = { start: request.start, end: request.end, isClosed: alignment.isClosed, rule: request.easementRule, selfKeepMm: 0 }
  const radii = alignment.corners.flatMap(({ solution }) => (Math.abs(solution.deflectionRad) < STRAIGHT_RAD ? [] : [solution.radiusMm]))
  if (radii.length === 0) return refuse({ kind: 'noCurve' })
  const leastMm = Math.min(...radii)
  const field = corridorField(request.corridor, REACH_RADII * leastMm)
  const slack = pathSlack(field, alignment.path)
  if (slack.slackMm < -TOUCH_MM) {
    const { x, y } = pathPoseAt(alignment.path, slack.stationMm)
    const label = request.corridor.chains[fieldPlaceAt(field, x, y).chain ?? -1]?.label ?? ''
    return refuse({ kind: 'outside', at: { x, y }, stationMm: slack.stationMm, byMm: -slack.slackMm, label })
  }
  const design = designGiven(request, frame, alignment, leastMm)
  const shape = shapeOf(frame, design)
  const looked = shape && designMeasure({ ...frame, selfKeepMm: request.selfKeepMm }, design, shape, field, SELF_STEP_MM)
  const work: Work = {
    solve,
    frame: { ...frame, selfKeepMm: selfKeep(request, looked) },
    corridor: request.corridor,
    field,
    scaleMm: leastMm,
    roundsMost: request.roundsMost,
    rounds: 0,
    isStopped: false,
    says: null,
    answers: 0,
  }
  const measure = shape && designMeasure(work.frame, design, shape, field, leastMm)
  const given = shape && measure && designConfirm(work, design, shape, measure)
  // Only a line that stands on the very edge of its limits could be lost by writing it down anew; it is no better for being eased.
  if (given === null) return refuse({ kind: 'lineUnsolved', problems: [] })
  return { ok: true, work, given }
}

/** Step at which the line as given is looked at beside itself, mm. */
const SELF_STEP_MM = 4

/** What the line keeps from itself: what is asked, or what it has if that is less; a line that crosses itself keeps nothing. */
function selfKeep({ selfKeepMm }: FairRequest, looked: Measure | null): number {
  const hasMm = Math.min(...(looked?.pairs ?? []).map(({ distanceMm }) => distanceMm)) - SELF_SPARE_MM
  return hasMm >= selfKeepMm ? selfKeepMm : hasMm > 1 ? hasMm : 0
}

/** Error of a distance that is taken to the tangent beside, mm. */
const SELF_SPARE_MM = 0.05

/** The traverse of a request, its easements by class filled in. */
function requestTraverse({ start, corners, end, easementRule }: FairRequest): Traverse {
  return {
    start,
    end,
    corners: corners.map(({ id, x, y, radiusMm, easementIn, easementOut }, i) => {
      const rule = radiusMm === null ? null : easementByRule(easementRule, radiusMm)
      const length = (easement: number | 'class'): number =>
        easement === 'class' ? (rule?.ok === true ? rule.lengthMm : Number.NaN) : easement
      return { id: id ?? `corner-${i}`, x, y, radiusMm, easementInMm: length(easementIn), easementOutMm: length(easementOut) }
    }),
  }
}

function designGiven(request: FairRequest, frame: Frame, alignment: Alignment & { readonly ok: true }, leastMm: number): Design {
  const count = request.corners.length
  const corners = request.corners.map((source, i): DesignCorner => {
    const place = alignment.corners[i]
    const isStraight = place === undefined || Math.abs(place.solution.deflectionRad) < STRAIGHT_RAD
    const radiusMm = isStraight ? Math.max(source.radiusMm ?? 0, leastMm) : place.solution.radiusMm
    return { source, at: place?.pi ?? source, curvature: 1 / radiusMm, isHeld: request.heldCorners.includes(i) }
  })
  const heldSides = new Set(request.heldCorners.flatMap((i) => [i, sideBehind(frame, count, i)]))
  const lines = Array.from({ length: sideCount(frame, count) }, (_, side): HeldLine | null => {
    const from = alignment.polygon[frame.isClosed ? (side + count - 1) % count : side]
    const to = alignment.polygon[frame.isClosed ? side : side + 1]
    if (from === undefined || to === undefined) return null
    const stretches = request.held.filter((held) => held.side === side)
    const fromMm = Math.min(...stretches.map((held) => held.fromMm))
    const toMm = Math.max(...stretches.map((held) => held.toMm))
    const stretch = stretches.length > 0 ? { fromMm, toMm } : { fromMm: 0, toMm: 0 }
    const headingRad =
      side === 0 && request.start.kind === 'leg' && !frame.isClosed
        ? request.start.pose.headingRad
        : side === count && request.end.kind === 'leg'
          ? request.end.pose.headingRad + Math.PI
          : stretches.length > 0 || heldSides.has(side)
            ? Math.atan2(to.y - from.y, to.x - from.x)
            : null
    return headingRad === null ? null : { at: from, ux: Math.cos(headingRad), uy: Math.sin(headingRad), ...stretch }
  })
  return { corners, lines }
}

/** Polishes, then tries other sets of PIs, until nothing helps; last, polishes finely. Never worse than what it begins with. */
function* settle(work: Work, begin: Confirmed, aim: Aim, trialsUntil: number): Generator<FairProgress, Confirmed, FairWish> {
  const isOver = (): boolean => workIsOver(work) || work.rounds >= trialsUntil
  let best = yield* polished(work, begin, tight(begin.design), aim, HOPE)
  for (let isBetter = true; isBetter && !isOver(); ) {
    isBetter = false
    for (const trial of designTrials(work, best, aim)) {
      if (isOver()) break
      const tried = yield* polished(work, best, trial, aim, TRIAL_HOPE)
      if (!isWorth(aim, tried, best)) continue
      best = yield* polished(work, tried, tight(tried.design), aim, HOPE)
      isBetter = true
      break
    }
  }
  return yield* polished(work, best, tight(best.design), aim, FINE_HOPE)
}

function* polished(work: Work, best: Confirmed, from: Trial, aim: Aim, hope: number): Generator<FairProgress, Confirmed, FairWish> {
  const polish = designPolish(work, from, aim, hope, meritOf(aim, best.measure, 0))
  for (;;) {
    const next = polish.next()
    const better = next.value !== null && isBetterThan(aim, next.value, best) ? next.value : best
    if (next.done === true) return better
    const wish = yield { rounds: work.rounds, roundsMost: work.roundsMost, minRadiusMm: fairMeasure(better).minRadiusMm }
    if (wish === 'stop') work.isStopped = true
  }
}

/**
 * Other beginnings: two corners of one hand made one; one left out, the least turning first; one of the sharpest split in two; the same
 * corners, but through what is not allowed; one shoved, the sharpest first.
 */
function designTrials({ frame }: Work, { design, shape, measure }: Confirmed, aim: Aim): readonly Trial[] {
  const turnOf = (i: number): number => Math.abs(shape.corners[i]?.turnRad ?? 0)
  const bendOf = (i: number): number => shape.corners[i]?.curvature ?? 0
  const corners = [...shape.corners.keys()]
  const byTurn = corners.toSorted((a, b) => turnOf(a) - turnOf(b))
  const sharpest = byTurn.filter((i) => bendOf(i) >= measure.sharpest * (1 - SHARPEST_SHARE))
  const fewer = [
    ...byTurn.flatMap((i) => cornersMerged(frame, design, shape, i) ?? []),
    ...byTurn.flatMap((i) => cornerDropped(frame, design, i) ?? []),
  ].map(tight)
  if (aim.kind === 'sum') return fewer
  return [
    ...fewer,
    ...sharpest.flatMap((i) => cornerSplit(frame, design, shape, i) ?? []).map(tight),
    { design, isLoose: true },
    ...corners.toSorted((a, b) => bendOf(b) - bendOf(a)).flatMap((i) => cornerJolts(frame, design, shape, i).map(tight)),
  ]
}

const tight = (design: Design): Trial => ({ design, isLoose: false })

function isBetterThan(aim: Aim, one: Confirmed, other: Confirmed): boolean {
  if (aim.kind === 'sum') return one.measure.sharpest <= aim.most * (1 + ROUNDING) && one.measure.sum < other.measure.sum
  if (one.measure.sharpest !== other.measure.sharpest) return one.measure.sharpest < other.measure.sharpest
  return one.measure.sum < other.measure.sum
}

const ROUNDING = 1e-9

function isWorth(aim: Aim, one: Confirmed, other: Confirmed): boolean {
  const value = ({ measure }: Confirmed): number => (aim.kind === 'sum' ? measure.sum : measure.sharpest)
  return value(one) < value(other) * (1 - WORTH)
}

function fairCorner({ source, at, curvature }: DesignCorner, best: Confirmed, index: number): FairCorner {
  const { id, easementIn, easementOut } = source
  if (source.radiusMm !== null) return { id, x: at.x, y: at.y, radiusMm: 1 / curvature, easementIn, easementOut }
  const corner = best.traverse.corners[index]
  return { id, x: at.x, y: at.y, radiusMm: null, easementIn: corner?.easementInMm ?? 0, easementOut: corner?.easementOutMm ?? 0 }
}

function fairMeasure({ path, design, shape }: Confirmed): FairMeasure {
  let sharpest = 0
  let sum = 0
  for (const { turnRad, curvature } of shape.corners) {
    if (Math.abs(turnRad) < STRAIGHT_RAD) continue
    sharpest = Math.max(sharpest, curvature)
    sum += curvature
  }
  return {
    minRadiusMm: 1 / Math.max(sharpest, STRAIGHT),
    curvatureVariation: 2 * sum,
    lengthMm: path.lengthMm,
    corners: design.corners.length,
  }
}
