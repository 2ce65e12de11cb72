import { describe, expect, it } from 'vitest'
import { cornerSolve, fairRounds } from '../../../src/core/alignment/index.ts'
import type { FairCorner, FairProgress, FairRequest, LinearSolve } from '../../../src/core/alignment/index.ts'
import type { Traverse } from '../../../src/core/alignment/types.ts'
import { pathNearest, pathPoseAt } from '../../../src/core/geom/index.ts'
import { aFairCorner, aFairRequest, faired, pathIntrusion, ring, solve, traversePath } from '../../support/fairing.ts'

const leg = (x: number, y: number, headingRad: number, turnout = 't') => ({ kind: 'leg', pose: { x, y, headingRad }, turnout }) as const
const free = (x: number, y: number) => ({ kind: 'free', at: { x, y } }) as const

/** The answer's line must keep its corridor by a look that knows nothing of how it was found; 2e-3 mm: twice what is promised. */
function expectKept(request: FairRequest, traverse: Traverse): void {
  expect(pathIntrusion(traversePath(traverse), request.corridor.chains)).toBeLessThan(2e-3)
}

describe('an oval in a rectangle', () => {
  // A table of 2000 by 1200 mm with a margin of 50 mm: the widest oval has half circles over the inner width, R = (1200 - 100) / 2.
  const request = aFairRequest({
    start: free(1000, 100),
    corners: [aFairCorner(300, 200), aFairCorner(1700, 250), aFairCorner(1800, 900), aFairCorner(250, 850)],
    end: { kind: 'closed' },
    corridor: {
      chains: [
        ring(
          [
            [0, 0],
            [2000, 0],
            [2000, 1200],
            [0, 1200],
          ],
          50,
          'edge',
        ),
      ],
    },
  })
  const fair = faired(request)

  it('reaches the closed form, and knows from the largest disc that there is no more', () => {
    expect(fair.before.minRadiusMm).toBeCloseTo(150, 9)
    expect(fair.after.minRadiusMm).toBeGreaterThan(0.999 * 550)
    expect(fair.after.minRadiusMm).toBeLessThanOrEqual(550 + 2e-3)
    expect(fair.bound?.kind).toBe('inscribedDisc')
    // The disc is found to a ten-thousandth, on the upper side.
    expect(fair.bound?.radiusMm).toBeGreaterThanOrEqual(550)
    expect(fair.bound?.radiusMm).toBeLessThan(550 * 1.0002)
    expectKept(request, fair.traverse)
  })

  it('says which sides have no room left', () => {
    expect(fair.binds.some(({ kind }) => kind === 'side')).toBe(true)
    expect(fair.ended).toBe('settled')
  })

  it('keeps easements by class: they are as long as the rule says for the new radius', () => {
    const eased = faired({ ...request, easementRule: { kind: 'length', lengthMm: 100 } })
    // With the four corners as they are, R tan 45 + k + p fills half the inner width: worked out by halving.
    let low = 150
    let high = 550
    while (high - low > 1e-6) {
      const middle = (low + high) / 2
      const corner = cornerSolve({ deflectionRad: Math.PI / 2, radiusMm: middle, easementInMm: 100, easementOutMm: 100 })
      if (corner.ok && corner.corner.tangentInMm < 550) low = middle
      else high = middle
    }
    expect(eased.after.minRadiusMm).toBeGreaterThan(0.99 * low)
    for (const corner of eased.traverse.corners) expect([corner.easementInMm, corner.easementOutMm]).toEqual([100, 100])
    for (const corner of eased.corners) expect([corner.easementIn, corner.easementOut]).toEqual(['class', 'class'])
    expectKept(request, eased.traverse)
  })
})

describe('a reverse curve between two parallel legs', () => {
  const runMm = 1500
  const offsetMm = 300
  const request = aFairRequest({
    start: leg(0, 0, 0, 'a'),
    corners: [aFairCorner(500, 0), aFairCorner(900, offsetMm)],
    end: leg(runMm, offsetMm, Math.PI, 'b'),
  })

  it('reaches R = (run^2 + offset^2) / (4 offset), which is the bound', () => {
    // Two arcs of a turn a each: run = 2 R sin a, offset = 2 R (1 - cos a); squared and added.
    const closed = (runMm ** 2 + offsetMm ** 2) / (4 * offsetMm)
    const fair = faired(request)
    expect(fair.after.minRadiusMm / closed).toBeGreaterThan(0.9999)
    expect(fair.bound).toEqual({ kind: 'reverse', radiusMm: closed })
    expect(fair.after.minRadiusMm).toBeLessThanOrEqual(closed + 1e-3)
  })

  it('reaches the same with easements, whose curves fill the tangents', () => {
    // Both PIs lie T from their legs' ends and 2 T from each other: tan(turn / 2) = offset / run, T = offset / (2 sin turn).
    const turn = 2 * Math.atan(offsetMm / runMm)
    const tangentMm = offsetMm / (2 * Math.sin(turn))
    const missing = (radiusMm: number): number => {
      const corner = cornerSolve({ deflectionRad: turn, radiusMm, easementInMm: 120, easementOutMm: 120 })
      return corner.ok ? corner.corner.tangentInMm - tangentMm : -1
    }
    let low = 350
    let high = 5000
    while (high - low > 1e-6) {
      if (missing((low + high) / 2) < 0) low = (low + high) / 2
      else high = (low + high) / 2
    }
    const fair = faired({
      ...request,
      corners: request.corners.map((corner) => ({ ...corner, radiusMm: 250 })),
      easementRule: { kind: 'length', lengthMm: 120 },
    })
    expect(fair.after.minRadiusMm / low).toBeGreaterThan(0.999)
    expect(fair.after.minRadiusMm).toBeLessThan(low + 1e-2)
  })
})

describe('a line round an inner corner', () => {
  // Legs along the outer walls of an L with arms of a and b. The widest curve touches both walls and passes the inner corner (a, b):
  // (R - a)^2 + (R - b)^2 = R^2, so R = a + b + sqrt(2 a b). The walls are set back by the keep of 1 mm, the corner is the tip of a wedge.
  const a = 400
  const b = 300
  const far = 3000
  const request = aFairRequest({
    start: leg(0, far, -Math.PI / 2, 'a'),
    corners: [aFairCorner(0, 800), aFairCorner(250, 250), aFairCorner(800, 0)],
    end: leg(far, 0, Math.PI, 'b'),
    corridor: {
      chains: [
        ring(
          [
            [-1, -1],
            [far + 10, -1],
            [far + 10, b + Math.SQRT1_2],
            [a + Math.SQRT1_2, b + Math.SQRT1_2],
            [a + Math.SQRT1_2, far + 10],
            [-1, far + 10],
          ],
          1,
          'edge',
        ),
      ],
    },
  })

  it('reaches R = a + b + sqrt(2 a b) from three timid corners', () => {
    const closed = a + b + Math.sqrt(2 * a * b)
    const fair = faired(request)
    expect(fair.after.minRadiusMm / closed).toBeGreaterThan(0.999)
    // The keep's circle round the corner is not quite the corner: within its radius of 1 mm times what the radius gains by it.
    expect(fair.after.minRadiusMm / closed).toBeLessThan(1.002)
    expectKept(request, fair.traverse)
    expect(fair.binds.some((bind) => bind.kind === 'chain' && bind.label === 'edge')).toBe(true)
  })
})

describe('what is held stays', () => {
  const chains = [
    ring(
      [
        [-200, -500],
        [3200, -500],
        [3200, 1700],
        [-200, 1700],
      ],
      50,
      'edge',
    ),
  ]
  const corners = [aFairCorner(800, 0, { id: 'a' }), aFairCorner(1400, 600, { id: 'b' }), aFairCorner(2400, 600, { id: 'c' })]
  const request = aFairRequest({ start: free(0, 0), corners, end: free(2400, 1600), corridor: { chains } })

  it('a stretch with a turnout keeps its place and is straight', () => {
    const held = { ...request, held: [{ side: 2, fromMm: 350, toMm: 650 }] }
    const fair = faired(held)
    expect(fair.after.minRadiusMm).toBeGreaterThan(fair.before.minRadiusMm * 1.5)
    const path = traversePath(fair.traverse)
    for (const x of [1750, 1900, 2050]) {
      const near = pathNearest(path, { x, y: 600 })
      // 1e-6 mm: rounding of sums of lengths.
      expect(near.distanceMm).toBeLessThan(1e-6)
    }
    const tangent = path.elements.find(
      ({ k0, k1, start, lengthMm }) => k0 === 0 && k1 === 0 && start.x <= 1750.001 && start.x + lengthMm >= 2049.999,
    )
    expect(tangent).toBeDefined()
    expectKept(held, fair.traverse)
  })

  it('a held corner keeps its PI and its radius, and the rest is eased', () => {
    const fair = faired({ ...request, heldCorners: [1] })
    const kept = fair.corners.find(({ id }) => id === 'b')
    expect(kept).toMatchObject({ x: 1400, y: 600 })
    expect(kept?.radiusMm).toBeCloseTo(150, 9)
    expect(fair.after.minRadiusMm).toBeCloseTo(150, 9)
    expect(fair.after.curvatureVariation).toBeLessThan(fair.before.curvatureVariation)
  })

  it('ends and legs stay where they are', () => {
    const fair = faired(request)
    const path = traversePath(fair.traverse)
    expect(path.elements[0]?.start).toMatchObject({ x: 0, y: 0 })
    expect(Math.hypot(path.end.x - 2400, path.end.y - 1600)).toBeLessThan(1e-6)
  })

  it('an easement-only corner stays one, with longer easements', () => {
    const only: FairCorner = { ...aFairCorner(1000, 0), radiusMm: null, easementIn: 200, easementOut: 100 }
    const fair = faired(aFairRequest({ start: leg(0, 0, 0), corners: [only], end: leg(1000, 1000, -Math.PI / 2) }))
    const [corner] = fair.corners
    expect(corner?.radiusMm).toBeNull()
    // All such curves of one turn are alike: tangents grow with the easements until the longer one fills 1000 mm.
    const unit = cornerSolve({ deflectionRad: Math.PI / 2, radiusMm: null, easementInMm: 200, easementOutMm: 100 })
    if (!unit.ok) throw new Error('a corner of easements must work out')
    const scale = 1000 / Math.max(unit.corner.tangentInMm, unit.corner.tangentOutMm)
    expect(Number(corner?.easementIn) / (200 * scale)).toBeCloseTo(1, 4)
    expect(Number(corner?.easementOut) / (100 * scale)).toBeCloseTo(1, 4)
  })
})

describe('a dogbone whose sides run side by side', () => {
  it('keeps its own track centres', () => {
    // Two loops joined by two parallel lines 60 mm apart; without a rule of its own the sides would cross to make the loops wider.
    const corners = [
      aFairCorner(600, 30),
      aFairCorner(900, 300),
      aFairCorner(1300, 0),
      aFairCorner(900, -300),
      aFairCorner(600, -30),
      aFairCorner(-600, -30),
      aFairCorner(-900, -300),
      aFairCorner(-1300, 0),
      aFairCorner(-900, 300),
      aFairCorner(-600, 30),
    ].map((corner) => ({ ...corner, radiusMm: 80 }))
    const edge = ring(
      [
        [-1600, -600],
        [1600, -600],
        [1600, 600],
        [-1600, 600],
      ],
      40,
      'edge',
    )
    const request = aFairRequest({
      start: free(0, 30),
      corners,
      end: { kind: 'closed' },
      corridor: { chains: [edge] },
      selfKeepMm: 50,
      roundsMost: 150,
    })
    const fair = faired(request)
    expect(fair.after.minRadiusMm).toBeGreaterThan(fair.before.minRadiusMm * 1.2)
    const path = traversePath(fair.traverse)
    let least = Infinity
    for (let s = 0; s < path.lengthMm; s += 5) {
      for (let t = s + 200; t < Math.min(path.lengthMm, s + path.lengthMm - 200); t += 5) {
        const [p, q] = [s, t].map((at) => pathPoseAt(path, at))
        if (p && q) least = Math.min(least, Math.hypot(p.x - q.x, p.y - q.y))
      }
    }
    // 0.2 mm: the promise of 0.1 mm, and the grid of 5 mm on which this looks.
    expect(least).toBeGreaterThan(50 - 0.2)
    expectKept(request, fair.traverse)
  })
})

describe('what cannot be eased', () => {
  const start = free(0, 0)
  const end = free(1000, 1000)
  const problemOf = (request: FairRequest, by: LinearSolve = solve) => {
    const next = fairRounds(request, by).next()
    return next.done === true && !next.value.ok ? next.value.problem : null
  }

  it('a line that does not work out', () => {
    expect(problemOf(aFairRequest({ start, corners: [aFairCorner(1000, 0, { radiusMm: 5000 })], end }))).toMatchObject({
      kind: 'lineUnsolved',
      problems: [{ kind: 'sideTooShort' }, { kind: 'sideTooShort' }],
    })
  })

  it('a line without a curve', () => {
    expect(problemOf(aFairRequest({ start, corners: [], end }))).toEqual({ kind: 'noCurve' })
    expect(problemOf(aFairRequest({ start, corners: [aFairCorner(500, 500)], end }))).toEqual({ kind: 'noCurve' })
  })

  it('a line outside of its corridor: where, by how much, of what', () => {
    const wall = {
      points: [
        { x: 500, y: 30 },
        { x: 600, y: 30 },
      ],
      keepsMm: [50],
      label: 'walls:w1',
    }
    const problem = problemOf(aFairRequest({ start, corners: [aFairCorner(1000, 0)], end, corridor: { chains: [wall] } }))
    expect(problem).toMatchObject({ kind: 'outside', label: 'walls:w1' })
    if (problem?.kind !== 'outside') throw new Error('no place is told')
    expect(problem.byMm).toBeCloseTo(20, 3)
    expect(problem.stationMm).toBeGreaterThanOrEqual(499)
    expect(problem.stationMm).toBeLessThanOrEqual(601)
  })

  it('numbers that are none', () => {
    const chain = {
      points: [
        { x: Number.NaN, y: 0 },
        { x: 1, y: 0 },
      ],
      keepsMm: [1],
      label: 'x',
    }
    expect(problemOf(aFairRequest({ start, corners: [aFairCorner(1000, 0)], end, corridor: { chains: [chain] } }))).toEqual({
      kind: 'notFinite',
      where: 'chain 0',
    })
    expect(problemOf(aFairRequest({ start, corners: [aFairCorner(Number.NaN, 0)], end }))).toMatchObject({ kind: 'lineUnsolved' })
  })

  it('a solver that has no answer', () => {
    const rounds = fairRounds(aFairRequest({ start, corners: [aFairCorner(1000, 0)], end }), () => ({ status: 'failed', says: 'empty' }))
    let next = rounds.next()
    while (next.done !== true) next = rounds.next('goOn')
    expect(next.value).toEqual({ ok: false, problem: { kind: 'solverFailed', says: 'empty' } })
  })
})

describe('the run of an easing', () => {
  const request = aFairRequest({
    start: free(0, 0),
    corners: [aFairCorner(800, 0), aFairCorner(1200, 500), aFairCorner(2000, 500)],
    end: free(2400, 1200),
  })

  it('tells of every round, and of no radius that gets smaller', () => {
    const heard: FairProgress[] = []
    const fair = faired({ ...request, roundsMost: 40 }, heard)
    expect(heard.map(({ rounds }) => rounds)).toEqual(Array.from({ length: fair.rounds }, (_, i) => i + 1))
    for (const [i, { minRadiusMm }] of heard.entries()) expect(minRadiusMm).toBeGreaterThanOrEqual(heard[i - 1]?.minRadiusMm ?? 0)
  })

  it('is the same every time', () => {
    expect(faired({ ...request, roundsMost: 30 })).toEqual(faired({ ...request, roundsMost: 30 }))
  })

  it('stops when it is told to, with the best line so far', () => {
    const rounds = fairRounds(request, solve)
    for (let i = 0; i < 5; i++) expect(rounds.next('goOn').done).toBe(false)
    const last = rounds.next('stop')
    expect(last.done).toBe(true)
    expect(last.value).toMatchObject({ ok: true, fair: { ended: 'stopped' } })
  })

  it('uses no more rounds than it is given', () => {
    const fair = faired({ ...request, roundsMost: 3 })
    expect(fair.rounds).toBe(3)
    expect(fair.ended).toBe('budget')
  })
})
