import { pointDistance } from '../../geom/index.ts'
import type { Path, Point } from '../../geom/types.ts'
import type { Design, DesignCorner, Frame } from '../fair/design.ts'
import { cornerSplit } from '../fair/moves.ts'
import { traceBeginning, traceCorner } from './begin.ts'
import { pointsClean } from './clean.ts'
import { headingProfile, profileDisorder, profileStretches } from './heading.ts'
import { agreedWorst, designAgainst, designRefine, designTraverse, frameTrimmed, offsetsError, stationOwner } from './refine.ts'
import type { Fitted, Weighing, Work } from './refine.ts'
import type { Measured, TraceAnswer, TraceOptions, TraceProblem, TraceProgress, TraceResidual, TraceSolution, TraceWish } from './types.ts'

/** Prices of a cut that are tried one after the other, in those of Schwarz: dear cuts first, for fewer corners are better. */
const PRICES = [1, 0.4, 0.15]

/** The search works on so many of the points; all of them have their say at the end. */
const SEARCH_POINTS = 900

/** A point is an outlier beyond so many tolerances and so many standard errors of the rest. */
const OUTLIER_TOLERANCES = 2
const OUTLIER_ERRORS = 5

/** Corners are split at most so often. */
const MOST_SPLITS = 24

/**
 * What an unknown must take off the squared errors to stay, in their standard error squared: one in four hundred by chance. On a part
 * of the points that part of it.
 */
const WORTH = 9

/**
 * The line that measured points lie on: tangents, arcs and easements, as PIs.
 *
 * A look at the headings between the points finds where it is straight and which way it bends; corners follow from that, and least
 * squares make them fit. A curve that leaves points off the line is split in two; easements and corners that the points do not
 * ask for are taken away.
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
  for (const price of PRICES) {
    const attempt = yield* traceAttempt(work, search, options, price, search.points.length / turned.points.length)
    if (attempt === null) continue
    if (best === null || attempt.worstMm < best.worstMm) best = attempt
    if (best.worstMm <= options.toleranceMm || work.isStopped) break
  }
  if (best === null) {
    const corners = options.isClosed ? traceBeginning(profile, profileStretches(profile, options.toleranceMm, 1)).corners.length : 0
    return refuse(options.isClosed ? { kind: 'notClosed', corners } : { kind: 'unordered', index: measured.indices[0] ?? 0 })
  }
  const final = yield* finished(work, best.fitted, turned, options)
  return { ok: true, trace: solution(final, given, turned, options, work) }
}

interface Attempt {
  readonly fitted: Fitted
  readonly worstMm: number
}

function cutOf(fitted: Fitted, { toleranceMm }: TraceOptions): number {
  return Math.max(OUTLIER_TOLERANCES * toleranceMm, OUTLIER_ERRORS * offsetsError(fitted.offsetsMm))
}

/** Offsets under this part of the tolerance are weighed alike. */
const EVEN_TOLERANCE = 0.05

const weighingOf = (cutMm: number, { toleranceMm }: TraceOptions, { held }: Measured): Weighing => ({
  cutMm,
  evenMm: EVEN_TOLERANCE * toleranceMm,
  held,
})

function* traceAttempt(
  work: Work,
  measured: Measured,
  options: TraceOptions,
  price: number,
  share: number,
): Generator<TraceProgress, Attempt | null, TraceWish> {
  const { points, held } = measured
  const profile = headingProfile(measured)
  const { start, end, corners } = traceBeginning(profile, profileStretches(profile, options.toleranceMm, price))
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
  function* refined(from: Fitted): Generator<TraceProgress, Fitted, TraceWish> {
    const loose = yield* designRefine(work, from, points, weighingOf(Infinity, options, measured))
    const trimmed = designTrimmed(loose, points, options)
    return yield* designRefine(work, trimmed, points, weighingOf(cutOf(trimmed, options), options, measured))
  }
  const worstOf = (one: Fitted): number => agreedWorst(one.offsetsMm, held).worstMm
  let fitted = yield* refined(first)
  for (let split = 0; split < MOST_SPLITS && !work.isStopped; split++) {
    const { worstMm, index } = agreedWorst(fitted.offsetsMm, held)
    if (worstMm <= options.toleranceMm) break
    const owner = stationOwner(fitted, fitted.stationsMm[index] ?? 0)
    const beside = owner.kind === 'corner' ? [owner.index] : [owner.index - 1, owner.index]
    const candidates: Fitted[] = []
    for (const design of beside.flatMap((corner) => splitDesigns(fitted, corner))) {
      const tried = designAgainst(fitted.frame, design, points, expected)
      if (tried !== null) candidates.push(yield* refined(tried))
    }
    const next = candidates.toSorted((a, b) => worstOf(a) - worstOf(b))[0]
    if (next === undefined || worstOf(next) > SPLIT_GAIN * worstMm) break
    fitted = next
  }
  const simple = yield* simplified(work, fitted, measured, options, WORTH * share)
  return { fitted: simple, worstMm: worstOf(simple) }
}

/** A split must bring the worst place down to this part of what it was. */
const SPLIT_GAIN = 0.9

const noLines = (corners: readonly DesignCorner[]): Design => ({ corners, lines: [] })

/** Two ways of having two corners for one: back to back without easements between, and with short ones. */
function splitDesigns({ frame, design, shape }: Fitted, corner: number): readonly Design[] {
  const split = cornerSplit(frame, design, shape, corner)
  if (split === null) return []
  const bent = shape.corners[corner]
  const shortMm = bent === undefined ? 0 : (INNER_EASEMENT * Math.abs(bent.turnRad)) / bent.curvature
  return [0, shortMm].map((innerMm) =>
    noLines(
      split.corners.map((one, i) => {
        const into = Number(one.source.easementIn)
        const out = Number(one.source.easementOut)
        if (i === corner) return traceCorner(one.at, 1 / one.curvature, into, innerMm)
        return i === corner + 1 ? traceCorner(one.at, 1 / one.curvature, innerMm, out) : one
      }),
    ),
  )
}

/** Easements between two curves that were one begin as this part of its length. */
const INNER_EASEMENT = 0.1

function designTrimmed(fitted: Fitted, points: readonly Point[], { toleranceMm }: TraceOptions): Fitted {
  const { frame, design, stationsMm, offsetsMm, alignment } = fitted
  const usual = Math.max(toleranceMm, 3 * offsetsError(offsetsMm))
  const good = points.filter((_, i) => Math.abs(offsetsMm[i] ?? 0) <= usual)
  const first = good[0] ?? points[0]
  const last = good.at(-1) ?? points.at(-1)
  if (frame.isClosed || first === undefined || last === undefined) return fitted
  const trimmed = frameTrimmed(fitted, first, last)
  const { lengthMm } = alignment.path
  return designAgainst(trimmed, design, points, (i, path) => ((stationsMm[i] ?? 0) * path.lengthMm) / lengthMm) ?? fitted
}

/** Takes away easements and corners that the points do not ask for. */
function* simplified(
  work: Work,
  from: Fitted,
  measured: Measured,
  options: TraceOptions,
  worth: number,
): Generator<TraceProgress, Fitted, TraceWish> {
  const { points, held } = measured
  let fitted = from
  const cutMm = cutOf(fitted, options)
  const errorOf = (one: Fitted): number => one.offsetsMm.reduce((sum, offset) => sum + Math.min(offset * offset, cutMm * cutMm), 0)
  function* attempt(design: Design): Generator<TraceProgress, boolean, TraceWish> {
    const { stationsMm, alignment } = fitted
    const tried = designAgainst(fitted.frame, design, points, (i, path) => ((stationsMm[i] ?? 0) * path.lengthMm) / alignment.path.lengthMm)
    if (tried === null) return false
    const refined = yield* designRefine(work, tried, points, weighingOf(cutMm, options, measured), SIMPLE_ROUNDS)
    const variance = Math.max(offsetsError(fitted.offsetsMm), NEGLIGIBLE_MM) ** 2
    const isWorse = errorOf(refined) - errorOf(fitted) > worth * variance
    const worstMm = agreedWorst(fitted.offsetsMm, held).worstMm
    if (isWorse || agreedWorst(refined.offsetsMm, held).worstMm > Math.max(options.toleranceMm, worstMm)) return false
    fitted = refined
    return true
  }
  for (let i = fitted.design.corners.length - 1; i >= 0 && !work.isStopped; i--) {
    const { corners } = fitted.design
    const one = corners[i]
    if (one === undefined) continue
    if (Math.abs(fitted.shape.corners[i]?.turnRad ?? 0) < SMALL_TURN_RAD && corners.length > (options.isClosed ? 3 : 0)) {
      if (yield* attempt(noLines(corners.filter((_, n) => n !== i)))) continue
    }
    const [into, out] = [Number(one.source.easementIn), Number(one.source.easementOut)]
    const withEasements = (easementIn: number, easementOut: number): Design =>
      noLines(corners.map((corner, n) => (n === i ? traceCorner(one.at, 1 / one.curvature, easementIn, easementOut) : corner)))
    if (into === 0 && out === 0) continue
    if (yield* attempt(withEasements(0, 0))) continue
    if (into > 0 && attempt(withEasements(0, out))) continue
    if (out > 0) yield* attempt(withEasements(into, 0))
  }
  return fitted
}

const SIMPLE_ROUNDS = 8

/** Errors under this are rounding, mm. */
const NEGLIGIBLE_MM = 1e-7

/** Corners that turn less than this, rad, are asked whether they are needed. */
const SMALL_TURN_RAD = 0.12

/** The last fit, with all points. */
function* finished(work: Work, fitted: Fitted, measured: Measured, options: TraceOptions): Generator<TraceProgress, Fitted, TraceWish> {
  const { points } = measured
  const chords = chordStations(points)
  const totalMm = chords.at(-1) ?? 1
  const all = designAgainst(fitted.frame, fitted.design, points, (i, path) => ((chords[i] ?? 0) / totalMm) * path.lengthMm)
  if (all === null) return fitted
  const trimmed = designTrimmed(all, points, options)
  const refined = yield* designRefine(work, trimmed, points, weighingOf(cutOf(all, options), options, measured))
  return designTrimmed(refined, points, options)
}

function chordStations(points: readonly Point[]): readonly number[] {
  let alongMm = 0
  return points.map((point, i) => {
    alongMm += pointDistance(point, points[i - 1] ?? point)
    return alongMm
  })
}

function thinned(measured: Measured): Measured {
  const { points, indices, held, noiseMm } = measured
  const step = Math.ceil(points.length / SEARCH_POINTS)
  if (step === 1) return measured
  const isKept = (_: unknown, i: number): boolean => i % step === 0 || i === points.length - 1 || held[i] === true
  return { points: points.filter(isKept), indices: indices.filter(isKept), held: held.filter(isKept), noiseMm }
}

/** Points of a closed line, begun anew in the middle of its longest straight and ended there too. */
function measuredFromStraight({ points, indices, held, noiseMm }: Measured, { toleranceMm }: TraceOptions): Measured {
  const round = {
    points: [...points, ...points, ...points.slice(0, 1)],
    indices: [...indices, ...indices, ...indices.slice(0, 1)],
    held: [...held, ...held, ...held.slice(0, 1)],
    noiseMm,
  }
  const stretches = profileStretches(headingProfile(round), toleranceMm, 1).filter(({ hand }) => hand === 0)
  const longest = stretches.toSorted((a, b) => b.toMm - b.fromMm - (a.toMm - a.fromMm))[0]
  const chords = chordStations(round.points)
  const middleMm = longest === undefined ? 0 : (longest.fromMm + longest.toMm) / 2
  const at =
    Math.max(
      0,
      chords.findIndex((chord) => chord >= middleMm),
    ) % points.length
  const order = [...points.keys()].map((i) => (i + at) % points.length)
  const turn = <T>(list: readonly T[]): T[] => [...order, order[0] ?? 0].flatMap((i) => list.slice(i, i + 1))
  return { points: turn(points), indices: turn(indices), held: turn(held), noiseMm }
}

function solution(fitted: Fitted, given: readonly Point[], turned: Measured, options: TraceOptions, work: Work): TraceSolution {
  const { path } = fitted.alignment
  // Where the kept points lie tells where their neighbours are looked for.
  const known = new Map(turned.indices.map((index, i) => [index, fitted.stationsMm[i] ?? 0]))
  const expected = given.map((_, index) => {
    for (let apart = 0; apart < given.length; apart++) {
      const station = known.get(index - apart) ?? known.get(index + apart)
      if (station !== undefined) return station
    }
    return 0
  })
  const all = designAgainst(fitted.frame, fitted.design, given, (i) => expected[i] ?? 0) ?? fitted
  const cutMm = cutOf(fitted, options)
  const residuals = given.map((_, index): TraceResidual => {
    const offsetMm = all.offsetsMm[index] ?? 0
    const isOutlier = Math.abs(offsetMm) > cutMm && options.verdicts?.has(index) !== true
    return { index, stationMm: all.stationsMm[index] ?? 0, offsetMm, isOutlier }
  })
  const isGood = ({ index, isOutlier }: TraceResidual): boolean => !isOutlier && options.verdicts?.get(index) !== 'leftOut'
  const good = residuals.filter(isGood).map(({ offsetMm }) => Math.abs(offsetMm))
  const worstMm = good.reduce((most, offset) => Math.max(most, offset), 0)
  return {
    traverse: designTraverse(fitted.frame, fitted.design),
    path,
    residuals,
    outliers: residuals.flatMap(({ index, isOutlier }) => (isOutlier ? [index] : [])),
    rmsMm: Math.sqrt(good.reduce((sum, offset) => sum + offset * offset, 0) / Math.max(1, good.length)),
    worstMm,
    isWithin: worstMm <= options.toleranceMm,
    rounds: work.rounds,
    ended: work.isStopped ? 'stopped' : 'settled',
  }
}
