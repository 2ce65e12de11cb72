import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ringArea, ringContains } from '../../../src/core/geom/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { benchBack, roomCorners, shelfAlong, squarePlace } from '../../../src/core/room/index.ts'
import type { InnerCorner, RoomCorner } from '../../../src/core/room/index.ts'

const square: InnerCorner = { kind: 'square' }
const apart = (a: Point, b: Point): number => Math.hypot(a.x - b.x, a.y - b.y)

function outlineOf(lengthsMm: readonly number[], depthMm: readonly number[], inner: InnerCorner, place = squarePlace({ x: 0, y: 0 }, 0)) {
  return shelfAlong(benchBack(lengthsMm, place), { side: 'left', depthMm, inner })
}

/** Area without the polygon code: rectangles of the legs, less what they share, and the triangle or spandrel of each inner corner. */
function areaByHand(lengths: readonly number[], depths: readonly number[], perCorner: number): number {
  const legs = lengths.reduce((sum, mm, i) => sum + mm * (depths[i] ?? 0), 0)
  const shared = depths.slice(1).reduce((sum, mm, i) => sum + mm * (depths[i] ?? 0), 0)
  return legs - shared + perCorner * (lengths.length - 1)
}

const leg = fc.double({ min: 1500, max: 4000, noNaN: true })
const depth = fc.double({ min: 200, max: 600, noNaN: true })

describe('benchwork of legs', () => {
  it('has the area of its legs, in whatever way it is turned', () => {
    const legs = fc.constantFrom(1, 2, 3)
    const turn = fc.double({ min: -4, max: 4, noNaN: true })
    fc.assert(
      fc.property(legs, fc.tuple(leg, leg, leg), fc.tuple(depth, depth, depth), turn, (count, long, deep, alongRad) => {
        const [lengths, depths] = [long.slice(0, count), deep.slice(0, count)]
        const made = outlineOf(lengths, depths, square, squarePlace({ x: 300, y: -200 }, alongRad))
        if (!made.ok) throw new Error(made.problem.kind)
        expect(made.outline).toHaveLength(2 * (count + 1))
        expect(ringArea(made.outline) / areaByHand(lengths, depths, 0)).toBeCloseTo(1, 9)
      }),
    )
  })

  it('gains a triangle at a cut corner, and what lies outside of a quarter circle at a rounded one', () => {
    fc.assert(
      fc.property(leg, leg, depth, depth, fc.double({ min: 20, max: 400, noNaN: true }), (a, b, da, db, mm) => {
        const cut = outlineOf([a, b], [da, db], { kind: 'cut', byMm: mm })
        const eased = outlineOf([a, b], [da, db], { kind: 'eased', radiusMm: mm })
        if (!cut.ok || !eased.ok) throw new Error('refused')
        expect(ringArea(cut.outline) - areaByHand([a, b], [da, db], (mm * mm) / 2)).toBeCloseTo(0, 3)
        // Short sides stand within a millimetre of the round, so the wood is larger by less than that along its length.
        const more = ringArea(eased.outline) - areaByHand([a, b], [da, db], mm * mm * (1 - Math.PI / 4))
        expect(more).toBeGreaterThan(-1e-3)
        expect(more).toBeLessThan((Math.PI / 2) * mm)
      }),
    )
  })

  it('is refused where a leg is no longer than the other is deep, and where its corner takes more than is there', () => {
    expect(outlineOf([600, 2400], [600, 600], square)).toMatchObject({
      problem: { kind: 'tooDeep', side: 0, takenMm: expect.closeTo(600, 6), lengthMm: 600 },
    })
    expect(outlineOf([601, 2400], [600, 600], square).ok).toBe(true)
    // A U of 2000 between legs of 700 and 800 has 500 left; both corners take 250 of it at most.
    const u = (byMm: number) => outlineOf([2400, 2000, 2400], [700, 600, 800], { kind: 'cut', byMm })
    expect(u(249).ok).toBe(true)
    expect(u(251)).toMatchObject({ problem: { kind: 'cornerTooLarge', side: 1, mostMm: 250 } })
    expect(outlineOf([2400, 2400], [600, 600], { kind: 'eased', radiusMm: 0 })).toMatchObject({ problem: { kind: 'badCorner' } })
    expect(outlineOf([2400, 2400], [600, 0], square)).toMatchObject({ problem: { kind: 'badDepth', depthMm: 0 } })
  })
})

/** A room a little out of square, walked with it on the left; its corners as a tape would name them. */
const room: readonly Point[] = [
  { x: 0, y: 0 },
  { x: 4000, y: 50 },
  { x: 3900, y: 3000 },
  { x: -80, y: 2950 },
]

describe('the corners of a room', () => {
  it('are found from either way round, with their own numbers, and lie along both walls', () => {
    const onward = roomCorners(room, true)
    const back = roomCorners(room.toReversed(), true)
    expect(onward.map(({ point }) => point)).toEqual([0, 1, 2, 3])
    const key = ({ at, alongRad }: RoomCorner): string => `${at.x} ${at.y} ${alongRad.toFixed(9)}`
    expect(back.map(key).toSorted()).toEqual(onward.map(key).toSorted())
    for (const corner of onward) {
      const wall = apart(room[corner.point] ?? corner.at, room[corner.toPoint] ?? corner.at)
      expect(corner.wallsMm[1]).toBeCloseTo(wall, 9)
      const made = outlineOf([1500, 2000], [500, 400], square, corner)
      if (!made.ok) throw new Error(made.problem.kind)
      // All of its wood is in the room: points of the back lie on the walls, the others well inside.
      for (const { x, y } of made.outline.slice(3)) expect(ringContains(room, { x, y })).toBe(true)
    }
  })

  it('leave out those that stand into the room and those where walls run on nearly straight', () => {
    const notched = [
      { x: 0, y: 0 },
      { x: 2000, y: 0 },
      { x: 4000, y: 10 },
      { x: 4000, y: 3000 },
      { x: 2000, y: 3000 },
      { x: 2000, y: 2000 },
      { x: 0, y: 2000 },
    ]
    expect(roomCorners(notched, true).map(({ point }) => point)).toEqual([0, 2, 3, 4, 6])
    // An open wall has the room on its left, and no corner at its ends.
    expect(roomCorners(notched.slice(0, 4), false).map(({ point }) => point)).toEqual([2])
  })

  it('let a U fill its wall from corner to corner', () => {
    const [corner] = roomCorners(room, true)
    if (corner === undefined) throw new Error('no corner')
    const back = benchBack([1500, corner.wallsMm[1], 1200], corner)
    expect(apart(back[2] ?? corner.at, room[1] ?? corner.at)).toBeLessThan(1e-9)
    // Its third leg lies along the next wall.
    const [p, q, r] = [room[1], room[2], back[3]]
    if (p === undefined || q === undefined || r === undefined) throw new Error('a point is missing')
    expect(((q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x)) / apart(p, q)).toBeCloseTo(0, 6)
  })
})
