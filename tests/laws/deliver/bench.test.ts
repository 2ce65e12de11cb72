import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { benchSheetNames, sheetsForSubject } from '../../../src/core/deliver/index.ts'
import { textItemCorners } from '../../../src/core/deliver/text.ts'
import { derivedOf, metricA4 } from '../../support/benchSheets.ts'
import { aPaper } from '../../support/paper.ts'
import { planArbitrary } from '../../support/planArbitraries.ts'

const RUNS = { seed: 20261126, numRuns: 15, endOnFailure: true }

describe('bench sheets of any plan', () => {
  it('come or say why not, with numbers that are finite and words that stay on the paper', { timeout: 60_000 }, () => {
    let sheetsSeen = 0
    fc.assert(
      fc.property(planArbitrary, fc.constantFrom('a4', 'letter', 'a2'), fc.constantFrom('metric', 'imperial'), (plan, paper, units) => {
        const derived = derivedOf(plan)
        for (const sheet of benchSheetNames) {
          const { sheets, problems } = sheetsForSubject(derived, { kind: 'bench', sheet }, { ...metricA4, paper: aPaper(paper), units })
          expect(sheets.length === 0, sheet).toBe(problems.length > 0)
          sheetsSeen += sheets.length
          for (const { items, paper: page } of sheets) {
            for (const item of items) {
              const points = item.kind === 'text' ? textItemCorners(item, 0) : [item.start, ...item.segments.map(({ to }) => to)]
              for (const { x, y } of points) {
                if (!(Number.isFinite(x) && Number.isFinite(y))) throw new Error(`${sheet}: not finite`)
              }
              if (item.kind === 'text' && !(item.at.x >= 0 && item.at.x <= page.widthMm && item.at.y >= 0 && item.at.y <= page.heightMm))
                throw new Error(`${sheet}: "${item.text}" is off the paper`)
            }
          }
        }
      }),
      RUNS,
    )
    expect(sheetsSeen).toBeGreaterThan(25)
  })
})
