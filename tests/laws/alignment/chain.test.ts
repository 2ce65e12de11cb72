import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { cornersOfChain, trackAlignment } from '../../../src/core/alignment/index.ts'
import { pathFromElements, pathPoseAt } from '../../../src/core/geom/index.ts'
import type { Path } from '../../../src/core/geom/index.ts'
import type { LineClass, Track } from '../../../src/core/plan/index.ts'
import { planEmpty } from '../../../src/core/plan/index.ts'
import { chain } from '../../support/chains.ts'
import { lawRuns } from '../../support/geomArbitraries.ts'
import { aTrack } from '../../support/plans.ts'

const main = planEmpty().lineClasses['main'] as LineClass
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
