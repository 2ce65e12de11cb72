import type { Highs } from 'highs'
import type { LinearSolve } from '../core/alignment/index.ts'
import type { CutSolver } from '../core/sticks/index.ts'
import { linearSolver } from './lp.ts'
import { cutSolver } from './cutSolver.ts'

let loaded: Promise<Highs> | null = null

/** HiGHS with its WebAssembly, fetched from beside the app when the first line is eased or the first list is cut. */
async function highsFetched(): Promise<Highs> {
  const { default: loadHighs } = await import('highs')
  return loadHighs()
}

export async function linearSolverFetched(): Promise<LinearSolve> {
  return linearSolver(await (loaded ??= highsFetched()))
}

export async function cutSolverFetched(): Promise<CutSolver> {
  return cutSolver(await (loaded ??= highsFetched()))
}
