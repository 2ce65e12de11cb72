import { describe, expect, test } from 'vitest'
import { areaEdgeDistance, benchArea } from '../../../src/core/checks/index.ts'
import type { Benchwork, LineClass, Plan, Roadbed } from '../../../src/core/plan/index.ts'
import { onlyFinding, planFindings } from '../../support/checks.ts'
import { aBenchwork, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const box = (minX: number, minY: number, maxX: number, maxY: number): { x: number; y: number }[] => [
  { x: minX, y: minY },
  { x: maxX, y: minY },
  { x: maxX, y: maxY },
  { x: minX, y: maxY },
]

/** Straight main from 100 to 2300 at a height y over the table of 2400 by 600; the margin is 35 mm. */
const overTable = (fromY: number, toY: number, benchworks: readonly Benchwork[] = [aBenchwork()]): Plan =>
  planWith({
    railway: { edgeMarginMm: 35 },
    benchworks,
    tracks: [aTrack({ start: { kind: 'free', x: 100, y: fromY }, end: { kind: 'free', x: 2300, y: toY } })],
  })

describe('roadbed-edge', () => {
  const onRoadbed = (y: number, edgeMarginMm: number, shoulderRun = 1): Plan => {
    const plan = overTable(y, y)
    const main = plan.lineClasses['main'] as LineClass
    const roadbed = { ...(main.roadbed as Roadbed), topWidthMm: 36, thicknessMm: 5, shoulderRun }
    return { ...plan, railway: { ...plan.railway, edgeMarginMm }, lineClasses: { ...plan.lineClasses, main: { ...main, roadbed } } }
  }

  test('tells where its foot lies past the edge though the margin is kept: half the top and the shoulder', () => {
    // 36 / 2 + 5 = 23 mm.
    const finding = onlyFinding(onRoadbed(20, 15), 'roadbed-edge')
    expect(finding).toMatchObject({ severity: 'warning', limit: 23, source: 'class:main', record: 'track-1' })
    expect(finding.measured).toBeCloseTo(20, 6)
    expect(planFindings(onRoadbed(23, 15))).toEqual([])
  })

  test('is silent where the margin asks for more, on an upright shoulder that fits, and without roadbed', () => {
    expect(planFindings(onRoadbed(20, 30)).map(({ rule }) => rule)).toEqual(['benchwork-edge'])
    expect(planFindings(onRoadbed(20, 15, 0))).toEqual([])
    const plan = onRoadbed(20, 15)
    const main = { ...(plan.lineClasses['main'] as LineClass), roadbed: null }
    expect(planFindings({ ...plan, lineClasses: { ...plan.lineClasses, main } })).toEqual([])
  })
})

describe('benchwork-edge', () => {
  test('is silent without benchwork and well inside it', () => {
    expect(planFindings(overTable(300, 300, []))).toEqual([])
    expect(planFindings(overTable(300, 300))).toEqual([])
    expect(planFindings(overTable(35, 35))).toEqual([])
  })

  test('warns of a track nearer to the edge than the margin: one stretch with its worst place', () => {
    // From 100 down to 20 over 2200: at the margin of 35 after (100 - 35) / 80 of the way, and 20 from the edge at the end.
    const finding = onlyFinding(overTable(100, 20), 'benchwork-edge')
    const lengthMm = Math.hypot(2200, 80)
    expect(finding).toMatchObject({ severity: 'warning', stage: 'line', record: 'track-1', limit: 35, source: 'railway' })
    expect(finding.stationFromMm).toBeCloseTo((65 / 80) * lengthMm, 1)
    expect(finding.stationToMm).toBeCloseTo(lengthMm, 9)
    expect(finding.measured).toBeCloseTo(20, 6)
    expect(finding.x).toBeCloseTo(2300, 6)
  })

  test('is silent of an end square to the edge, at it and short of it; not along the edge, at a slant or past it', () => {
    const to = (x: number, y: number, fromX = 100, fromY = 300): readonly (number | null)[] =>
      planFindings(
        planWith({
          railway: { edgeMarginMm: 35 },
          benchworks: [aBenchwork()],
          tracks: [aTrack({ start: { kind: 'free', x: fromX, y: fromY }, end: { kind: 'free', x, y } })],
        }),
      ).map(({ rule, measured }) => (rule === 'benchwork-edge' ? Math.round(measured ?? NaN) + 0 : NaN))
    // Common practice, no source: a car stops there before a bumping post, or the line goes on over the next section.
    expect(to(2400, 300)).toEqual([])
    expect(to(2380, 300)).toEqual([])
    expect(to(0, 300, 2400)).toEqual([])
    expect(to(1200, 600, 1100, 100)).toEqual([])
    expect(to(1200, 600, 600, 100)).toEqual([0])
    expect(to(2403, 300)).toEqual([-3])
    expect(to(2400, 20, 100, 20)).toEqual([0])
  })

  test('a track off the benchwork is an error, measured below zero', () => {
    const finding = onlyFinding(overTable(100, -60), 'benchwork-edge')
    expect(finding.severity).toBe('error')
    expect(finding.measured).toBeCloseTo(-60, 6)
  })

  test('a hole counts as an edge: two stretches with safe ground between are two findings', () => {
    const holes = [box(600, 280, 800, 320), box(1500, 280, 1700, 320)]
    const findings = planFindings(overTable(300, 300, [aBenchwork({ holes })]))
    expect(findings.map(({ rule, severity, measured }) => [rule, severity, Math.round(measured ?? NaN)])).toEqual([
      ['benchwork-edge', 'error', -20],
      ['benchwork-edge', 'error', -20],
    ])
    // From 35 before the hole, square to its edge.
    expect(findings[0]?.stationFromMm).toBeCloseTo(600 - 35 - 100, 1)
    expect(findings[0]?.stationToMm).toBeCloseTo(800 + 35 - 100, 1)
  })

  test('pieces that touch or overlap are one table', () => {
    const left = aBenchwork({ id: 'benchwork-1', outline: box(0, 0, 1200, 600) })
    const right = aBenchwork({ id: 'benchwork-2', outline: box(1200, 0, 2400, 600) })
    const overlapping = aBenchwork({ id: 'benchwork-2', outline: box(1100, 0, 2400, 600) })
    const apart = aBenchwork({ id: 'benchwork-2', outline: box(1205, 0, 2400, 600) })
    expect(planFindings(overTable(300, 300, [left, right]))).toEqual([])
    expect(planFindings(overTable(300, 300, [left, overlapping]))).toEqual([])
    expect(onlyFinding(overTable(300, 300, [left, apart]), 'benchwork-edge').severity).toBe('error')
  })

  test('cracks of a hundredth between abutting pieces, square or aslant, are none; a saw cut is one', () => {
    const pieces = (gap: number, lean: number): readonly Benchwork[] => [
      aBenchwork({
        id: 'benchwork-1',
        outline: [
          { x: 0, y: 0 },
          { x: 1200, y: 0 },
          { x: 1200 + lean, y: 600 },
          { x: 0, y: 600 },
        ],
      }),
      aBenchwork({
        id: 'benchwork-2',
        outline: [
          { x: 1200 + gap, y: 0 },
          { x: 2400, y: 0 },
          { x: 2400, y: 600 },
          { x: 1200 + lean + gap, y: 600 },
        ],
      }),
    ]
    for (const lean of [0, 133.337, -400]) {
      expect(planFindings(overTable(300, 300, pieces(0.01, lean))), `lean ${lean}`).toEqual([])
      expect(planFindings(overTable(35, 35, pieces(0.01, lean))), `lean ${lean}, at the margin`).toEqual([])
    }
    expect(onlyFinding(overTable(300, 300, pieces(1, 0)), 'benchwork-edge').severity).toBe('error')
  })

  test('a track along the very edge is on it, on whichever side', () => {
    expect(onlyFinding(overTable(0, 0), 'benchwork-edge')).toMatchObject({ severity: 'warning' })
    expect(onlyFinding(overTable(600, 600), 'benchwork-edge')).toMatchObject({ severity: 'warning' })
    expect(onlyFinding(overTable(-0.01, -0.01), 'benchwork-edge')).toMatchObject({ severity: 'error' })
  })

  test('a piece laid over the hole of another closes it', () => {
    const holed = aBenchwork({ holes: [box(600, 200, 900, 400)] })
    const lid = aBenchwork({ id: 'benchwork-2', outline: box(550, 150, 950, 450) })
    expect(planFindings(overTable(300, 300, [holed, lid]))).toEqual([])
  })

  test('the diverging route of a turnout counts where no track leaves it, and not twice where one does', () => {
    const lone = planWith({
      railway: { edgeMarginMm: 35 },
      benchworks: [aBenchwork({ outline: box(-200, -40, 2600, 50) })],
      tracks: [aTrack()],
      turnouts: [aTurnout()],
    })
    const finding = onlyFinding(lone, 'benchwork-edge')
    expect(finding).toMatchObject({ table: 'turnouts', record: 'turnout-1', stage: 'turnouts' })
    const spur = aTrack({
      id: 'track-2',
      start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
      end: { kind: 'free', x: 760, y: 45 },
    })
    const withSpur = { ...lone, tracks: { ...lone.tracks, 'track-2': spur } }
    expect(onlyFinding(withSpur, 'benchwork-edge')).toMatchObject({ table: 'tracks', record: 'track-2' })
  })
})

describe('the area of all benchwork', () => {
  test('has the distances of its union, holes and all', () => {
    const area = benchArea({
      a: aBenchwork({ id: 'a', outline: box(0, 0, 1000, 600), holes: [box(200, 200, 400, 400)] }),
      b: aBenchwork({ id: 'b', outline: box(900, 0, 2000, 600) }),
    })
    // 1e-4 mm is the union's rounding.
    expect(areaEdgeDistance(area, { x: 950, y: 300 })).toBeCloseTo(300, 3)
    expect(areaEdgeDistance(area, { x: 300, y: 300 })).toBeCloseTo(-100, 3)
    expect(areaEdgeDistance(area, { x: 450, y: 300 })).toBeCloseTo(50, 3)
    expect(areaEdgeDistance(area, { x: -30, y: 300 })).toBeCloseTo(-30, 3)
    expect(areaEdgeDistance(area, { x: 2003, y: 604 })).toBeCloseTo(-5, 3)
  })
})

describe('benchwork-outline', () => {
  const outlined = (change: Partial<Benchwork>): Plan => planWith({ benchworks: [aBenchwork(change)] })

  test('finds where an outline crosses itself', () => {
    const finding = onlyFinding(
      outlined({
        outline: [
          { x: 0, y: 0 },
          { x: 1000, y: 1000 },
          { x: 1000, y: 0 },
          { x: 0, y: 1000 },
        ],
      }),
      'benchwork-outline',
    )
    expect(finding).toMatchObject({
      stage: 'room',
      record: 'benchwork-1',
      x: 500,
      y: 500,
      problem: { kind: 'outlineCrosses', ring: -1, edgeA: 0, edgeB: 2 },
    })
  })

  test.each([
    ['two points', { outline: box(0, 0, 1000, 600).slice(0, 2) }, { kind: 'outlineTooFewPoints', have: 2, need: 3 }],
    ['a hole that pokes out', { holes: [box(2200, 100, 2500, 300)] }, { kind: 'holeOutside', ring: 0 }],
    ['a hole elsewhere', { holes: [box(3000, 100, 3100, 300)] }, { kind: 'holeOutside', ring: 0 }],
    [
      'a hole that crosses itself',
      {
        holes: [box(100, 100, 200, 200), [box(300, 300, 400, 400)].flatMap(([a, b, c, d]) => [a, c, b, d].filter((p) => p !== undefined))],
      },
      { kind: 'outlineCrosses', ring: 1 },
    ],
  ])('finds %s', (_, change, problem) => {
    expect(onlyFinding(outlined(change), 'benchwork-outline').problem).toMatchObject(problem)
  })

  test('finds an outline without area', () => {
    const flat = outlined({
      outline: [
        { x: 0, y: 0 },
        { x: 1000, y: 0 },
        { x: 500, y: 1e-7 },
      ],
    })
    expect(onlyFinding(flat, 'benchwork-outline').problem).toMatchObject({ kind: 'outlineNoArea' })
  })
})
