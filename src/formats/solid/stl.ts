import type { Mesh } from './types.ts'

const headBytes = 80
const triangleBytes = 50

/**
 * A solid as binary STL: 80 bytes of heading, the number of triangles, and for each its normal, three corners and two bytes of nothing; all
 * little-endian. The format knows no unit; by habit its numbers are millimetres, and the heading says so.
 *
 * Exactness:  corners as they are, single precision.
 */
export function stlWrite(title: string, { corners, triangles }: Mesh): Uint8Array {
  const count = triangles.length / 3
  const bytes = new Uint8Array(headBytes + 4 + count * triangleBytes)
  // A binary file must not begin as a text one does, with the word “solid”; plain letters only.
  const heading = `Waybench, millimetres. ${title}`.replaceAll(/[^\x20-\x7e]/g, '?').slice(0, headBytes)
  bytes.set(new TextEncoder().encode(heading.padEnd(headBytes)))
  const view = new DataView(bytes.buffer)
  view.setUint32(headBytes, count, true)
  for (let i = 0; i < count; i++) {
    const at = headBytes + 4 + i * triangleBytes
    const points = [0, 1, 2].map((k) => cornerOf(corners, triangles[3 * i + k] ?? 0))
    const values = [...normalOf(points), ...points.flat()]
    values.forEach((value, k) => view.setFloat32(at + 4 * k, value, true))
  }
  return bytes
}

export function cornerOf(corners: Float32Array, index: number): readonly number[] {
  return [corners[3 * index] ?? 0, corners[3 * index + 1] ?? 0, corners[3 * index + 2] ?? 0]
}

/** Of unit length; nothing of a triangle without area. */
export function normalOf(points: readonly (readonly number[])[]): readonly [number, number, number] {
  const [a = [], b = [], c = []] = points
  const edge = (to: readonly number[], k: number): number => (to[k] ?? 0) - (a[k] ?? 0)
  const cross = (i: number, j: number): number => edge(b, i) * edge(c, j) - edge(b, j) * edge(c, i)
  const [x, y, z] = [cross(1, 2), cross(2, 0), cross(0, 1)]
  const length = Math.hypot(x, y, z)
  return length === 0 ? [0, 0, 0] : [x / length, y / length, z / length]
}
