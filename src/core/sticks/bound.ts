import type { Instance } from './instance.ts'

/** Sums of lengths are looked through up to so many steps. */
const stepsMost = 2_000_000

/** The least length that counts first if pieces could be split at will: hand for nothing, then the cheapest by size. Micrometres. */
export function materialBound({ kinds, stocks }: Instance): number {
  let need = kinds.reduce((sum, { size, pieces }) => sum + size * pieces.length, 0)
  let bound = 0
  for (const { size, prime, count } of stocks.toSorted((a, b) => a.prime / a.size - b.prime / b.size)) {
    const taken = Math.min(need, size * count)
    bound += (taken / size) * prime
    need -= taken
    if (need <= 0) break
  }
  return bound
}

/** The least sum of whole sticks that is not below a bound: nothing in between can be bought. */
export function boundReached({ stocks }: Instance, bound: number, mostMm: number): number {
  const lengths = [...new Set(stocks.map(({ prime }) => prime))].filter((length) => length > 0)
  const step = lengths.reduce(divisor, 0)
  if (step === 0) return 0
  const from = Math.ceil(bound / step - 1e-6)
  const most = Math.round(mostMm / step)
  if (lengths.length === 1 || most > stepsMost) return from * step
  const isSum = new Uint8Array(most + 1)
  isSum[0] = 1
  for (let sum = 1; sum <= most; sum++)
    if (lengths.some((length) => sum >= length / step && isSum[sum - length / step] === 1)) isSum[sum] = 1
  for (let sum = from; sum <= most; sum++) if (isSum[sum] === 1) return sum * step
  return from * step
}

function divisor(a: number, b: number): number {
  return b === 0 ? a : divisor(b, a % b)
}
