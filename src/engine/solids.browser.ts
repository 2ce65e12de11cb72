import { solidsMaker, type SolidsOf } from './solids.ts'

/** The solids kernel with its WebAssembly, fetched from beside the app when the first jig is made. */
export async function solidsFetched(): Promise<SolidsOf> {
  const { default: load } = await import('manifold-3d')
  const kernel = await load()
  kernel.setup()
  return solidsMaker(kernel)
}
