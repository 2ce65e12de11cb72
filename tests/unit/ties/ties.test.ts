import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { LineClass, Plan } from '../../../src/core/plan/index.ts'
import { tiePresetList, tiesOfPreset } from '../../../src/core/standards/index.ts'
import { tieOrders, tiesOf } from '../../../src/core/ties/index.ts'
import { tieJigOf } from '../../../src/core/ties/jig.ts'
import { tiesAtJoints } from '../../../src/core/ties/jointTies.ts'
import { tapeFan } from '../../../src/core/ties/tape.ts'
import type { TieProblem, TieWork } from '../../../src/core/ties/types.ts'
import { tieChecklist, tieProblemText } from '../../../src/words/tieText.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const foot = 304.8

function withClass(plan: Plan, change: Partial<LineClass>): Plan {
  const main = plan.lineClasses['main'] as LineClass
  return { ...plan, lineClasses: { ...plan.lineClasses, main: { ...main, ...change } } }
}

const derived = (plan: Plan): ReturnType<ReturnType<typeof pipelineCreate>['derive']> => pipelineCreate().derive(plan)

describe('the count of ties', () => {
  it('of 63 1/2 ft of HO track at 19 1/2 in is 3404, and 332 ft of tie stock', () => {
    // A builder's worked example, common practice: 63.5 ft, 3404 ties, 332 ft.
    const plan = withClass(planWith({ tracks: [aTrack({ end: { kind: 'free', x: 63.5 * foot, y: 0 } })] }), {
      tieSpacingMm: (19.5 * 25.4) / 87.1,
    })
    const { list } = tiesOf(derived(plan))
    expect(list.count).toBe(3404)
    expect(list.totalMm / foot).toBeCloseTo(332, 0)
    expect(list.lines).toHaveLength(1)
  })

  it.each([
    ['main-1920s', 53.6],
    ['siding-1920s', 46.3],
    ['yard-1920s', 40.6],
    ['early', 29],
  ])('of the preset %s in HO is %s to the foot', (key, count) => {
    // Full-size spacings of one road's book of 1929 brought down to 1:87.1; the early one from memory.
    const preset = tiePresetList().find((one) => one.key === key)
    if (!preset) throw new Error('no preset')
    const { tieSpacingMm } = tiesOfPreset(preset, { ratio: 87.1, gaugeMm: 16.5 })
    expect(foot / tieSpacingMm).toBeCloseTo(count, key === 'early' ? 0 : 1)
  })

  it('of narrow gauge ties goes by the gauge: 6 ft 6 in for 3 ft', () => {
    const narrow = tiePresetList().find(({ key }) => key === 'narrow')
    if (!narrow) throw new Error('no preset')
    expect(tiesOfPreset(narrow, { ratio: 87.1, gaugeMm: (36 * 25.4) / 87.1 }).tie.lengthMm).toBeCloseTo((78 * 25.4) / 87.1, 2)
  })
})

describe('the tie list', () => {
  const board = { every: null, at: ['tips', 'frog'] } as const
  const turnout = aTurnout({ stationMm: 640 })
  const plan = planWith({
    tracks: [aTrack(), aTrack({ id: 'track-2', start: { kind: 'free', x: 1400, y: -400 }, end: { kind: 'free', x: 1500, y: 500 } })],
    turnouts: [{ ...turnout, build: { ...turnout.build, ties: { lay: 'square', spacing: 'even', board } } }],
  })
  const at = derived(plan)
  const work = tiesOf(at)

  it('has every tie of the trackwork once, and adds up', () => {
    const { tracks, turnouts, crossings } = at.trackwork
    const laid = [...tracks.values(), ...turnouts.values(), ...crossings.values()].flatMap(({ ties }) => ties)
    expect(crossings.size).toBe(1)
    expect(work.list.count).toBe(laid.length)
    expect(work.list.lines.reduce((sum, { count }) => sum + count, 0)).toBe(laid.length)
    for (const { count, plain, turnout: of, crossing } of work.list.lines) expect(plain + of + crossing).toBe(count)
    expect(work.list.byOwner.reduce((sum, { count }) => sum + count, 0)).toBe(laid.length)
    expect(work.list.totalMm).toBeCloseTo(
      laid.reduce((sum, { lengthMm }) => sum + lengthMm, 0),
      -1,
    )
    const ids = work.sets.flatMap(({ ties }) => ties.map(({ id }) => id))
    expect(new Set(ids).size).toBe(ids.length)
  })

  it('tells PC-board ties apart: two at the tips, one under the frog', () => {
    const boards = work.list.lines.filter(({ material }) => material === 'board')
    expect(boards.reduce((sum, { count }) => sum + count, 0)).toBe(3)
    const { orders, problems } = tieOrders(plan, work)
    expect(problems).toEqual([])
    expect(orders.map(({ material, request }) => [material, request.pieces.length])).toEqual([
      ['wood', work.list.count - 3],
      ['board', 3],
    ])
  })

  it('leaves out of the taped strips what gives way to the turnout, and counts the rest', () => {
    const own = plan.railway.tieLengthMm
    const whole = [...at.trackwork.tracks.values()].flatMap(({ ties }) => ties.filter(({ lengthMm }) => Math.abs(lengthMm - own) < 0.01))
    expect(work.batches.reduce((sum, { ties }) => sum + ties, 0)).toBe(whole.length)
    const [jig] = work.jigs
    for (const { ties, fullStrips, lastTies } of work.batches) expect(fullStrips * (jig?.ties ?? 0) + lastTies).toBe(ties)
  })
})

describe('ties beside joints', () => {
  const stations = Array.from({ length: 41 }, (_, i) => i * 5.7)

  it('are a pair about the joint, as close as asked; the rest is spaced evenly', () => {
    const ties = tiesAtJoints(stations, [100], 5.7, 5.1)
    const pair = ties.filter(({ isJoint }) => isJoint).map(({ stationMm }) => stationMm)
    expect(pair).toEqual([expect.closeTo(97.45, 9), expect.closeTo(102.55, 9)])
    expect(ties[0]?.stationMm).toBe(0)
    expect(ties.at(-1)?.stationMm).toBeCloseTo(40 * 5.7, 9)
  })

  it('keep the ends, rise, and come no nearer than the pair, wherever joints lie', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: -10, max: 240, noNaN: true }), { maxLength: 8 }), (joints) => {
        const ties = tiesAtJoints(stations, joints, 5.7, 5.1)
        expect(ties[0]?.stationMm).toBe(0)
        expect(ties.at(-1)?.stationMm).toBeCloseTo(228, 9)
        for (let i = 1; i < ties.length; i++) {
          const step = (ties[i]?.stationMm ?? 0) - (ties[i - 1]?.stationMm ?? 0)
          // An even division of what is left is off the spacing by half of it at most, shared.
          expect(step).toBeGreaterThan(3.8 - 1e-9)
          expect(step).toBeLessThan(8.56)
        }
      }),
      { numRuns: 200 },
    )
  })

  it('are laid where the class asks for it, and told where they cannot be', () => {
    const plan = planWith({ tracks: [aTrack()] })
    const joints = new Map([['track-1', [914.4, 1828.8]]])
    const closed = tiesOf(derived(plan), joints)
    expect(closed.sets[0]?.ties.filter(({ isJointTie }) => isJointTie)).toHaveLength(4)
    const bad = tiesOf(derived(withClass(plan, { jointTieSpacingMm: 1 })), joints)
    expect(bad.problems).toEqual([{ kind: 'badJointSpacing', lineClass: 'main', value: 1, leastMm: plan.railway.tieWidthMm, mostMm: 5.69 }])
    expect(bad.sets[0]?.ties.some(({ isJointTie }) => isJointTie)).toBe(false)
  })
})

describe('taped strips', () => {
  it('fan so that each tie is square to the line: ends lie on the circles through them', () => {
    // Ties 6 mm apart on R 600: ends on R 615 and R 585 along arcs of 6/600 rad.
    const fan = tapeFan(6, 30, 600)
    expect(fan.fanRad).toBeCloseTo(0.01, 12)
    expect(fan.outerStepMm).toBeCloseTo(615 * 0.01, 12)
    expect(fan.innerStepMm).toBeCloseTo(585 * 0.01, 12)
    // Tape of 24 mm strained by 2 % at its edges, as 24 / 2R.
    expect(fan.tapeWidthMm).toBeCloseTo(24, 12)
  })

  it('turn on the whole as much as the curve they lie on', () => {
    const plan = planWith({
      tracks: [
        aTrack({
          corners: [{ id: 'corner-1', x: 2000, y: 0, radius: 600, easementIn: 0, easementOut: 0 }],
          end: { kind: 'free', x: 2000, y: 2000 },
        }),
      ],
    })
    const [, curve] = tiesOf(derived(plan)).batches
    expect(curve?.hand).toBe('left')
    const turn = (curve?.fanRad ?? 0) * (curve?.ties ?? 0)
    expect(turn).toBeGreaterThan(Math.PI / 2 - (curve?.fanRad ?? 0))
    expect(turn).toBeLessThan(Math.PI / 2 + (curve?.fanRad ?? 0))
  })

  it('come from a jig of 12 to 18 in whose strips go on at the spacing end to end', () => {
    const jig = tieJigOf('main', { lengthMm: 29.7, widthMm: 2.6, thicknessMm: 2 }, 5.69)
    expect(jig.boardLengthMm).toBeGreaterThanOrEqual(12 * 25.4)
    expect(jig.boardLengthMm).toBeLessThanOrEqual(18 * 25.4)
    const [first, last] = [jig.groovesMm[0] ?? 0, jig.groovesMm.at(-1) ?? 0]
    expect(jig.boardLengthMm - last + first).toBeCloseTo(5.69, 9)
  })
})

describe('what does not go', () => {
  const prefs = { units: 'both', fraction: 32 } as const
  const plan = planWith({ tracks: [aTrack()] })
  const work: TieWork = tiesOf(derived(plan))

  it('no stock of the size, and stock too short, are told with what would do', () => {
    const size = { widthMm: plan.railway.tieWidthMm, thicknessMm: plan.railway.tieThicknessMm }
    const bare = tieOrders({ ...plan, stocks: {} }, work)
    expect(bare.orders).toEqual([])
    expect(bare.problems).toEqual([
      { kind: 'noTieStock', material: 'wood', ...size, count: work.list.count, longestMm: plan.railway.tieLengthMm, others: [] },
    ])
    const short = {
      id: 's',
      name: 'Short',
      of: { kind: 'tie' as const, ...size, lengthMm: 20 },
      onHand: 5,
      canBuy: false,
      packOf: 1,
      packPrice: null,
    }
    const few = tieOrders({ ...plan, stocks: { s: short } }, work)
    expect(few.problems).toMatchObject([{ kind: 'tieTooLong', longestMm: 20, count: work.list.count }])
  })

  it('ties that lie on each other are told', () => {
    const { problems } = tiesOf(derived(withClass(plan, { tieSpacingMm: 2, jointTieSpacingMm: null })))
    expect(problems).toEqual([{ kind: 'badSpacing', lineClass: 'main', value: 2, leastMm: plan.railway.tieWidthMm }])
  })

  it('all of it has words', () => {
    const all: readonly TieProblem[] = [
      {
        kind: 'noTieStock',
        material: 'board',
        widthMm: 2.6,
        thicknessMm: 2,
        count: 5,
        longestMm: 40,
        others: [{ widthMm: 3, thicknessMm: 2 }],
      },
      { kind: 'tieTooLong', material: 'wood', tie: 'track-1:3', lengthMm: 40, longestMm: 20, count: 1 },
      { kind: 'badJointSpacing', lineClass: 'main', value: 1, leastMm: 2.6, mostMm: 5.7 },
      { kind: 'badSpacing', lineClass: 'main', value: 1, leastMm: 2.6 },
    ]
    for (const problem of all) {
      const text = tieProblemText(problem, plan, prefs)
      expect(text).toMatch(/^[A-Z].*[.]$/)
      expect(text).not.toMatch(/undefined|NaN|null/)
    }
    expect(tieChecklist.every((step) => /^[A-Z].*[.]$/.test(step))).toBe(true)
  })
})
