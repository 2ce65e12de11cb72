import { describe, expect, it } from 'vitest'
import { meshIsClosed, meshWelded } from '../../../src/engine/weld.ts'

/** A pyramid on three corners. */
const pyramid = {
  corners: Float32Array.from([0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1]),
  triangles: Uint32Array.from([0, 2, 1, 0, 1, 3, 1, 2, 3, 2, 0, 3]),
}

describe('a welded surface', () => {
  it('has one corner at a place, whatever else the corners carry', () => {
    const values = Float32Array.from([0, 0, 0, 9, 1, 0, 0, 9, 0, 1, 0, 9, 0, 0, 1, 9, 0, 0, 0, 7])
    const welded = meshWelded(values, 4, Uint32Array.from([0, 2, 1, 4, 1, 3, 1, 2, 3, 2, 4, 3]))
    expect(welded).toEqual(pyramid)
    expect(meshIsClosed(welded)).toBe(true)
  })

  it('loses the triangles that have lost their breadth, and stays closed', () => {
    // Corner 4 stands on corner 3: of the two triangles between them nothing is left.
    const values = Float32Array.from([...pyramid.corners, 0, 0, 1])
    const split = Uint32Array.from([0, 2, 1, 0, 1, 3, 1, 4, 3, 1, 2, 4, 2, 3, 4, 2, 0, 3])
    expect(meshIsClosed({ corners: values, triangles: split })).toBe(true)
    const welded = meshWelded(values, 3, split)
    expect(welded.triangles).toHaveLength(pyramid.triangles.length)
    expect(meshIsClosed(welded)).toBe(true)
  })

  it('is open where a triangle is missing, turned over, or there twice', () => {
    const of = (...triangles: number[]) => ({ ...pyramid, triangles: Uint32Array.from(triangles) })
    expect(meshIsClosed(of(0, 2, 1, 0, 1, 3, 1, 2, 3))).toBe(false)
    expect(meshIsClosed(of(0, 2, 1, 0, 1, 3, 1, 2, 3, 2, 3, 0))).toBe(false)
    expect(meshIsClosed(of(...pyramid.triangles, ...pyramid.triangles))).toBe(false)
  })
})
