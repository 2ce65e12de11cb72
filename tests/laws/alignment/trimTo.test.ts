import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { cornerSolve, trackMeetings, trackTrimTo } from '../../../src/core/alignment/index.ts'
import type { TrackInPlan, TrackMeeting, TrackOperationResult } from '../../../src/core/alignment/index.ts'
import { editApply, patchApply } from '../../../src/core/edit/index.ts'
import { pathNearest, pathPoseAt, pathStart, poseAhead, poseReverse } from '../../../src/core/geom/index.ts'
import type { Path, Pose } from '../../../src/core/geom/index.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import type { Corner, Plan, Track, TrackEndName } from '../../../src/core/plan/index.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const SEED = 20261202
const real = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true })

const STRAIGHT_MM = 300

interface Curve {
  readonly degrees: number
  readonly radiusMm: number
}

/** A track from a pose: straights with arcs between, a third of them eased. */
function wandering(id: string, start: Pose, curves: readonly Curve[]): Track {
  let at = start
  const corners = curves.map(({ degrees, radiusMm }, i): Corner => {
    const deflectionRad = (degrees * Math.PI) / 180
    const easementMm = i % 3 === 2 ? 0.2 * radiusMm * Math.abs(deflectionRad) : 0
    const solved = cornerSolve({ deflectionRad, radiusMm, easementInMm: easementMm, easementOutMm: easementMm })
    if (!solved.ok) throw new Error(JSON.stringify(solved.problem))
    const pi = poseAhead(at, STRAIGHT_MM + solved.corner.tangentInMm)
    at = poseAhead({ ...pi, headingRad: pi.headingRad + deflectionRad }, solved.corner.tangentOutMm)
    return { id: `pi-${i + 1}`, x: pi.x, y: pi.y, radius: radiusMm, easementIn: easementMm, easementOut: easementMm }
  })
  const end = poseAhead(at, STRAIGHT_MM)
  return aTrack({ id, name: id, start: { kind: 'free', x: start.x, y: start.y }, corners, end: { kind: 'free', x: end.x, y: end.y } })
}

const curves = fc.array(fc.record({ degrees: fc.oneof(real(15, 110), real(-110, -15)), radiusMm: real(400, 900) }), { maxLength: 3 })

/** Two tracks near each other, more often crossing than not. */
const pairs = fc
  .record({ own: curves, other: curves, x: real(-300, 1200), y: real(-500, 500), headingRad: real(-3, 3) })
  .map(({ own, other, ...pose }) =>
    planWith({ tracks: [wandering('own', { x: 0, y: 0, headingRad: 0.2 }, own), wandering('other', pose, other)] }),
  )

function on(plan: Plan, id: string): TrackInPlan {
  const found = networkCreateDeriver()(plan).tracks.get(id)
  if (found?.alignment.ok !== true) throw new Error(`track ${id}: ${JSON.stringify(found?.alignment)}`)
  return { plan, track: found.track, lineClass: found.lineClass, alignment: found.alignment }
}

function after(plan: Plan, result: TrackOperationResult): Plan {
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  const edited = editApply(plan, result.command)
  if (!edited.ok) throw new Error(JSON.stringify(edited.problem))
  return patchApply(plan, edited.patch)
}

const endOf = (path: Path, end: TrackEndName): Pose => (end === 'end' ? path.end : poseReverse(pathStart(path)))

const meetingsOf = (plan: Plan, end: TrackEndName): readonly TrackMeeting[] => {
  const found = trackMeetings(on(plan, 'own'), end, on(plan, 'other'))
  return found.ok ? found.meetings : []
}

/** Changes of side along a line, its very ends left out: crossings by another kind of search, in steps of 2 mm. */
function crossingsWalked(path: Path, other: Path): number {
  let crossings = 0
  let before: { readonly side: number; readonly stationMm: number } | null = null
  for (let s = 4; s <= path.lengthMm - 4; s += 2) {
    const near = pathNearest(other, pathPoseAt(path, s))
    const isBeside = near.stationMm > 0 && near.stationMm < other.lengthMm
    const here = { side: Math.sign(near.offsetMm), stationMm: near.stationMm }
    // A change of side is a crossing where the nearest place did not jump meanwhile.
    if (isBeside && before !== null && here.side !== before.side && Math.abs(here.stationMm - before.stationMm) < 40) crossings++
    before = isBeside ? here : null
  }
  return crossings
}

describe('a track trimmed to another', () => {
  test('ends on the other centreline, straight on or within what it was, and meets it there no more', () => {
    let cut = 0
    let longer = 0
    fc.assert(
      fc.property(pairs, fc.constantFrom<TrackEndName>('start', 'end'), fc.nat(), (plan, end, pick) => {
        const own = on(plan, 'own').alignment.path
        const other = on(plan, 'other').alignment.path
        const meetings = meetingsOf(plan, end)
        const meeting = meetings[pick % Math.max(1, meetings.length)]
        if (meeting === undefined) return
        const result = trackTrimTo(on(plan, 'own'), meeting, [])
        // What cannot be cut says where it could be: easements are not divided.
        if (!result.ok) return expect(result.problem.kind).toBe('inEasement')
        const trimmed = after(plan, result)
        const path = on(trimmed, 'own').alignment.path
        expect(path.lengthMm).toBeCloseTo(own.lengthMm + meeting.byMm, 6)
        // 1e-6 mm: what a meeting and a track are solved to, each to 1e-9.
        const there = endOf(path, end)
        expect(Math.hypot(there.x - meeting.at.x, there.y - meeting.at.y)).toBeLessThan(1e-6)
        expect(pathNearest(other, there).distanceMm).toBeLessThan(1e-6)
        const line = meeting.byMm < 0 ? own : path
        const part = meeting.byMm < 0 ? path : own
        for (let i = 0; i <= 20; i++) expect(pathNearest(line, pathPoseAt(part, (i / 20) * part.lengthMm)).distanceMm).toBeLessThan(1e-6)
        expect(meetingsOf(trimmed, end).every(({ byMm }) => Math.abs(byMm) > 1e-6)).toBe(true)
        if (meeting.byMm < 0) cut++
        else longer++
      }),
      { seed: SEED, numRuns: 400 },
    )
    // The law speaks of both.
    expect(Math.min(cut, longer)).toBeGreaterThan(30)
  })

  test('can be brought to every place where a walk along it changes sides', () => {
    let walked = 0
    fc.assert(
      fc.property(pairs, (plan) => {
        const crossings = crossingsWalked(on(plan, 'own').alignment.path, on(plan, 'other').alignment.path)
        expect(meetingsOf(plan, 'end').filter(({ byMm }) => byMm < 0).length).toBeGreaterThanOrEqual(crossings)
        walked += crossings
      }),
      { seed: SEED, numRuns: 160 },
    )
    expect(walked).toBeGreaterThan(15)
  })
})

describe('worked cases', () => {
  const rail = (id: string, x0: number, y0: number, x1: number, y1: number): Track =>
    aTrack({ id, name: id, start: { kind: 'free', x: x0, y: y0 }, end: { kind: 'free', x: x1, y: y1 } })

  test('a track that crosses another twice can end at either, the nearer one first, at the angle it crosses', () => {
    // A line along x across a circle of 500 about (1000, 300): it cuts at 1000 -+ 400, where the radius leans by acos(0.6) from the vertical.
    const bend = aTrack({
      id: 'other',
      start: { kind: 'free', x: 500, y: 300 },
      corners: [
        { id: 'pi-1', x: 500, y: -200, radius: 500, easementIn: 0, easementOut: 0 },
        { id: 'pi-2', x: 1500, y: -200, radius: 500, easementIn: 0, easementOut: 0 },
      ],
      end: { kind: 'free', x: 1500, y: 300 },
    })
    const plan = planWith({ tracks: [rail('own', 0, 0, 2000, 0), bend] })
    const [near, far] = meetingsOf(plan, 'end')
    expect(near).toMatchObject({ byMm: expect.closeTo(-600, 6), angleRad: expect.closeTo(Math.acos(0.6), 6) })
    expect(far).toMatchObject({ byMm: expect.closeTo(-1400, 6), angleRad: expect.closeTo(Math.acos(0.6), 6) })
    expect(meetingsOf(plan, 'start').map(({ byMm }) => Math.round(byMm))).toEqual([-600, -1400])
  })

  test('a track that stops short is lengthened, at either end', () => {
    const plan = planWith({ tracks: [rail('own', 0, 0, 600, 0), rail('other', 900, -100, 900, 400)] })
    expect(meetingsOf(plan, 'end')).toMatchObject([{ byMm: expect.closeTo(300, 9), otherStationMm: expect.closeTo(100, 9) }])
    const turned = planWith({ tracks: [rail('own', 600, 0, 0, 0), rail('other', 900, -100, 900, 400)] })
    expect(meetingsOf(turned, 'start')).toMatchObject([{ byMm: expect.closeTo(300, 9) }])
    const lengthened = after(turned, trackTrimTo(on(turned, 'own'), meetingsOf(turned, 'start')[0] ?? never(), []))
    expect(lengthened.tracks['own']?.start).toMatchObject({ x: expect.closeTo(900, 9), y: expect.closeTo(0, 9) })
  })

  test('where they do not meet it says how far the end lies away; where the end lies on the other, that', () => {
    const plan = planWith({
      tracks: [
        rail('own', 0, 0, 600, 0),
        rail('other', 900, 100, 900, 400),
        rail('touched', 600, -50, 600, 50),
        rail('beside', 0, 40, 600, 40),
      ],
    })
    const asked = (end: TrackEndName, other: string) => trackMeetings(on(plan, 'own'), end, on(plan, other))
    expect(asked('end', 'other')).toEqual({
      ok: false,
      problem: {
        kind: 'noMeeting',
        end: 'end',
        isFree: true,
        otherTrack: 'other',
        awayMm: expect.closeTo(Math.hypot(300, 100), 9),
        otherStationMm: 0,
      },
    })
    expect(asked('end', 'beside')).toMatchObject({ ok: false, problem: { kind: 'noMeeting', awayMm: expect.closeTo(40, 9) } })
    expect(asked('end', 'touched')).toEqual({ ok: false, problem: { kind: 'meetsAlready', end: 'end', otherTrack: 'touched' } })
    expect(asked('end', 'own')).toEqual({ ok: false, problem: { kind: 'sameTrack', track: 'own' } })
  })

  test('an end at a leg is not lengthened, but a track may be cut off it', () => {
    const hung = aTrack({
      id: 'own',
      name: 'own',
      start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
      end: { kind: 'free', x: 1800, y: 150 },
    })
    const plan = planWith({
      tracks: [aTrack(), hung, rail('other', 900, -200, 900, 400), rail('behind', 300, -200, 300, 400)],
      turnouts: [aTurnout()],
    })
    expect(trackMeetings(on(plan, 'own'), 'start', on(plan, 'behind'))).toMatchObject({
      ok: false,
      problem: { kind: 'noMeeting', isFree: false },
    })
    const cut = trackMeetings(on(plan, 'own'), 'start', on(plan, 'other'))
    const freed = after(plan, trackTrimTo(on(plan, 'own'), (cut.ok ? cut.meetings[0] : undefined) ?? never(), []))
    expect(freed.tracks['own']?.start).toMatchObject({ kind: 'free', x: expect.closeTo(900, 6) })
  })
})

function never(): never {
  throw new Error('there is no meeting')
}
