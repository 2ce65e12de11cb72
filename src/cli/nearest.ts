/** Edit distance of two words, a swap of neighbours counting one. */
function distance(a: string, b: string): number {
  const rows = Array.from({ length: a.length + 1 }, (_, i) =>
    Array.from({ length: b.length + 1 }, (__, j) => (i === 0 ? j : j === 0 ? i : 0)),
  )
  const at = (i: number, j: number): number => rows[i]?.[j] ?? Infinity
  for (let i = 1; i <= a.length; i += 1) {
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1
      const isSwap = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]
      const row = rows[i]
      if (row) row[j] = Math.min(at(i - 1, j) + 1, at(i, j - 1) + 1, at(i - 1, j - 1) + same, isSwap ? at(i - 2, j - 2) + 1 : Infinity)
    }
  }
  return at(a.length, b.length)
}

/** The known word that was probably meant, or null when none is near: a slip or two, or a third of a long word, never more than half. */
export function nearestWord(word: string, known: readonly string[]): string | null {
  const ranked = known
    .map((candidate) => ({ candidate, away: distance(word.toLowerCase(), candidate.toLowerCase()) }))
    .sort((a, b) => a.away - b.away)
  const best = ranked[0]
  if (!best) return null
  const slips = Math.max(2, Math.floor(best.candidate.length / 3))
  const half = Math.floor(Math.min(word.length, best.candidate.length) / 2)
  return best.away <= Math.min(slips, half) ? best.candidate : null
}

/** “Did you mean x?” where there is a near word, else the whole list. */
export function nearestHint(word: string, known: readonly string[]): string {
  const near = nearestWord(word, known)
  return near === null ? `Known are: ${known.join(', ')}.` : `Did you mean ${near}?`
}
