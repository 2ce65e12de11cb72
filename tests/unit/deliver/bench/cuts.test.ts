import { beforeAll, describe, expect, it } from 'vitest'
import type { LayingLists } from '../../../../src/core/shopping/index.ts'
import type { SheetSet } from '../../../../src/core/deliver/index.ts'
import { benchSet, derivedOf, listsOf, metricA4, strokesOf, textsOf } from '../../../support/benchSheets.ts'
import { aPaper } from '../../../support/paper.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../../support/plans.ts'

const derived = derivedOf(
  planWith({
    tracks: [
      aTrack({
        corners: [aCorner({ x: 1500, y: 0, radius: 762, easementIn: 300, easementOut: 300 })],
        end: { kind: 'free', x: 2200, y: 1400 },
      }),
    ],
    turnouts: [aTurnout({ stationMm: 300 })],
  }),
)

/** Widths of white boxes, as pieces are drawn, times the scale. */
const pieceLengths = (set: SheetSet, reduction: number): readonly number[] =>
  strokesOf(set)
    .flatMap(({ fill, start, segments }) => (fill === 1 && segments[0] ? [(segments[0].to.x - start.x) * reduction] : []))
    .toSorted((a, b) => a - b)

const reductionOf = (set: SheetSet): number =>
  Number(/^Scale 1:([\d.]+)/.exec(textsOf(set).find((text) => text.startsWith('Scale 1:')) ?? '')?.[1])

const expectSame = (found: readonly number[], wanted: readonly number[]): void => {
  expect(found).toHaveLength(wanted.length)
  for (const [i, mm] of wanted.toSorted((a, b) => a - b).entries()) expect(found[i]).toBeCloseTo(mm, 6)
}

describe('sheets of cuts', () => {
  let lists: LayingLists
  beforeAll(async () => {
    lists = await listsOf(derived)
  })

  it.each(['a4', 'a1'])('have every piece of rail once at its length, to the scale that fits %s', (paper) => {
    const set = benchSet(derived, 'rail-cuts', { ...metricA4, paper: aPaper(paper) }, lists)
    const placed = lists.railCuts.flatMap(({ result }) => (result.ok ? result.plan.sticks.flatMap(({ pieces }) => pieces) : []))
    expect(placed.length).toBeGreaterThan(10)
    expectSame(
      pieceLengths(set, reductionOf(set)),
      placed.map(({ lengthMm }) => lengthMm),
    )
    for (const { id } of placed)
      expect(
        textsOf(set).some((text) => text.startsWith(`${id}: cut `)),
        id,
      ).toBe(true)
  })

  it('have every strip of roadbed once at its length, as far from the edge as it is cut', () => {
    const { roadbedCut } = lists
    if (!roadbedCut.ok) throw new Error('not cut')
    const set = benchSet(derived, 'roadbed-cuts', metricA4, lists)
    const reduction = reductionOf(set)
    const strips = roadbedCut.plan.sheets.flatMap((sheet) => sheet.strips)
    expectSame(
      pieceLengths(set, reduction),
      strips.flatMap(({ pieces }) => pieces.map(({ lengthMm }) => lengthMm)),
    )
    const boxes = strokesOf(set).filter(({ fill }) => fill === 1)
    const heights = boxes.map(({ segments }) => ((segments[1]?.to.y ?? 0) - (segments[0]?.to.y ?? 0)) * reduction).toSorted((a, b) => a - b)
    expectSame(
      heights,
      strips.flatMap(({ widthMm, pieces }) => pieces.map(() => widthMm)),
    )
    expect(textsOf(set).some((text) => text.includes('metal rule') || text.includes('dust'))).toBe(true)
  })
})
