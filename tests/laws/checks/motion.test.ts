import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Finding } from '../../../src/core/checks/index.ts'
import { poseToPlan } from '../../../src/core/geom/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { dataFreeze } from '../../../src/core/plan/index.ts'
import type { Plan, Table, Track } from '../../../src/core/plan/index.ts'
import { planFindings } from '../../support/checks.ts'
import { aBenchwork, aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const SEED = 20261125

const free = (x: number, y: number): { readonly kind: 'free'; readonly x: number; readonly y: number } => ({ kind: 'free', x, y })
const box = (minX: number, minY: number, maxX: number, maxY: number): readonly Point[] => [
  { x: minX, y: minY },
  { x: maxX, y: minY },
  { x: maxX, y: maxY },
  { x: minX, y: maxY },
]

/** A railway that breaks every rule somewhere, over tables that abut, with lines on each other, butted, crossing and on the very margin. */
const faultyPlan = planWith({
  railway: { edgeMarginMm: 35 },
  benchworks: [
    aBenchwork({ outline: box(-100, -300, 2400, 500), holes: [box(2000, 300, 2100, 400)] }),
    aBenchwork({ id: 'benchwork-2', outline: box(2400, -300, 4000, 1500) }),
    aBenchwork({
      id: 'benchwork-3',
      outline: [
        { x: 5000, y: 0 },
        { x: 6000, y: 1000 },
        { x: 6000, y: 0 },
        { x: 5000, y: 1000 },
      ],
    }),
  ],
  tracks: [
    aTrack({ corners: [aCorner({ x: 2800, radius: 500, easementIn: 0, easementOut: 0 })], end: free(3700, 1300) }),
    aTrack({ id: 'track-2', lineClass: 'yard', start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' }, end: free(1900, 200) }),
    aTrack({ id: 'track-3', lineClass: 'branch', start: free(0, 60), corners: [aCorner({ x: 2700, y: 60 })], end: free(3600, 1300) }),
    aTrack({ id: 'track-4', start: free(0, -265), end: free(4030, -265) }),
    aTrack({ id: 'track-5', start: free(600, 450), corners: [aCorner({ x: 1000, y: 460 })], end: free(1010, 900) }),
    aTrack({
      id: 'track-6',
      lineClass: 'yard',
      start: free(0, 465),
      corners: [aCorner({ x: 1200, y: 465, radius: 600 })],
      end: free(2000, -60),
    }),
    aTrack({
      id: 'track-7',
      lineClass: 'yard',
      start: free(0, 465),
      corners: [aCorner({ x: 1200, y: 465, radius: 600 })],
      end: free(2000, -60),
    }),
    aTrack({ id: 'track-8', lineClass: 'yard', start: free(3000, -265), end: free(3000, -80) }),
    aTrack({
      id: 'track-9',
      lineClass: 'yard',
      start: free(2600, 900),
      corners: [
        aCorner({ x: 2900, y: 900, radius: 500, easementIn: 0, easementOut: 0 }),
        aCorner({ id: 'pi-2', x: 3200, y: 1100, radius: 500, easementIn: 0, easementOut: 0 }),
        aCorner({ id: 'pi-3', x: 3500, y: 1110, radius: 500, easementIn: 0, easementOut: 0 }),
        aCorner({ id: 'pi-4', x: 3800, y: 1050, radius: 500, easementIn: 0, easementOut: 0 }),
      ],
      end: free(3950, 850),
    }),
    aTrack({ id: 'track-10', start: free(2500, 1300), corners: [aCorner({ x: 2900, y: 1300 })], end: free(2900, 1000) }),
  ],
  turnouts: [
    aTurnout({ stationMm: 300, frog: 4 }),
    aTurnout({ id: 'turnout-2', stationMm: 420, hand: 'right' }),
    aTurnout({ id: 'turnout-3', track: 'track-4', stationMm: 4020 }),
  ],
})

type Map = (at: Point) => Point

function planMoved(plan: Plan, map: Map, isMirrored: boolean): Plan {
  const over = <R extends { readonly id: string }>(table: Table<R>, change: (record: R) => R): Table<R> =>
    Object.fromEntries(Object.entries(table).map(([id, record]) => [id, change(record)]))
  const end = <E extends Track['start'] | Track['end']>(at: E): E => (at.kind === 'free' ? { ...at, ...map(at) } : at)
  return dataFreeze({
    ...plan,
    benchworks: over(plan.benchworks, (one) => ({ ...one, outline: one.outline.map(map), holes: one.holes.map((hole) => hole.map(map)) })),
    tracks: over(plan.tracks, (track) => ({
      ...track,
      start: end(track.start),
      corners: track.corners.map((corner) => ({ ...corner, ...map(corner) })),
      end: end(track.end),
    })),
    turnouts: over(plan.turnouts, (one) => ({ ...one, hand: isMirrored === (one.hand === 'left') ? 'right' : 'left' })),
  })
}

/** What a finding says besides its place: which rule, on what, how much. Fields that depend on the way round are left out. */
const saying = ({ id, severity, source, cure, problem }: Finding): readonly unknown[] => [id, severity, source, cure?.kind, problem?.kind]

/** Ends of a stretch are found to 1e-3 mm, its worst place to 1e-2 of station: so far two searches may end from each other. */
const STATION_MM = 0.02
/** Rounding of coordinates of a few metres through the solver and the union of benchworks (1e-4 mm). */
const MEASURE_MM = 1e-3

function expectSame(moved: readonly Finding[], findings: readonly Finding[], map: Map): void {
  expect(moved.map(saying)).toEqual(findings.map(saying))
  for (const [i, finding] of findings.entries()) {
    const other = moved[i]
    const near = (a: number | null | undefined, b: number | null, toleranceMm: number): void =>
      expect(Math.abs((a ?? 0) - (b ?? 0)), finding.id).toBeLessThan(toleranceMm)
    near(other?.measured, finding.measured, MEASURE_MM)
    near(other?.limit, finding.limit, MEASURE_MM)
    near(other?.stationFromMm, finding.stationFromMm, STATION_MM)
    near(other?.stationToMm, finding.stationToMm, STATION_MM)
    // Along a level stretch the worst place is any of it; elsewhere it moves with the plan.
    if (finding.rule === 'benchwork-edge' || (finding.rule === 'track-clearance' && finding.problem === null)) continue
    const at = map(finding)
    near(other?.x, at.x, STATION_MM)
    near(other?.y, at.y, STATION_MM)
  }
}

describe('the findings of a plan', () => {
  const findings = planFindings(faultyPlan)

  test('are many, of every rule but that of lines without a solution', () => {
    expect([...new Set(findings.map(({ rule }) => rule))]).toEqual(
      expect.arrayContaining([
        'benchwork-edge',
        'benchwork-outline',
        'broken-back',
        'easement-fit',
        'minimum-frog',
        'minimum-radius',
        'reverse-curve',
        'track-clearance',
        'turnout-place',
      ]),
    )
    expect(findings.length).toBeGreaterThan(15)
  })

  test('stay the same wherever the plan lies and however it is turned', () => {
    const millimetres = fc.double({ min: -5000, max: 5000, noNaN: true })
    const frame = fc.record({ x: millimetres, y: millimetres, headingRad: fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }) })
    fc.assert(
      fc.property(frame, (to) => {
        const map: Map = (at) => poseToPlan(to, at)
        expectSame(planFindings(planMoved(faultyPlan, map, false)), findings, map)
      }),
      { seed: SEED, numRuns: 12 },
    )
  })

  test('stay the same in a mirror', () => {
    const map: Map = ({ x, y }) => ({ x, y: -y })
    expectSame(planFindings(planMoved(faultyPlan, map, true)), findings, map)
  })

  test('ask for no names, and for no order of the records', () => {
    const turned = <R extends object>(table: Table<R>): Table<R> =>
      Object.fromEntries(
        Object.entries(table)
          .toReversed()
          .map(([id, record]) => [id, { ...record, name: `Renamed ${id}` }]),
      )
    const renamed = dataFreeze({
      ...faultyPlan,
      lineClasses: turned(faultyPlan.lineClasses),
      benchworks: turned(faultyPlan.benchworks),
      tracks: turned(faultyPlan.tracks),
      turnouts: turned(faultyPlan.turnouts),
    })
    // Of a pair of tracks the first one of the table speaks, and a crossing is called by it first.
    const unordered = (id: string | null): string => (id ?? '').split(':').toSorted().join(':')
    const sayings = (list: readonly Finding[]): readonly string[] =>
      list
        .map(({ rule, record, otherRecord, severity, problem }) =>
          [rule, severity, problem?.kind, ...[unordered(record), unordered(otherRecord)].toSorted()].join(' '),
        )
        .toSorted()
    expect(sayings(planFindings(renamed))).toEqual(sayings(findings))
  })
})
