import { describe, expect, it } from 'vitest'
import type { Cure, Finding, RuleName } from '../../../src/core/checks/index.ts'
import type { Benchwork, Hatch, Obstacle, Plan, Track } from '../../../src/core/plan/types.ts'
import { planFindings } from '../../support/checks.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'
import { aDoor, aHatch, aPost, aRoom, aShelf, box } from '../../support/rooms.ts'

const found = (plan: Plan, rule: RuleName): readonly Finding[] => planFindings(plan).filter((finding) => finding.rule === rule)

const free = (x: number, y: number): { readonly kind: 'free'; readonly x: number; readonly y: number } => ({ kind: 'free', x, y })
const trackAlong = (y: number, fromX = 400, toX = 3600) => aTrack({ start: free(fromX, y), end: free(toX, y) })

// Limits of reach, aisle and hatch are common practice, no source; the figures here are set so that they can be told by eye.
describe('reach', () => {
  const shelf = aShelf(box(0, 2100, 4000, 3000))
  const room = { walls: [aRoom()], benchworks: [shelf] }

  it('tells track that lies farther from the floor than a hand reaches, and how far', () => {
    const [finding, ...more] = found(planWith({ railway: { reachMm: 750 }, ...room, tracks: [trackAlong(2900)] }), 'reach')
    expect(more).toEqual([])
    expect(finding?.measured).toBeCloseTo(800, 0)
    expect(finding?.limit).toBe(750)
    expect([finding?.stationFromMm, finding?.stationToMm]).toEqual([0, 3200])
  })

  it('tells both legs of a turnout on which nothing hangs yet, each by its own name', () => {
    const turnouts = [aTurnout({ kind: { kind: 'three-way', secondFrog: 6, secondAfterMm: 0 }, stationMm: 1000 })]
    const ids = found(planWith({ railway: { reachMm: 100 }, ...room, tracks: [trackAlong(2700)], turnouts }), 'reach').map(({ id }) => id)
    expect(new Set(ids).size).toBe(3)
    expect(ids).toHaveLength(3)
  })

  it('is content where the hand just reaches', () => {
    expect(found(planWith({ railway: { reachMm: 801 }, ...room, tracks: [trackAlong(2900)] }), 'reach')).toEqual([])
  })

  it('takes the hand from a hatch, so that only what is far from it is told', () => {
    const plan = planWith({
      railway: { reachMm: 750 },
      ...room,
      hatches: [aHatch(box(1800, 2300, 2400, 2800))],
      tracks: [trackAlong(2900)],
    })
    const stretches = found(plan, 'reach').map(({ stationFromMm, stationToMm }) => [stationFromMm ?? 0, stationToMm ?? 0])
    expect(stretches).toHaveLength(2)
    // From the hatch's corner, 100 mm below the line, 750 mm reach sqrt(750^2 - 100^2) = 743.3 mm along it, 0.1 mm is let pass.
    expect(stretches[0]?.[1]).toBeCloseTo(1400 - 743.3, 0)
    expect(stretches[1]?.[0]).toBeCloseTo(2000 + 743.3, 0)
  })

  it('does not stand in a strip that is too narrow to stand in', () => {
    const across = aShelf(box(0, 0, 4000, 1700), { id: 'benchwork-2' })
    const wide = aShelf(box(0, 0, 4000, 1500), { id: 'benchwork-2' })
    const plan = (other: typeof across): Plan =>
      planWith({
        railway: { reachMm: 750, aisleMm: 600, hatchMm: 500 },
        walls: [aRoom()],
        benchworks: [shelf, other],
        tracks: [trackAlong(2300)],
      })
    expect(found(plan(wide), 'reach')).toEqual([])
    expect(found(plan(across), 'reach').map(({ measured }) => measured)).toEqual([null])
  })

  it('goes all around a table without walls, and past a wall that closes no room', () => {
    const table = aShelf(box(0, 0, 2400, 1800))
    const island = planWith({ railway: { reachMm: 762 }, benchworks: [table], tracks: [trackAlong(900, 100, 2300)] })
    const [finding] = found(island, 'reach')
    expect(finding?.measured).toBeCloseTo(900, 0)
    expect(finding?.stationFromMm).toBeCloseTo(662, 0)
    const back = aRoom({
      points: [
        { x: 2400, y: 1800 },
        { x: 0, y: 1800 },
      ],
      isClosed: false,
    })
    expect(
      found(planWith({ railway: { reachMm: 762 }, walls: [back], benchworks: [table], tracks: [trackAlong(900, 100, 2300)] }), 'reach'),
    ).toHaveLength(1)
  })
})

describe('aisle', () => {
  const shelf = aShelf(box(0, 2400, 4000, 3000))
  const peninsula = (toY: number) => aShelf(box(1800, 0, 2200, toY), { id: 'benchwork-2', name: 'Peninsula' })

  it('tells the width where one has to pass, once', () => {
    const findings = found(planWith({ railway: { aisleMm: 610 }, walls: [aRoom()], benchworks: [shelf, peninsula(1900)] }), 'aisle')
    expect(findings).toHaveLength(1)
    expect(findings[0]?.measured).toBeCloseTo(500, 0)
    expect(findings[0]).toMatchObject({ table: 'benchworks', problem: { kind: 'aislePinch' } })
    expect(findings[0]?.x).toBeGreaterThan(1790)
    expect(findings[0]?.x).toBeLessThan(2210)
    expect(findings[0]?.y).toBeCloseTo(2150, 0)
  })

  it('is content with an aisle of just the width, and with a narrow strip that leads nowhere', () => {
    expect(found(planWith({ railway: { aisleMm: 610 }, walls: [aRoom()], benchworks: [shelf, peninsula(1780)] }), 'aisle')).toEqual([])
    const nook = aPost(box(400, 1000, 500, 1900))
    expect(found(planWith({ railway: { aisleMm: 610 }, walls: [aRoom()], obstacles: [nook], benchworks: [shelf] }), 'aisle')).toEqual([])
  })

  it('takes a gap that is as wide as asked by its typed sizes for wide enough, and no narrower one', () => {
    const gapOf = (mm: number) =>
      found(planWith({ railway: { aisleMm: 600 }, walls: [aRoom()], benchworks: [shelf, peninsula(2400 - mm)] }), 'aisle')
    expect(gapOf(600)).toEqual([])
    expect(gapOf(599.7)).toEqual([])
    expect(gapOf(599)[0]?.measured).toBeCloseTo(599, 0)
  })

  it('goes upright under what hangs 6 ft 6 in high, not under what hangs lower', () => {
    const beam = (undersideMm: number) => aPost(box(1500, 1500, 2500, 2500), { undersideMm })
    const deep = (undersideMm: number) =>
      found(planWith({ walls: [aRoom()], obstacles: [beam(undersideMm)], benchworks: [shelf] }), 'bench-overlap')
    expect(deep(0)).toHaveLength(1)
    expect(deep(shelf.heightMm)).toEqual([])
    const passing = (undersideMm: number) =>
      found(
        planWith({
          railway: { aisleMm: 610 },
          walls: [aRoom()],
          obstacles: [aPost(box(1800, 0, 2200, 1900), { undersideMm })],
          benchworks: [shelf],
        }),
        'aisle',
      )
    expect(passing(1981)).toHaveLength(1)
    expect(passing(1981.2)).toEqual([])
  })

  it('takes the wider of two ways', () => {
    const block = aShelf(box(1700, 500, 2300, 1850), { id: 'benchwork-2' })
    const findings = found(planWith({ railway: { aisleMm: 610 }, walls: [aRoom()], benchworks: [shelf, block] }), 'aisle')
    expect(findings.map(({ measured }) => Math.round(measured ?? 0))).toEqual([550])
  })

  it('tells floor to which nothing leads', () => {
    const ring = aShelf(box(0, 0, 4000, 3000), { holes: [box(500, 500, 1500, 2500), box(2300, 500, 3500, 2500)] })
    const findings = found(planWith({ walls: [aRoom()], benchworks: [ring] }), 'aisle')
    expect(findings.map(({ measured, problem }) => [measured, problem?.kind])).toEqual([[0, 'floorCutOff']])
    // The smaller of the two: the larger one is where people are taken to be.
    expect(findings[0]?.x).toBeCloseTo(1000, 0)
  })
})

describe('door-swing', () => {
  const door = aDoor()

  it('tells how far a leaf opens before it meets benchwork', () => {
    const plan = planWith({ walls: [aRoom()], openings: [door], benchworks: [aShelf(box(1000, 400, 1500, 900))] })
    const [finding, ...more] = found(plan, 'door-swing')
    expect(more).toEqual([])
    // From the hinge at (1000, 0) the nearest corner of the shelf within 800 mm is (1500, 400).
    expect(finding?.measured).toBeCloseTo(Math.atan2(400, 500), 6)
    expect(finding).toMatchObject({
      limit: Math.PI / 2,
      unit: 'rad',
      problem: { kind: 'doorMeets', by: { table: 'benchworks', record: 'benchwork-1' } },
    })
  })

  it('sees an edge that only the rim of the leaf meets', () => {
    // The side x = 1600 is met by the leaf's end at acos(600 / 800), its corners lie farther off. A millimetre of graze is let pass.
    const plan = planWith({ walls: [aRoom()], openings: [door], benchworks: [aShelf(box(1600, 500, 3000, 2000))] })
    expect(found(plan, 'door-swing')[0]?.measured).toBeCloseTo(Math.asin(500 / 799), 2)
  })

  it('leaves a door alone that opens outwards, that has no leaf, or that only touches', () => {
    const shelf = aShelf(box(1000, 400, 1500, 900))
    const outwards = aDoor({ leaf: { hinge: 'from', side: 'right' } })
    for (const one of [outwards, aDoor({ leaf: null })])
      expect(found(planWith({ walls: [aRoom()], openings: [one], benchworks: [shelf] }), 'door-swing')).toEqual([])
    const beside = [aShelf(box(0, 0, 1000, 900)), aShelf(box(1800, 0, 4000, 900), { id: 'benchwork-2' })]
    expect(found(planWith({ walls: [aRoom()], openings: [door], benchworks: beside }), 'door-swing')).toEqual([])
  })

  it('is cured by hanging it otherwise, where so it opens all the way', () => {
    const cureWith = (...benchworks: readonly Benchwork[]): Cure | null | undefined =>
      found(planWith({ walls: [aRoom()], openings: [door], benchworks }), 'door-swing')[0]?.cure
    const was = { hinge: 'from', side: 'left' }
    // A shelf beside the hinge's jamb leaves room for a leaf on the other jamb; one before the whole door sends it out of the room.
    expect(cureWith(aShelf(box(0, 30, 1300, 120)))).toMatchObject({ kind: 'hangDoor', was, leaf: { hinge: 'from', side: 'right' } })
    expect(cureWith(aShelf(box(1000, 600, 1100, 900)))).toMatchObject({ kind: 'hangDoor', was, leaf: { hinge: 'to', side: 'left' } })
    const cure = cureWith(aShelf(box(0, 0, 4000, 500)))
    expect(cure).toMatchObject({ kind: 'hangDoor', was, leaf: { hinge: 'from', side: 'right' } })
    if (cure?.kind !== 'hangDoor') throw new Error('no cure')
    const hung = aDoor({ leaf: cure.leaf })
    expect(found(planWith({ walls: [aRoom()], openings: [hung], benchworks: [aShelf(box(0, 0, 4000, 500))] }), 'door-swing')).toEqual([])
  })

  it('stands open no angle at all before benchwork that crosses the door', () => {
    const plan = planWith({ walls: [aRoom()], openings: [door], benchworks: [aShelf(box(0, 0, 4000, 500))] })
    expect(found(plan, 'door-swing')[0]?.measured).toBeLessThan(0.01)
  })
})

describe('hatches', () => {
  const bench = aShelf(box(0, 0, 4000, 3000), { holes: [box(1500, 500, 2500, 2500)] })

  it('tells one that nobody can stand up in by its widest disc', () => {
    const at = (side: number): Plan =>
      planWith({ railway: { hatchMm: 508 }, walls: [aRoom()], benchworks: [bench], hatches: [aHatch(box(200, 200, 200 + side, 900))] })
    expect(found(at(400), 'hatch-size')[0]?.measured).toBeCloseTo(400, 0)
    expect(found(at(508), 'hatch-size')).toEqual([])
  })

  it('offers one of the same shape that is just large enough, unless what stands in it would still be in the way', () => {
    const withHatch = (outline: Hatch['outline'], ...obstacles: readonly Obstacle[]): Plan =>
      planWith({ railway: { hatchMm: 508 }, walls: [aRoom()], benchworks: [bench], obstacles, hatches: [aHatch(outline)] })
    const cure = found(withHatch(box(200, 200, 600, 1000)), 'hatch-size')[0]?.cure
    if (cure?.kind !== 'growHatch') throw new Error('no cure')
    expect(cure.times).toBeCloseTo(508 / 400, 2)
    expect(found(withHatch(cure.outline), 'hatch-size')).toEqual([])
    const posts = [aPost(box(180, -5000, 200, 5000)), aPost(box(600, -5000, 620, 5000), { id: 'obstacle-2' })]
    expect(found(withHatch(box(200, 200, 600, 1000), ...posts), 'hatch-size').map((finding) => finding.cure)).toEqual([null])
  })

  it('offers one that grows away from the tracks beside it, and none between two', () => {
    // Ties, 30 mm long, end 35 mm below the hatch; it has to grow by 216 mm across the tracks.
    const hatch = aHatch(box(200, 300, 600, 1100))
    const withTracks = (one: Hatch, ...tracks: readonly Track[]): Plan =>
      planWith({ railway: { hatchMm: 508 }, walls: [aRoom()], benchworks: [bench], hatches: [one], tracks })
    const sizeCure = (plan: Plan): Cure | null | undefined => found(plan, 'hatch-size')[0]?.cure
    const below = trackAlong(250)
    expect(found(withTracks(hatch, below), 'hatch-place')).toEqual([])
    const cure = sizeCure(withTracks(hatch, below))
    if (cure?.kind !== 'growHatch') throw new Error('no cure')
    const grown = withTracks({ ...hatch, outline: cure.outline }, below)
    expect([...found(grown, 'hatch-size'), ...found(grown, 'hatch-place')]).toEqual([])
    const above = { ...trackAlong(1150), id: 'track-2' }
    expect(sizeCure(withTracks(hatch, below, above))).toBeNull()
    // Over a track under which it lies already it may grow on: that is told of it anyway.
    expect(sizeCure(withTracks(hatch, trackAlong(700)))).toMatchObject({ kind: 'growHatch' })
  })

  it('tells what an obstacle leaves of it', () => {
    const post = aPost(box(500, 0, 900, 400))
    const plan = planWith({ walls: [aRoom()], benchworks: [bench], obstacles: [post], hatches: [aHatch(box(200, 200, 900, 800))] })
    // The disc touches the left, the upper side and the post's corner: (300 - r)^2 + (400 - r)^2 = r^2.
    expect(found(plan, 'hatch-size')[0]?.measured).toBeCloseTo(2 * (700 - Math.sqrt(240000)), 0)
  })

  it('tells one that lies beside the benchwork, and one that carries track', () => {
    const off = planWith({ benchworks: [aShelf(box(0, 0, 1000, 600))], hatches: [aHatch(box(2000, 0, 2600, 600))] })
    expect(found(off, 'hatch-place').map(({ problem }) => problem?.kind)).toEqual(['hatchOffBench'])
    const under = planWith({ benchworks: [bench], hatches: [aHatch(box(200, 600, 800, 1200))], tracks: [trackAlong(900)] })
    const [finding] = found(under, 'hatch-place')
    expect(finding).toMatchObject({
      record: 'hatch-1',
      measured: 0,
      problem: { kind: 'hatchUnderTrack', by: { table: 'tracks', record: 'track-1' } },
    })
    expect(
      found(planWith({ benchworks: [bench], hatches: [aHatch(box(200, 600, 800, 1200))], tracks: [trackAlong(1300)] }), 'hatch-place'),
    ).toEqual([])
  })
})

describe('bench-overlap', () => {
  it('tells benchwork that runs into a wall or an obstacle, and how deep; not what stands against it', () => {
    const through = planWith({ walls: [aRoom()], benchworks: [aShelf(box(-30, 0, 1000, 600))] })
    const [finding] = found(through, 'bench-overlap')
    expect(finding?.measured).toBeCloseTo(30, 0)
    expect(finding).toMatchObject({ table: 'benchworks', problem: { kind: 'benchRunsInto', by: { table: 'walls', record: 'wall-1' } } })
    expect(found(planWith({ walls: [aRoom()], benchworks: [aShelf(box(0, 0, 1000, 600))] }), 'bench-overlap')).toEqual([])
    const post = aPost(box(300, 300, 400, 400))
    const around = aShelf(box(0, 0, 1000, 600), { holes: [box(290, 290, 410, 410)] })
    expect(found(planWith({ walls: [aRoom()], obstacles: [post], benchworks: [around] }), 'bench-overlap')).toEqual([])
    expect(
      found(planWith({ walls: [aRoom()], obstacles: [post], benchworks: [aShelf(box(0, 0, 1000, 600))] }), 'bench-overlap'),
    ).toHaveLength(1)
  })
})
