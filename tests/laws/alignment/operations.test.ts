import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  cornerSolve,
  trackExtend,
  trackMerge,
  trackOrigin,
  trackReverse,
  trackSplit,
  trackTrim,
} from '../../../src/core/alignment/index.ts'
import type { TakenStretch, TrackInPlan, TrackOperationResult } from '../../../src/core/alignment/index.ts'
import { editApply, patchApply } from '../../../src/core/edit/index.ts'
import { pathNearest, pathPoseAt, poseAhead } from '../../../src/core/geom/index.ts'
import type { Path, Pose } from '../../../src/core/geom/index.ts'
import { networkCreateDeriver, turnoutStretch } from '../../../src/core/network/index.ts'
import type { Corner, Plan, Turnout } from '../../../src/core/plan/index.ts'
import { aLoop, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const SEED = 20261130
const real = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true })

/** Straights are long enough for a No. 6 in HO with room to cut before and behind it. */
const STRAIGHT_MM = 700

/** A track of one to four curves, one of them of two radii at times, with a turnout on each straight, some with a spur on their leg. */
const plans: fc.Arbitrary<Plan> = fc
  .array(
    fc.record({
      degrees: real(20, 110),
      hand: fc.constantFrom(1, -1),
      radiusMm: real(500, 1200),
      eased: fc.oneof(fc.constant(0), real(0.01, 0.3)),
      kind: fc.constantFrom('plain', 'plain', 'compound', 'class'),
      facing: fc.constantFrom<Turnout['facing']>('rising', 'falling'),
      turnoutHand: fc.constantFrom<Turnout['hand']>('left', 'right'),
    }),
    { minLength: 1, maxLength: 4 },
  )
  .map((curves) => {
    let at: Pose = { x: 30, y: -70, headingRad: -0.4 }
    let stationMm = 0
    const start = { kind: 'free', x: at.x, y: at.y } as const
    const corners: Corner[] = []
    const turnouts: Turnout[] = []
    for (const [i, curve] of curves.entries()) {
      const { degrees, hand, radiusMm, eased, kind, facing, turnoutHand } = curve
      const deflectionRad = (hand * degrees * Math.PI) / 180
      const isClass = kind === 'class'
      const easementMm = isClass ? 0 : eased * radiusMm * Math.abs(deflectionRad)
      const request = {
        deflectionRad,
        radiusMm:
          kind === 'compound'
            ? {
                first: { radiusMm, turn: { kind: 'share', share: 1 } as const },
                next: [{ radiusMm: 1.5 * radiusMm, turn: { kind: 'share', share: 2 } as const, easementMm: 0 }],
              }
            : isClass
              ? 800
              : radiusMm,
        easementInMm: easementMm,
        easementOutMm: easementMm / 2,
      }
      const solved = cornerSolve(isClass ? { ...request, easementOutMm: 0 } : request)
      if (!solved.ok) throw new Error(JSON.stringify(solved.problem))
      turnouts.push(aTurnout({ id: `turnout-${i + 1}`, name: `T${i}`, stationMm: stationMm + STRAIGHT_MM / 2, facing, hand: turnoutHand }))
      const pi = poseAhead(at, STRAIGHT_MM + solved.corner.tangentInMm)
      const radius: Corner['radius'] =
        kind === 'compound'
          ? {
              first: { radius: radiusMm, turn: { kind: 'share', share: 1 } },
              next: [{ radius: 1.5 * radiusMm, turn: { kind: 'share', share: 2 }, easement: 0 }],
            }
          : isClass
            ? 'class'
            : radiusMm
      corners.push({
        id: `pi-${i + 1}`,
        x: pi.x,
        y: pi.y,
        radius,
        easementIn: isClass ? 'class' : easementMm,
        easementOut: isClass ? 'class' : easementMm / 2,
      })
      at = poseAhead({ ...pi, headingRad: pi.headingRad + deflectionRad }, solved.corner.tangentOutMm)
      stationMm += STRAIGHT_MM + solved.corner.totalLengthMm
    }
    const end = poseAhead(at, STRAIGHT_MM)
    const base = planWith({})
    const main = base.lineClasses['main']
    if (main === undefined) throw new Error('no main class')
    return planWith({
      lineClasses: [{ ...main, usualRadiusMm: 800, easement: { kind: 'none' } }],
      tracks: [
        aTrack({ start, corners, end: { kind: 'free', x: end.x, y: end.y } }),
        aTrack({
          id: 'spur',
          name: 'Spur',
          start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
          end: { kind: 'free', x: 9000, y: 9000 },
        }),
      ],
      turnouts,
    })
  })

function on(plan: Plan, id: string): TrackInPlan {
  const found = networkCreateDeriver()(plan).tracks.get(id)
  if (found?.alignment.ok !== true) throw new Error(`track ${id}: ${JSON.stringify(found?.alignment)}`)
  return { plan, track: found.track, lineClass: found.lineClass, alignment: found.alignment }
}

const pathOf = (plan: Plan, id: string): Path => on(plan, id).alignment.path

function takenOn(plan: Plan): readonly TakenStretch[] {
  return [...networkCreateDeriver()(plan).turnouts.values()].flatMap(({ turnout, result }): TakenStretch[] => {
    if (!result.ok) throw new Error(JSON.stringify(result.problem))
    return [{ turnout: turnout.id, ...turnoutStretch(turnout, result.geometry.extent.fromMm, result.geometry.extent.toMm) }]
  })
}

function after(plan: Plan, result: TrackOperationResult): Plan {
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  const edited = editApply(plan, result.command)
  if (!edited.ok) throw new Error(JSON.stringify(edited.problem))
  return patchApply(plan, edited.patch)
}

/** Every turnout stands where it stood: its leg is the same pose. 1e-6 mm: what tracks keep through edits. */
function expectTurnoutsStay(before: Plan, behind: Plan): void {
  const legs = (plan: Plan): readonly (Pose | null)[] =>
    [...networkCreateDeriver()(plan).turnouts.values()].map(({ result }) => (result.ok ? result.leg : null))
  const own = legs(before)
  const other = legs(behind)
  expect(other).toHaveLength(own.length)
  for (const [i, leg] of own.entries()) {
    const moved = other[i] ?? null
    if (leg === null || moved === null) throw new Error(`turnout ${i} is not set`)
    expect(Math.hypot(leg.x - moved.x, leg.y - moved.y)).toBeLessThan(1e-6)
    expect(Math.sin((leg.headingRad - moved.headingRad) / 2)).toBeCloseTo(0, 9)
  }
}

/** Each of some places of one path lies on one of the others. */
function expectCovered(path: Path, others: readonly Path[]): void {
  for (let i = 0; i <= 60; i++) {
    const pose = pathPoseAt(path, (i / 60) * path.lengthMm)
    expect(Math.min(...others.map((other) => pathNearest(other, pose).distanceMm))).toBeLessThan(1e-6)
  }
}

/** Stations on straights before and behind turnouts, and in arcs: where a track may be cut. */
const stationsToCut = ({ alignment }: TrackInPlan): readonly number[] => [
  40,
  ...alignment.corners.flatMap(({ tsMm, stMm, scMm, csMm, joins }) => [
    tsMm - 20,
    stMm + 40,
    ...(joins.length === 0 ? [scMm + 0.4 * (csMm - scMm)] : []),
  ]),
]

const placed = fc.record({ plan: plans, pick: fc.nat(), name: fc.constantFrom('start', 'end') })

describe('an operation on a track', () => {
  test('reversed, the line runs the other way through the same places; twice reversed it is the same record', () => {
    fc.assert(
      fc.property(plans, (plan) => {
        const turned = after(plan, trackReverse(on(plan, 'track-1')))
        const own = pathOf(plan, 'track-1')
        const other = pathOf(turned, 'track-1')
        expect(other.lengthMm).toBeCloseTo(own.lengthMm, 6)
        for (let i = 0; i <= 40; i++) {
          const there = pathPoseAt(own, (i / 40) * own.lengthMm)
          const back = pathPoseAt(other, other.lengthMm * (1 - i / 40))
          expect(Math.hypot(there.x - back.x, there.y - back.y)).toBeLessThan(1e-6)
          expect(Math.cos(there.headingRad - back.headingRad)).toBeCloseTo(-1, 12)
        }
        expectTurnoutsStay(plan, turned)
        const again = after(turned, trackReverse(on(turned, 'track-1')))
        expect(again.tracks).toEqual(plan.tracks)
      }),
      { seed: SEED, numRuns: 80 },
    )
  })

  test('split, both parts lie where the track lay, and turnouts stay; merged again the line is what it was', () => {
    fc.assert(
      fc.property(placed, ({ plan, pick }) => {
        const whole = on(plan, 'track-1')
        const stations = stationsToCut(whole)
        const stationMm = stations[pick % stations.length] ?? 0
        const split = after(plan, trackSplit(whole, stationMm, takenOn(plan)))
        const [first, second] = [on(split, 'track-1'), on(split, 'track-2')]
        expect(first.alignment.path.lengthMm).toBeCloseTo(stationMm, 6)
        expect(first.alignment.path.lengthMm + second.alignment.path.lengthMm).toBeCloseTo(whole.alignment.path.lengthMm, 6)
        expectCovered(whole.alignment.path, [first.alignment.path, second.alignment.path])
        expectTurnoutsStay(plan, split)

        // The second may have been turned round meanwhile, and either may be the one that stays.
        const turned = pick % 2 === 0 ? split : after(split, trackReverse(second))
        const ends = [
          { on: on(turned, 'track-1'), end: 'end' },
          { on: on(turned, 'track-2'), end: pick % 2 === 0 ? 'start' : 'end' },
        ] as const
        const merged = after(turned, pick % 3 === 0 ? trackMerge(ends[1], ends[0]) : trackMerge(ends[0], ends[1]))
        const again = pathOf(merged, pick % 3 === 0 ? 'track-2' : 'track-1')
        expect(again.lengthMm).toBeCloseTo(whole.alignment.path.lengthMm, 6)
        expectCovered(whole.alignment.path, [again])
        expectTurnoutsStay(plan, merged)
      }),
      { seed: SEED, numRuns: 150 },
    )
  })

  test('extended and trimmed by as much it is the same line, with its turnouts in place all the while', () => {
    fc.assert(
      fc.property(placed, real(10, 500), ({ plan, name }, distanceMm) => {
        const end = name === 'start' ? 'start' : 'end'
        const own = pathOf(plan, 'track-1')
        const longer = after(plan, trackExtend(on(plan, 'track-1'), end, distanceMm))
        const path = pathOf(longer, 'track-1')
        expect(path.lengthMm).toBeCloseTo(own.lengthMm + distanceMm, 6)
        expectTurnoutsStay(plan, longer)
        const cutMm = end === 'start' ? distanceMm : own.lengthMm
        const back = after(longer, trackTrim(on(longer, 'track-1'), cutMm, end === 'start' ? 'behind' : 'before', takenOn(longer)))
        const again = pathOf(back, 'track-1')
        expect(again.lengthMm).toBeCloseTo(own.lengthMm, 6)
        expectCovered(own, [again])
        expectTurnoutsStay(plan, back)
      }),
      { seed: SEED, numRuns: 80 },
    )
  })
})

describe('an operation on a loop', () => {
  const looped = planWith({
    tracks: [aLoop(250)],
    turnouts: [aTurnout({ stationMm: 150 }), aTurnout({ id: 'turnout-2', stationMm: 4500, facing: 'falling', hand: 'right' })],
  })

  test('reversed and reversed again it is the same record', () => {
    const turned = after(looped, trackReverse(on(looped, 'track-1')))
    expectCovered(pathOf(looped, 'track-1'), [pathOf(turned, 'track-1')])
    expectTurnoutsStay(looped, turned)
    expect(after(turned, trackReverse(on(turned, 'track-1'))).tracks).toEqual(looped.tracks)
  })

  test('whose stations begin elsewhere is the same line', () => {
    const { tsMm = 0, stMm = 0 } = on(looped, 'track-1').alignment.corners[1] ?? {}
    const moved = after(looped, trackOrigin(on(looped, 'track-1'), stMm + 30))
    const path = pathOf(moved, 'track-1')
    const there = pathPoseAt(pathOf(looped, 'track-1'), stMm + 30)
    expect(path.elements[0]?.start.x).toBeCloseTo(there.x, 6)
    expect(path.elements[0]?.start.y).toBeCloseTo(there.y, 6)
    expectCovered(pathOf(looped, 'track-1'), [path])
    expectTurnoutsStay(looped, moved)
    expect(trackOrigin(on(looped, 'track-1'), (tsMm + stMm) / 2)).toMatchObject({ ok: false, problem: { kind: 'inEasement' } })
  })

  test('cut open, and closed again, is the same line', () => {
    const { scMm = 0, csMm = 0, stMm = 0 } = on(looped, 'track-1').alignment.corners[0] ?? {}
    for (const stationMm of [stMm + 40, 0.7 * scMm + 0.3 * csMm]) {
      const open = after(looped, trackSplit(on(looped, 'track-1'), stationMm, takenOn(looped)))
      const path = pathOf(open, 'track-1')
      expect(path.lengthMm).toBeCloseTo(pathOf(looped, 'track-1').lengthMm, 6)
      expectCovered(pathOf(looped, 'track-1'), [path])
      expectTurnoutsStay(looped, open)
      const closed = after(open, trackMerge({ on: on(open, 'track-1'), end: 'end' }, { on: on(open, 'track-1'), end: 'start' }))
      expectCovered(pathOf(looped, 'track-1'), [pathOf(closed, 'track-1')])
    }
  })
})

describe('what an operation refuses', () => {
  const plan = planWith({
    lineClasses: [],
    tracks: [
      aTrack({
        corners: [{ id: 'pi-1', x: 2000, y: 0, radius: 600, easementIn: 200, easementOut: 200 }],
        end: { kind: 'free', x: 2000, y: 2000 },
      }),
      aTrack({ id: 'track-2', name: 'Apart', start: { kind: 'free', x: 2000, y: 2001 }, end: { kind: 'free', x: 2000, y: 3000 } }),
      aTrack({ id: 'track-3', name: 'Bent', start: { kind: 'free', x: 2000, y: 2000 }, end: { kind: 'free', x: 2100, y: 3000 } }),
      aTrack({
        id: 'track-4',
        name: 'Spur',
        start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
        end: { kind: 'free', x: 2000, y: 400 },
      }),
    ],
    turnouts: [aTurnout({})],
  })
  const main = on(plan, 'track-1')
  const { tsMm = 0, scMm = 0 } = main.alignment.corners[0] ?? {}

  test('a cut in an easement, with the places beside it that would do', () => {
    const result = trackSplit(main, (tsMm + scMm) / 2, [])
    expect(result).toMatchObject({ ok: false, problem: { kind: 'inEasement', beforeMm: tsMm } })
    const behindMm = !result.ok && result.problem.kind === 'inEasement' ? result.problem.behindMm : 0
    expect(trackSplit(main, behindMm, []).ok).toBe(true)
    expect(trackSplit(main, tsMm, []).ok).toBe(true)
  })

  test('a cut in a turnout, at an end, or off the track', () => {
    expect(trackSplit(main, 560, takenOn(plan))).toMatchObject({ ok: false, problem: { kind: 'inTurnout', turnout: 'turnout-1' } })
    expect(trackSplit(main, 0, [])).toMatchObject({ ok: false, problem: { kind: 'atEnd' } })
    expect(trackSplit(main, -5, [])).toMatchObject({ ok: false, problem: { kind: 'offTrack' } })
    expect(trackSplit(main, Number.NaN, [])).toEqual({ ok: false, problem: { kind: 'notFinite', where: 'station' } })
  })

  test('what would upset the numbers of a maker that counts along the track', () => {
    const numbers = {
      kind: 'spur',
      track: 'track-1',
      stationMm: 900,
      facing: 'rising',
      side: 'right',
      frog: 6,
      course: { kind: 'parallel', centresMm: 50 },
      lengthMm: 300,
    } as const
    const maker = { id: 'maker-1', name: 'Spur', lineClass: 'main', numbers, made: { tracks: [], turnouts: [] } }
    const held: TrackInPlan = { ...main, plan: { ...plan, makers: { 'maker-1': maker } } }
    const refusal = { ok: false, problem: { kind: 'carriesMaker', maker: 'maker-1' } }
    expect(trackReverse(held)).toEqual(refusal)
    expect(trackSplit(held, 1000, [])).toEqual(refusal)
    expect(trackExtend(held, 'start', 100)).toEqual(refusal)
    // At the far end nothing is counted anew.
    expect(trackExtend(held, 'end', 100).ok).toBe(true)
  })

  test('to trim away what turnouts stand on', () => {
    const problem = { kind: 'turnoutsBeyond', turnouts: ['turnout-1'] }
    expect(trackTrim(main, 1200, 'behind', takenOn(plan))).toEqual({ ok: false, problem })
    expect(trackTrim(main, 1200, 'before', takenOn(plan)).ok).toBe(true)
  })

  test('to merge what lies apart or meets at an angle, or an end that is not free', () => {
    const end = { on: main, end: 'end' } as const
    expect(trackMerge(end, { on: on(plan, 'track-2'), end: 'start' })).toEqual({
      ok: false,
      problem: { kind: 'apart', distanceMm: expect.closeTo(1, 9) },
    })
    expect(trackMerge(end, { on: on(plan, 'track-3'), end: 'start' })).toEqual({
      ok: false,
      problem: { kind: 'kink', turnRad: expect.closeTo(-Math.atan(0.1), 9) },
    })
    expect(trackMerge({ on: on(plan, 'track-4'), end: 'start' }, end)).toMatchObject({ ok: false, problem: { kind: 'endNotFree' } })
    expect(trackExtend(on(plan, 'track-4'), 'start', 10)).toMatchObject({ ok: false, problem: { kind: 'endNotFree' } })
    expect(trackExtend(main, 'end', 0)).toMatchObject({ ok: false, problem: { kind: 'notPositive' } })
  })
})
