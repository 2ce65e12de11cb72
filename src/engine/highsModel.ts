import type { Highs } from 'highs'

/** What HiGHS says of a program it has run, by its number. Only `optimal` comes with an answer that may be used. */
const said: readonly string[] = [
  'not set',
  'load error',
  'model error',
  'presolve error',
  'solve error',
  'postsolve error',
  'empty',
  'optimal',
  'infeasible',
  'unbounded or infeasible',
  'unbounded',
  'bound on the objective reached',
  'target for the objective reached',
  'time limit',
  'iteration limit',
  'unknown',
  'limit of solutions',
  'interrupted',
]

/** No answer that may be used, and why in the solver's words. */
export interface HighsFailure {
  readonly status: 'failed'
  readonly says: string
}

export function highsRefusal(status: number): HighsFailure {
  return { status: 'failed', says: said[status] ?? `status ${status}` }
}

/** Runs what may throw: HiGHS does at what is no program at all, such as a number that is none. */
export function highsGuarded<T>(run: () => T): T | HighsFailure {
  try {
    return run()
  } catch (error) {
    return { status: 'failed', says: error instanceof Error ? error.message : String(error) }
  }
}

/** A bound as HiGHS knows it: what is not finite is without bound to that side. */
export function highsBound(highs: Highs, value: number): number {
  return Number.isFinite(value) ? value : Math.sign(value) * highs.infinity
}

/** Entries of rows or of columns, one after the other. As text the matrix took ten times as long, and digits were lost. */
export function highsEntries(lines: readonly { readonly at: readonly number[]; readonly values: readonly number[] }[]) {
  const starts = [0]
  const indices: number[] = []
  const values: number[] = []
  for (const line of lines) {
    indices.push(...line.at)
    values.push(...line.values)
    starts.push(indices.length)
  }
  return { starts, indices, values }
}
