import { describe, expect, it } from 'vitest'
import { pathPoseAt } from '../../../src/core/geom/index.ts'
import { pathAcross, throwHole } from '../../../src/core/turnout/index.ts'
import type { Path } from '../../../src/core/geom/types.ts'
import { ho6, inch, solved } from '../../support/turnouts.ts'

const turnout = solved(ho6)
const step = (6 * inch) / 87.1

/** Separation of the centrelines on the line square to the host at x. */
const separation = (diverging: Path, x: number): number => pathAcross(diverging, { x, y: 0, headingRad: 0 })?.offsetMm ?? Number.NaN

describe('turnout ties', () => {
  it('No. 6 in HO at 20 in has 41 of them', () => {
    // Counted by hand in the trade's example: the centrelines are a tie apart 9.3 in from PS, 40 spacings.
    expect(turnout.ties).toHaveLength(41)
  })

  it('the first stands on PS, the others one spacing apart, square to the host', () => {
    for (const [i, tie] of turnout.ties.entries()) {
      expect(tie.stationMm).toBeCloseTo(i * ho6.tieSpacingMm, 9)
      expect(tie.from.x).toBe(tie.stationMm)
      expect(tie.to.x).toBe(tie.stationMm)
      expect(tie.to.y - tie.from.y).toBeCloseTo(tie.lengthMm, 9)
    }
  })

  it('two head blocks of 15 ft carry the throw, which lies clear between them', () => {
    const blocks = turnout.ties.filter((tie) => tie.isHeadBlock)
    expect(blocks.map(({ stationMm }) => stationMm)).toEqual([0, ho6.tieSpacingMm])
    for (const block of blocks) expect(block.lengthMm).toBeCloseTo((15 * 12 * inch) / 87.1, 9)
    const [hole, ...more] = turnout.throwHoles
    if (!hole) throw new Error('no hole')
    expect(more).toEqual([])
    const { lengthMm, widthMm } = throwHole(hole, ho6)
    expect(hole.at.x - widthMm / 2).toBeGreaterThanOrEqual(ho6.tieWidthMm / 2)
    expect(hole.at.x + widthMm / 2).toBeLessThanOrEqual(ho6.tieSpacingMm - ho6.tieWidthMm / 2)
    expect(lengthMm).toBeGreaterThan(turnout.throwMm)
  })

  it('lengths are a tie and the separation, taken up to the next 6 in full size', () => {
    for (const tie of turnout.ties.filter(({ isHeadBlock }) => !isHeadBlock)) {
      const wanted = ho6.tieLengthMm + separation(turnout.divergingRoute, tie.stationMm)
      expect(tie.lengthMm).toBeGreaterThanOrEqual(wanted - 1e-9)
      expect(tie.lengthMm - wanted).toBeLessThan(step)
      expect(tie.lengthMm / step).toBeCloseTo(Math.round(tie.lengthMm / step), 9)
    }
  })

  it('the last is the last where the separation does not exceed a tie', () => {
    const last = turnout.ties.at(-1)?.stationMm ?? 0
    expect(separation(turnout.divergingRoute, last)).toBeLessThanOrEqual(ho6.tieLengthMm)
    expect(separation(turnout.divergingRoute, last + ho6.tieSpacingMm)).toBeGreaterThan(ho6.tieLengthMm)
    expect(turnout.extent.toMm).toBeCloseTo(last + ho6.tieWidthMm / 2, 9)
  })

  it.each(['straight', 'curved'] as const)('the separation is the height of the drawn diverging route, %s points', (points) => {
    const { divergingRoute } = solved({ ...ho6, points })
    for (let i = 0; i <= 60; i++) {
      const point = pathPoseAt(divergingRoute, (divergingRoute.lengthMm * i) / 60)
      expect(Math.abs(separation(divergingRoute, point.x) - point.y)).toBeLessThan(1e-9)
    }
    // Behind the heel: straight on.
    const { end } = divergingRoute
    expect(separation(divergingRoute, end.x + 50)).toBeCloseTo(end.y + 50 * Math.tan(end.headingRad), 9)
  })
})
