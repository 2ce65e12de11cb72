import { describe, expect, it } from 'vitest'
import type { Plan } from '../../../src/core/plan/index.ts'
import { planFindings } from '../../support/checks.ts'
import { aCrossing, aTrack, aTurnout, planAfter, planWith } from '../../support/plans.ts'

/** Main along +x with a turnout whose points stand at x = 900. */
const plain = planWith({ tracks: [aTrack({ end: { kind: 'free', x: 3000, y: 0 } })], turnouts: [aTurnout({ stationMm: 900 })] })

const withJoist = (plan: Plan, x: number, widthMm = 19): Plan => ({
  ...plan,
  joists: { 'joist-1': { id: 'joist-1', name: 'Joist 3', from: { x, y: -400 }, to: { x, y: 400 }, widthMm } },
})
const found = (plan: Plan) => planFindings(plan).filter(({ rule }) => rule === 'throw-room')

describe('the room of a switch machine below a throw bar', () => {
  // The machine is 60 mm along the track with 5 mm free on either side, its bar in the bay between the head blocks, 3 mm behind the points: common practice.
  it('is free as long as no joist crosses it, and told when one does', () => {
    expect(found(plain)).toEqual([])
    expect(found(withJoist(plain, 903 + 35 + 9.5 + 1))).toEqual([])
    expect(found(withJoist(plain, 903 - 35 - 9.5 - 1))).toEqual([])
    expect(found(withJoist(plain, 903 + 35 + 9.5 - 1))).toMatchObject([
      { severity: 'warning', table: 'turnouts', record: 'turnout-1', problem: { kind: 'joistUnderThrow', joist: 'joist-1' } },
    ])
    // A broader one reaches farther.
    expect(found(withJoist(plain, 903 + 35 + 9.5 + 1, 38))).toHaveLength(1)
  })

  it('the cure moves the turnout to where it hangs clear, and no farther than it must', () => {
    const plan = withJoist(plain, 920)
    const [finding] = found(plan)
    if (finding?.cure?.kind !== 'moveTurnout') throw new Error('no cure')
    const { turnout, stationMm } = finding.cure
    expect(found(planAfter(plan, { kind: 'turnout.set', id: turnout, change: { stationMm } }))).toEqual([])
    const back = stationMm < 900 ? 2 : -2
    expect(found(planAfter(plan, { kind: 'turnout.set', id: turnout, change: { stationMm: stationMm + back } }))).toHaveLength(1)
  })

  it('is looked at below the slips of a crossing too, and not below a plain diamond', () => {
    const angle = 2 * Math.atan(1 / 10)
    const [dx, dy] = [1400 * Math.cos(angle), 1400 * Math.sin(angle)]
    const tracks = [
      aTrack({ end: { kind: 'free', x: 3000, y: 0 } }),
      aTrack({ id: 'track-2', start: { kind: 'free', x: 1000 - dx, y: -dy }, end: { kind: 'free', x: 1000 + dx, y: dy } }),
    ]
    const slipped = planWith({ tracks, crossings: [aCrossing({ slip: 'double' })] })
    expect(found(withJoist(planWith({ tracks }), 1000 - 70))).toEqual([])
    expect(found(withJoist(slipped, 1000 - 70)).map(({ table }) => table)).toContain('crossings')
  })
})

describe('ties past the edge of the benchwork', () => {
  const onBoard = (depthMm: number): Plan => ({
    ...plain,
    benchworks: {
      'benchwork-1': {
        id: 'benchwork-1',
        name: 'Shelf',
        outline: [
          { x: -100, y: -200 },
          { x: 3100, y: -200 },
          { x: 3100, y: depthMm },
          { x: -100, y: depthMm },
        ],
        holes: [],
        heightMm: 1200,
      },
    },
  })
  const edges = (plan: Plan) => planFindings(plan).filter(({ problem }) => problem?.kind === 'tiesOverEdge')

  it('are told with how far the farthest reaches, and not where all lie on it', () => {
    expect(edges(onBoard(400))).toEqual([])
    // The turnout is to the left: its head blocks of 15 ft reach 15 ft less half a plain tie to that side.
    const headMm = (15 * 12 * 25.4) / 87.1 - (8.5 * 12 * 25.4) / 87.1 / 2
    const [finding] = edges(onBoard(headMm - 5))
    expect(finding).toMatchObject({ rule: 'turnout-place', severity: 'warning', record: 'turnout-1', limit: 0 })
    expect(finding?.measured).toBeLessThanOrEqual(-5 + 0.5)
  })
})
