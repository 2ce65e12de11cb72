import { describe, expect, it } from 'vitest'
import { sheetsForSubject } from '../../../src/core/deliver/index.ts'
import type { SheetOptions, SheetSubject } from '../../../src/core/deliver/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { svgFromSheet } from '../../../src/formats/svg.ts'
import { expectGolden } from '../../support/golden.ts'
import { aBenchwork, aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'
import { aPaper } from '../../support/paper.ts'

// Whole sheets to be looked at in a browser. Rounded to 0.01 mm, so that a last digit of a sine does not fail them.
const options: SheetOptions = {
  paper: { name: 'A4 across', widthMm: aPaper('a4').heightMm, heightMm: aPaper('a4').widthMm },
  marginMm: 8,
  overlapMm: 12,
  calibrationX: 1,
  calibrationY: 1,
  units: 'imperial',
  date: '2026-11-25',
}

const railway = { title: 'Fennimore Quay Tramway & Dock Co.' }
const cases: readonly (readonly [string, Plan, SheetSubject, Partial<SheetOptions>])[] = [
  [
    'turnout-6-left-ho',
    planWith({
      railway,
      tracks: [
        aTrack({ start: { kind: 'free', x: 0, y: 100 }, end: { kind: 'free', x: 2000, y: 100 } }),
        aTrack({ id: 'track-2', name: 'Quay lead', start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' }, end: { kind: 'free', x: 1400, y: 260 } }),
      ],
      turnouts: [aTurnout()],
      benchworks: [aBenchwork()],
    }),
    { kind: 'turnout', id: 'turnout-1' },
    {},
  ],
  [
    'curve-eased-ho-metric',
    planWith({
      railway,
      tracks: [aTrack({ corners: [aCorner({ x: 1000, y: 0, radius: 760, easementIn: 380, easementOut: 300 })], end: { kind: 'free', x: 1500, y: 800 } })],
    }),
    { kind: 'curve', track: 'track-1', corner: 'pi-1' },
    { units: 'metric', tiling: 'grid' },
  ],
]

/** The mark of a plan tells every change of its format, which these sheets do not show; nor is its line as wide with another mark. */
const withoutMark = (svg: string): string =>
  svg.replaceAll(/ textLength="[\d.]+"(?=[^<]* plan [2-9A-Z]{6})/g, '').replaceAll(/ · plan [2-9A-Z]{6}/g, ' · plan')

describe.each(cases)('sheets of %s', (name, plan, subject, change) => {
  const set = sheetsForSubject(pipelineCreate().derive(plan), subject, { ...options, ...change })

  it('look as they were accepted', () => {
    expect(set.problems).toEqual([])
    const shown = set.sheets.filter((sheet) => ['Index', 'A1', 'A2', 'B2'].includes(sheet.name))
    expect(shown.map((sheet) => sheet.name)).toContain('A1')
    for (const sheet of shown) expectGolden(`deliver/${name}-${sheet.name}.svg`, withoutMark(svgFromSheet(sheet, { decimals: 2 })))
  })
})
