import type { LinearSolve } from '../core/alignment/index.ts'
import { linearSolver } from './lp.ts'

/** HiGHS with its WebAssembly, fetched from beside the app when the first line is eased. */
export async function linearSolverFetched(): Promise<LinearSolve> {
  const { default: loadHighs } = await import('highs')
  return linearSolver(await loadHighs())
}
