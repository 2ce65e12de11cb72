import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { editApply, patchApply } from '../../../src/core/edit/index.ts'
import { pathPoseAt, pointDistance } from '../../../src/core/geom/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { makersFollow } from '../../../src/core/makers/index.ts'
import { legPose } from '../../../src/core/network/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Derived } from '../../../src/core/pipeline/index.ts'
import { planParse, tableNames } from '../../../src/core/plan/index.ts'
import type { Plan, Wall } from '../../../src/core/plan/index.ts'
import {
  motionMirror,
  motionPoint,
  motionShift,
  motionTurn,
  stretchConnected,
  stretchCopy,
  stretchMove,
  type Member,
  type Motion,
  type StretchResult,
} from '../../../src/core/stretch/index.ts'
import { openingRings } from '../../../src/tools/index.ts'
import { aMaker, networkOf, planMade } from '../../support/makers.ts'
import { aCorner, aTrack, aTurnout, planAfter, planWith } from '../../support/plans.ts'

/** Coordinates of a few metres through a turn and its inverse, mm. */
const backMm = 1e-9
/** The same through the solvers of turnouts and curves, mm. */
const meetMm = 1e-6

const seeded = (numRuns: number) => ({ seed: 20261126, numRuns })

/** A bent main with turnouts of both hands, a spur and a track between its legs, a crossing track with a slip, a siding by a maker, a room. */
const plan: Plan = planMade(
  planWith({
    tracks: [
      aTrack({ corners: [aCorner({ x: 4600 })], end: { kind: 'free', x: 5700, y: 1300 } }),
      aTrack({ id: 'track-2', start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' }, end: { kind: 'free', x: 1900, y: 200 } }),
      aTrack({ id: 'track-3', start: { kind: 'free', x: 3300, y: -250 }, end: { kind: 'leg', turnout: 'turnout-2', leg: 'diverging' } }),
      aTrack({ id: 'track-4', start: { kind: 'leg', turnout: 'turnout-3', leg: 'diverging' }, end: { kind: 'free', x: 3300, y: -150 } }),
      aTrack({ id: 'track-9', name: 'Across', start: { kind: 'free', x: 3500, y: -300 }, end: { kind: 'free', x: 4100, y: 300 } }),
    ],
    turnouts: [
      aTurnout({ stationMm: 300 }),
      aTurnout({ id: 'turnout-2', stationMm: 900, hand: 'right' }),
      aTurnout({ id: 'turnout-3', track: 'track-3', stationMm: 1600, facing: 'falling' }),
    ],
    portals: [{ id: 'portal-1', name: 'P', track: 'track-1', stationMm: 100, lengthMm: 40, leftMm: 30, rightMm: 50, heightMm: 90 }],
    railJoints: [{ id: 'joint-1', track: 'track-1', rail: 'left', stationMm: 120 }],
    walls: [
      {
        id: 'wall-1',
        name: 'North',
        points: [
          { x: 0, y: 2000 },
          { x: 3000, y: 2000 },
          { x: 3000, y: 500 },
        ],
        thicknessMm: 100,
        isClosed: false,
      },
    ],
    openings: [
      {
        id: 'opening-1',
        name: 'Door',
        wall: 'wall-1',
        fromMm: 400,
        widthMm: 800,
        leaf: { hinge: 'from', side: 'left' },
        sillMm: null,
      },
    ],
    joists: [{ id: 'joist-1', name: 'J', from: { x: 0, y: 100 }, to: { x: 900, y: 100 }, widthMm: 40 }],
    guides: [{ id: 'guide-1', name: 'G', at: { x: 100, y: 200 }, angleRad: 0.3 }],
    readings: [
      { id: 'reading-1', name: 'D', of: { kind: 'distance', from: { x: 0, y: 2000 }, to: { x: 900, y: 100 } } },
      { id: 'reading-2', name: 'A', of: { kind: 'angle', at: { x: 3000, y: 2000 }, from: { x: 0, y: 2000 }, to: { x: 3000, y: 500 } } },
    ],
  }),
  aMaker({
    kind: 'siding',
    track: 'track-1',
    fromMm: 1500,
    toMm: 3900,
    side: 'left',
    centresMm: 60,
    curveCentresMm: 60,
    frogFrom: 6,
    frogTo: 6,
  }),
)

const all: readonly Member[] = [
  { table: 'tracks', id: 'track-1' },
  { table: 'tracks', id: 'track-9' },
  { table: 'walls', id: 'wall-1' },
  { table: 'joists', id: 'joist-1' },
  { table: 'guides', id: 'guide-1' },
  { table: 'readings', id: 'reading-1' },
  { table: 'readings', id: 'reading-2' },
]

function done(at: Plan, result: StretchResult): Plan {
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  return planAfter(at, { kind: 'group', label: 'x', commands: result.commands })
}

/** Equal but for rounding of numbers: what is farthest apart. */
function apart(a: unknown, b: unknown): number {
  if (typeof a === 'number' && typeof b === 'number') return Math.abs(a - b)
  if (typeof a !== 'object' || a === null || typeof b !== 'object' || b === null) return a === b ? 0 : Infinity
  const keys = new Set([...Object.keys(a), ...Object.keys(b)])
  return Math.max(0, ...[...keys].map((key) => apart(a[key as keyof typeof a], b[key as keyof typeof b])))
}

const where = fc.integer({ min: -300_000, max: 300_000 }).map((hundredths) => hundredths / 100)
const point: fc.Arbitrary<Point> = fc.record({ x: where, y: where })
const angle = fc.integer({ min: -3141, max: 3141 }).map((thousandths) => thousandths / 1000)

/** Each track and turnout of a plan lies where the motion takes the one of another plan; `idOf` names it there. */
function expectImage(
  here: Derived,
  there: Derived,
  motion: Motion,
  idOf: { readonly track: (id: string) => string; readonly turnout: (id: string) => string },
): void {
  for (const [id, { alignment }] of here.network.tracks) {
    const other = there.network.tracks.get(idOf.track(id))?.alignment
    if (!alignment.ok || other?.ok !== true) throw new Error(`${id} is not traced`)
    expect(Math.abs(other.path.lengthMm - alignment.path.lengthMm)).toBeLessThan(meetMm)
    for (const share of [0, 0.13, 0.5, 0.77, 1]) {
      const wanted = motionPoint(motion, pathPoseAt(alignment.path, share * alignment.path.lengthMm))
      expect(pointDistance(pathPoseAt(other.path, share * other.path.lengthMm), wanted), `${id} at ${share}`).toBeLessThan(meetMm)
    }
  }
  for (const [id, { result }] of here.network.turnouts) {
    const other = there.network.turnouts.get(idOf.turnout(id))?.result
    if (!result.ok || other?.ok !== true) throw new Error(`${id} is not set`)
    expect(pointDistance(other.leg, motionPoint(motion, result.leg)), id).toBeLessThan(meetMm)
  }
}

const same = { track: (id: string) => id, turnout: (id: string) => id }

describe('a stretch', () => {
  it('turned by an angle and back is the plan from before', () => {
    fc.assert(
      fc.property(point, angle, (about, rad) => {
        const turned = done(plan, stretchMove(plan, all, motionTurn(about, rad)))
        expect(apart(done(turned, stretchMove(turned, all, motionTurn(about, -rad))), plan)).toBeLessThan(backMm)
      }),
      seeded(25),
    )
  })

  it('mirrored twice in the same line is the plan from before', () => {
    fc.assert(
      fc.property(point, angle, (through, rad) => {
        const motion = motionMirror(through, rad)
        const mirrored = done(plan, stretchMove(plan, all, motion))
        expect(apart(done(mirrored, stretchMove(mirrored, all, motion)), plan)).toBeLessThan(backMm)
      }),
      seeded(25),
    )
  })

  it('mirrored changes hands: turnouts, makers, portals, joints; and doors hang as in a mirror', () => {
    const motion = motionMirror({ x: 500, y: 0 }, Math.PI / 2)
    const mirrored = done(plan, stretchMove(plan, all, motion))
    for (const [id, { hand }] of Object.entries(plan.turnouts)) expect(mirrored.turnouts[id]?.hand, id).not.toBe(hand)
    expect(mirrored.makers['maker-1']?.numbers).toMatchObject({ side: 'right' })
    expect(mirrored.portals['portal-1']).toMatchObject({ leftMm: 50, rightMm: 30 })
    expect(mirrored.railJoints['joint-1']?.rail).toBe('right')
    // As drawn: every corner of the gap in the wall is the image of one. The thickness stays outside.
    const gap = (of: Plan): readonly Point[] => {
      const wall = of.walls['wall-1'] as Wall
      const opening = of.openings['opening-1']
      return opening === undefined ? [] : openingRings(wall, opening).flat()
    }
    expect(gap(plan).length).toBeGreaterThan(3)
    for (const corner of gap(plan)) {
      const image = motionPoint(motion, corner)
      expect(Math.min(...gap(mirrored).map((other) => pointDistance(other, image)))).toBeLessThan(backMm)
    }
    expect(mirrored.openings['opening-1']?.leaf).toEqual({ hinge: 'to', side: 'left' })
  })

  it('derived after a motion is the congruent image, and its makers have nothing to write anew', () => {
    const here = pipelineCreate().derive(plan)
    fc.assert(
      fc.property(point, angle, fc.boolean(), (at, rad, isMirror) => {
        const motion = isMirror ? motionMirror(at, rad) : motionTurn(at, rad)
        const moved = done(plan, stretchMove(plan, all, motion))
        expect(planParse(moved).ok).toBe(true)
        expectImage(here, pipelineCreate().derive(moved), motion, same)
        for (const command of makersFollow(moved, networkOf(moved))) {
          const result = editApply(moved, command)
          if (result.ok) expect(apart(patchApply(moved, result.patch), moved)).toBeLessThan(meetMm)
        }
      }),
      seeded(10),
    )
  })

  it('takes along what hangs on it alone, and says what holds it', () => {
    const move = (chosen: readonly Member[]): StretchResult => stretchMove(plan, chosen, motionShift({ x: 10, y: 0 }))
    const whole = move([{ table: 'tracks', id: 'track-1' }])
    if (!whole.ok) throw new Error('refused')
    expect(whole.members.map(({ id }) => id).toSorted()).toEqual(
      ['track-1', 'track-2', 'track-3', 'track-4', ...(plan.makers['maker-1']?.made.tracks ?? [])].toSorted(),
    )
    expect(move([{ table: 'tracks', id: 'track-2' }])).toEqual({
      ok: false,
      problem: { kind: 'tied', track: 'track-2', turnout: 'turnout-1' },
    })
    expect(move([{ table: 'turnouts', id: 'turnout-1' }])).toMatchObject({ ok: false, problem: { kind: 'alone', on: { id: 'track-1' } } })
    expect(move([{ table: 'lineClasses', id: 'main' }])).toMatchObject({ ok: false, problem: { kind: 'notMovable' } })
    expect(move([])).toEqual({ ok: false, problem: { kind: 'nothing' } })
    const linked = stretchConnected(plan, 'track-4').map(({ id }) => id)
    expect(linked).toContain('track-1')
    expect(linked).not.toContain('track-9')
  })

  it('laid a second time: the first stays as it is, the second is its image, all of it is a valid plan', () => {
    const here = pipelineCreate().derive(plan)
    fc.assert(
      fc.property(point, angle, fc.boolean(), (at, rad, isMirror) => {
        const motion = isMirror ? motionMirror(at, rad) : motionTurn(at, rad)
        const result = stretchCopy(plan, all, motion, () => null)
        const after = done(plan, result)
        expect(planParse(after).ok).toBe(true)
        for (const table of tableNames) {
          for (const [id, record] of Object.entries(plan[table])) expect(after[table][id]).toBe(record)
          const isDoubled = table !== 'lineClasses' && table !== 'vehicles' && table !== 'materials' && table !== 'stocks'
          if (isDoubled) expect(Object.keys(after[table]).length, table).toBe(2 * Object.keys(plan[table]).length)
        }
        const names = Object.values(after.tracks).map(({ name }) => name)
        expect(new Set(names.slice(Object.keys(plan.tracks).length)).size).toBe(Object.keys(plan.tracks).length)
        // Ids are given out in the order of the old ones of the set: found again by what they are.
        const there = pipelineCreate().derive(after)
        const lengths = (derived: Derived, ids: readonly string[]): readonly number[] =>
          ids
            .map((id) => derived.network.tracks.get(id)?.alignment)
            .map((alignment) => (alignment?.ok === true ? alignment.path.lengthMm : Number.NaN))
            .toSorted((a, b) => a - b)
        const added = Object.keys(after.tracks).filter((id) => plan.tracks[id] === undefined)
        const [old, fresh] = [lengths(here, Object.keys(plan.tracks)), lengths(there, added)]
        expect(apart(old, fresh)).toBeLessThan(meetMm)
        const legs = (derived: Derived, ids: readonly string[]): readonly Point[] =>
          ids.flatMap((id) => {
            const turnout = derived.network.turnouts.get(id)?.result
            return turnout?.ok === true ? [turnout.leg] : []
          })
        const addedTurnouts = Object.keys(after.turnouts).filter((id) => plan.turnouts[id] === undefined)
        const images = legs(there, addedTurnouts)
        expect(images.length).toBe(Object.keys(plan.turnouts).length)
        for (const leg of legs(here, Object.keys(plan.turnouts))) {
          const wanted = motionPoint(motion, leg)
          expect(Math.min(...images.map((image) => pointDistance(image, wanted)))).toBeLessThan(meetMm)
        }
      }),
      seeded(8),
    )
  })

  it('laid a second time without what it hung on begins where the leg was', () => {
    const derived = pipelineCreate().derive(plan)
    const motion = motionShift({ x: 0, y: 500 })
    const result = stretchCopy(plan, [{ table: 'tracks', id: 'track-2' }], motion, (turnout, leg) => {
      const placed = derived.network.turnouts.get(turnout)?.result
      return placed === undefined ? null : legPose(placed, leg)
    })
    const after = done(plan, result)
    const made = Object.keys(after.tracks).find((id) => plan.tracks[id] === undefined) ?? ''
    const turnout = derived.network.turnouts.get('turnout-1')?.result
    if (turnout?.ok !== true) throw new Error('not set')
    const start = after.tracks[made]?.start
    expect(start?.kind).toBe('free')
    if (start?.kind === 'free') expect(pointDistance(start, motionPoint(motion, turnout.leg))).toBeLessThan(backMm)
  })

  it('with a locked record in it stays where it is, and says which', () => {
    const locked = planAfter(plan, { kind: 'lock.add', record: { table: 'tracks', record: 'track-2' } })
    const moved = stretchMove(locked, all, motionShift({ x: 1, y: 1 }))
    if (!moved.ok) throw new Error('refused')
    const result = editApply(locked, { kind: 'group', label: null, commands: moved.commands })
    expect(result).toEqual({ ok: false, problem: { kind: 'locked', table: 'tracks', id: 'track-2' } })
  })
})
