/** Outcome of a root search. `notFinite` and `notBracketed` name what the function did at the ends. */
export type RootResult =
  | { readonly ok: true; readonly x: number }
  | { readonly ok: false; readonly reason: 'notBracketed' | 'notFinite' | 'tooManySteps' }

/** Bisection alone halves a bracket of 1e300 to nothing in about 2000 steps; Brent's needs some ten for a smooth function. */
const mostSteps = 200

/**
 * A root of a continuous function between a and b, where it has opposite signs.
 *
 * Exactness:  the root lies within `tolerance` of x (never finer than rounding allows).
 * Outcome:    ok, or why not; never throws, never a best guess.
 * Source:     [BRENT-1973 ch. 4] (zeroin).
 */
export function rootBrent(f: (x: number) => number, a: number, b: number, tolerance: number): RootResult {
  let low = a
  let best = b
  let fLow = f(low)
  let fBest = f(best)
  if (!Number.isFinite(fLow) || !Number.isFinite(fBest)) return { ok: false, reason: 'notFinite' }
  if (fLow === 0) return { ok: true, x: low }
  if (fBest === 0) return { ok: true, x: best }
  if (fLow > 0 === fBest > 0) return { ok: false, reason: 'notBracketed' }
  // `far` keeps the sign opposite to `best`; `low` is the previous `best`.
  let far = low
  let fFar = fLow
  let step = best - low
  let lastStep = step
  for (let i = 0; i < mostSteps; i++) {
    if (fBest > 0 === fFar > 0) {
      far = low
      fFar = fLow
      step = best - low
      lastStep = step
    }
    if (Math.abs(fFar) < Math.abs(fBest)) {
      low = best
      best = far
      far = low
      fLow = fBest
      fBest = fFar
      fFar = fLow
    }
    const least = 2 * Number.EPSILON * Math.abs(best) + 0.5 * tolerance
    const middle = 0.5 * (far - best)
    if (Math.abs(middle) <= least || fBest === 0) return { ok: true, x: best }
    if (Math.abs(lastStep) < least || Math.abs(fLow) <= Math.abs(fBest)) {
      step = middle
      lastStep = middle
    } else {
      const s = fBest / fLow
      let p: number
      let q: number
      if (low === far) {
        p = 2 * middle * s
        q = 1 - s
      } else {
        const u = fLow / fFar
        const v = fBest / fFar
        p = s * (2 * middle * u * (u - v) - (best - low) * (v - 1))
        q = (u - 1) * (v - 1) * (s - 1)
      }
      if (p > 0) q = -q
      else p = -p
      if (2 * p < Math.min(3 * middle * q - Math.abs(least * q), Math.abs(lastStep * q))) {
        lastStep = step
        step = p / q
      } else {
        step = middle
        lastStep = middle
      }
    }
    low = best
    fLow = fBest
    best += Math.abs(step) > least ? step : middle > 0 ? least : -least
    fBest = f(best)
    if (!Number.isFinite(fBest)) return { ok: false, reason: 'notFinite' }
  }
  return { ok: false, reason: 'tooManySteps' }
}
