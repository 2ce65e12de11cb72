import { angleWrap, pointDistance } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import type { Measured } from './types.ts'

/** Headings of the chords between means of neighbouring points, by their middles; the heading runs on without jumps. */
export interface Profile {
  readonly knots: readonly Point[]
  readonly stationsMm: readonly number[]
  readonly headings: readonly number[]
  /** Standard error of one heading, rad. */
  readonly noiseRad: number
  /** First point of each knot's group, as an index into the measured points. */
  readonly firsts: readonly number[]
}

/** A stretch of nearly constant curvature. */
export interface Stretch {
  readonly fromMm: number
  readonly toMm: number
  readonly curvature: number
  /** Heading at its middle. */
  readonly headingRad: number
  readonly hand: -1 | 0 | 1
}

/** Knots at most: the search grows with their square. */
const MOST_KNOTS = 220

/** A knot's chord is at least this many times as long as the noise of the points, so that its heading means something. */
const CHORD_NOISES = 12

/** Means of neighbouring points, chords no shorter than their noise allows, and the headings of those. */
export function headingProfile({ points, noiseMm }: Measured): Profile {
  const lengthMm = points.reduce((sum, point, i) => sum + pointDistance(point, points[i - 1] ?? point), 0)
  const leastMm = Math.max(lengthMm / MOST_KNOTS, CHORD_NOISES * noiseMm)
  const groups: number[][] = []
  let open: number[] = []
  let beginAt: Point | null = null
  for (const [i, point] of points.entries()) {
    if (beginAt !== null && pointDistance(point, beginAt) >= leastMm) {
      groups.push(open)
      open = []
      beginAt = null
    }
    beginAt ??= point
    open.push(i)
  }
  groups.push(open)
  const knots = groups.map((group): Point => {
    const sum = group.reduce((total, i) => ({ x: total.x + (points[i]?.x ?? 0), y: total.y + (points[i]?.y ?? 0) }), { x: 0, y: 0 })
    return { x: sum.x / group.length, y: sum.y / group.length }
  })
  const stationsMm: number[] = []
  const headings: number[] = []
  let alongMm = 0
  for (const [i, b] of knots.entries()) {
    const a = knots[i - 1]
    if (a === undefined) continue
    const chordMm = pointDistance(a, b)
    if (chordMm === 0) continue
    const heading = Math.atan2(b.y - a.y, b.x - a.x)
    const before = headings.at(-1)
    headings.push(before === undefined ? heading : before + angleWrap(heading - before))
    stationsMm.push(alongMm + chordMm / 2)
    alongMm += chordMm
  }
  const size = points.length / groups.length
  const chordMm = alongMm / Math.max(1, headings.length)
  const noiseRad = (Math.SQRT2 * noiseMm) / Math.sqrt(size) / chordMm
  return { knots, stationsMm, headings, noiseRad, firsts: groups.map(([first]) => first ?? 0) }
}

/** Index of the first of several chords that turn back; null when the points follow each other. */
export function profileDisorder({ headings, firsts }: Profile): number | null {
  const turns = headings.flatMap((heading, i) => {
    const before = headings[i - 1]
    return before !== undefined && Math.abs(heading - before) > TURNS_BACK_RAD ? [i] : []
  })
  const [first] = turns
  return first !== undefined && turns.length > TURNS_BACK_SHARE * headings.length ? (firsts[first] ?? 0) : null
}

/** A chord that turns more than this from the one before goes back rather than on. */
const TURNS_BACK_RAD = 1.9

/** Up to this part of all chords may do so by mishap. */
const TURNS_BACK_SHARE = 0.08

/**
 * Cuts a profile into stretches of constant curvature: the fewest that explain it, by dynamic programming over all cuts. A cut must
 * pay for itself by what it takes off the squared errors, measured in the noise (Schwarz's criterion, times a factor).
 *
 * Source:     G. Schwarz, Estimating the dimension of a model, 1978 (from memory): each parameter costs ln n.
 */
export function profileStretches(
  { stationsMm, headings, noiseRad }: Profile,
  toleranceMm: number,
  priceFactor: number,
): readonly Stretch[] {
  const n = headings.length
  // Prefix sums make the line through any stretch and its error a matter of a few additions.
  const sums = [{ s: 0, h: 0, ss: 0, sh: 0, hh: 0 }]
  const s0 = stationsMm[Math.floor(n / 2)] ?? 0
  const h0 = headings[Math.floor(n / 2)] ?? 0
  for (const [i, station] of stationsMm.entries()) {
    const before = sums[i]
    const s = station - s0
    const h = (headings[i] ?? 0) - h0
    if (before === undefined) continue
    sums.push({ s: before.s + s, h: before.h + h, ss: before.ss + s * s, sh: before.sh + s * h, hh: before.hh + h * h })
  }
  const fit = (
    from: number,
    to: number,
  ): { readonly error: number; readonly slope: number; readonly spread: number; readonly mean: number } => {
    const a = sums[from]
    const b = sums[to]
    const count = to - from
    if (a === undefined || b === undefined || count <= 0) return { error: Infinity, slope: 0, spread: 0, mean: 0 }
    const [s, h] = [b.s - a.s, b.h - a.h]
    const spread = b.ss - a.ss - (s * s) / count
    const across = b.sh - a.sh - (s * h) / count
    const height = b.hh - a.hh - (h * h) / count
    const slope = spread > 0 ? across / spread : 0
    return { error: Math.max(0, height - slope * across), slope, spread, mean: h / count + h0 }
  }
  // Headings bend within an easement by less than the tolerance shows; finer cuts are of no use.
  const chordMm = ((stationsMm.at(-1) ?? 0) - (stationsMm[0] ?? 0)) / Math.max(1, n - 1)
  const noise = Math.max(noiseRad, (NOISE_OF_TOLERANCE * toleranceMm) / chordMm)
  const price = priceFactor * PARAMETERS * Math.log(Math.max(n, 2))
  const best: { cost: number; from: number }[] = [{ cost: 0, from: 0 }]
  for (let to = 1; to <= n; to++) {
    let found = { cost: Infinity, from: 0 }
    for (let from = 0; from < to; from++) {
      const cost = (best[from]?.cost ?? Infinity) + fit(from, to).error / (noise * noise) + price
      if (cost < found.cost) found = { cost, from }
    }
    best.push(found)
  }
  const cuts: (readonly [number, number])[] = []
  for (let to = n; to > 0; to = best[to]?.from ?? 0) cuts.unshift([best[to]?.from ?? 0, to])
  return cuts.map(([from, to]): Stretch => {
    const { slope, spread, mean } = fit(from, to)
    const half = chordMm / 2
    const fromMm = (stationsMm[from] ?? 0) - half
    const toMm = (stationsMm[to - 1] ?? 0) + half
    const lengthMm = toMm - fromMm
    // Straight: within the error of its slope, or so little bent that its middle ordinate is under the tolerance.
    const isStraight =
      Math.abs(slope) <= Math.max((STRAIGHT_ERRORS * noise) / Math.sqrt(spread || Infinity), (4 * toleranceMm) / lengthMm ** 2)
    return { fromMm, toMm, curvature: slope, headingRad: mean, hand: isStraight ? 0 : slope > 0 ? 1 : -1 }
  })
}

/** A cut brings a curvature, a heading and a place. */
const PARAMETERS = 3

/** The least noise of a chord's ends that is reckoned with, in tolerances. */
const NOISE_OF_TOLERANCE = 0.05

/** A slope within so many of its standard errors is none. */
const STRAIGHT_ERRORS = 3
