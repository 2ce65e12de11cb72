import type { Mesh } from '../formats/solid/types.ts'

/** Whether each edge is run through once each way: by exactly two triangles. */
export function meshIsClosed({ triangles }: Mesh): boolean {
  const runs = new Set<number>()
  const key = (from: number, to: number): number => from * 2 ** 26 + to
  const edges: (readonly [number, number])[] = []
  for (let i = 0; i + 2 < triangles.length; i += 3) {
    const [a = 0, b = 0, c = 0] = triangles.subarray(i, i + 3)
    edges.push([a, b], [b, c], [c, a])
  }
  for (const [from, to] of edges) runs.add(key(from, to))
  return runs.size === edges.length && edges.every(([from, to]) => runs.has(key(to, from)))
}

/**
 * The kernel's surface as files have it: in single precision, corners told apart by their places alone. Corners that fall together there become
 * one, and a triangle that has lost its breadth so is left out with the edge that it stood on, so that the surface stays closed.
 *
 * values: `each` numbers a corner, of which the first three are its place.
 */
export function meshWelded(values: Float32Array, each: number, triangles: Uint32Array): Mesh {
  const known = new Map<string, number>()
  const places: number[] = []
  const weld = Uint32Array.from({ length: values.length / each }, (_, i) => {
    const place = values.subarray(i * each, i * each + 3)
    const key = place.join(' ')
    const before = known.get(key)
    if (before !== undefined) return before
    known.set(key, known.size)
    places.push(...place)
    return known.size - 1
  })
  const kept: number[] = []
  for (let i = 0; i + 2 < triangles.length; i += 3) {
    const [a = 0, b = 0, c = 0] = [0, 1, 2].map((k) => weld[triangles[i + k] ?? 0] ?? 0)
    if (a !== b && b !== c && c !== a) kept.push(a, b, c)
  }
  return { corners: Float32Array.from(places), triangles: Uint32Array.from(kept) }
}
