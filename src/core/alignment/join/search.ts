import { rootBrent } from '../../geom/index.ts'
import { peakGolden } from '../golden.ts'

/** Radii tried from the largest down: each this part of the one before. */
const STEP = 0.7

/** A radius is sought between these parts of the size of the task: beyond, a curve is as good as straight, or a kink. */
const LARGEST = 1e5
const SMALLEST = 1e-4

/** Halvings of the range in which a limit of the radius lies: to a millionth of a millionth of itself. */
const HALVINGS = 45

/** Radii that are tried first, falling. */
export function radiiTried(sizeMm: number): readonly number[] {
  const count = Math.ceil(Math.log(SMALLEST / LARGEST) / Math.log(STEP))
  return Array.from({ length: count }, (_, i) => sizeMm * LARGEST * STEP ** i)
}

/**
 * The largest radius whose margin is not negative.
 *
 * Domain:     radii falling. The margin falls as the radius grows, except where a larger radius first gives a curve room
 *             for its easements; below that it is -Infinity.
 * Exactness:  up to rounding. A stretch of fitting radii narrower than a step is found by its peak.
 * Outcome:    null when no radius fits.
 */
export function radiusLargest(marginAt: (radiusMm: number) => number, radii: readonly number[]): number | null {
  let before: number | null = null
  let bestMargin = -Infinity
  let best = 0
  for (const [i, radiusMm] of radii.entries()) {
    const margin = marginAt(radiusMm)
    if (margin >= 0) return before === null ? radiusMm : edge(marginAt, radiusMm, before)
    if (margin > bestMargin) {
      bestMargin = margin
      best = i
    }
    if (margin === -Infinity) break
    before = radiusMm
  }
  if (bestMargin === -Infinity) return null
  const high = radii[Math.max(0, best - 1)] ?? 0
  const peak = Math.exp(peakGolden((log) => marginAt(Math.exp(log)), Math.log(leastWithRoom(marginAt, radii, best)), Math.log(high)))
  return marginAt(peak) >= 0 ? edge(marginAt, peak, high) : null
}

/** The radius of margin zero between one that fits and a larger one that does not. */
function edge(marginAt: (radiusMm: number) => number, fits: number, fitsNot: number): number {
  const root = rootBrent(marginAt, fits, fitsNot, 0)
  return root.ok ? root.x : fits
}

/** The next smaller radius of those tried, or the least that has any room at all when that one has none. */
function leastWithRoom(marginAt: (radiusMm: number) => number, radii: readonly number[], index: number): number {
  let high = radii[index] ?? 0
  let low = radii[index + 1] ?? high
  if (marginAt(low) > -Infinity) return low
  for (let i = 0; i < HALVINGS; i++) {
    const middle = Math.sqrt(low * high)
    if (marginAt(middle) > -Infinity) high = middle
    else low = middle
  }
  return high
}

/** The value nearest to `fitsNot` that still fits, by halving between one that fits and one that does not. */
export function edgeBisect(fits: (value: number) => boolean, fitting: number, fitsNot: number): number {
  let good = fitting
  let bad = fitsNot
  for (let i = 0; i < HALVINGS; i++) {
    const middle = 0.5 * (good + bad)
    if (fits(middle)) good = middle
    else bad = middle
  }
  return good
}
