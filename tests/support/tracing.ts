import { traverseSolve } from '../../src/core/alignment/index.ts'
import type { Traverse } from '../../src/core/alignment/types.ts'
import { pathNearest, pathOffsetPoint, pathPoseAt } from '../../src/core/geom/index.ts'
import type { Path, Point } from '../../src/core/geom/index.ts'

/** A corner in a row: x, y, radius, easement in, easement out. */
export type CornerRow = readonly [x: number, y: number, radiusMm: number, easementInMm: number, easementOutMm: number]

export function aTraverse(
  start: readonly [number, number],
  rows: readonly CornerRow[],
  end: readonly [number, number] | 'closed',
): Traverse {
  return {
    start: { kind: 'free', at: { x: start[0], y: start[1] } },
    corners: rows.map(([x, y, radiusMm, easementInMm, easementOutMm], i) => ({ id: `c${i}`, x, y, radiusMm, easementInMm, easementOutMm })),
    end: end === 'closed' ? { kind: 'closed' } : { kind: 'free', at: { x: end[0], y: end[1] } },
  }
}

export function solvedPath(traverse: Traverse): Path {
  const alignment = traverseSolve(traverse)
  if (!alignment.ok) throw new Error(JSON.stringify(alignment.problems))
  return alignment.path
}

/** Normal deviates of a fixed row of numbers (Box and Muller over a multiplicative generator): a law's noise must be the same every time. */
export function noise(seed: number): () => number {
  let state = (Math.abs(Math.trunc(seed)) % 2147483646) + 1
  const uniform = (): number => {
    state = (state * 48271) % 2147483647
    return state / 2147483647
  }
  for (let i = 0; i < 8; i++) uniform()
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform())
}

export interface Survey {
  readonly points: readonly Point[]
  /** Points that were put far off. */
  readonly gross: readonly number[]
}

/** A line measured at even steps: square to it with errors of a standard deviation; every so manyth point (0: none) far off. */
export function surveyed(path: Path, count: number, sigmaMm: number, grossEvery: number, seed: number): Survey {
  const deviate = noise(seed)
  const gross: number[] = []
  const points = Array.from({ length: count }, (_, i) => {
    const isGross = grossEvery > 0 && i % grossEvery === Math.floor(grossEvery / 2)
    if (isGross) gross.push(i)
    const offsetMm = sigmaMm * deviate() + (isGross ? (i % 2 === 0 ? 1 : -1) * (30 + (i % 7) * 15) : 0)
    return pathOffsetPoint(path, (path.lengthMm * i) / (count - 1), offsetMm)
  })
  return { points, gross }
}

/** Farthest that a line lies from another over all of itself, mm. */
export function pathApart(path: Path, other: Path): number {
  let apart = 0
  for (let i = 0; i <= 400; i++) apart = Math.max(apart, pathNearest(other, pathPoseAt(path, (path.lengthMm * i) / 400)).distanceMm)
  return apart
}
