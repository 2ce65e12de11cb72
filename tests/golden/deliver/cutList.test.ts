import { describe, expect, it } from 'vitest'
import { buildTables, sheetsForSubject, turnoutParts } from '../../../src/core/deliver/index.ts'
import type { SheetOptions } from '../../../src/core/deliver/index.ts'
import { textItemCorners } from '../../../src/core/deliver/text.ts'
import { boxContains } from '../../../src/core/geom/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { constructionOf } from '../../../src/core/turnout/index.ts'
import { svgFromSheet } from '../../../src/formats/svg.ts'
import { expectGolden } from '../../support/golden.ts'
import { aPaper } from '../../support/paper.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const plan = planWith({
  railway: { title: 'Fennimore Quay Tramway & Dock Co.' },
  tracks: [aTrack({ start: { kind: 'free', x: 0, y: 100 }, end: { kind: 'free', x: 2000, y: 100 } })],
  turnouts: [aTurnout()],
})
const derived = pipelineCreate().derive(plan)
const optionsOn = (paper: 'letter' | 'a4', units: 'imperial' | 'metric'): SheetOptions => ({
  paper: aPaper(paper),
  marginMm: 8,
  overlapMm: 12,
  calibrationX: 1,
  calibrationY: 1,
  units,
  date: '2026-11-25',
})
const subject = { kind: 'cutList', id: 'turnout-1' } as const

describe('cut list and filing of a turnout', () => {
  it('looks as it was accepted', () => {
    const { sheets, problems } = sheetsForSubject(derived, subject, optionsOn('letter', 'imperial'))
    expect(problems).toEqual([])
    expect(sheets.map(({ name }) => name)).toEqual(['L1', 'L2'])
    for (const sheet of sheets) expectGolden(`deliver/cut-list-6-left-ho-${sheet.name}.svg`, svgFromSheet(sheet, { decimals: 2 }))
  })

  it.each([
    ['letter', 'imperial'],
    ['a4', 'metric'],
  ] as const)('on %s, %s, has every cell of every table in the window, and nothing over anything', (paper, units) => {
    const { sheets } = sheetsForSubject(derived, subject, optionsOn(paper, units))
    const inWindow = sheets.map(({ items, window }) =>
      items.flatMap((item) => (item.kind === 'text' && textItemCorners(item, 0).every((p) => boxContains(window, p)) ? [item] : [])),
    )
    const said = inWindow.flat().map(({ text }) => text)
    const placed = derived.network.turnouts.get('turnout-1')?.result
    if (!placed?.ok) throw new Error('no turnout')
    for (const { rows, title } of buildTables(turnoutParts(placed.geometry), constructionOf(placed.geometry), units)) {
      expect(said).toContain(title)
      // A cell may be broken into lines; its words come in their order.
      for (const cell of rows.flat()) expect(said.join(' ')).toContain(cell.split(' ')[0])
    }
    for (const items of inWindow) {
      for (const y of new Set(items.map(({ at }) => at.y.toFixed(3)))) {
        const spans = items
          .filter(({ at }) => at.y.toFixed(3) === y)
          .map((item) => textItemCorners(item, 0).map(({ x }) => x))
          .map((xs) => [Math.min(...xs), Math.max(...xs)] as const)
          .toSorted(([a], [b]) => a - b)
        for (const [i, [, to]] of spans.entries()) expect(spans[i + 1]?.[0] ?? Infinity, `line at ${y}`).toBeGreaterThan(to)
      }
    }
  })

  it('tells what is missing', () => {
    expect(sheetsForSubject(derived, { kind: 'cutList', id: 'none' }, optionsOn('a4', 'metric')).problems).toEqual([
      'There is no turnout "none" in the plan.',
    ])
  })
})
