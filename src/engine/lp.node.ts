import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import type { LinearSolve } from '../core/alignment/index.ts'
import { linearSolver } from './lp.ts'

/** HiGHS with its WebAssembly from the installed package: built into one file, the command line would look for it beside itself. */
export async function linearSolverRead(): Promise<LinearSolve> {
  const [{ default: loadHighs }, wasmBinary] = await Promise.all([
    import('highs'),
    readFile(createRequire(import.meta.url).resolve('highs/runtime')),
  ])
  return linearSolver(await loadHighs({ wasmBinary }))
}
