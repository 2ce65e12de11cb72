import { describe, expect, it } from 'vitest'
import { solidPicture } from '../../../src/formats/solid/picture.ts'
import { jigOf, solidsOfJig } from '../../support/solids.ts'

const inks = { face: [200, 180, 160], edge: [10, 20, 30] } as const
const side = 120

/** A cube of 20 mm: a riser block that is too small for a finger. */
async function cube() {
  const [piece] = await solidsOfJig(jigOf('riser', { heightMm: 20, widthMm: 20, thicknessMm: 20 }))
  if (piece === undefined) throw new Error('a cube was expected')
  return piece.mesh
}

describe('a picture of a solid', () => {
  it('shows a cube by three faces, each in its own shade, and leaves the ground free', async () => {
    const { pixels } = solidPicture([await cube()], side, side, inks)
    const at = (x: number, y: number): readonly number[] => [...pixels.subarray(4 * (y * side + x), 4 * (y * side + x) + 4)]
    for (const [x, y] of [
      [0, 0],
      [side - 1, 0],
      [0, side - 1],
      [side - 1, side - 1],
    ] as const)
      expect(at(x, y)[3]).toBe(0)
    const shades = [at(60, 35), at(40, 75), at(85, 75)]
    for (const shade of shades) {
      expect(shade[3]).toBe(255)
      // A shade of the ink: its channels keep their proportion.
      expect((shade[0] ?? 0) / (shade[2] ?? 1)).toBeCloseTo(200 / 160, 1)
    }
    expect(new Set(shades.map(String)).size).toBe(3)
    // Light falls from above: the top is the brightest.
    expect(shades[0]?.[0]).toBe(Math.max(...shades.map(([red]) => red ?? 0)))
  })

  it('keeps the proportions of its projection', async () => {
    const { pixels } = solidPicture([await cube()], side, side, inks)
    const filled = Array.from({ length: side * side }, (_, i) => i).filter((i) => (pixels[4 * i + 3] ?? 0) > 0)
    const xs = filled.map((i) => i % side)
    const ys = filled.map((i) => Math.floor(i / side))
    const [broad, high] = [Math.max(...xs) - Math.min(...xs) + 1, Math.max(...ys) - Math.min(...ys) + 1]
    // Broad: cos 30 + sin 30; high: (cos 30 + sin 30) sin e + cos e with sin e = tan 30.
    const across = Math.cos(Math.PI / 6) + 0.5
    const rise = Math.asin(Math.tan(Math.PI / 6))
    expect(high / broad).toBeCloseTo((across * Math.sin(rise) + Math.cos(rise)) / across, 1)
    expect(Math.max(broad, high)).toBeLessThanOrEqual(Math.ceil(side * 0.93))
  })

  it('is empty of nothing', () => {
    const { pixels } = solidPicture([], 8, 8, inks)
    expect(pixels.every((value) => value === 0)).toBe(true)
  })
})
