import type { Highs } from 'highs'
import { highsBound, highsEntries, highsGuarded, highsRefusal } from './highsModel.ts'
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
          model.changeRowBounds(row, highsBound(highs, least), highsBound(highs, most))
          strategy = dualSimplex
        },
        solve: () =>
          highsGuarded((): CutMasterOutcome => {
            model.options.set({ simplex_strategy: strategy })
            model.run()
            const status = model.getModelStatus()
            if (status !== modelStatus.optimal) return highsRefusal(status)
            const { colValue, rowDual } = model.getSolution()
            return { status: 'optimal', x: [...colValue], duals: [...rowDual] }
          }),
        close: () => model.dispose(),
      }
    },
    whole: (master, seconds) =>
      highsGuarded(
        (): CutMasterOutcome =>
          highs.withModel(
            { ...masterModel(highs, master), integrality: master.cost.map(() => variableType.integer) },
            (model): CutMasterOutcome => {
              model.options.set({ output_flag: false, time_limit: seconds, mip_rel_gap: 0 })
              model.run()
              const status = model.getModelStatus()
              const x = [...model.getSolution().colValue]
              if (status === modelStatus.optimal) return { status: 'optimal', x, duals: [] }
              const isWhole = x.length === master.cost.length && x.every((value) => Math.abs(value - Math.round(value)) < 1e-6)
              return isWhole ? { status: 'feasible', x, duals: [] } : highsRefusal(status)
            },
          ),
      ),
  }
}

function masterModel(highs: Highs, { cost, columns, least, most }: CutMaster) {
  const numCols = cost.length
  const numRows = least.length
  return {
    numCols,
    numRows,
    sense: highs.constants.objectiveSense.minimize,
    colCost: cost,
    colLower: cost.map(() => 0),
    colUpper: cost.map(() => highs.infinity),
    rowLower: least.map((value) => highsBound(highs, value)),
    rowUpper: most.map((value) => highsBound(highs, value)),
    matrix: { format: 'csc' as const, numRows, numCols, ...highsEntries(columns.map(({ rows, values }) => ({ at: rows, values }))) },
  }
}
