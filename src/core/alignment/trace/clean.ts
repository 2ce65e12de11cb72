import { pointDistance } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import type { Measured, TraceOptions, TraceProblem } from './types.ts'

/** Points nearer to the one before than this are the same point measured twice, mm. */
const SAME_MM = 1e-6

const LEAST_POINTS = 3

/** More points than this are a scan and want thinning first; the work grows with them. */
const MOST_POINTS = 10_000

export type CleanResult = { readonly ok: true; readonly measured: Measured } | { readonly ok: false; readonly problem: TraceProblem }

/**
 * Points that can be worked with: finite, without repetitions, without those that plainly lie off what their neighbours say.
 *
 * Domain:     any numbers.
 * Outcome:    the points and their noise, or what is wrong with them.
 */
export function pointsClean(given: readonly Point[], { toleranceMm, verdicts }: TraceOptions): CleanResult {
  const refuse = (problem: TraceProblem): CleanResult => ({ ok: false, problem })
  if (!(toleranceMm > 0 && Number.isFinite(toleranceMm))) return refuse({ kind: 'toleranceNotPositive', toleranceMm })
  if (given.length > MOST_POINTS) return refuse({ kind: 'tooManyPoints', have: given.length, most: MOST_POINTS })
  const bad = given.findIndex(({ x, y }) => !Number.isFinite(x) || !Number.isFinite(y))
  if (bad >= 0) return refuse({ kind: 'notFinite', index: bad })
  const at = (index: number): Point => given[index] ?? { x: 0, y: 0 }
  let indices = [...given.keys()]
    .filter((i) => verdicts?.get(i) !== 'leftOut')
    .filter((i, place, left) => place === 0 || pointDistance(at(i), at(left[place - 1] ?? i)) > SAME_MM)
  if (indices.length < LEAST_POINTS) return refuse({ kind: 'tooFewPoints', have: indices.length, need: LEAST_POINTS })
  // Twice, for what lies far off spoils the look at its neighbours.
  for (let look = 0; look < 2; look++) indices = withoutStrays(indices, at, toleranceMm, verdicts)
  if (indices.length < LEAST_POINTS) return refuse({ kind: 'tooFewPoints', have: indices.length, need: LEAST_POINTS })
  const points = indices.map(at)
  const held = indices.map((i) => verdicts?.get(i) === 'counts')
  return { ok: true, measured: { points, indices, held, noiseMm: pointsNoise(points) } }
}

/** Neighbours on either side that have a say about a point. */
const NEIGHBOURS = 3

/**
 * A stray lies off what its neighbours say by more than this many times what is usual, by this many tolerances, and by this part
 * of the way to them: where a curve begins between two points they know no better.
 */
const STRAY_USUAL = 8
const STRAY_TOLERANCES = 3
const STRAY_WAY = 0.15

/** Points that lie where most parabolas through three of their neighbours do not expect them are left out, unless they are to count. */
function withoutStrays(
  indices: readonly number[],
  at: (index: number) => Point,
  toleranceMm: number,
  verdicts: TraceOptions['verdicts'],
): number[] {
  const points = indices.map(at)
  const off = points.map((point, i) => {
    const before = points.slice(Math.max(0, i - NEIGHBOURS), i)
    const after = points.slice(i + 1, i + 1 + NEIGHBOURS)
    const beside = [...before, ...after]
    const said = beside.flatMap((a, n) =>
      beside.slice(n + 1).flatMap((b, m) => beside.slice(n + m + 2).flatMap((c) => parabolaMiss(a, b, c, point) ?? [])),
    )
    return before.length === 0 || after.length === 0 || said.length < NEIGHBOURS ? 0 : median(said)
  })
  const usual = median(off)
  return indices.filter((index, i) => {
    if (verdicts?.get(index) === 'counts') return true
    const [here, before, after] = [points[i], points[i - 1], points[i + 1]]
    const wayMm =
      here && before && after ? Math.min(pointDistance(here, before), pointDistance(here, after), pointDistance(before, after)) : 0
    return (off[i] ?? 0) <= Math.max(STRAY_USUAL * usual, STRAY_TOLERANCES * toleranceMm, STRAY_WAY * wayMm)
  })
}

/** How far a point lies off the parabola through three others, square to the chord from the first to the last of these. */
function parabolaMiss(a: Point, b: Point, c: Point, p: Point): number | null {
  const chordMm = pointDistance(a, c)
  if (chordMm === 0) return null
  const ux = (c.x - a.x) / chordMm
  const uy = (c.y - a.y) / chordMm
  const along = ({ x, y }: Point): number => (x - a.x) * ux + (y - a.y) * uy
  const across = ({ x, y }: Point): number => (y - a.y) * ux - (x - a.x) * uy
  const middle = along(b)
  const span = middle * (middle - chordMm)
  if (span === 0) return null
  return Math.abs(across(p) - (across(b) * along(p) * (along(p) - chordMm)) / span)
}

export function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b)
  const middle = sorted.length / 2
  return ((sorted[Math.ceil(middle) - 1] ?? 0) + (sorted[Math.floor(middle)] ?? 0)) / 2
}

/** Median of the absolute value of a normal deviate of standard deviation 1. */
export const MEDIAN_DEVIATION = 0.6745

/**
 * Standard error of a point square to the line, mm: from third divided differences over four neighbours each, which know
 * nothing of straight lines and next to nothing of curves. Robust against strays by the median.
 */
function pointsNoise(points: readonly Point[]): number {
  const deviations = points.flatMap((first, i) => {
    const four = points.slice(i, i + 4)
    const last = four[3]
    if (last === undefined) return []
    const along = Math.atan2(last.y - first.y, last.x - first.x)
    const xs = four.map(({ x, y }) => (x - first.x) * Math.cos(along) + (y - first.y) * Math.sin(along))
    const ys = four.map(({ x, y }) => (y - first.y) * Math.cos(along) - (x - first.x) * Math.sin(along))
    const weights = xs.map((x, n) => 1 / xs.reduce((product, other, k) => (k === n ? product : product * (x - other)), 1))
    const scale = Math.hypot(...weights)
    const deviation = weights.reduce((sum, weight, n) => sum + weight * (ys[n] ?? 0), 0) / scale
    return Number.isFinite(deviation) ? [Math.abs(deviation)] : []
  })
  return deviations.length === 0 ? 0 : median(deviations) / MEDIAN_DEVIATION
}
