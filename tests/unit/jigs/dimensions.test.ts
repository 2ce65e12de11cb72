import { describe, expect, it } from 'vitest'
import { jigSolve, printerUsual } from '../../../src/core/jigs/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { ringArea } from '../../../src/core/geom/index.ts'
import { tieJigOf } from '../../../src/core/ties/index.ts'
import { jigOf, jigRequest, solidsOfJig, wideBed } from '../../support/solids.ts'

const inch = 25.4

async function onePiece(jig: ReturnType<typeof jigOf>) {
  const [piece, ...more] = await solidsOfJig(jig)
  if (piece === undefined || more.length > 0) throw new Error('one piece was expected')
  return piece
}

describe('tie jig', () => {
  const values = { tieLengthMm: 30, tieWidthMm: 2.6, tieThicknessMm: 2, spacingMm: 7 }
  const usual = tieJigOf('main', { lengthMm: 30, widthMm: 2.6, thicknessMm: 2 }, 7)
  // 2.4 mm of floor below the grooves.
  const boardMm3 = usual.boardLengthMm * usual.boardWidthMm * (2.4 + usual.grooveDepthMm)

  it('has the board and the grooves of the sheet, the allowance added to their width only', async () => {
    const jig = jigOf('tieSpacing', { ...values, radiusMm: 0 }, { ...wideBed, slotAllowanceMm: 0.3 })
    const { volumeMm3, sizeMm } = await onePiece(jig)
    expect(sizeMm[0]).toBeCloseTo(usual.boardLengthMm, 3)
    expect(sizeMm[1]).toBeCloseTo(usual.boardWidthMm, 3)
    const groovesMm3 = usual.ties * (usual.grooveWidthMm + 0.3) * usual.grooveDepthMm * (usual.boardWidthMm - usual.stopMm)
    expect(volumeMm3).toBeCloseTo(boardMm3 - groovesMm3, 1)
  })

  it('keeps the board’s volume on a curve, where a band of so much width over so much arc has that area whatever its radius', async () => {
    // Guldin: the area of a band is the length of its middle line times its width. The grooves end at an arc instead of a straight edge.
    const jig = jigOf('tieSpacing', { ...values, radiusMm: 600 })
    const { volumeMm3 } = await onePiece(jig)
    const straight = await onePiece(jigOf('tieSpacing', { ...values, radiusMm: 0 }))
    expect(Math.abs(volumeMm3 / straight.volumeMm3 - 1)).toBeLessThan(2e-4)
  })

  it('fans its grooves: a groove’s outer end is farther from the next than its inner one, by spacing over radius', () => {
    const jig = jigOf('tieSpacing', { ...values, radiusMm: 500 })
    const middles = jig.body.cuts.slice(0, 2).map(({ polygon: { outline } }) => {
      const [a, b, c, d] = outline as [Point, Point, Point, Point]
      // Corners run along the right end, then back along the left one.
      return { right: { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }, left: { x: (c.x + d.x) / 2, y: (c.y + d.y) / 2 } }
    })
    const [first, second] = middles
    if (!first || !second) throw new Error('two grooves were expected')
    const turn =
      Math.atan2(second.left.y - second.right.y, second.left.x - second.right.x) -
      Math.atan2(first.left.y - first.right.y, first.left.x - first.right.x)
    expect(turn).toBeCloseTo(7 / 500, 9)
  })
})

describe('curve template', () => {
  it('is as wide as the gauge less the allowance, and its edge follows the radius', async () => {
    const jig = jigOf(
      'curve',
      { gaugeMm: 16.5, radiusMm: 500, easementMm: 0, arcMm: 300, runOutMm: 100, footReachMm: 0 },
      { ...wideBed, slotAllowanceMm: 0.1 },
    )
    const ring = jig.body.adds[0]?.polygon.outline ?? []
    // All that lies beyond the run-out stands R - w/2 or R + w/2 from the curve's middle, which is R to the left of where it begins.
    const onArc = ring.filter(({ x }) => x > 100.001)
    expect(onArc.length).toBeGreaterThan(40)
    for (const { x, y } of onArc) expect(Math.abs(Math.abs(Math.hypot(x - 100, y - 500) - 500) - 8.2)).toBeLessThan(1e-6)
    // The band: 400 mm of middle line; notches and holes are cut from that.
    expect(ringArea(ring)).toBeCloseTo(400 * 16.4, 0)
    const { volumeMm3 } = await onePiece(jig)
    const holes = jig.body.cuts.filter(({ polygon }) => polygon.outline.length > 4).length
    // One notch pair at the curve's beginning: a triangle 1.2 wide and 0.6 deep each.
    const notchesMm2 = 2 * 0.5 * 1.2 * 0.6
    expect(holes).toBe(7)
    const holesMm2 = holes * Math.PI * 0.65 ** 2
    expect(volumeMm3 / 3).toBeCloseTo(400 * 16.4 - notchesMm2 - holesMm2, 0)
  })

  it('turns through half of what the arc of the same length would over its easement', () => {
    const jig = jigOf('curve', { radiusMm: 800, easementMm: 240, arcMm: 160, runOutMm: 50 })
    expect(jig.facts.find(({ name }) => name === 'wholeTurn')?.value).toBeCloseTo(240 / 2 / 800 + 160 / 800, 12)
  })
})

describe('track gauge', () => {
  it('sets its notches at both gauges and the spacing, symmetric in their allowance', () => {
    const jig = jigOf(
      'trackSpacing',
      { centresMm: 50.8, gaugeMm: 16.5, railHeadMm: 1, railHeightMm: 2 },
      { ...wideBed, slotAllowanceMm: 0.2 },
    )
    const notches = jig.body.cuts
      .filter(({ polygon }) => polygon.outline.length === 4)
      .map(({ polygon }) => polygon.outline.map(({ x }) => x))
    const middles = notches.map((xs) => (Math.min(...xs) + Math.max(...xs)) / 2)
    // Rail heads of 1 mm beyond the gauge of 16.5: middles 17.5 apart, tracks 50.8.
    expect(middles).toEqual([-34.15, -16.65, 16.65, 34.15].map((x) => expect.closeTo(x, 9)))
    for (const xs of notches) expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(1.2, 9)
  })
})

describe('filing fixture', () => {
  it('holds a rail of the vee at half the frog angle: 1 in 12 of slope for a No. 6', () => {
    // F = 2 atan(1 / 2N), so that the half angle's tangent is 1 / 12. [NMRA-RP-12 row 18]
    const jig = jigOf('filing', { frog: 6, definition: 'isosceles', pointAngleRad: 0.03 })
    const slopes = jig.body.cuts.map(({ polygon: { outline } }) => {
      const [a, b] = outline as [Point, Point]
      return Math.abs((b.y - a.y) / (b.x - a.x))
    })
    expect(slopes).toEqual([1 / 12, 1 / 12, Math.tan(0.03), Math.tan(0.03)].map((slope) => expect.closeTo(slope, 9)))
  })

  it('has slots for both hands, the mirror of each other', () => {
    const { body } = jigOf('filing')
    const [right, left] = [body.cuts[0], body.cuts[1]].map((prism) => prism?.polygon.outline ?? [])
    const mirrored = (right ?? []).map(({ x, y }) => ({ x: expect.closeTo(-x, 6), y: expect.closeTo(y, 6) }))
    expect(left).toHaveLength(4)
    for (const corner of mirrored) expect(left).toContainEqual(corner)
  })
})

describe('roadbed guide', () => {
  it('has the section’s area over its length, and an edge that leans as the shoulder does', async () => {
    const jig = jigOf('roadbed', { widthMm: 20, sheetMm: 5, shoulderRun: 1, lengthMm: 200 })
    // Plate: 20 mean 17 wide (a 45 degree edge over 6), 6 thick; fence: 8 wide, 6 + 0.8 of 5 high.
    const areaMm2 = 17 * 6 + 8 * 10
    expect((await onePiece(jig)).volumeMm3).toBeCloseTo(areaMm2 * 200, 1)
    expect(jig.facts.find(({ name }) => name === 'shoulderAngle')?.value).toBeCloseTo(Math.PI / 4, 12)
  })
})

describe('riser block', () => {
  it('is as high as it says in pieces put together, which meet flat', async () => {
    const jig = jigOf(
      'riser',
      { heightMm: 250, widthMm: 30, thicknessMm: 15 },
      { ...wideBed, bedXMm: 100, bedYMm: 100, jointAllowanceMm: 0.2 },
    )
    const pieces = await solidsOfJig(jig)
    expect(pieces.length).toBe(3)
    // A tail sticks out of all but the last piece: as deep as 0.8 of a neck of 0.32 of 30 mm.
    const tailMm = 0.8 * 0.32 * 30
    const highMm = pieces.reduce((sum, { sizeMm }) => sum + sizeMm[0], 0) - (pieces.length - 1) * tailMm
    expect(highMm).toBeCloseTo(250, 3)
  })
})

describe('mid-ordinate stick', () => {
  it('gives the versed sine of the handbooks for the circle on which its noses stand', () => {
    // Middle ordinate m = R - sqrt(R^2 - c^2/4), in every field book; R is that of the rail's face less the nose of 3 mm.
    const jig = jigOf('midOrdinate', { radiusMm: 30 * inch, gaugeMm: 16.5, chordMm: 6 * inch })
    const r = 30 * inch + 8.25 - 3
    expect(jig.facts.find(({ name }) => name === 'midOrdinate')?.value).toBeCloseTo(r - Math.sqrt(r * r - (3 * inch) ** 2), 9)
  })

  it('touches the rail with all three noses, and with nothing else', async () => {
    const [radiusMm, gaugeMm, chordMm] = [400, 16.5, 120]
    const piece = await onePiece(jigOf('midOrdinate', { radiusMm, gaugeMm, chordMm }))
    const outline = piece.outlines?.[0] ?? []
    const low = Math.min(...outline.map(({ y }) => y))
    const railMm = radiusMm + gaugeMm / 2
    const middleX = piece.sizeMm[0] / 2
    // The rail's face through the middle nose's lowest point: its middle stands that radius above.
    const away = outline.map(({ x, y }) => railMm - Math.hypot(x - middleX, y - (low + railMm)))
    expect(Math.min(...away)).toBeGreaterThan(-0.003)
    const touching = outline.filter((_, i) => (away[i] ?? 1) < 0.01).map(({ x }) => Math.round((x - middleX) / 10) * 10)
    expect([...new Set(touching)].toSorted((a, b) => a - b)).toEqual([-60, 0, 60])
  })
})

describe('what will not do', () => {
  const refusal = (...given: Parameters<typeof jigRequest>) => {
    const result = jigSolve(jigRequest(...given), printerUsual)
    if (result.ok) throw new Error('a refusal was expected')
    return result.problems
  }

  it('is told with bounds, and just inside of them it is made', () => {
    const [close] = refusal('tieSpacing', { tieWidthMm: 2.6, spacingMm: 3 })
    // A groove of 2.6 + 0.15 + 0.2 and a wall of 0.8.
    expect(close).toMatchObject({ kind: 'badValue', where: 'spacingMm', value: 3, least: expect.closeTo(3.75, 9), because: 'wall' })
    expect(jigSolve(jigRequest('tieSpacing', { tieWidthMm: 2.6, spacingMm: 3.7500001 }), printerUsual).ok).toBe(true)
    const [near] = refusal('trackSpacing', { centresMm: 18, gaugeMm: 16.5, railHeadMm: 1 })
    expect(near).toMatchObject({ where: 'centresMm', least: expect.closeTo(16.5 + 1 + 1.2 + 1.6, 9) })
    expect(refusal('midOrdinate', { radiusMm: 100, chordMm: 200, gaugeMm: 16 })[0]).toMatchObject({ where: 'radiusMm', because: 'chord' })
    expect(refusal('curve', { radiusMm: 5 })[0]).toMatchObject({ where: 'radiusMm', because: 'turn' })
    expect(refusal('roadbed', { shoulderRun: 3 })[0]).toMatchObject({ where: 'shoulderRun', most: expect.closeTo(Math.sqrt(3), 9) })
    expect(refusal('filing', { frog: 1 })[0]).toMatchObject({ where: 'frog', least: 2 })
    expect(refusal('riser', { heightMm: 0 })[0]).toMatchObject({ where: 'heightMm', least: 2 })
  })

  it('never lets through what is no number, and names all that is wrong at once', () => {
    expect(refusal('riser', { heightMm: NaN, widthMm: Infinity }).map((problem) => problem.kind === 'badValue' && problem.where)).toEqual([
      'heightMm',
      'widthMm',
    ])
    expect(refusal('tieSpacing', { spacingMm: NaN })).toHaveLength(1)
    expect(refusal('tieSpacing', { radiusMm: NaN })).toHaveLength(1)
    expect(refusal('curve', { radiusMm: NaN })).toHaveLength(1)
    expect(refusal('midOrdinate', { radiusMm: NaN })).toHaveLength(1)
  })

  it('tells the bed that a broad jig takes, and the height', () => {
    const broad = jigSolve(jigRequest('riser', { widthMm: 150 }), { ...printerUsual, bedXMm: 100, bedYMm: 100 })
    expect(broad).toMatchObject({ ok: false, problems: [{ kind: 'bedTooSmall', needXMm: expect.closeTo(150, 0) }] })
    if (!broad.ok && broad.problems[0]?.kind === 'bedTooSmall') {
      const { needXMm, needYMm } = broad.problems[0]
      expect(jigSolve(jigRequest('riser', { widthMm: 150 }), { ...printerUsual, bedXMm: needXMm, bedYMm: needYMm }).ok).toBe(true)
    }
    const high = jigSolve(jigRequest('riser', { thicknessMm: 60 }), { ...printerUsual, bedZMm: 50 })
    expect(high).toMatchObject({ ok: false, problems: [{ where: 'bedZMm', least: 60 }] })
  })
})
