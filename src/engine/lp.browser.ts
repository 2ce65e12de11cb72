import loadHighs from 'highs'
import type { LinearSolve } from '../core/alignment/index.ts'
import { linearSolver } from './lp.ts'

/** HiGHS with its WebAssembly fetched from beside the app. */
export async function linearSolverFetched(): Promise<LinearSolve> {
  return linearSolver(await loadHighs())
}
