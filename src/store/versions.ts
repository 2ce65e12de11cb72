/*
 * Which earlier versions of a plan stay: all of the last hour, one for each hour of the last day, one for each day of the last month, one
 * for each week before. The newest always stays.
 */

const minuteMs = 60_000
const hourMs = 60 * minuteMs
const dayMs = 24 * hourMs
const weekMs = 7 * dayMs
const monthMs = 31 * dayMs

/** Of a burst of changes one version a minute is taken. */
export const versionEveryMs = minuteMs

/** The times of versions that may go. Of those that share an hour, day or week the last one stays. */
export function versionsToDrop(timesMs: readonly number[], nowMs: number): readonly number[] {
  const newestFirst = timesMs.toSorted((a, b) => b - a)
  const held = new Set<string>()
  return newestFirst.filter((timeMs, index) => {
    const span = spanOf(timeMs, nowMs - timeMs)
    const isDropped = span !== null && held.has(span)
    if (span !== null) held.add(span)
    return isDropped && index > 0
  })
}

/** Those of one span stand for each other; null: this one stands for itself. A version of the future is one of now: the clock was put back. */
function spanOf(timeMs: number, ageMs: number): string | null {
  if (ageMs < hourMs) return null
  if (ageMs < dayMs) return `hour ${Math.floor(timeMs / hourMs)}`
  if (ageMs < monthMs) return `day ${Math.floor(timeMs / dayMs)}`
  return `week ${Math.floor(timeMs / weekMs)}`
}
