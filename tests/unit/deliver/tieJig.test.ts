import { describe, expect, it } from 'vitest'
import { sheetsForSubject } from '../../../src/core/deliver/index.ts'
import type { SheetOptions, SheetSet } from '../../../src/core/deliver/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { aPaper } from '../../support/paper.ts'
import { planWith } from '../../support/plans.ts'

const plan = planWith({})
const derived = pipelineCreate().derive(plan)
const jig = (lineClass: string, paper: string): SheetSet => {
  const options: SheetOptions = {
    paper: aPaper(paper),
    marginMm: 8,
    overlapMm: 12,
    calibrationX: 1,
    calibrationY: 1,
    units: 'metric',
    date: '2026-11-26',
  }
  return sheetsForSubject(derived, { kind: 'tieJig', lineClass }, options)
}

describe('the sheet of a tie jig', () => {
  it('has every groove at its place, full size, on one large sheet', () => {
    const { sheets, problems } = jig('main', 'a2')
    expect(problems).toEqual([])
    expect(sheets).toHaveLength(1)
    const ties = sheets.flatMap(({ items }) => items.flatMap((item) => (item.kind === 'stroke' && item.role === 'tie' ? [item] : [])))
    // 18 in hold 80 spacings of 5.69 mm.
    expect(ties).toHaveLength(Math.floor((18 * 25.4) / 5.69))
    const [first, last] = [ties[0]?.start, ties.at(-1)?.start]
    expect(Math.hypot((last?.x ?? 0) - (first?.x ?? 0), (last?.y ?? 0) - (first?.y ?? 0))).toBeCloseTo(79 * 5.69, 2)
    const texts = sheets.flatMap(({ items }) => items.flatMap((item) => (item.kind === 'text' ? [item.text] : [])))
    expect(texts.some((text) => text.startsWith('Tie jig, Main'))).toBe(true)
    expect(texts).toContain('80')
  })

  it('comes on several sheets of a small size with an index, and is refused for a class that is not there', () => {
    expect(jig('main', 'a4').sheets.length).toBeGreaterThan(2)
    expect(jig('tram', 'a4')).toMatchObject({ sheets: [], problems: ['There is no line class "tram" in the plan.'] })
  })
})
