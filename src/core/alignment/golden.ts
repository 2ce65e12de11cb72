/** The golden section: each step keeps this part of the range. */
const KEPT = (Math.sqrt(5) - 1) / 2

/** Forty steps leave 5e-9 of the range; near a smooth peak the value is then exact to rounding. */
const STEPS = 40

/**
 * Where a function is largest between two numbers, by golden section.
 *
 * Domain:     a function with one peak there gives its place; any other, one of its peaks or an end.
 * Exactness:  5e-9 of the range. Never worse than either end.
 * Source:     [BRENT-1973 ch. 5], without the parabola.
 */
export function peakGolden(f: (x: number) => number, from: number, to: number): number {
  let low = from
  let high = to
  let left = high - KEPT * (high - low)
  let right = low + KEPT * (high - low)
  let fLeft = f(left)
  let fRight = f(right)
  for (let step = 0; step < STEPS; step++) {
    if (fLeft >= fRight) {
      high = right
      right = left
      fRight = fLeft
      left = high - KEPT * (high - low)
      fLeft = f(left)
    } else {
      low = left
      left = right
      fLeft = fRight
      right = low + KEPT * (high - low)
      fRight = f(right)
    }
  }
  const inner = fLeft >= fRight ? left : right
  const places = [inner, from, to]
  return places.reduce((best, x) => (f(x) > f(best) ? x : best))
}
