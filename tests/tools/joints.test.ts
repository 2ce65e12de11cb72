import { describe, expect, it } from 'vitest'
import { pathPoseAt, poseOffset } from '../../src/core/geom/index.ts'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import type { Derived } from '../../src/core/pipeline/index.ts'
import type { Plan } from '../../src/core/plan/index.ts'
import { linePoseAt, railsCreateDeriver } from '../../src/core/rails/index.ts'
import type { RailJoint, RailWork } from '../../src/core/rails/index.ts'
import { jointCommand, jointHold, jointTrial } from '../../src/tools/joints/jointDrag.ts'
import type { JointHold, JointTrial } from '../../src/tools/joints/jointDrag.ts'
import { jointNudge } from '../../src/tools/joints/jointNudge.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../support/plans.ts'

const derive = (plan: Plan): { readonly derived: Derived; readonly rails: RailWork } => {
  const derived = pipelineCreate().derive(plan)
  return { derived, rails: railsCreateDeriver()(derived) }
}

// A bend with easements in the middle of the line.
const bent = planWith({
  tracks: [
    aTrack({
      corners: [aCorner({ x: 1500, y: 0, radius: 700, easementIn: 200, easementOut: 200 })],
      end: { kind: 'free', x: 1500, y: 2500 },
    }),
  ],
})

function held({ rails }: { readonly rails: RailWork }, which: (joint: RailJoint) => boolean): JointHold {
  const joint = rails.joints.find(which)
  const hold = joint === undefined ? null : jointHold(rails, joint)
  if (hold === null) throw new Error('no such joint')
  return hold
}

function trial(hold: JointHold, at: { x: number; y: number }, { derived }: { readonly derived: Derived }, step: number | null): JointTrial {
  const found = jointTrial(hold, at, derived.plan, derived.network, step)
  if (found === null) throw new Error('no place there')
  return found
}

describe('a joint in the hand', () => {
  const made = derive(bent)
  const path = made.derived.network.tracks.get('track-1')?.alignment
  if (path?.ok !== true) throw new Error('the line must solve')

  it('follows the pointer along its rail: on curves and easements its station is that of the track abreast of it', () => {
    for (const rail of ['left', 'right'] as const) {
      const hold = held(made, ({ place }) => place.rail === rail)
      const half = (rail === 'left' ? 1 : -1) * (bent.railway.gaugeMm / 2)
      for (const stationMm of [200, 700, 900, 1150, 1400, 1900]) {
        const pose = pathPoseAt(path.path, stationMm)
        // The pointer wanders off to either side.
        for (const aside of [-30, 0, 25]) {
          const found = trial(hold, poseOffset(pose, half + aside), made, null)
          expect(found.place).toMatchObject({ track: 'track-1', rail })
          expect(Math.abs(found.place.stationMm - stationMm)).toBeLessThan(1e-3)
          expect(Math.hypot(found.pose.x - poseOffset(pose, half).x, found.pose.y - poseOffset(pose, half).y)).toBeLessThan(1e-3)
        }
      }
    }
  })

  it('goes by whole steps of its station when asked to', () => {
    const hold = held(made, ({ place }) => place.rail === 'left')
    const { place, pose } = trial(hold, poseOffset(pathPoseAt(path.path, 903.2), bent.railway.gaugeMm / 2), made, 5)
    expect(place.stationMm).toBeCloseTo(905, 9)
    const there = poseOffset(pathPoseAt(path.path, 905), bent.railway.gaugeMm / 2)
    expect(Math.hypot(pose.x - there.x, pose.y - there.y)).toBeLessThan(1e-3)
  })

  it('is told which rule forbids it where it is: at the ends of the curve, and nowhere on the straight', () => {
    const hold = held(made, ({ place }) => place.rail === 'left')
    const corner = path.corners[0]
    if (corner === undefined) throw new Error('no corner')
    const rulesAt = (stationMm: number) => trial(hold, poseOffset(pathPoseAt(path.path, stationMm), 8), made, null).rules
    expect(rulesAt(corner.tsMm)).toEqual(['curveEnd'])
    expect(rulesAt(corner.stMm)).toEqual(['curveEnd'])
    expect(rulesAt(300)).toEqual([])
  })

  it('stays inside of its run: at the end of its rail there is no joint', () => {
    const hold = held(made, ({ place }) => place.rail === 'left')
    expect(trial(hold, { x: -500, y: 8 }, made, null).place.stationMm).toBeCloseTo(1, 6)
  })

  it('is told of another of the builder’s across the track that is nearer than the stagger', () => {
    const near = { id: 'joint-1', track: 'track-1', rail: 'right', stationMm: 400 } as const
    const both = derive({ ...bent, railJoints: { 'joint-1': near } })
    const hold = held(both, ({ place, isOwn }) => place.rail === 'left' && isOwn === null)
    const { staggerMm } = bent.railway.laying.joints
    const at = (stationMm: number) => trial(hold, { x: stationMm, y: 8 }, both, null).tooNear
    expect(at(400 + staggerMm / 2)).toMatchObject({ joint: 'joint-1', needMm: staggerMm })
    expect(at(400 + staggerMm / 2)?.haveMm).toBeCloseTo(staggerMm / 2, 3)
    expect(at(400 + staggerMm + 1)).toBeNull()
  })
})

describe('letting go', () => {
  const place = { track: 'track-1', rail: 'left', stationMm: 640 } as const

  it('makes an own joint of one of the rules’, and moves one that is own', () => {
    expect(jointCommand(null, place)).toEqual({ kind: 'railJoint.add', record: place })
    expect(jointCommand('joint-4', place)).toEqual({ kind: 'railJoint.set', id: 'joint-4', change: place })
  })

  it('has the joint there in the next lists, the rest solved around it, and none of it when it is given back', () => {
    const before = derive(bent)
    const hold = held(before, ({ place: at }) => at.rail === 'left')
    const dropped = trial(hold, { x: 520, y: 8 }, before, null).place
    const after = derive({ ...bent, railJoints: { 'joint-1': { id: 'joint-1', ...dropped } } })
    expect(after.rails.joints.filter(({ isOwn }) => isOwn === 'joint-1').map(({ place: at }) => at.stationMm)).toEqual([
      expect.closeTo(520, 3),
    ])
    expect(after.rails.problems).toEqual([])
    expect(derive({ ...bent, railJoints: {} }).rails.joints).toEqual(before.rails.joints)
  })
})

describe('an arrow key', () => {
  it('moves an own joint along its track, whichever way that runs on the screen', () => {
    const { derived } = derive({ ...bent, railJoints: { 'joint-1': { id: 'joint-1', track: 'track-1', rail: 'left', stationMm: 2500 } } })
    // There the line runs up.
    expect(jointNudge('joint-1', { x: 0, y: 3 }, derived.plan, derived.network)).toEqual({
      kind: 'railJoint.set',
      id: 'joint-1',
      change: { stationMm: expect.closeTo(2503, 6) },
    })
    expect(jointNudge('joint-2', { x: 0, y: 3 }, derived.plan, derived.network)).toBeNull()
  })
})

describe('lines of rails', () => {
  it('are as long as their runs, and every joint lies on its own abreast of its place', () => {
    const plan = planWith({ tracks: [aTrack({ end: { kind: 'free', x: 4000, y: 0 } })], turnouts: [aTurnout({ stationMm: 1000 })] })
    const { rails, derived } = derive(plan)
    rails.runs.forEach((run, i) => {
      expect(rails.lines[i]?.run).toBe(run.id)
      expect(Math.abs((rails.lines[i]?.path.lengthMm ?? 0) - run.lengthMm)).toBeLessThan(1e-6)
    })
    const main = derived.network.tracks.get('track-1')?.alignment
    if (main?.ok !== true) throw new Error('the line must solve')
    for (const { run, atMm, place } of rails.joints) {
      const line = rails.lines.find((one) => one.run === run)
      if (line === undefined || place.track !== 'track-1') throw new Error('a joint without a line')
      const half = (place.rail === 'left' ? 1 : -1) * (plan.railway.gaugeMm / 2)
      const there = poseOffset(pathPoseAt(main.path, place.stationMm), half)
      const at = linePoseAt(line, atMm)
      expect(Math.hypot(at.x - there.x, at.y - there.y)).toBeLessThan(0.05)
    }
  })
})
