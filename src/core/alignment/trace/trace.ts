import type { Path, Point } from '../../geom/types.ts'
import type { Frame } from '../fair/design.ts'
import { traceBeginning } from './begin.ts'
import { pointsClean } from './clean.ts'
import { chordStations, measuredFromStraight } from './closed.ts'
import { designAgainst, designTrimmed, noLines } from './fitted.ts'
import type { Fitted } from './fitted.ts'
import { headingProfile, profileDisorder, profileStretches } from './heading.ts'
import { agreedWorst, isStray, offsetsCut, weighingOf } from './offsets.ts'
import { designRefine } from './refine.ts'
import type { Work } from './refine.ts'
import { simplified } from './simplify.ts'
import { traceSolution } from './solution.ts'
import { cornersOver, splitDesigns } from './split.ts'
import type { Measured, TraceAnswer, TraceOptions, TraceProblem, TraceProgress, TraceWish } from './types.ts'

/** Prices of a cut that are tried one after the other, in those of Schwarz: the usual one, a dear one for what scatters widely, cheap ones. */
const PRICES = [1, 3, 0.4, 0.15]

/** The same for beginnings in which every stretch that bends has a corner of its own: the last thing that is tried. */
const FINE_PRICES = [1, 0.4]

interface BeginningKind {
  readonly price: number
  readonly isFine: boolean
}

const BEGINNINGS: readonly BeginningKind[] = [
  ...PRICES.map((price) => ({ price, isFine: false })),
  ...FINE_PRICES.map((price) => ({ price, isFine: true })),
]

/** The search works on so many of the points; all of them have their say at the end. */
const SEARCH_POINTS = 900

/** Corners are split at most in so many rounds, and until there are so many. */
const MOST_SPLITS = 24
const MOST_CORNERS = 60

/**
 * Neighbouring points agree on offsets of up to so many standard errors by chance: a line that bends after these follows the noise. And
 * single points lie off by so much more than their neighbours agree on.
 */
const CHANCE_ERRORS = 3
const SINGLE_ERRORS = 1.5

/**
 * What an unknown must take off the squared errors to stay, in their standard error squared: one in four hundred by chance. On a part
 * of the points that part of it.
 */
const WORTH = 9

/**
 * The line that measured points lie on: tangents, arcs and easements, as PIs.
 *
 * A look at the headings between the points finds where it is straight and which way it bends; corners follow from that, and least
 * squares make them fit. Curves that leave points off the line are split in two, as long as that is not the scatter of the points;
 * easements and corners that the points do not ask for are taken away.
 *
 * Units:      mm.
 * Domain:     3 to 10,000 points in the order of the line; noise well under the distance of every fourth point or so.
 * Exactness:  points on such a line: to 1e-6 mm; with noise, as far as least squares see through it. Gross errors of every twentieth
 *             point do not pull.
 * Outcome:    the line with how every point lies to it; isWithin tells whether it keeps the tolerance. Or what is wrong with the points.
 * Throws:     never.
 * Source:     derived here; damped least squares after K. Levenberg 1944 and D. Marquardt 1963, weights after P. Huber 1964 (from memory).
 */
export function traceSolve(given: readonly Point[], options: TraceOptions): TraceAnswer {
  const rounds = traceRounds(given, options)
  let next = rounds.next('goOn')
  while (next.done !== true) next = rounds.next('goOn')
  return next.value
}

/** traceSolve step by step: hundreds of points of a long line take seconds. Says how far it is; stopped, it answers with the best so far. */
export function* traceRounds(given: readonly Point[], options: TraceOptions): Generator<TraceProgress, TraceAnswer, TraceWish> {
  const refuse = (problem: TraceProblem): TraceAnswer => ({ ok: false, problem })
  const clean = pointsClean(given, options)
  if (!clean.ok) return refuse(clean.problem)
  const { measured } = clean
  const turned = options.isClosed ? measuredFromStraight(measured, options) : measured
  const profile = headingProfile(turned)
  const disorder = profileDisorder(profile)
  if (disorder !== null) return refuse({ kind: 'unordered', index: measured.indices[disorder] ?? 0 })

  const search = thinned(turned)
  const work: Work = { rounds: 0, isStopped: false }
  let best: Attempt | null = null
  const { noiseMm } = measured
  const reachMm = Math.max(options.toleranceMm - SINGLE_ERRORS * noiseMm, CHANCE_ERRORS * noiseMm)
  // Where points scatter by less than the tolerance every single one of them can be kept within it.
  const canAll = CHANCE_ERRORS * noiseMm <= options.toleranceMm
  for (const beginning of BEGINNINGS) {
    const attempt = yield* traceAttempt(work, search, options, beginning, reachMm, search.points.length / turned.points.length)
    if (attempt === null) continue
    if (best === null || isBetter(attempt, best, options.toleranceMm)) best = attempt
    const isEnough = best.worstMm <= Math.max(reachMm, options.toleranceMm) && (!canAll || best.singleMm <= options.toleranceMm)
    if (isEnough || work.isStopped) break
  }
  if (best === null) {
    const corners = options.isClosed ? traceBeginning(profile, profileStretches(profile, options.toleranceMm, 1)).corners.length : 0
    return refuse(options.isClosed ? { kind: 'notClosed', corners } : { kind: 'unordered', index: measured.indices[0] ?? 0 })
  }
  const final = yield* finished(work, best.fitted, turned, options)
  return { ok: true, trace: traceSolution(final, given, turned, options, work) }
}

/** worstMm: the most that neighbours agree on. singleMm: the most of any single point that is no gross error. */
interface Attempt {
  readonly fitted: Fitted
  readonly worstMm: number
  readonly singleMm: number
}

/** One that keeps every single point within the tolerance is better than one that does not; of two alike the one off by less. */
function isBetter(attempt: Attempt, best: Attempt, toleranceMm: number): boolean {
  const keepsAll = ({ singleMm }: Attempt): boolean => singleMm <= toleranceMm
  return keepsAll(attempt) === keepsAll(best) ? attempt.worstMm < best.worstMm : keepsAll(attempt)
}

function* traceAttempt(
  work: Work,
  measured: Measured,
  options: TraceOptions,
  { price, isFine }: BeginningKind,
  reachMm: number,
  share: number,
): Generator<TraceProgress, Attempt | null, TraceWish> {
  const { points, held } = measured
  const profile = headingProfile(measured)
  const { start, end, corners } = traceBeginning(profile, profileStretches(profile, options.toleranceMm, price), isFine)
  if (options.isClosed && corners.length < 3) return null
  const frame: Frame = {
    start: { kind: 'free', at: start },
    end: options.isClosed ? { kind: 'closed' } : { kind: 'free', at: end },
    isClosed: options.isClosed,
    rule: { kind: 'none' },
    selfKeepMm: 0,
  }
  const chords = chordStations(points)
  const totalMm = chords.at(-1) ?? 1
  const expected = (i: number, path: Path): number => ((chords[i] ?? 0) / totalMm) * path.lengthMm
  const first = designAgainst(frame, noLines(corners), points, expected)
  if (first === null) return null
  const split = yield* piecesAdded(work, yield* refined(work, first, measured, options), measured, options, reachMm)
  const simple = yield* simplified(work, split, measured, options, WORTH * share)
  const { offsetsMm } = simple
  const cutMm = offsetsCut(offsetsMm, options)
  const singleMm = offsetsMm.reduce((most, offset, i) => (isStray(offsetsMm, i, cutMm) ? most : Math.max(most, Math.abs(offset))), 0)
  return { fitted: simple, worstMm: agreedWorst(offsetsMm, held), singleMm }
}

/** Least squares with all points first, then without those that plainly lie off. */
function* refined(work: Work, from: Fitted, measured: Measured, options: TraceOptions): Generator<TraceProgress, Fitted, TraceWish> {
  const { points } = measured
  const loose = yield* designRefine(work, from, points, weighingOf(Infinity, options, measured))
  const trimmed = designTrimmed(loose, points, options.toleranceMm)
  return yield* designRefine(work, trimmed, points, weighingOf(offsetsCut(trimmed.offsetsMm, options), options, measured))
}

/** A split must bring the worst place down to this part of what it was, or the squared errors. */
const SPLIT_GAIN = 0.9
const SPLIT_ERROR_GAIN = 0.7

/**
 * Curves split until all points that neighbours agree on lie within reach: first all that leave points off at once, for of several places
 * that are alike no single one brings the worst down; where that gains nothing, the worst alone.
 */
function* piecesAdded(
  work: Work,
  from: Fitted,
  measured: Measured,
  options: TraceOptions,
  reachMm: number,
): Generator<TraceProgress, Fitted, TraceWish> {
  const { held } = measured
  let fitted = from
  for (let round = 0; round < MOST_SPLITS && !work.isStopped; round++) {
    const over = cornersOver(fitted, held, reachMm)
    const [worst] = over
    if (worst === undefined || fitted.design.corners.length + over.length > MOST_CORNERS) break
    const together = yield* splitBetter(work, fitted, over, measured, options)
    const next = together ?? (over.length > 1 ? yield* splitBetter(work, fitted, [worst], measured, options) : null)
    if (next === null) break
    fitted = next
  }
  return fitted
}

/** The better of two ways of splitting some corners; null: neither gains. */
function* splitBetter(
  work: Work,
  fitted: Fitted,
  corners: readonly number[],
  measured: Measured,
  options: TraceOptions,
): Generator<TraceProgress, Fitted | null, TraceWish> {
  const { points, held } = measured
  const cutMm = offsetsCut(fitted.offsetsMm, options)
  const errorOf = ({ offsetsMm }: Fitted): number => offsetsMm.reduce((sum, offset) => sum + Math.min(offset * offset, cutMm * cutMm), 0)
  const worstOf = ({ offsetsMm }: Fitted): number => agreedWorst(offsetsMm, held)
  let best: Fitted | null = null
  for (const design of splitDesigns(fitted, corners)) {
    const { stationsMm } = fitted
    const { lengthMm } = fitted.alignment.path
    const tried = designAgainst(fitted.frame, design, points, (i, path) => ((stationsMm[i] ?? 0) * path.lengthMm) / lengthMm)
    if (tried === null) continue
    const settled: Fitted = yield* refined(work, tried, measured, options)
    if (best === null || errorOf(settled) < errorOf(best)) best = settled
  }
  if (best === null) return null
  const isWorse = worstOf(best) > worstOf(fitted) / SPLIT_GAIN
  const isGain = worstOf(best) <= SPLIT_GAIN * worstOf(fitted) || (!isWorse && errorOf(best) <= SPLIT_ERROR_GAIN * errorOf(fitted))
  return isGain ? best : null
}

/** Rounds with all points, where the search had a part of them: it ended near. */
const FINAL_ROUNDS = 6

/** The last fit, with all points. */
function* finished(work: Work, fitted: Fitted, measured: Measured, options: TraceOptions): Generator<TraceProgress, Fitted, TraceWish> {
  const { points } = measured
  const chords = chordStations(points)
  const totalMm = chords.at(-1) ?? 1
  const all = designAgainst(fitted.frame, fitted.design, points, (i, path) => ((chords[i] ?? 0) / totalMm) * path.lengthMm)
  if (all === null) return fitted
  const trimmed = designTrimmed(all, points, options.toleranceMm)
  const weighing = weighingOf(offsetsCut(all.offsetsMm, options), options, measured)
  const settled = yield* designRefine(work, trimmed, points, weighing, points.length > SEARCH_POINTS ? FINAL_ROUNDS : undefined)
  return designTrimmed(settled, points, options.toleranceMm)
}

function thinned(measured: Measured): Measured {
  const { points, indices, held, noiseMm } = measured
  const step = Math.ceil(points.length / SEARCH_POINTS)
  if (step === 1) return measured
  const isKept = (_: unknown, i: number): boolean => i % step === 0 || i === points.length - 1 || held[i] === true
  return { points: points.filter(isKept), indices: indices.filter(isKept), held: held.filter(isKept), noiseMm }
}
