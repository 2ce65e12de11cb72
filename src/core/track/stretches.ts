import type { Stretch } from '../network/index.ts'

/**
 * What is left of a line when stretches are taken out of it, in order.
 *
 * Domain:  stretches may overlap, touch and run past the ends. On a closed line of length L a stretch that runs below 0
 *          or past L takes the same length at the other end, and the free stretch through station zero comes in two.
 */
export function stretchesFree(lengthMm: number, isClosed: boolean, taken: readonly Stretch[]): Stretch[] {
  const wrapped = isClosed
    ? taken.flatMap(({ fromMm, toMm }) => [-lengthMm, 0, lengthMm].map((shift) => ({ fromMm: fromMm + shift, toMm: toMm + shift })))
    : taken
  const free: Stretch[] = []
  let at = 0
  for (const { fromMm, toMm } of wrapped.toSorted((a, b) => a.fromMm - b.fromMm)) {
    if (toMm <= 0) continue
    if (fromMm >= lengthMm) break
    if (fromMm > at) free.push({ fromMm: at, toMm: fromMm })
    at = Math.max(at, toMm)
  }
  if (at < lengthMm) free.push({ fromMm: at, toMm: lengthMm })
  return free
}
