import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { cornersOfChain, trackAlignment } from '../../../src/core/alignment/index.ts'
import { pathFromElements, pathPoseAt } from '../../../src/core/geom/index.ts'
import type { CurveElement, Path } from '../../../src/core/geom/index.ts'
import type { LineClass, Track } from '../../../src/core/plan/index.ts'
import { planEmpty } from '../../../src/core/plan/index.ts'
import { lawRuns, pose } from '../../support/geomArbitraries.ts'
import { aTrack } from '../../support/plans.ts'

const main = planEmpty().lineClasses['main'] as LineClass
const real = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true })

/** Up, along one or two arcs and down again, or only up and down; of either hand, up to a turn of about 300 degrees. */
const curve: fc.Arbitrary<readonly CurveElement[]> = fc
  .record({
    hand: fc.constantFrom(1, -1),
    radiusMm: real(300, 1200),
    turnRad: real(0.05, 5),
    easeInMm: fc.oneof(fc.constant(0), real(40, 300)),
    easeOutMm: fc.oneof(fc.constant(0), real(40, 300)),
    second: fc.option(fc.record({ wider: real(1.2, 2), turnRad: real(0.05, 0.5), easeMm: fc.oneof(fc.constant(0), real(40, 200)) })),
    isBare: fc.boolean(),
  })
  .map(({ hand, radiusMm, turnRad, easeInMm, easeOutMm, second, isBare }) => {
    const k = hand / radiusMm
    const up = { lengthMm: easeInMm, k0: 0, k1: k }
    if (isBare && easeInMm > 0 && easeOutMm > 0) return [up, { lengthMm: easeOutMm, k0: k, k1: 0 }]
    const k2 = second === null ? k : k / second.wider
    const arcs: CurveElement[] = [{ lengthMm: turnRad * radiusMm, k0: k, k1: k }]
    if (second !== null) {
      arcs.push({ lengthMm: second.easeMm, k0: k, k1: k2 }, { lengthMm: second.turnRad / Math.abs(k2), k0: k2, k1: k2 })
    }
    return [up, ...arcs, { lengthMm: easeOutMm, k0: k2, k1: 0 }].filter(({ lengthMm }) => lengthMm > 0)
  })

const line = (min: number): fc.Arbitrary<CurveElement> => real(min, 1500).map((lengthMm) => ({ lengthMm, k0: 0, k1: 0 }))
const chain: fc.Arbitrary<Path> = fc
  .record({
    start: pose,
    curves: fc.array(fc.record({ curve, before: fc.option(line(1)) }), { minLength: 1, maxLength: 4 }),
    last: fc.option(line(1)),
  })
  .map(({ start, curves, last }) => {
    // Without a line between them two curves of one hand would be one curve; a short one keeps them apart.
    const elements = curves.flatMap(({ curve: parts, before }) => [before ?? { lengthMm: 5, k0: 0, k1: 0 }, ...parts])
    return pathFromElements(start, [...elements, ...(last === null ? [] : [last])])
  })

const trackOf = (path: Path): Track => {
  const result = cornersOfChain(path.elements)
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  return aTrack(result.track)
}

describe('a line drawn elsewhere', () => {
  test('is the line of the track that is made of it', () => {
    fc.assert(
      fc.property(chain, (path) => {
        const solved = trackAlignment(trackOf(path), main, () => null)
        if (!solved.ok) throw new Error(JSON.stringify(solved.problems))
        expect(solved.path.lengthMm).toBeCloseTo(path.lengthMm, 5)
        for (const share of [0, 0.13, 0.37, 0.5, 0.71, 0.94, 1]) {
          const [is, was] = [pathPoseAt(solved.path, share * solved.path.lengthMm), pathPoseAt(path, share * path.lengthMm)]
          // Errors of turns grow along the line: 1e-12 rad over some metres, and curvatures beside a joint may be of either side.
          expect(Math.hypot(is.x - was.x, is.y - was.y)).toBeLessThan(1e-5)
        }
      }),
      lawRuns,
    )
  })

  test('may change its hand within one clothoid, and close on itself', () => {
    const reverse = pathFromElements({ x: 0, y: 0, headingRad: 0 }, [
      { lengthMm: 400, k0: 0, k1: 0 },
      { lengthMm: 300, k0: 1 / 500, k1: 1 / 500 },
      { lengthMm: 200, k0: 1 / 500, k1: -1 / 700 },
      { lengthMm: 300, k0: -1 / 700, k1: -1 / 700 },
    ])
    const solved = trackAlignment(trackOf(reverse), main, () => null)
    expect(solved.ok && solved.path.lengthMm).toBeCloseTo(1200, 6)
    const half = [
      { lengthMm: 1000, k0: 0, k1: 0 },
      { lengthMm: 500 * Math.PI, k0: 1 / 500, k1: 1 / 500 },
    ]
    const loop = trackOf(pathFromElements({ x: 0, y: 0, headingRad: 0 }, [...half, ...half]))
    expect([loop.end.kind, loop.corners.length]).toEqual(['closed', 4])
    const round = trackAlignment(loop, main, () => null)
    expect(round.ok && round.path.lengthMm).toBeCloseTo(2000 + 1000 * Math.PI, 6)
  })

  test('is refused with the element that cannot be part of a track', () => {
    const at = { x: 0, y: 0, headingRad: 0 }
    expect(cornersOfChain([])).toMatchObject({ ok: false, problem: { kind: 'empty' } })
    expect(cornersOfChain([{ start: at, lengthMm: NaN, k0: 0, k1: 0 }])).toMatchObject({ problem: { kind: 'notFinite', element: 0 } })
    const straight = { start: at, lengthMm: 100, k0: 0, k1: 0 }
    expect(cornersOfChain([straight, { ...straight, start: { x: 100, y: 1, headingRad: 0 } }])).toMatchObject({
      problem: { kind: 'broken', element: 1, gapMm: 1 },
    })
    expect(cornersOfChain([straight, { start: { x: 100, y: 0, headingRad: 0 }, lengthMm: 80, k0: 1 / 900, k1: 1 / 500 }])).toMatchObject({
      problem: { kind: 'spiralWithoutArc', element: 1 },
    })
  })
})
