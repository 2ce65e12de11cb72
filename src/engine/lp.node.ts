import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import loadHighs from 'highs'
import type { LinearSolve } from '../core/alignment/index.ts'
import { linearSolver } from './lp.ts'

/** HiGHS with its WebAssembly from the installed package: built into one file the command line would look for it beside itself. */
export async function linearSolverRead(): Promise<LinearSolve> {
  const wasmBinary = await readFile(createRequire(import.meta.url).resolve('highs/runtime'))
  return linearSolver(await loadHighs({ wasmBinary }))
}
