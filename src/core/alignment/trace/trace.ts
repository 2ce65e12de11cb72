import { pointDistance } from '../../geom/index.ts'
import type { Path, Point } from '../../geom/types.ts'
import type { Design, DesignCorner, Frame } from '../fair/design.ts'
import { cornerSplit } from '../fair/moves.ts'
import { traceBeginning, traceCorner } from './begin.ts'
import { pointsClean } from './clean.ts'
import { headingProfile, profileDisorder, profileStretches } from './heading.ts'
import { designAgainst, designRefine, designTraverse, frameTrimmed, offsetsError, stationOwner } from './refine.ts'
import type { Fitted, Weighing } from './refine.ts'
import type { Measured, TraceAnswer, TraceOptions, TraceProblem, TraceResidual, TraceSolution } from './types.ts'

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
  const refuse = (problem: TraceProblem): TraceAnswer => ({ ok: false, problem })
  const clean = pointsClean(given, options)
  if (!clean.ok) return refuse(clean.problem)
  const { measured } = clean
  const turned = options.isClosed ? measuredFromStraight(measured, options) : measured
  const profile = headingProfile(turned)
  const disorder = profileDisorder(profile)
  if (disorder !== null) return refuse({ kind: 'unordered', index: measured.indices[disorder] ?? 0 })

  const search = thinned(turned)
  let best: Attempt | null = null
  let rounds = 0
  for (const price of PRICES) {
    const attempt = traceAttempt(search, options, price, search.points.length / turned.points.length)
    if (attempt === null) continue
    rounds += attempt.rounds
    if (best === null || attempt.worstMm < best.worstMm) best = attempt
    if (best.worstMm <= options.toleranceMm) break
  }
  if (best === null) {
    const corners = options.isClosed ? traceBeginning(profile, profileStretches(profile, options.toleranceMm, 1)).corners.length : 0
    return refuse(options.isClosed ? { kind: 'notClosed', corners } : { kind: 'unordered', index: measured.indices[0] ?? 0 })
  }
  const final = finished(best.fitted, turned, options)
  return { ok: true, trace: solution(final.fitted, given, turned, options, rounds + final.rounds) }
}

interface Attempt {
  readonly fitted: Fitted
  readonly worstMm: number
  readonly rounds: number
}

const median3 = (a: number, b: number, c: number): number => Math.max(Math.min(a, b), Math.min(Math.max(a, b), c))

/** The largest offset that a point and its neighbours agree on: one stray point alone says nothing. */
function agreedWorst(offsetsMm: readonly number[]): { readonly worstMm: number; readonly index: number } {
  let worst = { worstMm: 0, index: 0 }
  for (const [i, offset] of offsetsMm.entries()) {
    const agreed = Math.abs(median3(offsetsMm[i - 1] ?? 0, offset, offsetsMm[i + 1] ?? 0))
    if (agreed > worst.worstMm) worst = { worstMm: agreed, index: i }
  }
  return worst
}

function cutOf(fitted: Fitted, { toleranceMm }: TraceOptions): number {
  return Math.max(OUTLIER_TOLERANCES * toleranceMm, OUTLIER_ERRORS * offsetsError(fitted.offsetsMm))
}

/** Offsets under this part of the tolerance are weighed alike. */
const EVEN_TOLERANCE = 0.05

const weighingOf = (cutMm: number, { toleranceMm }: TraceOptions): Weighing => ({ cutMm, evenMm: EVEN_TOLERANCE * toleranceMm })

function traceAttempt(measured: Measured, options: TraceOptions, price: number, share: number): Attempt | null {
  const { points } = measured
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
  let rounds = 0
  const refined = (from: Fitted): Fitted => {
    const loose = designRefine(from, points, weighingOf(Infinity, options))
    const trimmed = designTrimmed(loose.fitted, points, options)
    const tight = designRefine(trimmed, points, weighingOf(cutOf(trimmed, options), options))
    rounds += loose.rounds + tight.rounds
    return tight.fitted
  }
  let fitted = refined(first)
  for (let split = 0; split < MOST_SPLITS; split++) {
    const { worstMm, index } = agreedWorst(fitted.offsetsMm)
    if (worstMm <= options.toleranceMm) break
    const owner = stationOwner(fitted, fitted.stationsMm[index] ?? 0)
    const beside = owner.kind === 'corner' ? [owner.index] : [owner.index - 1, owner.index]
    const candidates = beside
      .flatMap((corner) => splitDesigns(fitted, corner))
      .flatMap((design) => {
        const tried = designAgainst(fitted.frame, design, points, expected)
        return tried === null ? [] : [refined(tried)]
      })
    const next = candidates.toSorted((a, b) => agreedWorst(a.offsetsMm).worstMm - agreedWorst(b.offsetsMm).worstMm)[0]
    if (next === undefined || agreedWorst(next.offsetsMm).worstMm > SPLIT_GAIN * worstMm) break
    fitted = next
  }
  const simple = simplified(fitted, points, options, WORTH * share)
  return { fitted: simple.fitted, worstMm: agreedWorst(simple.fitted.offsetsMm).worstMm, rounds: rounds + simple.rounds }
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
function simplified(
  from: Fitted,
  points: readonly Point[],
  options: TraceOptions,
  worth: number,
): { readonly fitted: Fitted; readonly rounds: number } {
  let fitted = from
  let rounds = 0
  const cutMm = cutOf(fitted, options)
  const errorOf = (one: Fitted): number => one.offsetsMm.reduce((sum, offset) => sum + Math.min(offset * offset, cutMm * cutMm), 0)
  const attempt = (design: Design): boolean => {
    const { stationsMm, alignment } = fitted
    const tried = designAgainst(fitted.frame, design, points, (i, path) => ((stationsMm[i] ?? 0) * path.lengthMm) / alignment.path.lengthMm)
    if (tried === null) return false
    const refined = designRefine(tried, points, weighingOf(cutMm, options), SIMPLE_ROUNDS)
    rounds += refined.rounds
    const variance = Math.max(offsetsError(fitted.offsetsMm), NEGLIGIBLE_MM) ** 2
    const isWorse = errorOf(refined.fitted) - errorOf(fitted) > worth * variance
    if (isWorse || agreedWorst(refined.fitted.offsetsMm).worstMm > Math.max(options.toleranceMm, agreedWorst(fitted.offsetsMm).worstMm))
      return false
    fitted = refined.fitted
    return true
  }
  for (let i = fitted.design.corners.length - 1; i >= 0; i--) {
    const { corners } = fitted.design
    const one = corners[i]
    if (one === undefined) continue
    if (Math.abs(fitted.shape.corners[i]?.turnRad ?? 0) < SMALL_TURN_RAD && corners.length > (options.isClosed ? 3 : 0)) {
      if (attempt(noLines(corners.filter((_, n) => n !== i)))) continue
    }
    const [into, out] = [Number(one.source.easementIn), Number(one.source.easementOut)]
    const withEasements = (easementIn: number, easementOut: number): Design =>
      noLines(corners.map((corner, n) => (n === i ? traceCorner(one.at, 1 / one.curvature, easementIn, easementOut) : corner)))
    if (into === 0 && out === 0) continue
    if (attempt(withEasements(0, 0))) continue
    if (into > 0 && attempt(withEasements(0, out))) continue
    if (out > 0) attempt(withEasements(into, 0))
  }
  return { fitted, rounds }
}

const SIMPLE_ROUNDS = 8

/** Errors under this are rounding, mm. */
const NEGLIGIBLE_MM = 1e-7

/** Corners that turn less than this, rad, are asked whether they are needed. */
const SMALL_TURN_RAD = 0.12

/** The last fit, with all points. */
function finished(fitted: Fitted, { points }: Measured, options: TraceOptions): { readonly fitted: Fitted; readonly rounds: number } {
  const chords = chordStations(points)
  const totalMm = chords.at(-1) ?? 1
  const all = designAgainst(fitted.frame, fitted.design, points, (i, path) => ((chords[i] ?? 0) / totalMm) * path.lengthMm)
  if (all === null) return { fitted, rounds: 0 }
  const refined = designRefine(designTrimmed(all, points, options), points, weighingOf(cutOf(all, options), options))
  return { fitted: designTrimmed(refined.fitted, points, options), rounds: refined.rounds }
}

function chordStations(points: readonly Point[]): readonly number[] {
  let alongMm = 0
  return points.map((point, i) => {
    alongMm += pointDistance(point, points[i - 1] ?? point)
    return alongMm
  })
}

function thinned({ points, indices, noiseMm }: Measured): Measured {
  const step = Math.ceil(points.length / SEARCH_POINTS)
  if (step === 1) return { points, indices, noiseMm }
  const isKept = (_: unknown, i: number): boolean => i % step === 0 || i === points.length - 1
  return { points: points.filter(isKept), indices: indices.filter(isKept), noiseMm }
}

/** Points of a closed line, begun anew in the middle of its longest straight and ended there too. */
function measuredFromStraight({ points, indices, noiseMm }: Measured, { toleranceMm }: TraceOptions): Measured {
  const round = {
    points: [...points, ...points, ...points.slice(0, 1)],
    indices: [...indices, ...indices, ...indices.slice(0, 1)],
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
  const turn = <T>(list: readonly T[]): T[] => [...order, order[0] ?? 0].flatMap((i) => list[i] ?? [])
  return { points: turn(points), indices: turn(indices), noiseMm }
}

function solution(fitted: Fitted, given: readonly Point[], turned: Measured, options: TraceOptions, rounds: number): TraceSolution {
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
    return { index, stationMm: all.stationsMm[index] ?? 0, offsetMm, isOutlier: Math.abs(offsetMm) > cutMm }
  })
  const good = residuals.filter(({ isOutlier }) => !isOutlier).map(({ offsetMm }) => Math.abs(offsetMm))
  const worstMm = good.reduce((most, offset) => Math.max(most, offset), 0)
  return {
    traverse: designTraverse(fitted.frame, fitted.design),
    path,
    residuals,
    outliers: residuals.flatMap(({ index, isOutlier }) => (isOutlier ? [index] : [])),
    rmsMm: Math.sqrt(good.reduce((sum, offset) => sum + offset * offset, 0) / Math.max(1, good.length)),
    worstMm,
    isWithin: worstMm <= options.toleranceMm,
    rounds,
  }
}
