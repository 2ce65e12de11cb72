import { describe, expect, test } from 'vitest'
import { cornerPlacePoints, traverseSolve } from '../../../src/core/alignment/index.ts'
import type { Alignment, AlignmentProblem, Traverse, TraverseCorner } from '../../../src/core/alignment/types.ts'
import type { Pose } from '../../../src/core/geom/types.ts'

const free = (x: number, y: number): { readonly kind: 'free'; readonly at: { readonly x: number; readonly y: number } } => ({
  kind: 'free',
  at: { x, y },
})
const leg = (x: number, y: number, headingRad: number): { readonly kind: 'leg'; readonly pose: Pose; readonly turnout: string } => ({
  kind: 'leg',
  pose: { x, y, headingRad },
  turnout: 'turnout-1',
})
const pi = (x: number, y: number, change: Partial<TraverseCorner> = {}): TraverseCorner => ({
  id: `pi-${x}-${y}`,
  x,
  y,
  radiusMm: 100,
  easementInMm: 0,
  easementOutMm: 0,
  ...change,
})

const solved = (traverse: Traverse): Extract<Alignment, { ok: true }> => {
  const alignment = traverseSolve(traverse)
  if (!alignment.ok) throw new Error(JSON.stringify(alignment.problems))
  return alignment
}
const problems = (traverse: Traverse): readonly AlignmentProblem[] => {
  const alignment = traverseSolve(traverse)
  if (alignment.ok) throw new Error('expected problems')
  return alignment.problems
}
const kinds = (traverse: Traverse): readonly string[] => problems(traverse).map(({ kind }) => kind)

describe('a bare right angle', () => {
  // Sides of 500, radius 100: tangents of 400, a quarter of 100 between them.
  const alignment = solved({ start: free(0, 0), corners: [pi(500, 0)], end: free(500, 500) })

  test('has the elements and stations worked by hand', () => {
    expect(alignment.path.elements.map(({ lengthMm, k0, k1 }) => [lengthMm, k0, k1])).toEqual([
      [400, 0, 0],
      [50 * Math.PI, 0.01, 0.01],
      [400, 0, 0],
    ])
    expect(alignment.path.lengthMm).toBeCloseTo(800 + 50 * Math.PI, 10)
    expect(alignment.path.end).toEqual({ x: 500, y: 500, headingRad: Math.PI / 2 })
    expect(alignment.polygon).toEqual([
      { x: 0, y: 0 },
      { x: 500, y: 0 },
      { x: 500, y: 500 },
    ])
  })

  test('has its TS, SC, CS and ST where they belong', () => {
    const [place] = alignment.corners
    if (place === undefined) throw new Error('one corner')
    const { ts, sc, cs, st } = cornerPlacePoints(alignment.path, place)
    expect(ts).toEqual({ stationMm: 400, x: 400, y: 0, headingRad: 0 })
    expect(sc).toEqual(ts)
    expect(st.x).toBeCloseTo(500, 10)
    expect(st.y).toBeCloseTo(100, 10)
    expect(cs).toEqual(st)
  })
})

describe('a PI in line', () => {
  test('is no corner: one tangent, its four stations in one', () => {
    const alignment = solved({ start: free(0, 0), corners: [pi(300, 0)], end: free(1000, 0) })
    expect(alignment.path.elements).toHaveLength(1)
    expect(alignment.corners[0]).toMatchObject({
      tsMm: 300,
      scMm: 300,
      csMm: 300,
      stMm: 300,
      solution: { totalLengthMm: 0, tangentInMm: 0 },
    })
  })
})

describe('legs', () => {
  test('the first PI slides on to the tangent of the leg it starts from', () => {
    const alignment = solved({ start: leg(0, 0, 0), corners: [pi(500, 30)], end: free(500, 500) })
    expect(alignment.polygon[1]).toEqual({ x: 500, y: 0 })
    expect(alignment.path.elements[0]?.start).toEqual({ x: 0, y: 0, headingRad: 0 })
  })

  test('the last PI slides on to the tangent of the leg it arrives at, and the track runs against it', () => {
    const alignment = solved({ start: free(0, 0), corners: [pi(480, 10)], end: leg(500, 500, -Math.PI / 2) })
    expect(alignment.polygon[1]?.x).toBeCloseTo(500, 10)
    expect(alignment.path.end.x).toBeCloseTo(500, 10)
    expect(alignment.path.end.y).toBeCloseTo(500, 10)
    expect(Math.cos(alignment.path.end.headingRad - Math.PI / 2)).toBeCloseTo(1, 12)
  })

  test('one corner between two legs lies where their tangents cross', () => {
    const alignment = solved({ start: leg(0, 0, 0), corners: [pi(1, 1)], end: leg(500, 500, -Math.PI / 2) })
    expect(alignment.polygon[1]?.x).toBeCloseTo(500, 10)
    expect(alignment.polygon[1]?.y).toBeCloseTo(0, 10)
  })

  test('without a corner the free end slides on to the ray', () => {
    expect(solved({ start: leg(0, 0, 0), corners: [], end: free(400, 70) }).path.end).toEqual({ x: 400, y: 0, headingRad: 0 })
    const arriving = solved({ start: free(-300, 40), corners: [], end: leg(0, 0, Math.PI) })
    expect(arriving.polygon[0]?.x).toBeCloseTo(-300, 10)
    expect(arriving.polygon[0]?.y).toBeCloseTo(0, 10)
  })

  test('two legs in line need no corner; out of line they say by how much', () => {
    expect(solved({ start: leg(0, 0, 0), corners: [], end: leg(300, 0, Math.PI) }).path.lengthMm).toBeCloseTo(300, 10)
    expect(problems({ start: leg(0, 0, 0), corners: [], end: leg(300, 5, Math.PI - 0.1) })).toMatchObject([
      { kind: 'legsNotInLine', offsetMm: 5 },
    ])
    expect(kinds({ start: leg(0, 0, 0), corners: [pi(100, 0)], end: leg(300, 5, Math.PI) })).toEqual(['legsNotInLine'])
  })

  test.each([
    [{ start: leg(0, 0, 0), corners: [pi(-100, 0)], end: free(0, 500) }, 'start', { x: -100, y: 0 }],
    [{ start: leg(0, 0, 0), corners: [], end: free(-100, 0) }, 'start', { x: -100, y: 0 }],
    [{ start: free(0, 0), corners: [pi(500, 100)], end: leg(500, 0, -Math.PI / 2) }, 'end', { x: 500, y: 100 }],
  ] as const)('a PI behind the leg: %#', (traverse, end, at) => {
    const [problem, ...more] = problems(traverse)
    expect(more).toEqual([])
    if (problem?.kind !== 'behindLeg') throw new Error('expected behindLeg')
    expect(problem.end).toBe(end)
    expect(problem.at.x).toBeCloseTo(at.x, 10)
    expect(problem.at.y).toBeCloseTo(at.y, 10)
  })
})

describe('a closed loop', () => {
  const square = (x: number, y: number): Traverse => ({
    start: free(x, y),
    corners: [pi(0, 0), pi(1000, 0), pi(1000, 1000), pi(0, 1000)],
    end: { kind: 'closed' },
  })

  test.each([
    // Side 0 comes down from (0, 1000) to (0, 0); its tangent from 900 to 100.
    [-50, 500, 500],
    [300, 950, 900],
    [300, -400, 100],
  ])('starts at the point of its first tangent nearest to (%d, %d)', (x, y, atY) => {
    const { path } = solved(square(x, y))
    const first = path.elements[0]?.start
    expect(first?.x).toBeCloseTo(0, 10)
    expect(first?.y).toBeCloseTo(atY, 10)
    expect(path.end.headingRad).toBeCloseTo((first?.headingRad ?? NaN) + 2 * Math.PI, 12)
    expect(path.lengthMm).toBeCloseTo(4 * 800 + 200 * Math.PI, 9)
  })

  test('needs three corners and cannot start at a leg', () => {
    expect(problems({ start: free(0, 0), corners: [pi(0, 0), pi(1000, 0)], end: { kind: 'closed' } })).toEqual([
      { kind: 'tooFewCorners', have: 2, need: 3 },
    ])
    expect(kinds({ ...square(0, 0), start: leg(0, 0, 0) })).toEqual(['closedFromLeg'])
  })
})

describe('bad input', () => {
  test.each([
    ['NaN', { start: free(0, 0), corners: [pi(Number.NaN, 0)], end: free(500, 500) }, [{ kind: 'notFinite', where: 'corner 0 x' }]],
    ['Infinity', { start: free(0, 0), corners: [], end: free(0, Infinity) }, [{ kind: 'notFinite', where: 'end y' }]],
    [
      'a radius of zero',
      { start: free(0, 0), corners: [pi(500, 0, { radiusMm: 0 })], end: free(500, 500) },
      [{ kind: 'radiusNotPositive', corner: 0, radiusMm: 0 }],
    ],
    [
      'a negative radius',
      { start: free(0, 0), corners: [pi(500, 0, { radiusMm: -9 })], end: free(500, 500) },
      [{ kind: 'radiusNotPositive', corner: 0, radiusMm: -9 }],
    ],
    [
      'a negative easement',
      { start: free(0, 0), corners: [pi(500, 0, { easementOutMm: -1 })], end: free(500, 500) },
      [{ kind: 'easementNegative', corner: 0, lengthMm: -1 }],
    ],
    [
      'a reversal',
      { start: free(0, 0), corners: [pi(500, 0)], end: free(100, 0) },
      [{ kind: 'reversal', corner: 0, at: { x: 500, y: 0 } }],
    ],
    [
      'coincident PIs',
      { start: free(0, 0), corners: [pi(500, 0), pi(500, 0)], end: free(500, 500) },
      [{ kind: 'coincidentPoints', side: 1, at: { x: 500, y: 0 } }],
    ],
    [
      'a track without length',
      { start: free(7, 7), corners: [], end: free(7, 7) },
      [{ kind: 'coincidentPoints', side: 0, at: { x: 7, y: 7 } }],
    ],
    [
      'easement-only without easements',
      { start: free(0, 0), corners: [pi(500, 0, { radiusMm: null })], end: free(500, 500) },
      [{ kind: 'noCurvature', corner: 0 }],
    ],
  ] as const)('%s is a problem with its place', (_, traverse, expected) => {
    expect(problems(traverse)).toEqual(expected)
  })

  test('all problems come at once, with what can be drawn', () => {
    const alignment = traverseSolve({
      start: free(0, 0),
      corners: [pi(500, 0), pi(500, 150), pi(900, 150, { radiusMm: 0 })],
      end: free(900, 600),
    })
    if (alignment.ok) throw new Error('expected problems')
    expect(alignment.problems).toEqual([
      { kind: 'radiusNotPositive', corner: 2, radiusMm: 0 },
      {
        kind: 'sideTooShort',
        side: 1,
        at: { x: 500, y: 75 },
        haveMm: 150,
        needMm: expect.closeTo(200, 9) as number,
        shortByMm: expect.closeTo(50, 9) as number,
      },
    ])
    // Tangent, both curves that are solved, and the tangents behind them up to the bad corner and from it on.
    expect(alignment.pieces.map(({ lengthMm }) => Math.round(lengthMm))).toEqual([400, 157, 157, 300, 450])
  })
})
