import { describe, expect, it } from 'vitest'
import { findingsOf, settleFindings, silenceOf } from '../../../src/core/checks/index.ts'
import { listSheets, planReport } from '../../../src/core/deliver/index.ts'
import type { Report, SheetOptions } from '../../../src/core/deliver/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { reportList, reportRows } from '../../../src/words/reportText.ts'
import { aPaper } from '../../support/paper.ts'
import { aBend, aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const options: SheetOptions = {
  paper: aPaper('a4'),
  marginMm: 8,
  overlapMm: 10,
  calibrationX: 1,
  calibrationY: 1,
  units: 'metric',
  date: '2026-11-26',
}
const prefs = { units: 'metric', fraction: 32 } as const

function reportOf(plan: Plan): Report {
  const derived = pipelineCreate().derive(plan)
  return planReport(derived, settleFindings(plan, findingsOf(derived)))
}

const plain = planWith({
  tracks: [aBend({ id: 'track-1' })],
  turnouts: [aTurnout({ stationMm: 300, frog: 8 }), aTurnout({ id: 'turnout-2', stationMm: 800 })],
})

describe('what a track came to', () => {
  it('is its length, least radius, shortest easement and least frog', () => {
    const [track, ...more] = reportOf(plain).tracks
    expect(more).toEqual([])
    expect(track).toMatchObject({ track: 'track-1', leastFrog: 6, turnouts: 2, shortestReverseMm: null })
    expect(track?.leastRadiusMm).toBeCloseTo(1000, 6)
    expect(track?.shortestEasementMm).toBeCloseTo(150, 6)
    // Whatever the turnouts foul, the far end is free; cars are counted by the longest of the class, with a little slack.
    expect(track?.clearMm).toBeGreaterThan(500)
    const carMm = plain.vehicles[track?.lineClass.cars[0] ?? '']?.overCouplersMm ?? Number.NaN
    expect(track?.clearCars).toBeLessThanOrEqual((track?.clearMm ?? 0) / carMm)
    expect(track?.clearCars).toBeGreaterThan((0.9 * (track?.clearMm ?? 0)) / carMm - 1)
  })

  it('counts the straight between reverse curves with half of the easements beside it', () => {
    const quarter = { radius: 500, easementIn: 100, easementOut: 100 } as const
    const plan = planWith({
      tracks: [
        aTrack({
          corners: [aCorner({ x: 1000, y: 0, ...quarter }), aCorner({ id: 'pi-2', x: 1000, y: 2000, ...quarter })],
          end: { kind: 'free', x: 2000, y: 2000 },
        }),
      ],
    })
    const solved = pipelineCreate().derive(plan).network.tracks.get('track-1')?.alignment
    if (solved?.ok !== true) throw new Error('not solved')
    const [first, second] = solved.corners
    const straightMm = (second?.tsMm ?? 0) - (first?.stMm ?? 0)
    expect(reportOf(plan).tracks[0]?.shortestReverseMm).toBeCloseTo(straightMm + 100, 6)
  })

  it('leaves out a track that has no line', () => {
    const broken = aTrack({ corners: [aCorner({ x: 1000, radius: 5000 })], end: { kind: 'free', x: 1000, y: 200 } })
    const report = reportOf(planWith({ tracks: [broken] }))
    expect(report.tracks).toEqual([])
    expect(report.findings.length).toBeGreaterThan(0)
  })
})

describe('the report in words', () => {
  it('puts findings under their stage, numbered as on the plan, and silenced ones with their reason', () => {
    const plan = planWith({
      tracks: [
        aTrack({
          corners: [aCorner({ x: 1500, y: 0, radius: 200, easementIn: 0, easementOut: 0 })],
          end: { kind: 'free', x: 1500, y: 900 },
        }),
      ],
    })
    const report = reportOf(plan)
    const [first] = report.findings
    if (first === undefined) throw new Error('no finding')
    const { title, tables } = reportList(
      { ...report, silenced: [{ finding: first, silence: { id: 'silence-1', ...silenceOf(first, 'Only the switcher goes there.') } }] },
      prefs,
    )
    expect(title).toMatch(/^Report: \d errors? and \d warnings?, 1 silenced$/)
    expect(tables.find((table) => table.title === 'Findings: line')?.rows[0]?.[0]).toBe('1')
    expect(tables.find((table) => table.title === 'Silenced')?.rows[0]?.[2]).toBe('Only the switcher goes there.')
  })

  it('has one row for the spreadsheet for each finding, silenced or not', () => {
    const report = reportOf(plain)
    const [heads = [], ...rows] = reportRows(report, prefs)
    const ofSection = (section: string): number => rows.filter((row) => row[heads.indexOf('section')] === section).length
    expect(ofSection('finding')).toBe(report.findings.length)
    expect(ofSection('silenced')).toBe(0)
    expect(ofSection('achieved')).toBe(6)
  })
})

describe('pages of tables', () => {
  const table = (rows: number) =>
    ({
      title: 'Long table',
      notes: [],
      columns: [
        { head: 'Head', align: 'left' },
        { head: 'Words', align: 'left' },
      ],
      rows: Array.from({ length: rows }, (_, i) => [
        `Row ${i}`,
        'so many words that they would not fit beside others of their kind '.repeat(2),
      ]),
    }) as const

  it('hold every row once, inside of their margins, each page with its number', () => {
    const { sheets, problems } = listSheets({ title: 'Report', railway: 'Quay', tables: [table(120)] }, options)
    expect(problems).toEqual([])
    expect(sheets.length).toBeGreaterThan(1)
    const texts = sheets.map(({ items }) => items.flatMap((item) => (item.kind === 'text' ? [item] : [])))
    const rows = texts.flat().filter(({ text }) => text.startsWith('Row '))
    expect(rows.map(({ text }) => text)).toEqual(Array.from({ length: 120 }, (_, i) => `Row ${i}`))
    for (const { at } of texts.flat()) {
      expect(at.x).toBeGreaterThanOrEqual(options.marginMm)
      expect(at.x).toBeLessThanOrEqual(options.paper.widthMm - options.marginMm)
      expect(at.y).toBeGreaterThanOrEqual(options.marginMm)
      expect(at.y).toBeLessThanOrEqual(options.paper.heightMm - options.marginMm)
    }
    texts.forEach((own, i) => expect(own.map(({ text }) => text)).toContain(`Page ${i + 1} of ${sheets.length}`))
  })

  it('say why paper cannot be printed on', () => {
    const { sheets, problems } = listSheets(
      { title: 'Report', railway: 'Quay', tables: [table(1)] },
      { ...options, paper: { name: 'card', widthMm: 90, heightMm: 50 } },
    )
    expect(sheets).toEqual([])
    expect(problems).toHaveLength(1)
  })
})
