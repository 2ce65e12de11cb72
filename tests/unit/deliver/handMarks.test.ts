import { expect, test } from 'vitest'
import { handMarks } from '../../../src/core/deliver/build/handMarks.ts'
import { pathPoseAt, pointDistance } from '../../../src/core/geom/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { constructionOf, turnoutSolve } from '../../../src/core/turnout/index.ts'
import { ho6 } from '../../support/turnouts.ts'

const result = turnoutSolve(ho6)
if (!result.ok) throw new Error('the worked example is not solved')
const { rails } = result.turnout
const { sticks } = constructionOf(result.turnout)
const ends = handMarks(rails, sticks, { x: 0, y: 0, headingRad: 0 }).flatMap((item): readonly (readonly [Point, Point])[] =>
  item.kind === 'stroke' ? item.chain.segments.map(({ to }) => [item.chain.start, to]) : [],
)

test('every bend of the cut list has a V whose point stands off the foot of its rail, at its place along it', () => {
  const bends = sticks.flatMap(({ rail, bends: of }) => of.map(({ atMm }) => ({ rail: rails[rail], atMm })))
  // A set in one stock rail; two bends in each of two guard and two wing rails.
  expect(bends).toHaveLength(9)
  for (const { rail, atMm } of bends) {
    if (rail === undefined) throw new Error('a stick without a rail')
    const place = pathPoseAt(rail.gaugeLine, atMm)
    const vee = ends.filter(([from]) => pointDistance(from, place) < rail.headWidthMm + rail.footWidthMm)
    expect(vee.length).toBeGreaterThanOrEqual(2)
    // Across the rail: beyond the head and the rim of the foot.
    const off = rail.headWidthMm / 2 + rail.footWidthMm / 2
    expect(Math.min(...vee.map(([from]) => pointDistance(from, place)))).toBeGreaterThan(off)
  }
})

test('every filed end has a tick across the head where the filing begins', () => {
  const filed = sticks.flatMap(({ rail, filings }) => filings.map(({ lengthMm }) => ({ rail: rails[rail], lengthMm })))
  expect(filed.length).toBeGreaterThanOrEqual(4)
  for (const { rail, lengthMm } of filed) {
    if (rail === undefined) throw new Error('a stick without a rail')
    const place = pathPoseAt(rail.gaugeLine, lengthMm)
    const middles = ends.map(([a, b]): Point => ({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }))
    expect(Math.min(...middles.map((p) => Math.abs(pointDistance(p, place) - rail.headWidthMm / 2)))).toBeLessThan(1e-6)
  }
})
