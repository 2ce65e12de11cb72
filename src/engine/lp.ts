import type { Highs } from 'highs'
import type { LinearOutcome, LinearProgram, LinearSolve } from '../core/alignment/index.ts'

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

/**
 * HiGHS as a solver of linear programs. It blocks its thread while it works.
 *
 * The matrix goes in as numbers: as text it took ten times as long, and digits were lost. Presolving costs more than it gains
 * on programs of a few hundred rows.
 */
export function linearSolver(highs: Highs): LinearSolve {
  return (program) => {
    try {
      return highs.withModel(highsModel(highs, program), (model): LinearOutcome => {
        model.options.set({ output_flag: false, presolve: 'off' })
        model.run()
        const status = model.getModelStatus()
        if (status !== highs.constants.modelStatus.optimal) return { status: 'failed', says: said[status] ?? `status ${status}` }
        return { status: 'optimal', x: [...model.getSolution().colValue] }
      })
    } catch (error) {
      // It throws at what is no program at all, such as a number that is none.
      return { status: 'failed', says: error instanceof Error ? error.message : String(error) }
    }
  }
}

function highsModel(highs: Highs, { cost, lower, upper, rows }: LinearProgram) {
  const starts = [0]
  const indices: number[] = []
  const values: number[] = []
  for (const row of rows) {
    indices.push(...row.columns)
    values.push(...row.values)
    starts.push(indices.length)
  }
  const numCols = cost.length
  const numRows = rows.length
  return {
    numCols,
    numRows,
    sense: highs.constants.objectiveSense.minimize,
    colCost: cost,
    colLower: lower.map((value) => (Number.isFinite(value) ? value : -highs.infinity)),
    colUpper: upper.map((value) => (Number.isFinite(value) ? value : highs.infinity)),
    rowLower: rows.map(({ least }) => least),
    rowUpper: rows.map(() => highs.infinity),
    matrix: { format: 'csr' as const, numRows, numCols, starts, indices, values },
  }
}
