import { describe, expect, it } from 'vitest'
import { sheetsForSubject } from '../../../src/core/deliver/index.ts'
import type { SheetOptions, SheetSubject } from '../../../src/core/deliver/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'
import { aPaper } from '../../support/paper.ts'

const usual: SheetOptions = {
  paper: aPaper('letter'),
  marginMm: 10,
  overlapMm: 12,
  calibrationX: 1,
  calibrationY: 1,
  units: 'imperial',
  date: '2026-11-25',
}
const plan = planWith({ tracks: [aTrack()], turnouts: [aTurnout()] })
const turnout: SheetSubject = { kind: 'turnout', id: 'turnout-1' }

function sheets(of: Plan, subject: SheetSubject, change: Partial<SheetOptions> = {}) {
  return sheetsForSubject(pipelineCreate().derive(of), subject, { ...usual, ...change })
}

describe('options that cannot be printed', () => {
  it.each<[string, Partial<SheetOptions>, RegExp]>([
    ['paper without width', { paper: { name: 'Slip', widthMm: 0, heightMm: 100 } }, /"Slip" is 0 by 100 mm; both sides must be above 0/],
    ['paper that is no number', { paper: { name: 'Slip', widthMm: NaN, heightMm: 100 } }, /both sides must be above 0/],
    ['paper smaller than its margins', { marginMm: 120 }, /Two margins of 120 mm leave nothing of 215\.9 mm of paper.*6 mm is usual/],
    ['paper too small for the bars', { paper: { name: 'A6', widthMm: 105, heightMm: 148 } }, /A6.* is too small .* 150 by 198 mm/],
    [
      'a roll longer than PDF readers agree on',
      { paper: { name: 'Roll', widthMm: 610, heightMm: 6000 } },
      /longer than a page of a PDF can be: 14,400 points, 5080 mm.*as many pages of the roll as they need/,
    ],
    ['a negative margin', { marginMm: -1 }, /margin is -1 mm; it must be 0 or more/],
    ['no overlap', { overlapMm: 0 }, /overlap is 0 mm; on this paper, with 181\.9 by 229\.4 mm to print on, it must be from 6 to \d+ mm/],
    ['an overlap of half the page', { overlapMm: 100 }, /overlap is 100 mm/],
    ['an overlap that is no number', { overlapMm: NaN }, /overlap is NaN mm/],
    ['a calibration of zero', { calibrationX: 0 }, /across is 0: a 100 mm bar should measure between 95 and 105 mm/],
    ['a calibration typed in millimetres', { calibrationY: 99.7 }, /up is 99.7/],
    ['a calibration that is no number', { calibrationX: Infinity }, /across is Infinity/],
  ])('%s', (_what, change, expected) => {
    const set = sheets(plan, turnout, change)
    expect(set.sheets).toEqual([])
    expect(set.problems).toHaveLength(1)
    expect(set.problems[0]).toMatch(expected)
  })

  it.each([
    [150, 198],
    [198, 150],
  ])('the least paper that is named would do, upright or across (%i by %i mm)', (widthMm, heightMm) => {
    const set = sheets(plan, turnout, { paper: { name: 'Small', widthMm, heightMm } })
    expect(set.problems).toEqual([])
    expect(set.sheets.length).toBeGreaterThan(2)
  })
})

describe('subjects that cannot be drawn', () => {
  it.each<[string, Plan, SheetSubject, RegExp]>([
    ['a turnout that is not there', plan, { kind: 'turnout', id: 'x' }, /no turnout "x"/],
    ['a track that is not there', plan, { kind: 'track', id: 'x' }, /no track "x"/],
    ['a curve of a track that is not there', plan, { kind: 'curve', track: 'x', corner: 'c' }, /no track "x"/],
    ['a corner that is not there', plan, { kind: 'curve', track: 'track-1', corner: 'c' }, /"Main" has no corner "c"/],
    ['an empty plan', planWith(), { kind: 'all' }, /nothing to print/],
    [
      'a track that could not be solved',
      planWith({ tracks: [aTrack({ end: { kind: 'free', x: 0, y: 0 } })] }),
      { kind: 'track', id: 'track-1' },
      /"Main" could not be computed/,
    ],
    [
      'a turnout that runs off its track',
      planWith({ tracks: [aTrack()], turnouts: [aTurnout({ stationMm: 1990 })] }),
      turnout,
      /"East" could not be computed/,
    ],
    [
      'two kilometres of track',
      planWith({ tracks: [aTrack({ end: { kind: 'free', x: 2e6, y: 0 } })] }),
      { kind: 'track', id: 'track-1' },
      /6561′ .* more than the sheets can hold/,
    ],
  ])('%s', (_what, of, subject, expected) => {
    const set = sheets(of, subject)
    expect(set.sheets).toEqual([])
    expect(set.problems).toHaveLength(1)
    expect(set.problems[0]).toMatch(expected)
  })

  it('more sheets than anyone tapes together: says how many, and what to do', () => {
    // 90 m of track on the smallest paper: too many sheets, though not too long for 400 of them end to end.
    const long = planWith({ tracks: [aTrack({ end: { kind: 'free', x: 60000, y: 0 } })] })
    const set = sheets(long, { kind: 'all' }, { paper: { name: 'Small', widthMm: 150, heightMm: 186 } })
    expect(set.sheets).toEqual([])
    expect(set.problems[0]).toMatch(/\d{3} sheets of Small, more than 400. Choose larger paper/)
  })
})

describe('what is printed', () => {
  it('one sheet has no index, no match marks and no trim line', () => {
    const set = sheets(plan, turnout, { paper: { name: 'Roll', widthMm: 610, heightMm: 914 } })
    expect(set.sheets.map((sheet) => sheet.name)).toEqual(['A1'])
    const roles = set.sheets.flatMap((sheet) => sheet.items.flatMap((item) => (item.kind === 'stroke' ? [item.role] : [])))
    expect(roles).not.toContain('match')
    expect(roles).not.toContain('trim')
    expect(roles).toContain('rail-head')
  })

  it('more than one has an index first, and each sheet names its neighbours', () => {
    const set = sheets(planWith({ tracks: [aTrack()], turnouts: [aTurnout({ frog: 8 })] }), turnout)
    expect(set.sheets.map((sheet) => [sheet.kind, sheet.name])).toEqual([
      ['index', 'Index'],
      ['full-size', 'A1'],
      ['full-size', 'A2'],
    ])
    const texts = (i: number) => set.sheets[i]?.items.flatMap((item) => (item.kind === 'text' ? [item.text] : []))
    expect(texts(1)).toContain('A2 →')
    expect(texts(2)).toContain('← A1')
    expect(texts(0)?.some((text) => text.includes('not for measuring'))).toBe(true)
  })

  it('a curve without easements has PC and PT, one without an arc has SC and CS in one place', () => {
    const marks = (easement: number | 'class', radius: number | 'easement-only') => {
      const corners = [aCorner({ x: 1000, y: 0, radius, easementIn: easement, easementOut: easement })]
      const of = planWith({ tracks: [aTrack({ corners, end: { kind: 'free', x: 1900, y: 600 } })] })
      const set = sheets(of, { kind: 'track', id: 'track-1' }, { paper: { name: 'Roll', widthMm: 1400, heightMm: 2400 } })
      expect(set.problems).toEqual([])
      const bold = set.sheets.flatMap((sheet) =>
        sheet.items.flatMap((item) => (item.kind === 'text' && item.layer === 'curves' && item.weight === 'bold' ? [item.text] : [])),
      )
      return bold.map((text) => text.replace(/ \d.*/, ''))
    }
    expect(marks(0, 700)).toEqual(['PC', 'PT'])
    expect(marks(300, 700)).toEqual(['TS', 'SC', 'CS', 'ST'])
    expect(marks(300, 'easement-only')).toEqual(['TS', 'SC CS', 'ST'])
  })

  it('stations are in feet and inches or in millimetres', () => {
    const texts = (units: SheetOptions['units']) =>
      sheets(planWith({ tracks: [aTrack()] }), { kind: 'track', id: 'track-1' }, { units }).sheets.flatMap((sheet) =>
        sheet.items.flatMap((item) => (item.kind === 'text' && item.layer === 'stations' ? [item.text] : [])),
      )
    expect(texts('imperial')).toEqual(expect.arrayContaining(['0″', '6″', '1′ 0″', '6′ 6″']))
    expect(texts('metric')).toEqual(expect.arrayContaining(['0', '100', '1900', '2000']))
  })
})

describe('the paper lies', () => {
  const laid = (of: Plan, change: Partial<SheetOptions> = {}) => {
    const set = sheets(of, turnout, change)
    return set.sheets.map(({ paper, window }) => ({
      paper: [paper.widthMm, paper.heightMm],
      window: [window.maxX - window.minX, window.maxY - window.minY],
    }))
  }

  it('across when that saves a sheet: a No. 6 in HO is 243 mm long, and Letter has 232 mm of room upright', () => {
    const [only, ...more] = laid(plan, { marginMm: 8 })
    expect(more).toEqual([])
    expect(only?.paper).toEqual([279.4, 215.9])
    // 279.4 less two margins and the side strip of 14 mm; 215.9 less two margins and the foot of 30 mm.
    expect(only?.window[0]).toBeCloseTo(249.4, 9)
    expect(only?.window[1]).toBeCloseTo(169.9, 9)
  })

  it('as it was given when turning it saves nothing', () => {
    const short = planWith({ tracks: [aTrack()], turnouts: [aTurnout({ frog: 4 })] })
    expect(laid(short).map(({ paper }) => paper)).toEqual([[215.9, 279.4]])
    expect(laid(short, { paper: { name: 'Letter across', widthMm: 279.4, heightMm: 215.9 } }).map(({ paper }) => paper)).toEqual([
      [279.4, 215.9],
    ])
  })

  it('as the roll runs: a page of a roll is never turned, however the sheets lie on it', () => {
    const roll = { name: 'Roll', widthMm: 215.9, heightMm: 279.4, isRoll: true }
    // In rows an index and two sheets; the turnout lies slanted on a single one where it is free to. 9 mm more for the words of its foot.
    const high = { ...roll, heightMm: 288.4 }
    expect(laid(plan, { paper: high, tiling: 'grid' })).toHaveLength(3)
    expect(laid(plan, { paper: high, tiling: 'line' }).map(({ paper }) => paper)).toEqual([[215.9, 288.4]])
    const long = planWith({ tracks: [aTrack()], turnouts: [aTurnout({ frog: 10 })] })
    const papers = laid(long, { paper: roll }).map(({ paper }) => paper)
    expect(papers.length).toBeGreaterThan(2)
    expect(papers).toEqual(papers.map(() => [215.9, 279.4]))
  })

  it('with the measures of the printer turned along with it', () => {
    const [only] = sheets(plan, turnout, { marginMm: 8, calibrationX: 0.99, calibrationY: 1.01 }).sheets
    // The long side of the paper, which goes through the printer lengthwise, is now across.
    expect(only?.paper.widthMm).toBe(279.4)
    expect(only?.toPage).toMatchObject({ scaleX: 1 / 1.01, scaleY: 1 / 0.99 })
  })
})
