import type { Highs } from 'highs'
import type { CutMaster, CutMasterOutcome, CutSolver } from '../core/sticks/index.ts'

const dualSimplex = 1
const primalSimplex = 4

/** HiGHS for cutting: a program that grows column by column and starts from its last answer, and whole numbers. */
export function cutSolver(highs: Highs): CutSolver {
  const { modelStatus, variableType } = highs.constants
  return {
    open(master) {
      const model = highs.createModel(masterModel(highs, master))
      model.options.set({ output_flag: false, presolve: 'off' })
      let strategy = dualSimplex
      return {
        // New columns leave the answer feasible, new bounds leave its duals so: each goes on from there by its own method.
        add: (cost, rows, values) => {
          model.addCol(cost, 0, highs.infinity, { indices: [...rows], values: [...values] })
          strategy = primalSimplex
        },
        bound: (row, least, most) => {
          model.changeRowBounds(row, bounded(highs, least), bounded(highs, most))
          strategy = dualSimplex
        },
        solve: () =>
          guarded(() => {
            model.options.set({ simplex_strategy: strategy })
            model.run()
            const status = model.getModelStatus()
            if (status !== modelStatus.optimal) return { status: 'failed', says: `status ${status}` }
            const { colValue, rowDual } = model.getSolution()
            return { status: 'optimal', x: [...colValue], duals: [...rowDual] }
          }),
        close: () => model.dispose(),
      }
    },
    whole: (master, seconds) =>
      guarded(() =>
        highs.withModel(
          { ...masterModel(highs, master), integrality: master.cost.map(() => variableType.integer) },
          (model): CutMasterOutcome => {
            model.options.set({ output_flag: false, time_limit: seconds, mip_rel_gap: 0 })
            model.run()
            const status = model.getModelStatus()
            const x = [...model.getSolution().colValue]
            if (status === modelStatus.optimal) return { status: 'optimal', x, duals: [] }
            const isWhole = x.length === master.cost.length && x.every((value) => Math.abs(value - Math.round(value)) < 1e-6)
            return isWhole ? { status: 'feasible', x, duals: [] } : { status: 'failed', says: `status ${status}` }
          },
        ),
      ),
  }
}

function guarded(run: () => CutMasterOutcome): CutMasterOutcome {
  try {
    return run()
  } catch (error) {
    return { status: 'failed', says: error instanceof Error ? error.message : String(error) }
  }
}

function masterModel(highs: Highs, { cost, columns, least, most }: CutMaster) {
  const starts = [0]
  const indices: number[] = []
  const values: number[] = []
  for (const column of columns) {
    indices.push(...column.rows)
    values.push(...column.values)
    starts.push(indices.length)
  }
  const numCols = cost.length
  const numRows = least.length
  return {
    numCols,
    numRows,
    sense: highs.constants.objectiveSense.minimize,
    colCost: cost,
    colLower: cost.map(() => 0),
    colUpper: cost.map(() => highs.infinity),
    rowLower: least.map((value) => bounded(highs, value)),
    rowUpper: most.map((value) => bounded(highs, value)),
    matrix: { format: 'csc' as const, numRows, numCols, starts, indices, values },
  }
}

function bounded(highs: Highs, value: number): number {
  return Number.isFinite(value) ? value : Math.sign(value) * highs.infinity
}
