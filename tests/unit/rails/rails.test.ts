import { describe, expect, it } from 'vitest'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { jointStations, railsCreateDeriver } from '../../../src/core/rails/index.ts'
import type { RailProblem, RailWork } from '../../../src/core/rails/types.ts'
import { jointRuleText, jointText, jointTrialText } from '../../../src/words/jointText.ts'
import { jointKindText, markText, railEndText, railProblemText } from '../../../src/words/railText.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const railsOf = (plan: Plan): RailWork => railsCreateDeriver()(pipelineCreate().derive(plan))
const rail = (lengthMm: number) => ({
  id: 'stock-1',
  name: 'Rail',
  of: { kind: 'rail', code: planWith().railway.railCode, lengthMm } as const,
  onHand: 0,
  canBuy: true,
  packOf: 1,
  packPrice: null,
})
const prefs = { units: 'metric', fraction: 16 } as const

describe('rails of a straight track of 2 m, sticks of 914.4 mm', () => {
  const work = railsOf(planWith({ tracks: [aTrack()] }))

  it('three pieces to a rail, their joints staggered: nothing less spans 2 m', () => {
    for (const side of ['left', 'right']) expect(work.pieces.filter((piece) => piece.rail === side)).toHaveLength(3)
    expect(work.isProven).toBe(true)
    expect(work.problems).toEqual([])
  })

  it('pieces have marks that name track, side and number', () => {
    expect(work.pieces.map(({ id }) => id).toSorted()).toEqual(['M-L1', 'M-L2', 'M-L3', 'M-R1', 'M-R2', 'M-R3'])
    expect(work.order).toHaveLength(6)
  })

  it('joints on a straight are slip joints that leave what heat and dry air close', () => {
    // 18.7e-6 / K * 10 K + 5e-4 * 0.2 = 2.87e-4 of the length; a joint holds half of the piece on either side.
    for (const joint of work.joints) {
      const ends = work.joints.filter(({ run }) => run === joint.run).map(({ atMm }) => atMm)
      const i = ends.indexOf(joint.atMm)
      const between = (ends[i + 1] ?? 2000) - (ends[i - 1] ?? 0)
      expect(joint.kind).toBe('slip')
      expect(joint.gapMm).toBeCloseTo((2.87e-4 * between) / 2, 9)
    }
  })

  it('stations of the joints are told by track', () => {
    expect(jointStations(work).get('track-1')).toHaveLength(4)
  })
})

describe("the builder's own joints", () => {
  const own = (rail: 'left' | 'right', stationMm: number) => ({ id: `rail-joint-${stationMm}`, track: 'track-1', rail, stationMm })

  it('stay where they are, and the rest is solved around them', () => {
    const work = railsOf(planWith({ tracks: [aTrack()], railJoints: [own('left', 1000)] }))
    const left = work.joints.filter(({ place }) => place.rail === 'left')
    expect(left.map(({ place }) => Math.round(place.stationMm))).toContain(1000)
    expect(left.find(({ isOwn }) => isOwn !== null)?.isOwn).toBe('rail-joint-1000')
    expect(work.problems).toEqual([])
  })

  it('off the rail are told', () => {
    const work = railsOf(planWith({ tracks: [aTrack()], railJoints: [own('left', 5000)] }))
    expect(work.problems).toMatchObject([{ kind: 'jointOffRail', joint: 'rail-joint-5000', why: 'noRail' }])
  })
})

describe('what cannot be had', () => {
  it('no stick of the code: said with the code and the length', () => {
    const plan = planWith({ tracks: [aTrack()] })
    const work = railsOf({ ...plan, stocks: {} })
    expect(work.problems).toMatchObject([{ kind: 'noRailStock', code: plan.railway.railCode, others: [] }])
    expect(work.pieces).toEqual([])
  })

  it('a stick too short for a place where no joint may stand: the rule, and a length that would do', () => {
    const tracks = [aTrack({ end: { kind: 'free', x: 1500, y: 0 } })]
    const turnouts = [aTurnout()]
    const short = railsOf(planWith({ tracks, turnouts, stocks: [rail(90)] }))
    const told = short.problems.filter((problem) => problem.kind === 'jointInZone')
    expect(told.length).toBeGreaterThan(0)
    const lengths = told.flatMap((problem) => problem.lengthMm ?? [])
    expect(lengths.length).toBeGreaterThan(0)
    const long = railsOf(planWith({ tracks, turnouts, stocks: [rail(Math.max(...lengths))] }))
    expect(long.problems.filter((problem) => problem.kind === 'jointInZone')).toEqual([])
  })
})

describe('a turnout', () => {
  const plan = planWith({ tracks: [aTrack()], turnouts: [aTurnout()] })
  const work = railsOf(plan)
  const of = (kind: string) => work.pieces.filter((piece) => piece.kind === kind)

  it('has two points, two closures, two wings, two rails of the frog and two guards of its own', () => {
    for (const kind of ['point', 'closure', 'wing', 'frog', 'guard']) expect(of(kind)).toHaveLength(2)
  })

  it('closures end at the heel of a point and at an isolating gap', () => {
    for (const piece of of('closure')) expect([piece.startsAt, piece.endsAt].toSorted()).toEqual(['gap', 'heel'])
  })

  it('its straight stock rail is one with the plain rail of its track', () => {
    const right = work.runs.filter(({ kind, stretches }) => kind === 'plain' && stretches.some(({ owner }) => owner.kind === 'turnout'))
    expect(right.some(({ lengthMm }) => Math.abs(lengthMm - 2000) < 1e-6)).toBe(true)
  })
})

describe('a curve', () => {
  const raised = planWith({ tracks: [aTrack({ corners: [aCorner({ x: 2000, radius: 800 })], end: { kind: 'free', x: 2000, y: 2000 } })] })
  const main = raised.lineClasses['main']
  if (!main) throw new Error('an empty plan has a main')
  const lineClasses = [{ ...main, superelevationMm: 0.86, widening: [{ belowRadiusMm: 1000, byMm: 0.1 }] }]
  const plan = { ...raised, lineClasses: { ...raised.lineClasses, main: lineClasses[0] } } as Plan
  const work = railsOf(plan)

  it('its outer rail is longer than its inner one by gauge times turn', () => {
    const length = (side: string) => work.pieces.filter(({ rail }) => rail === side).reduce((sum, { laidMm }) => sum + laidMm, 0)
    const gaps = (side: string) => work.joints.filter(({ place }) => place.rail === side).reduce((sum, { gapMm }) => sum + gapMm, 0)
    expect(length('right') + gaps('right') - length('left') - gaps('left')).toBeCloseTo((plan.railway.gaugeMm * Math.PI) / 2, 6)
  })

  it('is raised in whole layers, each shorter than the one below it, run in over the easements', () => {
    const row = work.curves[0]
    if (!row) throw new Error('a curve is raised')
    expect(row.outer).toBe('right')
    // 0.86 mm in layers of 0.127 mm (0.005 in): 6.8, so 7.
    expect(row.layers).toHaveLength(7)
    const { layers } = row
    layers.slice(1).forEach((layer, i) => expect(layer.fromMm).toBeGreaterThan(layers[i]?.fromMm ?? Infinity))
    expect(layers[0]?.fromMm).toBeGreaterThan(row.tsMm)
    expect(layers.at(-1)?.fromMm).toBeLessThanOrEqual(row.scMm)
    expect(row.roundingMm).toBeLessThanOrEqual(plan.railway.laying.shimMm / 2)
  })

  it('is widened where it is sharper than the step asks, a part of its easements with it', () => {
    const row = work.curves[0]
    const [stretch] = row?.widening ?? []
    if (!row || !stretch) throw new Error('the curve is widened')
    const radiusAt = row.radiusMm
    // Curvature grows evenly along the easement: 1/1000 is reached R/1000 of the way in.
    expect(stretch.fromMm).toBeCloseTo(row.tsMm + (row.scMm - row.tsMm) * (radiusAt / 1000), 3)
    expect(stretch.byMm).toBe(0.1)
  })

  it('marks where it begins and ends, and every tie, on the pieces', () => {
    const marks = work.pieces.flatMap((piece) => piece.marks.map(({ kind }) => kind))
    for (const kind of ['TS', 'SC', 'CS', 'ST']) expect(marks.filter((one) => one === kind)).toHaveLength(2)
    expect(work.pieces.every(({ ties }) => ties.length > 0)).toBe(true)
  })

  it('is spiked at every fourth tie in the curve and every fifth on the straight, and at joints', () => {
    const [track] = work.spiking.tracks
    const ties = track?.ties.filter(({ rail }) => rail === 'right') ?? []
    expect(ties.some(({ why }) => why === 'curve')).toBe(true)
    expect(track?.spikes).toBe(2 * (track?.ties.length ?? 0))
    expect(work.spiking.spikes).toBe(work.spiking.plainSpikes + work.spiking.workSpikes)
  })
})

describe('words', () => {
  const place = { track: 'track-1', rail: 'left', stationMm: 1000 } as const
  const owner = { kind: 'turnout', turnout: 'turnout-1' } as const
  const zone = { kind: 'jointInZone', place, rules: ['frog'], longestMm: 900 } as const
  const every: readonly RailProblem[] = [
    { kind: 'noRailStock', code: 83, lengthMm: 4000, others: [] },
    { kind: 'noRailStock', code: 83, lengthMm: 4000, others: [70] },
    { ...zone, isOwn: null, lengthMm: 1000 },
    { ...zone, isOwn: null, lengthMm: null },
    { ...zone, isOwn: 'rail-joint-1', lengthMm: null },
    { kind: 'stagger', place, other: { ...place, rail: 'right' }, haveMm: 10, needMm: 200 },
    { kind: 'pieceTooShort', piece: 'M-L1', place, haveMm: 10, needMm: 75 },
    { kind: 'workTooLong', piece: 'E-C1', owner, lengthMm: 300, longestMm: 200 },
    { kind: 'jointOffRail', joint: 'rail-joint-1', place, why: 'noRail' },
    { kind: 'jointOffRail', joint: 'rail-joint-1', place, why: 'atBreak' },
  ]

  it('every problem says something of its own', () => {
    const texts = every.map((problem) => railProblemText(problem, () => 'Main', prefs))
    expect(new Set(texts).size).toBe(every.length)
    for (const text of texts) expect(text).toMatch(/^[A-Z].*\.$/)
    expect(texts[2]).toContain('A stick of')
  })

  it('ends, marks, rules and kinds of joint have words', () => {
    expect(railEndText('gap')).toBe('isolating gap')
    expect(markText('TS')).toBe('TS')
    expect(jointRuleText('throwBay')).toBe('a throw bar')
    const place = { track: 'track-1', rail: 'left', stationMm: 640 } as const
    const joint = { run: 'run-1', atMm: 640, place, kind: 'slip', gapMm: 0.3, isOwn: 'joint-1', pieces: ['M-L1', 'M-L2'] } as const
    expect(jointText(joint, prefs)).toBe('your own · M-L1 | M-L2 · slip joint, leave 0.30 mm')
    expect(jointText({ ...joint, kind: 'solder', isOwn: null }, prefs)).toBe('M-L1 | M-L2 · solder before bending')
    const main = (): string => 'Main'
    expect(jointTrialText({ place, rules: [], tooNear: null }, main, prefs)).toBe('Main, left rail, 640 mm')
    expect(jointTrialText({ place, rules: ['frog', 'gap'], tooNear: { haveMm: 40, needMm: 208 } }, main, prefs)).toBe(
      'Main, left rail, 640 mm: too near to a frog and a gap; 40 mm from your joint across, 208 mm asked for',
    )
    expect(jointKindText('solder', 0, prefs)).toBe('solder before bending')
    expect(jointKindText('slip', 0.25, prefs)).toContain('0.25 mm')
  })
})
