import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { snapBest, snapCandidates, wholeOf, wholeStepMm, type SnapRequest } from '../../src/tools/shared/snap.ts'

const plain: SnapRequest = {
  at: { x: 0, y: 0 },
  toleranceMm: 10,
  modifiers: { shift: false, alt: false },
  points: [],
  edges: [],
  lines: [],
  from: null,
  lineUp: [],
  wholeMm: null,
  bound: null,
}
const alt = { shift: false, alt: true }
const shift = { shift: true, alt: false }

describe('what draws the pointer', () => {
  it('is a thing to join before a line, a line before an edge', () => {
    const ranked = snapCandidates({
      ...plain,
      at: { x: 100, y: 4 },
      from: { x: 0, y: 0 },
      points: [
        { kind: 'benchworkCorner', at: { x: 101, y: 4 } },
        { kind: 'leg', at: { x: 95, y: 9 } },
      ],
      edges: [{ kind: 'benchworkEdge', a: { x: 0, y: 5 }, b: { x: 200, y: 5 } }],
    })
    expect(ranked.map(({ kind }) => kind)).toEqual(['leg', 'benchworkCorner', 'angle', 'benchworkEdge'])
  })

  it('is the nearer of two alike', () => {
    const near = { kind: 'pi', at: { x: 3, y: 0 } } as const
    const far = { kind: 'pi', at: { x: 0, y: 8 } } as const
    expect(snapBest({ ...plain, points: [far, near] }).point).toEqual({ x: 3, y: 0 })
  })

  it('is nothing while Alt is held', () => {
    const request: SnapRequest = {
      ...plain,
      at: { x: 100, y: 1 },
      from: { x: 0, y: 0 },
      points: [{ kind: 'pi', at: { x: 100, y: 0 } }],
      wholeMm: 25.4,
    }
    expect(snapBest(request).snap?.kind).toBe('pi')
    expect(snapBest({ ...request, modifiers: alt })).toEqual({ point: request.at, snap: null })
  })

  it('is the crossing of a level side with the line up to an earlier point', () => {
    const { point, snap } = snapBest({ ...plain, at: { x: 303, y: 202 }, from: { x: 700, y: 200 }, lineUp: [{ x: 300, y: 0 }] })
    expect(snap?.kind).toBe('angleAndLine')
    expect(point).toEqual({ x: 300, y: 200 })
  })

  it('reaches only as far as the tolerance', () => {
    expect(snapCandidates({ ...plain, points: [{ kind: 'pi', at: { x: 10.01, y: 0 } }] })).toEqual([])
  })

  it('never gives a leg its heading as a coordinate', () => {
    const pose = { x: 1, y: 2, headingRad: 0.5 }
    const { point, snap } = snapBest({ ...plain, points: [{ kind: 'leg', at: pose, leg: { turnout: 't', leg: 'diverging', pose } }] })
    expect(Object.keys(point)).toEqual(['x', 'y'])
    expect(snap?.leg?.pose).toBe(pose)
  })
})

describe('steps of 45 degrees', () => {
  it('hold any direction while Shift is held', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }),
        fc.double({ min: 30, max: 3000, noNaN: true }),
        (angle, length) => {
          const at = { x: length * Math.cos(angle), y: length * Math.sin(angle) }
          const { point } = snapBest({ ...plain, at, from: { x: 0, y: 0 }, modifiers: shift })
          const eighths = Math.atan2(point.y, point.x) / (Math.PI / 4)
          // Rounding of an angle; the side itself is exact for quarter turns.
          expect(Math.abs(eighths - Math.round(eighths))).toBeLessThan(1e-12)
        },
      ),
      { seed: 1853, numRuns: 200 },
    )
  })

  it('leave a side alone that is clearly meant to slant', () => {
    expect(snapBest({ ...plain, at: { x: 300, y: 80 }, from: { x: 0, y: 0 } }).snap).toBeNull()
  })
})

describe('a point bound to a leg', () => {
  it('stays on its tangent and never behind it', () => {
    const bound = { x: 10, y: 20, headingRad: 0.3 }
    fc.assert(
      fc.property(fc.double({ min: -900, max: 900, noNaN: true }), fc.double({ min: -900, max: 900, noNaN: true }), (x, y) => {
        const { point } = snapBest({ ...plain, at: { x, y }, bound, modifiers: alt })
        const along = (point.x - bound.x) * Math.cos(0.3) + (point.y - bound.y) * Math.sin(0.3)
        const across = (point.y - bound.y) * Math.cos(0.3) - (point.x - bound.x) * Math.sin(0.3)
        expect(along).toBeGreaterThan(-1e-9)
        expect(Math.abs(across)).toBeLessThan(1e-9)
      }),
      { seed: 1853, numRuns: 200 },
    )
  })
})

describe('whole steps', () => {
  it('are the decimals that they are', () => {
    expect(wholeOf(609.5, 25.4 / 16)).toBe(609.6)
    expect(Object.is(wholeOf(-0.1, 25.4), 0)).toBe(true)
  })

  it('get finer as one looks nearer, and end where a step would be a jump', () => {
    expect(wholeStepMm(4, 'imperial')).toBe(25.4 / 16)
    expect(wholeStepMm(1, 'imperial')).toBe(25.4 / 4)
    expect(wholeStepMm(0.3, 'metric')).toBe(20)
    expect(wholeStepMm(0.01, 'imperial')).toBeNull()
  })
})
