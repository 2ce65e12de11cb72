import { describe, expect, it } from 'vitest'
import { planMark } from '../../../src/core/deliver/planMark.ts'
import { svgFromSheet } from '../../../src/formats/svg.ts'
import { benchSet, derivedOf, metricA4 } from '../../support/benchSheets.ts'
import { expectGolden } from '../../support/golden.ts'
import { aPaper } from '../../support/paper.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'
import { aDoor, aPost, aRoom, aShelf, box } from '../../support/rooms.ts'

const derived = derivedOf(
  planWith({
    railway: { title: 'Fennimore Quay Tramway & Dock Co.' },
    tracks: [aTrack({ start: { kind: 'free', x: 200, y: 2700 }, end: { kind: 'free', x: 2200, y: 2700 } })],
    turnouts: [aTurnout()],
    walls: [aRoom()],
    openings: [aDoor()],
    obstacles: [aPost(box(3800, 200, 3900, 300))],
    benchworks: [aShelf(box(0, 2400, 4000, 3000), { heightMm: 1100 })],
  }),
)

describe('bench sheets', () => {
  it.each(['room', 'filing'] as const)('%s looks as it was accepted', (kind) => {
    const [sheet] = benchSet(derived, kind, { ...metricA4, paper: aPaper('letter'), units: 'imperial' }).sheets
    if (!sheet) throw new Error('no sheet')
    expect(sheet.kind).toBe('list')
    // The mark of the plan's state changes with whatever a new plan holds.
    expectGolden(`deliver/bench-${kind}-${sheet.name}.svg`, svgFromSheet(sheet, { decimals: 2 }).replaceAll(planMark(derived.plan), 'MARKED'))
  })
})
