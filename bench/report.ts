/** One line of the results file: what was timed, the figure in its own unit, and what it is compared with. */
export interface BenchRow {
  readonly what: string
  readonly figure: string
  readonly note: string
}

export interface BenchTable {
  readonly title: string
  /** The target in words, with the ratio that decides it. */
  readonly target: string
  readonly isMet: boolean
  readonly rows: readonly BenchRow[]
}

/** Times one call of `run` over several rounds after a warm-up. Returns seconds per round, sorted. */
export function secondsPerRound(rounds: number, run: () => void): number[] {
  run()
  run()
  const times: number[] = []
  for (let round = 0; round < rounds; round++) {
    const from = performance.now()
    run()
    times.push((performance.now() - from) / 1000)
  }
  return times.sort((a, b) => a - b)
}

export function median(sorted: readonly number[]): number {
  const middle = sorted.length / 2
  const lower = sorted[Math.ceil(middle) - 1] ?? Number.NaN
  const upper = sorted[Math.floor(middle)] ?? Number.NaN
  return (lower + upper) / 2
}

export function tableMarkdown(table: BenchTable): string {
  const rows = table.rows.map((row) => `| ${row.what} | ${row.figure} | ${row.note} |`)
  return [
    `## ${table.title}`,
    '',
    `Target: ${table.target} — ${table.isMet ? 'met' : 'NOT met'} in this run.`,
    '',
    '| what | figure | note |',
    '| --- | --- | --- |',
    ...rows,
    '',
  ].join('\n')
}
