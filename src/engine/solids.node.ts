import { createRequire } from 'node:module'
import { solidsMaker, type SolidsOf } from './solids.ts'

/** The solids kernel with its WebAssembly from the installed package: built into one file, the command line would look for it beside itself. */
export async function solidsRead(): Promise<SolidsOf> {
  const { default: load } = await import('manifold-3d')
  const wasm = createRequire(import.meta.url).resolve('manifold-3d/manifold.wasm')
  const kernel = await load({ locateFile: () => wasm })
  kernel.setup()
  return solidsMaker(kernel)
}
