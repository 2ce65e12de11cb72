import { describe, expect, test } from 'vitest'
import type { Finding } from '../../../src/core/checks/index.ts'
import type { LineClass, Plan, Track } from '../../../src/core/plan/index.ts'
import { onlyFinding, planFindings } from '../../support/checks.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

// HO, the class's car is 34.99 wide and 6.416 is kept between two: straight tracks may come to 41.406.
const straightLimit = 34.99 + 6.416

const straight = (id: string, y: number, change: Partial<Track> = {}): Track =>
  aTrack({ id, start: { kind: 'free', x: 0, y }, end: { kind: 'free', x: 2000, y }, ...change })

const clearances = (plan: Plan): readonly Finding[] => planFindings(plan).filter(({ rule }) => rule === 'track-clearance')

const classWithout = (id: string): LineClass => {
  const found = planWith().lineClasses[id]
  if (found === undefined) throw new Error(`no class ${id}`)
  return { ...found, cars: [] }
}

describe('track-clearance of parallel tracks', () => {
  test('straight: the widths of the cars and the running clearance', () => {
    expect(planFindings(planWith({ tracks: [straight('track-1', 0), straight('track-2', straightLimit + 0.01)] }))).toEqual([])
    const finding = onlyFinding(planWith({ tracks: [straight('track-1', 0), straight('track-2', straightLimit - 0.5)] }), 'track-clearance')
    expect(finding).toMatchObject({
      severity: 'error',
      stage: 'line',
      record: 'track-1',
      otherRecord: 'track-2',
      stationFromMm: 0,
      stationToMm: 2000,
      source: 'railway',
    })
    // Between the sides of the cars.
    expect(finding.measured).toBeCloseTo(6.416 - 0.5, 9)
    expect(finding.limit).toBe(6.416)
  })

  test('without a car the class says the track centres', () => {
    const lineClasses = [classWithout('main')]
    expect(planFindings(planWith({ lineClasses, tracks: [straight('track-1', 0), straight('track-2', 50.8)] }))).toEqual([])
    const finding = onlyFinding(planWith({ lineClasses, tracks: [straight('track-1', 0), straight('track-2', 50)] }), 'track-clearance')
    expect(finding).toMatchObject({ limit: 50.7, source: 'class:main' })
  })

  test('the stretch is where they are too near, its place where they are nearest', () => {
    // The second track comes down from 100 to 30 in 2000.
    const leaning = straight('track-2', 100, { end: { kind: 'free', x: 2000, y: 30 } })
    const finding = onlyFinding(planWith({ tracks: [straight('track-1', 0), leaning] }), 'track-clearance')
    const slope = Math.atan2(70, 2000)
    // From the side of a car on the level track square to the leaning one, which has half a car on its side of the line.
    const half = 34.99 / 2
    const fromMm = (100 - half - (half + 6.416) / Math.cos(slope)) / Math.tan(slope)
    // A thousandth of rounding is let pass, and they part by one in thirty.
    expect(finding.stationFromMm).toBeCloseTo(fromMm, 1)
    expect(finding.stationToMm).toBeCloseTo(2000, 9)
    // At the end, where both cars overlap: how deep, square to the leaning track.
    expect(finding.measured).toBeCloseTo((30 - half) * Math.cos(slope) - half, 1)
  })

  test('two places are two findings, and one bend that comes near is one', () => {
    const wavy = aTrack({
      id: 'track-2',
      lineClass: 'yard',
      start: { kind: 'free', x: 0, y: 45 },
      corners: [500, 1000, 1500].map((x, i) =>
        aCorner({ id: `pi-${i + 1}`, x, y: i % 2 === 0 ? 35 : 80, radius: 3000, easementIn: 0, easementOut: 0 }),
      ),
      end: { kind: 'free', x: 2000, y: 45 },
    })
    expect(clearances(planWith({ tracks: [straight('track-1', 0, { lineClass: 'yard' }), wavy] }))).toHaveLength(2)
  })
})

describe('track-clearance at turnouts', () => {
  const spur = (change: Partial<Track> = {}): Track =>
    aTrack({
      id: 'track-2',
      lineClass: 'yard',
      start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
      end: { kind: 'free', x: 1400, y: 200 },
      ...change,
    })

  test('a spur that parts from its host is not too near it', () => {
    expect(planFindings(planWith({ tracks: [aTrack(), spur()], turnouts: [aTurnout()] }))).toEqual([])
  })

  test.each(['rising', 'falling'] as const)('nor one that arrives at it (%s)', (facing) => {
    const arriving = aTrack({
      id: 'track-2',
      lineClass: 'yard',
      start: { kind: 'free', x: facing === 'rising' ? 1500 : 0, y: 150 },
      corners: [aCorner({ x: facing === 'rising' ? 1200 : 300, y: 60 })],
      end: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
    })
    const turnout = aTurnout({ facing, hand: facing === 'rising' ? 'left' : 'right', stationMm: facing === 'rising' ? 500 : 1000 })
    expect(clearances(planWith({ tracks: [aTrack(), arriving], turnouts: [turnout] }))).toEqual([])
  })

  test('a spur that stops parting too early is, from there on', () => {
    // A parallel siding at 38 mm: clear of nothing.
    const siding = spur({
      corners: [aCorner({ x: 900, y: 38, radius: 800, easementIn: 0, easementOut: 0 })],
      end: { kind: 'free', x: 1900, y: 38 },
    })
    const [finding, ...more] = clearances(planWith({ tracks: [aTrack(), siding], turnouts: [aTurnout()] }))
    expect(more).toEqual([])
    // And where the siding bends back its car swings out towards the host.
    expect(finding?.measured).toBeLessThan(38 - 34.99)
    expect(finding?.measured).toBeGreaterThan(38 - 34.99 - 6)
    // From about the end of the curve back, to the end of the siding.
    expect(finding?.stationFromMm).toBeGreaterThan(700)
    expect(finding?.stationToMm).toBeGreaterThan(1890)
  })

  test('a parallel siding at wide enough centres is not', () => {
    const siding = spur({
      corners: [aCorner({ x: 900, y: 52, radius: 800, easementIn: 0, easementOut: 0 })],
      end: { kind: 'free', x: 1900, y: 52 },
    })
    expect(clearances(planWith({ tracks: [aTrack(), siding], turnouts: [aTurnout()] }))).toEqual([])
  })

  test('a crossover between two mains is quiet on both, and against both', () => {
    const centres = 52
    const upper = aTrack({ id: 'track-2', start: { kind: 'free', x: 0, y: centres }, end: { kind: 'free', x: 2000, y: centres } })
    const link = aTrack({
      id: 'track-3',
      start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
      corners: [],
      end: { kind: 'leg', turnout: 'turnout-2', leg: 'diverging' },
    })
    // Placed so that both legs lie in one line: the way over is (centres - what the routes give) / tan F, found from the first plan.
    const at = (stationMm: number): Plan =>
      planWith({
        tracks: [aTrack(), upper, link],
        turnouts: [aTurnout(), aTurnout({ id: 'turnout-2', track: 'track-2', stationMm, facing: 'falling' })],
      })
    const miss = (plan: Plan): { offsetMm: number; headingRad: number } => {
      const problem = planFindings(plan).find(({ rule }) => rule === 'alignment')?.problem
      return problem?.kind === 'legsNotInLine' ? problem : { offsetMm: 0, headingRad: 0 }
    }
    const frog = 2 * Math.atan(1 / 12)
    const first = miss(at(1000)).offsetMm
    const plan = at(1000 + first / Math.sin(frog))
    // A crossover is a reverse curve whatever one does; its frogs and the couplers of its cars have rules of their own.
    expect(planFindings(plan)).toEqual([])
  })

  test('a ladder: spurs one after another are clear of each other and of the host', () => {
    const turnouts = [0, 1, 2].map((i) => aTurnout({ id: `turnout-${i + 1}`, stationMm: 100 + 400 * i, frog: 6 }))
    const spurs = [0, 1, 2].map((i) =>
      aTrack({
        id: `track-${i + 2}`,
        lineClass: 'yard',
        start: { kind: 'leg', turnout: `turnout-${i + 1}`, leg: 'diverging' },
        end: { kind: 'free', x: 1500 + 400 * i, y: 200 },
      }),
    )
    expect(clearances(planWith({ tracks: [aTrack({ end: { kind: 'free', x: 2500, y: 0 } }), ...spurs], turnouts }))).toEqual([])
  })

  test('tracks that go on end to end under another name are one line', () => {
    const on = aTrack({ id: 'track-2', lineClass: 'branch', start: { kind: 'free', x: 2000, y: 0 }, end: { kind: 'free', x: 3500, y: 0 } })
    expect(planFindings(planWith({ tracks: [aTrack(), on] }))).toEqual([])
  })
})

describe('track-clearance where tracks cross or come back', () => {
  test('where a crossing can be built tracks are as near as they like', () => {
    const across = aTrack({ id: 'track-2', start: { kind: 'free', x: 900, y: -300 }, end: { kind: 'free', x: 1100, y: 300 } })
    expect(planFindings(planWith({ tracks: [aTrack(), across] }))).toEqual([])
  })

  test('a track across the route of a turnout is one warning with its place and angle', () => {
    const across = aTrack({ id: 'track-2', start: { kind: 'free', x: 640, y: 3 }, end: { kind: 'free', x: 660, y: 400 } })
    const findings = planFindings(planWith({ tracks: [aTrack(), across], turnouts: [aTurnout()] }))
    const crossing = findings.find(({ problem }) => problem?.kind === 'levelCrossing')
    expect(crossing).toMatchObject({ severity: 'warning', measured: 0 })
  })

  test('tracks that lie on each other are too near all along, and cross nowhere', () => {
    const bend = (id: string): Track => aTrack({ id, corners: [aCorner({ x: 1500 })], end: { kind: 'free', x: 2500, y: 900 } })
    const back = aTrack({ ...bend('track-2'), start: { kind: 'free', x: 2500, y: 900 }, end: { kind: 'free', x: 0, y: 0 } })
    for (const twin of [bend('track-2'), back]) {
      const finding = onlyFinding(planWith({ tracks: [bend('track-1'), twin] }), 'track-clearance')
      expect(finding).toMatchObject({ severity: 'error', problem: null })
      expect(finding.measured).toBeLessThan(-34.99 + 1e-6)
      expect((finding.stationToMm ?? NaN) - (finding.stationFromMm ?? NaN)).toBeGreaterThan(2000)
    }
  })

  test('lines that meet flatter than any frog are too near each other; the angle is that of the lines, whichever way they run', () => {
    const across = (rise: number): readonly Track[] => [
      aTrack({ id: 'track-2', start: { kind: 'free', x: 0, y: -rise }, end: { kind: 'free', x: 2000, y: rise } }),
      aTrack({ id: 'track-2', start: { kind: 'free', x: 2000, y: rise }, end: { kind: 'free', x: 0, y: -rise } }),
    ]
    for (const flat of across(40)) {
      expect(onlyFinding(planWith({ tracks: [aTrack(), flat] }), 'track-clearance')).toMatchObject({ severity: 'error', problem: null })
    }
    for (const steep of across(60)) {
      const { problem } = onlyFinding(planWith({ tracks: [aTrack(), steep] }), 'crossing-build')
      if (problem?.kind !== 'elbowUnguarded') throw new Error('expected a crossing')
      expect(2 * Math.atan(1 / (2 * problem.number))).toBeCloseTo(Math.atan(0.06), 8)
    }
  })

  test('a track that ends on another is too near it and does not cross it, seen from either', () => {
    const butt = straight('track-2', 0, { start: { kind: 'free', x: 1000, y: 0 }, end: { kind: 'free', x: 1000, y: 800 } })
    const host = straight('track-1', 0)
    for (const tracks of [
      [host, butt],
      [
        { ...host, id: 'track-2' },
        { ...butt, id: 'track-1' },
      ],
    ]) {
      const finding = onlyFinding(planWith({ tracks }), 'track-clearance')
      expect(finding).toMatchObject({ severity: 'error', problem: null })
      // Half a car on the one and the end of the other: at least as deep as half a car.
      expect(finding.measured).toBeLessThan(-34.99 / 2 + 0.01)
    }
  })

  test('a track that comes back beside itself', () => {
    // Two half turns of 900 lead back to a line 30 mm beside the first leg.
    const radius = { radius: 900, easementIn: 0, easementOut: 0 } as const
    const back = (beside: number): Plan =>
      planWith({
        tracks: [
          aTrack({
            start: { kind: 'free', x: 0, y: 0 },
            corners: [
              aCorner({ id: 'pi-1', x: 3000, y: 0, ...radius }),
              aCorner({ id: 'pi-2', x: 3000, y: 2500, ...radius }),
              aCorner({ id: 'pi-3', x: -1500, y: 2500, ...radius }),
              aCorner({ id: 'pi-4', x: -1500, y: beside, ...radius }),
            ],
            end: { kind: 'free', x: 1000, y: beside },
          }),
        ],
      })
    expect(planFindings(back(60))).toEqual([])
    const finding = onlyFinding(back(30), 'track-clearance')
    expect(finding).toMatchObject({ record: 'track-1', otherRecord: 'track-1' })
    expect(finding.measured).toBeCloseTo(30 - 34.99, 6)
    expect(finding.stationFromMm).toBeCloseTo(0, 6)
    expect(finding.stationToMm).toBeGreaterThan(1000)
    // And a figure of eight crosses itself once: the last leg comes back through the first.
    const eight = planWith({
      tracks: [
        aTrack({
          corners: [
            aCorner({ id: 'pi-1', x: 3200, y: 0, ...radius }),
            aCorner({ id: 'pi-2', x: 3200, y: 2500, ...radius }),
            aCorner({ id: 'pi-3', x: 1000, y: 2500, ...radius }),
          ],
          end: { kind: 'free', x: 1000, y: -1000 },
        }),
      ],
    })
    const crossing = onlyFinding(eight, 'track-clearance')
    expect(crossing.problem).toMatchObject({ kind: 'levelCrossing' })
    expect(crossing.x).toBeCloseTo(1000, 6)
  })

  test('a small loop is not near itself', () => {
    const corners = [
      [0, 0],
      [1400, 0],
      [1400, 1400],
      [0, 1400],
    ].map(([x = 0, y = 0], i) => aCorner({ id: `pi-${i + 1}`, x, y, radius: 650, easementIn: 0, easementOut: 0 }))
    const loop = aTrack({ lineClass: 'yard', start: { kind: 'free', x: 700, y: 0 }, corners, end: { kind: 'closed' } })
    expect(planFindings(planWith({ tracks: [loop] })).filter(({ rule }) => rule === 'track-clearance')).toEqual([])
  })
})
