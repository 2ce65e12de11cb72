import { describe, expect, it } from 'vitest'
import { checksCreateRunner, findingsOf } from '../../../src/core/checks/index.ts'
import type { Finding } from '../../../src/core/checks/types.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan, RailJoint } from '../../../src/core/plan/index.ts'
import { railsCreateDeriver } from '../../../src/core/rails/index.ts'
import { planFindings } from '../../support/checks.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

/** A bend, a turnout ahead of it, and a spur on its leg. */
const plan = planWith({
  tracks: [
    aTrack({ corners: [aCorner({ x: 1900, y: 0, radius: 700 })], end: { kind: 'free', x: 1900, y: 1900 } }),
    aTrack({
      id: 'spur',
      name: 'Spur',
      start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
      end: { kind: 'free', x: 1500, y: 130 },
    }),
  ],
  turnouts: [aTurnout({ stationMm: 300 })],
})
const rules = plan.railway.laying.joints
const ts = pipelineCreate().derive(plan).network.tracks.get('track-1')?.alignment
const tsMm = ts?.ok === true ? (ts.corners[0]?.tsMm ?? Number.NaN) : Number.NaN

const own = (stationMm: number, rail: 'left' | 'right' = 'left', track = 'track-1', id = 'joint-1'): RailJoint => ({
  id,
  track,
  rail,
  stationMm,
})
const withJoints = (...joints: readonly RailJoint[]): Plan => ({
  ...plan,
  railJoints: Object.fromEntries(joints.map((one) => [one.id, one])),
})
const found = (...joints: readonly RailJoint[]): readonly Finding[] =>
  planFindings(withJoints(...joints)).filter(({ rule }) => rule === 'rail-joint')

// The distances are the plan's own rules of laying.
describe('a joint of the builder’s', () => {
  it('near the end of a curve is told inside the distance, and not outside', () => {
    expect(found(own(tsMm - rules.curveEndMm - 0.1))).toEqual([])
    expect(found(own(tsMm - rules.curveEndMm + 0.1))).toMatchObject([
      {
        severity: 'warning',
        stage: 'track',
        table: 'railJoints',
        record: 'joint-1',
        measured: expect.closeTo(rules.curveEndMm - 0.1, 6),
        limit: rules.curveEndMm,
        problem: { kind: 'jointNear', what: ['curveEnd'] },
      },
    ])
  })

  it('is told wherever the rails say that it stands in a zone: on the host, beside the frog, on the leg and ahead of its track', () => {
    const stations: readonly (readonly [string, number, number])[] = [
      ['track-1', 20, 1700],
      ['spur', -187, 600],
    ]
    let told = 0
    for (const [track, from, to] of stations) {
      for (let at = from; at < to; at += (to - from) / 12) {
        for (const rail of ['left', 'right'] as const) {
          const joint = own(at, rail, track)
          const { problems } = railsCreateDeriver()(pipelineCreate().derive(withJoints(joint)))
          // On no rail that is joined there is nothing to say of a zone.
          if (problems.some(({ kind }) => kind === 'jointOffRail')) continue
          const inZone = problems.some((one) => one.kind === 'jointInZone' && one.isOwn === joint.id)
          if (inZone) told++
          expect([track, rail, Math.round(at), found(joint).length > 0]).toEqual([track, rail, Math.round(at), inZone])
        }
      }
    }
    expect(told).toBeGreaterThan(10)
  })

  it('without stagger to another of the builder’s across the track is told once, of the later one', () => {
    const second = (by: number): RailJoint => own(600 + by, 'right', 'track-1', 'joint-2')
    expect(found(own(600), second(rules.staggerMm + 0.1))).toEqual([])
    expect(found(own(600), second(rules.staggerMm - 0.1))).toMatchObject([
      { record: 'joint-2', otherRecord: 'joint-1', limit: rules.staggerMm, problem: { kind: 'jointsAcross' } },
    ])
    // In one rail they need none.
    expect(found(own(600), own(650, 'left', 'track-1', 'joint-2'))).toEqual([])
  })

  it('is found anew when what keeps it away moves, and when the rules change', () => {
    const pipeline = pipelineCreate()
    const check = checksCreateRunner()
    const joint = own(700)
    const turnout = plan.turnouts['turnout-1']
    if (turnout === undefined) throw new Error('no turnout')
    const { laying } = plan.railway
    const steps: readonly Plan[] = [
      withJoints(joint),
      { ...withJoints(joint), turnouts: { 'turnout-1': { ...turnout, stationMm: 680 } } },
      withJoints(own(tsMm - 10)),
      { ...withJoints(own(tsMm - 10)), railway: { ...plan.railway, laying: { ...laying, joints: { ...laying.joints, curveEndMm: 0 } } } },
    ]
    const told = steps.map((step) => {
      const derived = pipeline.derive(step)
      const findings = check(derived)
      expect(findings).toEqual(findingsOf(derived))
      return findings.filter(({ rule }) => rule === 'rail-joint').length
    })
    expect(told).toEqual([0, 1, 1, 0])
  })
})
