import { createRequire } from 'node:module'
import type { Highs } from 'highs'
import type { LinearSolve } from '../core/alignment/index.ts'
import type { CutSolver } from '../core/sticks/index.ts'
import { linearSolver } from './lp.ts'
import { cutSolver } from './cutSolver.ts'

/** HiGHS with its WebAssembly from the installed package: built into one file, the command line would look for it beside itself. */
async function highsRead(): Promise<Highs> {
  const { default: loadHighs } = await import('highs')
  const wasm = createRequire(import.meta.url).resolve('highs/runtime')
  return loadHighs({ locateFile: () => wasm })
}

export async function linearSolverRead(): Promise<LinearSolve> {
  return linearSolver(await highsRead())
}

export async function cutSolverRead(): Promise<CutSolver> {
  return cutSolver(await highsRead())
}
