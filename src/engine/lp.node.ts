import { createRequire } from 'node:module'
import type { LinearSolve } from '../core/alignment/index.ts'
import { linearSolver } from './lp.ts'

/** HiGHS with its WebAssembly from the installed package: built into one file, the command line would look for it beside itself. */
export async function linearSolverRead(): Promise<LinearSolve> {
  const { default: loadHighs } = await import('highs')
  const wasm = createRequire(import.meta.url).resolve('highs/runtime')
  return linearSolver(await loadHighs({ locateFile: () => wasm }))
}
