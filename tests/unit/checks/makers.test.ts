import { describe, expect, test } from 'vitest'
import { checksCreateRunner } from '../../../src/core/checks/index.ts'
import type { Finding } from '../../../src/core/checks/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Corner, HelixNumbers, Maker, MakerNumbers, Plan, Track } from '../../../src/core/plan/index.ts'
import { clearHeightOver } from '../../../src/core/standards/index.ts'
import { byHandText } from '../../../src/words/byHandText.ts'
import { planFindings } from '../../support/checks.ts'
import { aMaker, expanded, planMade } from '../../support/makers.ts'
import { aCorner, aTrack, planAfter, planWith } from '../../support/plans.ts'

const HO = 87.1
const ruleOf = (plan: Plan, ...rules: readonly Finding['rule'][]): readonly Finding[] =>
  planFindings(plan).filter(({ rule }) => rules.includes(rule))

/** The plan with the numbers that a finding offers. */
function cured(plan: Plan, { cure }: Finding): Plan {
  const maker = plan.makers['maker-1']
  if (cure?.kind !== 'setNumbers' || maker === undefined) throw new Error('no cure for a maker')
  return planMade(plan, { ...maker, numbers: cure.numbers })
}

const withTracks = (plan: Plan, ...tracks: readonly Track[]): Plan => ({
  ...plan,
  tracks: { ...plan.tracks, ...Object.fromEntries(tracks.map((track) => [track.id, track])) },
})

const lead = aTrack({ start: { kind: 'free', x: -1500, y: 0 }, end: { kind: 'free', x: 0, y: 0 } })
const helix = (change: Partial<HelixNumbers> = {}): HelixNumbers => ({
  kind: 'helix',
  track: 'track-1',
  end: 'end',
  hand: 'left',
  size: { kind: 'radius', radius: 850 },
  climbMm: 350,
  rise: { kind: 'clear', clearMm: clearHeightOver(HO) },
  deckMm: 20,
  exit: { kind: 'asClimb' },
  straightMm: 400,
  ...change,
})
const wound = (change: Partial<HelixNumbers> = {}, lineClass = 'main'): Plan =>
  planMade(planWith({ tracks: [lead] }), aMaker(helix(change), { lineClass }))

/** A track that goes on where the helix ends, straight ahead. */
function onward(plan: Plan): Track {
  const made = plan.tracks[plan.makers['maker-1']?.made.tracks[0] ?? '']
  const corner: Corner | undefined = made?.corners.at(-1)
  if (made?.end.kind !== 'free' || corner === undefined) throw new Error('no helix')
  const { x, y } = made.end
  const awayMm = Math.hypot(x - corner.x, y - corner.y)
  const [cos, sin] = [(x - corner.x) / awayMm, (y - corner.y) / awayMm]
  return aTrack({ id: 'track-9', name: 'Upper', start: { kind: 'free', x, y }, end: { kind: 'free', x: x + 900 * cos, y: y + 900 * sin } })
}

describe('track-clearance of a helix', () => {
  test.each(['main', 'yard'])('is silent where its turns lie over each other with height to spare, on the %s', (lineClass) => {
    for (const exit of [{ kind: 'asClimb' }, { kind: 'angle', angleRad: 0 }, { kind: 'angle', angleRad: 1 }] as const) {
      const plan = wound({ exit }, lineClass)
      expect(ruleOf(plan, 'track-clearance', 'helix-height', 'maker-follow')).toEqual([])
      // What goes on from its upper end runs over its lower turns.
      expect(ruleOf(withTracks(plan, onward(plan)), 'track-clearance')).toEqual([])
    }
  })

  test('taken apart nothing is known of its height any more', () => {
    const apart = planAfter(wound(), { kind: 'maker.takeApart', id: 'maker-1' })
    expect(ruleOf(apart, 'track-clearance').length).toBeGreaterThan(0)
  })

  test('another track through it is too near as ever: its height is not known', () => {
    const across = aTrack({
      id: 'track-8',
      name: 'Across',
      start: { kind: 'free', x: -1200, y: 900 },
      end: { kind: 'free', x: 1200, y: 900 },
    })
    const found = planFindings(withTracks(wound(), across)).filter(({ id }) => /^(track-clearance|crossing-build):.*track-8/.test(id))
    expect(found.length).toBeGreaterThan(0)
  })

  test('nearly a whole turn crosses its own way in: on the level when it has climbed little, over it when it has climbed enough', () => {
    // 350 deg of 850 mm, its straight long enough to cross the way in.
    const turn = { exit: { kind: 'angle', angleRad: (350 * Math.PI) / 180 }, straightMm: 1500 } as const
    const low = wound({ ...turn, climbMm: 40, rise: { kind: 'grade', grade: 0.05 } }, 'yard')
    expect(ruleOf(low, 'track-clearance').length).toBeGreaterThan(0)
    const high = wound({ ...turn, climbMm: 110, rise: { kind: 'grade', grade: 0.05 } }, 'yard')
    expect(ruleOf(high, 'track-clearance', 'crossing-build')).toEqual([])
  })
})

describe('helix-height', () => {
  test('says what is clear between the turns, and what would do', () => {
    const plan = wound({ rise: { kind: 'perTurn', riseMm: 80 } })
    const [finding, ...more] = ruleOf(plan, 'helix-height', 'track-clearance')
    expect(more).toEqual([])
    // Code 83 is 2.1082 mm high. 22 ft at 87.1 are 76.99 mm.
    expect(finding).toMatchObject({
      rule: 'helix-height',
      record: 'maker-1',
      measured: expect.closeTo(80 - 20 - 2.1082, 6),
      limit: expect.closeTo(76.987, 2),
      source: 'NMRA-S-7',
    })
    if (finding === undefined) throw new Error('no finding')
    expect(ruleOf(cured(plan, finding), 'helix-height', 'track-clearance')).toEqual([])
  })

  test('asks nothing of less than a turn', () => {
    expect(ruleOf(wound({ rise: { kind: 'perTurn', riseMm: 60 }, climbMm: 40 }), 'helix-height')).toEqual([])
  })
})

describe('maker-follow', () => {
  const pair = (angleRad: number): readonly Track[] => [
    aTrack({ end: { kind: 'free', x: 3000, y: 0 } }),
    aTrack({
      id: 'track-2',
      name: 'Second',
      start: { kind: 'free', x: 0, y: 60 },
      end: { kind: 'free', x: 3000 * Math.cos(angleRad), y: 60 + 3000 * Math.sin(angleRad) },
    }),
  ]
  const spur: MakerNumbers = {
    kind: 'spur',
    track: 'track-1',
    stationMm: 1500,
    facing: 'rising',
    side: 'left',
    frog: 6,
    course: { kind: 'parallel', centresMm: 120 },
    lengthMm: 300,
  }

  test('a track that has become too short: where it could stand is offered', () => {
    const plan = planMade(planWith({ tracks: [aTrack()] }), aMaker(spur))
    expect(ruleOf(plan, 'maker-follow')).toEqual([])
    const short = withTracks(plan, aTrack({ end: { kind: 'free', x: 1600, y: 0 } }))
    const [finding] = ruleOf(short, 'maker-follow')
    expect(finding).toMatchObject({
      id: 'maker-follow:maker-1',
      stage: 'turnouts',
      table: 'makers',
      record: 'maker-1',
      otherRecord: 'track-1',
      problem: { kind: 'makerStays', problem: { kind: 'station', track: 'track-1' } },
    })
    if (finding === undefined) throw new Error('no finding')
    expect(ruleOf(cured(short, finding), 'maker-follow')).toEqual([])
  })

  test('a track that was bent at the place, or shortened to nothing: the reason alone', () => {
    const plan = planMade(planWith({ tracks: [aTrack()] }), aMaker(spur))
    const stub = withTracks(plan, aTrack({ end: { kind: 'free', x: 90, y: 0 } }))
    expect(ruleOf(stub, 'maker-follow')).toMatchObject([{ cure: null, problem: { problem: { kind: 'station', nearestMm: [] } } }])
  })

  test('is silent while the track is not solved, which speaks for itself', () => {
    const plan = planMade(planWith({ tracks: [aTrack()] }), aMaker(spur))
    const broken = withTracks(plan, aTrack({ end: { kind: 'free', x: 0, y: 0 } }))
    expect(ruleOf(broken, 'maker-follow')).toEqual([])
    expect(ruleOf(broken, 'alignment').length).toBeGreaterThan(0)
  })

  test('what is remembered is what a fresh look says', () => {
    const pipeline = pipelineCreate()
    const check = checksCreateRunner()
    const numbers: MakerNumbers = {
      kind: 'crossover',
      track: 'track-1',
      otherTrack: 'track-2',
      stationMm: 1500,
      hand: 'left',
      frog: 6,
      layout: 'single',
    }
    const crossed = planMade(
      planWith({
        tracks: [
          ...pair(0),
          { ...lead, id: 'track-5', start: { kind: 'free', x: -1500, y: -3000 }, end: { kind: 'free', x: 0, y: -3000 } },
        ],
      }),
      aMaker(numbers),
    )
    const maker: Maker = { ...aMaker(helix({ track: 'track-5', rise: { kind: 'perTurn', riseMm: 70 } })), id: 'maker-2' }
    const both = planMade(crossed, maker)
    const second = (angle: number): Track => pair(angle)[1] ?? lead
    const steps: readonly Plan[] = [
      both,
      withTracks(both, second(0.3)),
      withTracks(both, second(0)),
      { ...both, railway: { ...both.railway, ratio: 160 } },
      withTracks(both, { ...lead, id: 'track-5', start: { kind: 'free', x: -1500, y: -3000 }, end: { kind: 'free', x: 0, y: -2900 } }),
      planMade(both, { ...(both.makers['maker-2'] ?? maker), numbers: helix({ track: 'track-5' }) }),
      both,
    ]
    for (const plan of steps) expect(check(pipeline.derive(plan))).toEqual(planFindings(plan, []))
    expect(steps.map((plan) => ruleOf(plan, 'maker-follow', 'helix-height').map(({ rule }) => rule))).toMatchObject([
      ['helix-height'],
      ['helix-height', 'maker-follow'],
      ['helix-height'],
      expect.any(Array),
      expect.any(Array),
      [],
      ['helix-height'],
    ])
    expect(expanded(both, aMaker(numbers)).ok).toBe(true)
  })
})

describe('tracks that a maker set too close', () => {
  const host = (runningClearanceMm: number): Plan =>
    planWith({
      railway: { runningClearanceMm },
      tracks: [aTrack({ start: { kind: 'free', x: 0, y: 0 }, end: { kind: 'free', x: 4000, y: 0 } })],
    })
  const ofPair = (plan: Plan, { record, otherRecord }: Finding): readonly Finding[] =>
    ruleOf(plan, 'track-clearance').filter((one) => one.record === record && one.otherRecord === otherRecord)
  const yard: MakerNumbers = {
    kind: 'yard',
    track: 'track-1',
    stationMm: 500,
    facing: 'rising',
    side: 'left',
    frog: 6,
    tracks: 3,
    leadCentresMm: 60,
    centresMm: 40.2,
    bodyMm: 900,
    ladder: 'straight',
    ends: 'stub',
  }
  const siding: MakerNumbers = {
    kind: 'siding',
    track: 'track-1',
    fromMm: 500,
    toMm: 3200,
    side: 'left',
    centresMm: 39,
    curveCentresMm: 39,
    frogFrom: 6,
    frogTo: 6,
  }

  test.each([
    ['a siding', { ...siding, centresMm: 38.3, curveCentresMm: 38.3 }, 3],
    ['a siding where more is asked', siding, 8],
    ['the bodies of a yard', yard, 8],
    ['the lead of a yard', { ...yard, leadCentresMm: 41, centresMm: 60 }, 8],
  ] as const)('are cured at once by wider centres of %s', (_, numbers, clearanceMm) => {
    const plan = planMade(host(clearanceMm), aMaker(numbers, { lineClass: 'yard' }))
    const findings = ruleOf(plan, 'track-clearance')
    expect(findings.length).toBeGreaterThan(0)
    for (const finding of findings) expect(ofPair(cured(plan, finding), finding)).toEqual([])
  })

  test.each([
    ['the bodies of a yard', yard, 8],
    ['bodies of which cars ask far more', yard, 16],
    ['both tracks of a double-ended yard', { ...yard, ends: 'double', bodyMm: 1200 }, 12],
    ['the lead of a yard', { ...yard, leadCentresMm: 41, centresMm: 60 }, 8],
    ['a lead of a sharp frog', { ...yard, leadCentresMm: 46, centresMm: 70, frog: 4.5 }, 16],
  ] as const)('are set no wider than they have to be: with a tenth less %s are still too close', (_, numbers, clearanceMm) => {
    const maker = aMaker(numbers, { lineClass: 'yard' })
    const findings = ruleOf(planMade(host(clearanceMm), maker), 'track-clearance')
    const cures = findings.flatMap((finding) => (finding.cure?.kind === 'setNumbers' ? [{ finding, cure: finding.cure }] : []))
    expect(cures.length).toBeGreaterThan(0)
    for (const { finding, cure } of cures) {
      const less = planMade(host(clearanceMm), { ...maker, numbers: { ...cure.numbers, [cure.name]: cure.lengthMm - 0.1 } as MakerNumbers })
      expect(ofPair(less, finding)).not.toEqual([])
    }
  })

  test('a siding is set no farther than by a tenth of a millimetre too wide', () => {
    const maker = aMaker({ ...siding, centresMm: 38.3, curveCentresMm: 38.3 }, { lineClass: 'yard' })
    const [finding] = ruleOf(planMade(host(3), maker), 'track-clearance')
    if (finding?.cure?.kind !== 'setNumbers') throw new Error('no cure')
    const { numbers, name, lengthMm } = finding.cure
    expect(name).toBe('centresMm')
    // Where its cars swing out as it bends back beside its host, as much more as is missing, up to the next tenth, is not enough.
    expect(lengthMm).toBeGreaterThan(38.3 + (finding.limit ?? NaN) - (finding.measured ?? NaN) + 0.1)
    const less = planMade(host(3), { ...maker, numbers: { ...numbers, [name]: lengthMm - 0.1 } as MakerNumbers })
    expect(ofPair(less, finding)).not.toEqual([])
  })
})

describe('what a maker made', () => {
  test('is cured by its numbers or by hand, never by a change that the plan refuses', () => {
    const bend = aTrack({
      id: 'bend',
      corners: [aCorner({ x: 2000, radius: 700, easementIn: 0, easementOut: 0 })],
      end: { kind: 'free', x: 2000, y: 2000 },
    })
    const apart = planWith({ tracks: [lead, bend] })
    const course = { kind: 'angle', angleRad: 0.6 } as const
    const numbers: MakerNumbers = {
      kind: 'spur',
      track: 'track-1',
      stationMm: 200,
      facing: 'rising',
      side: 'left',
      frog: 6,
      course,
      lengthMm: 900,
    }
    const made = planWith({ tracks: [lead, bend], makers: [aMaker(numbers, { made: { tracks: ['bend'], turnouts: [] } })] })
    const sharp = (plan: Plan): Finding => {
      const finding = planFindings(plan, []).find(({ id }) => id === 'minimum-radius:bend:pi-1')
      if (finding === undefined) throw new Error('the bend is told')
      return finding
    }
    expect(sharp(apart).cure).toMatchObject({ kind: 'setRadius' })
    expect(sharp(made).cure).toBeNull()
    expect(byHandText(sharp(made), made)).toContain('change its numbers')
    expect(byHandText(sharp(made), apart)).not.toContain('change its numbers')
  })
})
