import { describe, expect, it } from 'vitest'
import { findingsOf, settleFindings, silenceOf } from '../../../src/core/checks/index.ts'
import { listSheets, planReport } from '../../../src/core/deliver/index.ts'
import type { Report, SheetOptions } from '../../../src/core/deliver/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { LineClass, Plan } from '../../../src/core/plan/index.ts'
import { reportList, reportRows } from '../../../src/words/reportText.ts'
import { aPaper } from '../../support/paper.ts'
import { aBend, aCar, aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

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

  it('tells the spreadsheet of a class all that it tells on paper', () => {
    const { main } = plain.lineClasses
    if (main === undefined) throw new Error('no main line')
    const toldOf = (change: Partial<LineClass>): readonly (readonly string[])[] => {
      const lineClass = { ...main, ...change }
      const plan = { ...plain, lineClasses: { main: lineClass }, vehicles: { own: aCar({ id: 'own', name: 'Long coach' }) } }
      const [heads = [], ...rows] = reportRows({ ...reportOf(plain), plan }, prefs)
      const of = (row: readonly string[], head: string): string => row[heads.indexOf(head)] ?? ''
      return rows
        .filter((row) => of(row, 'section') === 'limit' && of(row, 'name') === main.name)
        .map((row) => ['item', 'severity', 'limit', 'unit', 'text'].map((head) => of(row, head)))
    }
    const told = toldOf({
      usualRadiusMm: 812.5,
      easement: { kind: 'length', lengthMm: 305 },
      cars: ['own'],
      widening: [{ belowRadiusMm: 500, byMm: 0.25 }],
      rules: { 'broken-back': 'off' },
    })
    expect(told).toContainEqual(['usual radius', '', '812.5', 'mm', ''])
    expect(told).toContainEqual(['easement length', '', '305', 'mm', ''])
    expect(told).toContainEqual(['car', '', '', '', 'Long coach'])
    expect(told).toContainEqual(['gauge widening', '', '0.25', 'mm', expect.stringMatching(/^below /)])
    expect(told).toContainEqual(['broken-back', 'off', '', '', ''])
    expect(toldOf({ easement: { kind: 'shift', shiftMm: 6.5 } })).toContainEqual(['easement shift', '', '6.5', 'mm', ''])
    expect(toldOf({ easement: { kind: 'none' } })).toContainEqual(['easement', '', '', '', 'none'])
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

describe('the nearest gap of a track', () => {
  const car = aCar({}, { widthMm: 36 })
  const empty = planWith()
  const main = empty.lineClasses['main']
  if (main === undefined) throw new Error('no class')
  const plan = planWith({
    vehicles: [car],
    lineClasses: [{ ...main, cars: [car.id] }],
    tracks: [
      aTrack(),
      aTrack({ id: 'track-2', name: 'Siding', start: { kind: 'free', x: 0, y: 50 }, end: { kind: 'free', x: 2000, y: 50 } }),
    ],
    // Its near side 30 mm off the main. The wall ends 30 mm from the siding; the main runs through it by a portal.
    obstacles: [
      {
        id: 'post',
        name: 'Post',
        undersideMm: 0,
        outline: [
          { x: 900, y: -30 },
          { x: 900, y: -33 },
          { x: 903, y: -33 },
          { x: 903, y: -30 },
        ],
      },
    ],
    walls: [
      {
        id: 'wall',
        name: 'Gable',
        points: [
          { x: 1500, y: 20 },
          { x: 1500, y: -300 },
        ],
        thicknessMm: 20,
        isClosed: false,
      },
    ],
    portals: [{ id: 'portal', name: 'Door', track: 'track-1', stationMm: 1470, lengthMm: 40, leftMm: 29, rightMm: 40, heightMm: 90 }],
  })
  const gaps = new Map(reportOf(plan).tracks.map((track) => [track.track, track.gaps]))

  // On straight track a body sweeps its own width: gaps by hand.
  it('is that between bodies on straight tracks side by side: centres less a width', () => {
    expect(gaps.get('track-1')?.track).toMatchObject({ kind: 'tracks', record: 'track-2', gapMm: expect.closeTo(50 - 36, 6) })
    expect(gaps.get('track-2')?.track).toMatchObject({ kind: 'tracks', record: 'track-1', gapMm: expect.closeTo(50 - 36, 6) })
  })

  it('is to the side of a portal and not to the wall that it leads through, and to a post where that is nearer', () => {
    expect(gaps.get('track-1')?.fixed).toMatchObject({ kind: 'portals', record: 'portal', gapMm: expect.closeTo(29 - 18, 6) })
    const [portal] = Object.values(plan.portals)
    if (portal === undefined) throw new Error('no portal')
    const wide = { ...plan, portals: { portal: { ...portal, leftMm: 60, rightMm: 60 } } }
    const post = reportOf(wide).tracks[0]?.gaps?.fixed
    expect(post).toMatchObject({ kind: 'obstacles', record: 'post', gapMm: expect.closeTo(30 - 18, 6) })
    expect(post?.stationMm).toBeGreaterThanOrEqual(895)
    expect(post?.stationMm).toBeLessThanOrEqual(905)
  })

  it('is to the wall itself without a portal', () => {
    expect(gaps.get('track-2')?.fixed).toMatchObject({ kind: 'walls', record: 'wall', gapMm: expect.closeTo(30 - 18, 6) })
  })

  it('is told in rows: what is nearest, beside what is asked', () => {
    const [heads = [], ...rows] = reportRows(reportOf(plan), prefs)
    const of = (row: readonly string[], head: string): string => row[heads.indexOf(head)] ?? ''
    const told = rows.filter((row) => of(row, 'item') === 'nearest gap' && of(row, 'name') === 'Main')
    expect(told.map((row) => [of(row, 'text'), of(row, 'measured')])).toEqual([
      ['Siding', '14'],
      ['Door', '11'],
    ])
    expect(Number(of(told[0] ?? [], 'limit'))).toBeCloseTo(plan.railway.runningClearanceMm, 3)
  })
})

describe('the pages of the report', () => {
  it('tell at their foot which state of the plan they are of', () => {
    const foot = (plan: Plan): string => {
      const { sheets } = listSheets(reportList(reportOf(plan), prefs), options)
      const texts = sheets.flatMap(({ items }) => items.flatMap((item) => (item.kind === 'text' ? [item.text] : [])))
      return texts.find((text) => text.startsWith(options.date)) ?? ''
    }
    expect(foot(plain)).toMatch(/^2026-11-26 · plan [2-9A-Z]{6}$/)
    expect(foot({ ...plain, railway: { ...plain.railway, title: 'Another' } })).not.toBe(foot(plain))
  })
})
