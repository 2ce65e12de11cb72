import type { Highs } from 'highs'
import type { LinearSolve } from '../core/alignment/index.ts'
import type { CutSolver } from '../core/sticks/index.ts'
import { linearSolver } from './lp.ts'
import { cutSolver } from './cutSolver.ts'

let loaded: Promise<Highs> | null = null

/** HiGHS with its WebAssembly, fetched from beside the app when the first line is eased or the first list is cut; what failed is tried again. */
function highsFetched(): Promise<Highs> {
  loaded ??= import('highs')
    .then(({ default: loadHighs }) => loadHighs())
    .catch((error: unknown) => {
      loaded = null
      throw error
    })
  return loaded
}

export async function linearSolverFetched(): Promise<LinearSolve> {
  return linearSolver(await highsFetched())
}

export async function cutSolverFetched(): Promise<CutSolver> {
  return cutSolver(await highsFetched())
}
