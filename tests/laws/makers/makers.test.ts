import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { editApply, patchApply, patchInvert } from '../../../src/core/edit/index.ts'
import { makerCure, makersFollow } from '../../../src/core/makers/index.ts'
import { pathStart, poseToPlan } from '../../../src/core/geom/index.ts'
import type { Point, Pose } from '../../../src/core/geom/index.ts'
import { recordFind } from '../../../src/core/plan/index.ts'
import type { Hand, Maker, MakerNumbers, Plan, Track } from '../../../src/core/plan/index.ts'
import { planWrite } from '../../../src/formats/planjson.ts'
import { findingsAsked } from '../../support/checks.ts'
import { aMaker, expanded, networkOf, planMade } from '../../support/makers.ts'
import { aCorner, aTrack, planAfter, planWith } from '../../support/plans.ts'

const seeded = (numRuns: number) => ({ seed: 20261125, numRuns })

/** Positions of solved legs and track ends agree to this, mm: coordinates of some metres, a few roundings apart. */
const MEET_MM = 1e-6

/** Hundredths, all equally likely: doubles of the generator crowd about zero. */
const between = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: Math.ceil(min * 100), max: Math.floor(max * 100) }).map((hundredths) => hundredths / 100)

/** A frame in the room; the plan is laid down in it. */
const frame: fc.Arbitrary<Pose> = fc.record({
  x: between(-3000, 3000),
  y: between(-3000, 3000),
  headingRad: between(-3.1, 3.1),
})
const side = fc.constantFrom<Hand>('left', 'right')
const frog = fc.constantFrom(5, 6, 7, 8)

const moved = (pose: Pose, { x, y }: Point): Point => poseToPlan(pose, { x, y })

/** A track laid down in a frame: free ends and PIs. */
function laid(pose: Pose, track: Track): Track {
  const end = <E extends Track['start'] | Track['end']>(place: E): E =>
    place.kind === 'free' ? { ...place, ...moved(pose, place) } : place
  return {
    ...track,
    start: end(track.start),
    corners: track.corners.map((corner) => ({ ...corner, ...moved(pose, corner) })),
    end: end(track.end),
  }
}

const t = 'track-1'
const straight = aTrack({ end: { kind: 'free', x: 6000, y: 0 } })
const bent = aTrack({ corners: [aCorner({ x: 3200, y: 0 })], end: { kind: 'free', x: 3200, y: 3200 } })
const beside = (y: number): Track =>
  aTrack({ id: 'track-2', name: 'Second', start: { kind: 'free', x: 5000, y }, end: { kind: 'free', x: 200, y } })

interface Case {
  readonly tracks: readonly Track[]
  readonly numbers: MakerNumbers
}

const crossover: fc.Arbitrary<Case> = fc
  .record({ y: between(-90, 90), stationMm: between(0, 6000), hand: side, frog, layout: fc.constantFrom('single', 'double', 'scissors') })
  .filter(({ y }) => Math.abs(y) > 30)
  .map(({ y, stationMm, hand, frog: n, layout }) => ({
    tracks: [straight, beside(y)],
    numbers: { kind: 'crossover', track: t, otherTrack: 'track-2', stationMm, hand, frog: n, layout },
  }))
const leaning: fc.Arbitrary<Case> = fc
  .record({ y: between(50, 110), lean: between(-250, 250), stationMm: between(1500, 4500), hand: side, frog })
  .map(({ y, lean, stationMm, hand, frog: n }) => ({
    tracks: [
      straight,
      aTrack({ id: 'track-2', name: 'Second', start: { kind: 'free', x: 0, y: y - lean }, end: { kind: 'free', x: 6000, y: y + lean } }),
    ],
    numbers: { kind: 'crossover', track: t, otherTrack: 'track-2', stationMm, hand, frog: n, layout: 'single' },
  }))
const siding: fc.Arbitrary<Case> = fc
  .record({ fromMm: between(0, 2500), toMm: between(2500, 5800), side, centresMm: between(35, 80), wider: between(0, 6), a: frog, b: frog })
  .map(({ fromMm, toMm, side: s, centresMm, wider, a, b }) => ({
    tracks: [bent],
    numbers: { kind: 'siding', track: t, fromMm, toMm, side: s, centresMm, curveCentresMm: centresMm + wider, frogFrom: a, frogTo: b },
  }))
const spur: fc.Arbitrary<Case> = fc
  .record({
    stationMm: between(-100, 6100),
    facing: fc.constantFrom('rising', 'falling'),
    side,
    frog,
    course: fc.oneof(
      between(20, 150).map((centresMm) => ({ kind: 'parallel' as const, centresMm })),
      between(0, 1.5).map((angleRad) => ({ kind: 'angle' as const, angleRad })),
    ),
    lengthMm: between(10, 2000),
  })
  .map((numbers) => ({ tracks: [straight], numbers: { kind: 'spur', track: t, ...numbers } }))
const yard: fc.Arbitrary<Case> = fc
  .record({
    stationMm: between(0, 6000),
    facing: fc.constantFrom('rising', 'falling'),
    side,
    frog: fc.constantFrom(5, 6),
    tracks: fc.integer({ min: 1, max: 7 }),
    leadCentresMm: between(30, 140),
    centresMm: between(35, 70),
    bodyMm: between(200, 900),
    ladder: fc.constantFrom('straight', 'compound'),
    ends: fc.constantFrom('stub', 'double'),
  })
  .map((numbers) => ({ tracks: [straight], numbers: { kind: 'yard', track: t, ...numbers } }))
const wye: fc.Arbitrary<Case> = fc
  .record({ stationMm: between(0, 6000), side, frog, tailFrog: frog, radius: between(300, 2500), tailMm: between(50, 1000) })
  .map((numbers) => ({ tracks: [straight], numbers: { kind: 'wye', track: t, ...numbers } }))
const loop: fc.Arbitrary<Case> = fc
  .record({ end: fc.constantFrom('start', 'end'), hand: side, frog, radius: between(400, 1500), straightMm: between(0, 500) })
  .map((numbers) => ({ tracks: [straight], numbers: { kind: 'loop', track: t, ...numbers } }))
const turnback: fc.Arbitrary<Case> = between(-4000, 4000)
  .filter((y) => Math.abs(y) > 200)
  .map((y) => ({
    tracks: [straight, beside(y)],
    numbers: { kind: 'turnback', track: t, end: 'end', otherTrack: 'track-2', otherEnd: 'start' },
  }))

const helix: fc.Arbitrary<Case> = fc
  .record({
    end: fc.constantFrom('start', 'end'),
    hand: side,
    size: fc.oneof(
      between(400, 1500).map((radius) => ({ kind: 'radius' as const, radius })),
      between(900, 3000).map((acrossMm) => ({ kind: 'across' as const, acrossMm })),
    ),
    climbMm: between(20, 900),
    rise: fc.oneof(
      between(60, 150).map((riseMm) => ({ kind: 'perTurn' as const, riseMm })),
      between(50, 120).map((clearMm) => ({ kind: 'clear' as const, clearMm })),
      between(1, 4).map((perCent) => ({ kind: 'grade' as const, grade: perCent / 100 })),
    ),
    deckMm: between(0, 40),
    exit: fc.oneof(
      fc.constant({ kind: 'asClimb' as const }),
      between(0, 6.28).map((angleRad) => ({ kind: 'angle' as const, angleRad })),
    ),
    straightMm: between(0, 500),
  })
  .map((numbers) => ({ tracks: [straight], numbers: { kind: 'helix', track: t, ...numbers } }))

const kinds = { crossover, 'crossover that leans': leaning, siding, spur, yard, wye, loop, turnback, helix }
/** Kinds whose making or checking takes longest: fewer of them say as much. */
const heavy: ReadonlySet<string> = new Set(['siding', 'helix', 'crossover that leans'])
const classes = fc.constantFrom('yard', 'siding', 'main')

function planOf({ tracks }: Case, pose: Pose): Plan {
  return planWith({ tracks: tracks.map((track) => laid(pose, track)) })
}

/** Where every made track begins and ends, and every made turnout stands. */
function placesOf(plan: Plan, { made }: Maker): readonly Point[] {
  const network = networkOf(plan)
  const lines = made.tracks.flatMap((id) => {
    const alignment = network.tracks.get(id)?.alignment
    if (alignment?.ok !== true) throw new Error(`${id} is not solved: ${JSON.stringify(alignment)}`)
    return [pathStart(alignment.path), alignment.path.end]
  })
  const points = made.turnouts.map((id) => {
    const result = network.turnouts.get(id)?.result
    if (result?.ok !== true) throw new Error(`${id} has no place: ${JSON.stringify(result?.problem)}`)
    return result.pose
  })
  return [...lines, ...points]
}

const makerIn = (plan: Plan): Maker => {
  const maker = recordFind(plan, 'makers', 'maker-1')
  if (maker === null) throw new Error('no maker in the plan')
  return maker
}

describe.each(Object.entries(kinds))('a maker of kind %s', (kind, cases) => {
  it('makes what solves and keeps its place, meets its legs, and makes the same again', () => {
    let made = 0
    fc.assert(
      fc.property(cases, frame, classes, (one, pose, lineClass) => {
        const plan = planOf(one, pose)
        const maker = aMaker(one.numbers, { lineClass })
        if (!expanded(plan, maker).ok) return
        made += 1
        const after = planMade(plan, maker)
        placesOf(after, makerIn(after))
        legsMeet(after)
        // The same checks as for what is drawn by hand: nothing is unsolved, out of place or on another turnout's ties.
        const faults = findingsAsked(after, ['alignment', 'easement-fit', 'turnout-place'])
        expect(faults.map(({ id, problem }) => [id, problem])).toEqual([])
        expect(makersFollow(after, networkOf(after))).toEqual([])
        const again = expanded(after, makerIn(after))
        expect(again.ok && planAfter(after, again.command)).toEqual(after)
      }),
      seeded(heavy.has(kind) ? 40 : 80),
    )
    expect(made).toBeGreaterThan(5)
  })

  it('is carried along when what it stands on is moved', () => {
    let followed = 0
    fc.assert(
      fc.property(cases, frame, (one, pose) => {
        const home: Pose = { x: 0, y: 0, headingRad: 0 }
        const before = planOf(one, home)
        const maker = aMaker(one.numbers)
        if (!expanded(before, maker).ok) return
        followed += 1
        const made = planMade(before, maker)
        const tracks = Object.fromEntries(one.tracks.map((track) => [track.id, laid(pose, track)]))
        const shifted: Plan = { ...made, tracks: { ...made.tracks, ...tracks } }
        const after = planAfter(shifted, ...makersFollow(shifted, networkOf(shifted)))
        const [was, is] = [placesOf(made, makerIn(made)), placesOf(after, makerIn(after))]
        for (const [i, point] of was.entries()) {
          const to = moved(pose, point)
          expect(Math.hypot(to.x - (is[i]?.x ?? NaN), to.y - (is[i]?.y ?? NaN))).toBeLessThan(MEET_MM)
        }
      }),
      seeded(heavy.has(kind) ? 25 : 50),
    )
    expect(followed).toBeGreaterThan(3)
  })

  it('goes without a trace, and taken apart comes back by undo', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const plan = planOf(one, { x: 0, y: 0, headingRad: 0 })
        const maker = aMaker(one.numbers)
        if (!expanded(plan, maker).ok) return
        const made = planMade(plan, maker)
        expect(planWrite(planAfter(made, { kind: 'remove', table: 'makers', id: 'maker-1' }))).toBe(planWrite(plan))
        const apart = editApply(made, { kind: 'maker.takeApart', id: 'maker-1' })
        if (!apart.ok) throw new Error(JSON.stringify(apart.problem))
        const loose = patchApply(made, apart.patch)
        expect(loose).toEqual({ ...made, makers: {} })
        expect(planWrite(patchApply(loose, patchInvert(apart.patch)))).toBe(planWrite(made))
      }),
      seeded(25),
    )
  })

  it('never names a value that would not do', () => {
    fc.assert(
      fc.property(cases, classes, (one, lineClass) => {
        const plan = planOf(one, { x: 0, y: 0, headingRad: 0 })
        const result = expanded(plan, aMaker(one.numbers, { lineClass }))
        if (result.ok) return
        const cured = makerCure(one.numbers, result.problem)
        if (cured === null) return
        const next = expanded(plan, aMaker(cured, { lineClass }))
        // Another number may hinder it then; the one that was cured may not.
        if (!next.ok) expect(trouble(next.problem)).not.toEqual(trouble(result.problem))
      }),
      seeded(120),
    )
  })
})

/** What kind of trouble, and with which number. */
function trouble(problem: Extract<ReturnType<typeof expanded>, { ok: false }>['problem']): readonly string[] {
  return [problem.kind, 'where' in problem ? problem.where : '']
}

/** A made track begins and ends where its legs are, in their direction. */
function legsMeet(plan: Plan): void {
  const network = networkOf(plan)
  for (const { track, alignment } of network.tracks.values()) {
    if (!alignment.ok) throw new Error(`${track.id} is not solved`)
    const { path } = alignment
    for (const [end, at, turn] of [
      [track.start, pathStart(path), 0],
      [track.end, path.end, Math.PI],
    ] as const) {
      if (end.kind !== 'leg') continue
      const result = network.turnouts.get(end.turnout)?.result
      if (result?.ok !== true) throw new Error(`${end.turnout} has no place`)
      expect(Math.hypot(at.x - result.leg.x, at.y - result.leg.y)).toBeLessThan(MEET_MM)
      expect(Math.abs(Math.sin(at.headingRad + turn - result.leg.headingRad))).toBeLessThan(1e-9)
      expect(Math.cos(at.headingRad + turn - result.leg.headingRad)).toBeGreaterThan(0)
    }
  }
}
