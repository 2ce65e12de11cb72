import { describe, expect, it } from 'vitest'
import { rootBrent } from '../../../src/core/geom/index.ts'

describe('rootBrent', () => {
  it.each<[string, (x: number) => number, number, number, number]>([
    ['square root of two', (x) => x * x - 2, 0, 2, Math.SQRT2],
    ['cosine meets its argument (0.7390851332151607, Dottie number)', (x) => Math.cos(x) - x, 0, 1, 0.7390851332151607],
    ['a triple root, flat on both sides', (x) => (x - 1) ** 3, -3, 4.7, 1],
    ['a step: no slope to follow', (x) => (x < 0.3 ? -1 : 1), 0, 1, 0.3],
    ['a root at the left end', (x) => x, 0, 1, 0],
    ['a root at the right end', (x) => x - 1, 0, 1, 1],
    ['ends given the wrong way round', (x) => x - 0.25, 1, 0, 0.25],
  ])('%s', (_, f, a, b, root) => {
    const found = rootBrent(f, a, b, 1e-13)
    expect(found.ok).toBe(true)
    // The triple root: f falls below rounding within 1e-5 of it; elsewhere the tolerance asked for, with rounding.
    const tolerance = f(1 + 1e-6) !== 0 && Math.abs(f(root + 1e-6)) < 1e-17 ? 1e-5 : 3e-13
    expect(Math.abs((found.ok ? found.x : Number.NaN) - root)).toBeLessThanOrEqual(tolerance)
  })

  it('says why when it cannot', () => {
    expect(rootBrent((x) => x * x + 1, -1, 1, 1e-9)).toEqual({ ok: false, reason: 'notBracketed' })
    expect(rootBrent((x) => Math.sqrt(x), -1, 1, 1e-9)).toEqual({ ok: false, reason: 'notFinite' })
    expect(rootBrent((x) => (Math.abs(x - 0.5) < 0.2 ? Number.NaN : x - 0.5), 0, 1.1, 1e-9)).toEqual({ ok: false, reason: 'notFinite' })
  })

  it('is far quicker than halving on a smooth function', () => {
    let calls = 0
    rootBrent(
      (x) => {
        calls++
        return Math.exp(x) - 5
      },
      0,
      10,
      1e-13,
    )
    expect(calls).toBeLessThanOrEqual(20)
  })
})
