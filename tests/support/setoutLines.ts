import fc from 'fast-check'
import { cornerSolve, traverseSolve } from '../../src/core/alignment/index.ts'
import type { TraverseCorner } from '../../src/core/alignment/types.ts'
import type { SetoutSubject } from '../../src/core/deliver/index.ts'
import { pathBox } from '../../src/core/geom/index.ts'
import type { Point } from '../../src/core/geom/types.ts'

interface Bend {
  readonly degrees: number
  readonly hand: 1 | -1
  readonly radiusMm: number
  /** Shares of the turn that the easements take; together below 1. */
  readonly easeIn: number
  readonly easeOut: number
  readonly beforeMm: number
}

const share = fc.oneof(fc.constant(0), fc.double({ min: 0.02, max: 0.48, noNaN: true }))

const bends: fc.Arbitrary<readonly Bend[]> = fc.array(
  fc.record({
    degrees: fc.double({ min: 4, max: 150, noNaN: true }),
    hand: fc.constantFrom<1 | -1>(1, -1),
    radiusMm: fc.double({ min: 250, max: 1500, noNaN: true }),
    easeIn: share,
    easeOut: share,
    beforeMm: fc.double({ min: 1, max: 400, noNaN: true }),
  }),
  { minLength: 1, maxLength: 3 },
)

/** Solved lines of one to three corners of either hand with unequal easements, in a room that fits round them. */
export const setoutSubjects: fc.Arbitrary<SetoutSubject> = fc
  .record({ bends, lastMm: fc.double({ min: 1, max: 400, noNaN: true }), headingRad: fc.double({ min: -3, max: 3, noNaN: true }) })
  .map(({ bends: list, lastMm, headingRad }) => {
    const corners: TraverseCorner[] = []
    let at: Point = { x: 0, y: 0 }
    let heading = headingRad
    let owedMm = 0
    for (const [i, { degrees, hand, radiusMm, easeIn, easeOut, beforeMm }] of list.entries()) {
      const turn = (degrees * Math.PI) / 180
      const easements = { easementInMm: 2 * radiusMm * turn * easeIn, easementOutMm: 2 * radiusMm * turn * easeOut }
      const solved = cornerSolve({ deflectionRad: hand * turn, radiusMm, ...easements })
      if (!solved.ok) throw new Error(solved.problem.kind)
      const side = owedMm + beforeMm + solved.corner.tangentInMm
      at = { x: at.x + side * Math.cos(heading), y: at.y + side * Math.sin(heading) }
      corners.push({ id: `c${i}`, ...at, radiusMm, ...easements })
      heading += hand * turn
      owedMm = solved.corner.tangentOutMm
    }
    const side = owedMm + lastMm
    const end = { x: at.x + side * Math.cos(heading), y: at.y + side * Math.sin(heading) }
    const line = traverseSolve({ start: { kind: 'free', at: { x: 0, y: 0 } }, corners, end: { kind: 'free', at: end } })
    if (!line.ok) throw new Error(JSON.stringify(line.problems))
    return { path: line.path, corners: line.corners, isClosed: false, gaugeMm: 16.5, room: roomRound(line.path) }
  })

/** Walls 300 mm off the line on all sides and a bench 120 mm off it. */
export function roomRound(path: SetoutSubject['path']): SetoutSubject['room'] {
  const ring = (marginMm: number): readonly Point[] => {
    const { minX, minY, maxX, maxY } = pathBox(path, marginMm)
    return [
      { x: minX, y: minY },
      { x: maxX, y: minY },
      { x: maxX, y: maxY },
      { x: minX, y: maxY },
    ]
  }
  return {
    walls: { w: { id: 'w', name: 'Room', points: ring(300), thicknessMm: 100, isClosed: true } },
    obstacles: {},
    benchworks: { b: { id: 'b', name: 'Bench', outline: ring(120), holes: [], heightMm: 1100 } },
  }
}
