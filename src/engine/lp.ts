import type { Highs } from 'highs'
import type { LinearOutcome, LinearProgram, LinearSolve } from '../core/alignment/index.ts'
import { highsBound, highsEntries, highsGuarded, highsRefusal } from './highsModel.ts'

/**
 * HiGHS as a solver of linear programs. It blocks its thread while it works.
 *
 * Presolving costs more than it gains on programs of a few hundred rows.
 */
export function linearSolver(highs: Highs): LinearSolve {
  return (program) =>
    highsGuarded(() =>
      highs.withModel(programModel(highs, program), (model): LinearOutcome => {
        model.options.set({ output_flag: false, presolve: 'off' })
        model.run()
        const status = model.getModelStatus()
        if (status !== highs.constants.modelStatus.optimal) return highsRefusal(status)
        return { status: 'optimal', x: [...model.getSolution().colValue] }
      }),
    )
}

function programModel(highs: Highs, { cost, lower, upper, rows }: LinearProgram) {
  const numCols = cost.length
  const numRows = rows.length
  return {
    numCols,
    numRows,
    sense: highs.constants.objectiveSense.minimize,
    colCost: cost,
    colLower: lower.map((value) => highsBound(highs, value)),
    colUpper: upper.map((value) => highsBound(highs, value)),
    rowLower: rows.map(({ least }) => least),
    rowUpper: rows.map(() => highs.infinity),
    matrix: { format: 'csr' as const, numRows, numCols, ...highsEntries(rows.map(({ columns, values }) => ({ at: columns, values }))) },
  }
}
