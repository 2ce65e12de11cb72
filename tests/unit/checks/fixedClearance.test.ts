import { describe, expect, test } from 'vitest'
import type { Finding } from '../../../src/core/checks/index.ts'
import type { Opening, Plan, Portal, Wall } from '../../../src/core/plan/index.ts'
import { steadyReach, vehicleBodiesOf } from '../../../src/core/vehicles/index.ts'
import { onlyFinding, planFindings } from '../../support/checks.ts'
import { aBenchwork, aCorner, aTrack, planWith } from '../../support/plans.ts'
import { box } from '../../support/rooms.ts'

// HO: the main's passenger car is 34.99 wide, and 6.416 is kept clear.
const half = 34.99 / 2
const clear = 6.416

/** A wall above the track whose face towards it lies at y. */
const wallAt = (y: number, change: Partial<Wall> = {}): Wall => ({
  id: 'wall-1',
  name: 'North wall',
  // Its thickness is to the right: run from right to left it lies above.
  points: [
    { x: 3000, y },
    { x: -1000, y },
  ],
  thicknessMm: 100,
  isClosed: false,
  ...change,
})

const post = (x: number, y: number, size: number) => ({
  id: 'obstacle-1',
  name: 'Post',
  undersideMm: 0,
  outline: [
    { x, y },
    { x: x + size, y },
    { x: x + size, y: y + size },
    { x, y: y + size },
  ],
})

const fixed = (plan: Plan): readonly Finding[] => planFindings(plan).filter(({ rule }) => rule === 'fixed-clearance')

describe('the swept band to a wall', () => {
  test('beside a straight: half a car and the running clearance', () => {
    expect(planFindings(planWith({ tracks: [aTrack()], walls: [wallAt(half + clear + 0.01)] }))).toEqual([])
    const finding = onlyFinding(planWith({ tracks: [aTrack()], walls: [wallAt(half + clear - 0.5)] }), 'fixed-clearance')
    expect(finding).toMatchObject({
      severity: 'error',
      stage: 'line',
      record: 'track-1',
      otherRecord: 'wall-1',
      stationFromMm: 0,
      stationToMm: 2000,
      limit: clear,
      source: 'railway',
      problem: { kind: 'nearFixed', table: 'walls' },
    })
    expect(finding.measured).toBeCloseTo(clear - 0.5, 9)
  })

  test('is silent of an end square before it, as far as the wall; not of one that runs into it or on behind it', () => {
    const across = (x: number): Plan =>
      planWith({
        tracks: [aTrack()],
        walls: [
          wallAt(0, {
            points: [
              { x, y: 500 },
              { x, y: -500 },
            ],
          }),
        ],
      })
    // The track ends at x = 2000; the wall's thickness is to the left of it or to the right.
    const told = (plan: Plan): number => fixed(plan).length
    const sides = [told(across(2000.01)), told(across(2100.01))]
    expect(sides.toSorted()).toEqual([0, 1])
    expect(told(across(1000))).toBe(1)
  })

  test('on the outside of a curve by what the longest car of the class swings out', () => {
    const { main } = planWith().lineClasses
    if (main === undefined) throw new Error('no main')
    // A half circle about the origin from (-800, -2000) round to (800, -2000): its top lies at y = 800.
    const bend = (y: number, cars: readonly string[]): Plan =>
      planWith({
        lineClasses: [{ ...main, cars }],
        tracks: [
          aTrack({
            start: { kind: 'free', x: -800, y: -2000 },
            corners: [-800, 800].map((x, i) => aCorner({ id: `pi-${i + 1}`, x, y: 800, radius: 799.99, easementIn: 0, easementOut: 0 })),
            end: { kind: 'free', x: 800, y: -2000 },
          }),
        ],
        walls: [wallAt(y)],
      })
    const out = (id: string): number => {
      const car = planWith().vehicles[id]
      if (car === undefined) throw new Error(`no ${id}`)
      return Math.max(...vehicleBodiesOf(car).map((body) => steadyReach(body, -1 / 800).leftMm))
    }
    const [passenger, box] = [out('car-85ft-passenger'), out('car-50ft-box')]
    expect(passenger).toBeGreaterThan(box + 0.5)
    // The wall touches the band at its top only, and there all of the swing is reached.
    expect(fixed(bend(800 + passenger + clear + 0.05, ['car-50ft-box', 'car-85ft-passenger']))).toEqual([])
    const [told, ...more] = fixed(bend(800 + passenger + clear - 0.5, ['car-50ft-box', 'car-85ft-passenger']))
    expect(more).toEqual([])
    expect(told?.measured).toBeCloseTo(clear - 0.5, 1)
    expect(fixed(bend(800 + box + clear + 0.05, ['car-50ft-box']))).toEqual([])
  })

  test('a class without a car is not held against it', () => {
    const { main } = planWith().lineClasses
    if (main === undefined) throw new Error('no main')
    expect(fixed(planWith({ lineClasses: [{ ...main, cars: [] }], tracks: [aTrack()], walls: [wallAt(10)] }))).toEqual([])
  })
})

describe('a track through a wall', () => {
  const across: Wall = wallAt(0, {
    points: [
      { x: 1000, y: -500 },
      { x: 1000, y: 500 },
    ],
  })
  const portal = (change: Partial<Portal> = {}): Portal => ({
    id: 'portal-1',
    name: 'Tunnel',
    track: 'track-1',
    stationMm: 980,
    lengthMm: 150,
    leftMm: 30,
    rightMm: 30,
    heightMm: 80,
    ...change,
  })

  test('runs into it', () => {
    const finding = onlyFinding(planWith({ tracks: [aTrack()], walls: [across] }), 'fixed-clearance')
    expect(finding.measured).toBeLessThan(-half)
    // From the running clearance ahead of one face to as much behind the other.
    expect(finding.stationFromMm).toBeCloseTo(1000 - clear, 1)
    expect(finding.stationToMm).toBeCloseTo(1100 + clear, 1)
    expect(fixed(planWith({ tracks: [aTrack()], walls: [{ ...across, thicknessMm: 1 }] }))).toHaveLength(1)
  })

  test('or through a portal wide enough, on both sides for itself', () => {
    expect(planFindings(planWith({ tracks: [aTrack()], walls: [across], portals: [portal()] }))).toEqual([])
    const tight = planWith({ tracks: [aTrack()], walls: [across], portals: [portal({ rightMm: half + 2 })] })
    const finding = onlyFinding(tight, 'fixed-clearance')
    expect(finding).toMatchObject({ otherRecord: 'portal-1', problem: { kind: 'nearFixed', table: 'portals' }, stationFromMm: 980 })
    expect(finding.measured).toBeCloseTo(2, 9)
  })

  test('or through an opening of the wall', () => {
    const opening = (widthMm: number): Opening => ({
      id: 'opening-1',
      name: 'Hall',
      wall: 'wall-1',
      fromMm: 500 - widthMm / 2,
      widthMm,
      leaf: null,
      sillMm: null,
    })
    expect(planFindings(planWith({ tracks: [aTrack()], walls: [across], openings: [opening(2 * (half + clear) + 0.1)] }))).toEqual([])
    const finding = onlyFinding(planWith({ tracks: [aTrack()], walls: [across], openings: [opening(2 * (half + 1))] }), 'fixed-clearance')
    expect(finding.measured).toBeCloseTo(1, 6)
  })
})

describe('the swept band to an obstacle', () => {
  test('beside, and within', () => {
    expect(planFindings(planWith({ tracks: [aTrack()], obstacles: [post(900, half + clear + 0.01, 40)] }))).toEqual([])
    const beside = onlyFinding(planWith({ tracks: [aTrack()], obstacles: [post(900, half + 2, 40)] }), 'fixed-clearance')
    expect(beside.measured).toBeCloseTo(2, 6)
    expect(beside.problem).toEqual({ kind: 'nearFixed', table: 'obstacles' })
    // A nail between the rails is seen though both edges of the band are clear of it.
    const nail = onlyFinding(planWith({ tracks: [aTrack()], obstacles: [post(901.3, 2, 3)] }), 'fixed-clearance')
    expect(nail.measured).toBeLessThan(-half + 2.1)
  })
})

describe('what hangs over the floor, and windows', () => {
  const lower = aBenchwork({ outline: box(-500, -500, 2500, 500), heightMm: 1100 })
  const over = (undersideMm: number): Plan =>
    planWith({ tracks: [aTrack()], benchworks: [lower], obstacles: [{ ...post(900, half + 2, 40), undersideMm }] })
  const tallest = Math.max(...Object.values(over(0).vehicles).map(({ heightMm }) => heightMm))

  test('a pipe over every train is nothing to them; one a little lower is', () => {
    const fixed = (plan: Plan) => planFindings(plan).filter(({ rule }) => rule === 'fixed-clearance')
    expect(fixed(over(1100 + tallest + 100))).toEqual([])
    expect(fixed(over(1100 + tallest + 99))).toHaveLength(1)
    expect(fixed(over(0))).toHaveLength(1)
  })

  test('a window is wall to a track where a passage lets it through', () => {
    const across: Wall = {
      id: 'wall-1',
      name: 'Wall',
      points: [
        { x: 900, y: -500 },
        { x: 900, y: 500 },
      ],
      thicknessMm: 20,
      isClosed: false,
    }
    const hole = (sillMm: number | null): Opening => ({
      id: 'opening-1',
      name: 'Hole',
      wall: 'wall-1',
      fromMm: 400,
      widthMm: 200,
      leaf: null,
      sillMm,
    })
    expect(planFindings(planWith({ tracks: [aTrack()], walls: [across], openings: [hole(null)] }))).toEqual([])
    onlyFinding(planWith({ tracks: [aTrack()], walls: [across], openings: [hole(900)] }), 'fixed-clearance')
  })
})

describe('cars that hang over the edge', () => {
  const table = (top: number) =>
    aBenchwork({
      outline: [
        { x: -100, y: -400 },
        { x: 2100, y: -400 },
        { x: 2100, y: top },
        { x: -100, y: top },
      ],
    })

  test('are a warning where the track itself keeps its margin', () => {
    // Laid on the deck: roadbed so near the edge would be told as well.
    const plan = (top: number, edgeMarginMm: number): Plan => {
      const laid = planWith({ railway: { edgeMarginMm }, benchworks: [table(top)], tracks: [aTrack()] })
      const lineClasses = Object.fromEntries(Object.entries(laid.lineClasses).map(([id, one]) => [id, { ...one, roadbed: null }]))
      return { ...laid, lineClasses }
    }
    expect(planFindings(plan(half + 0.01, 10))).toEqual([])
    const finding = onlyFinding(plan(12, 10), 'fixed-clearance')
    expect(finding).toMatchObject({ severity: 'warning', limit: 0, problem: { kind: 'overEdge' }, otherRecord: null })
    expect(finding.measured).toBeCloseTo(12 - half, 6)
    // Nearer than the margin the track is told of, and once is enough.
    expect(onlyFinding(plan(9, 10), 'benchwork-edge').measured).toBeCloseTo(9, 6)
  })
})
