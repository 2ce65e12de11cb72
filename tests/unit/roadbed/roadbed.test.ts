import { describe, expect, it } from 'vitest'
import { pathFromElements, pathOffset } from '../../../src/core/geom/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { LineClass, Plan, Roadbed } from '../../../src/core/plan/index.ts'
import { bandStrain, bendStrain, radiusForStrips, stripsThatBend, widestStrip } from '../../../src/core/roadbed/bend.ts'
import { stripsAcross } from '../../../src/core/roadbed/cut.ts'
import { roadbedCut, roadbedOf } from '../../../src/core/roadbed/index.ts'
import type { RoadbedWork } from '../../../src/core/roadbed/index.ts'
import { jointsPlaced } from '../../../src/core/roadbed/joints.ts'
import { pathMeasured } from '../../../src/core/roadbed/measured.ts'
import { rampShaped } from '../../../src/core/roadbed/ramp.ts'
import type { RoadbedProblem } from '../../../src/core/roadbed/types.ts'
import { roadbedCutProblemText, roadbedProblemText } from '../../../src/words/roadbedText.ts'
import { fitLengths } from '../../support/fitLengths.ts'
import { aMaker, planMade } from '../../support/makers.ts'
import { aCrossing, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const inch = 25.4

/** The plan with roadbed of the class of its track changed. */
function withRoadbed(plan: Plan, change: Partial<Roadbed> | null, id = 'main'): Plan {
  const lineClass = plan.lineClasses[id] as LineClass
  const roadbed = change === null ? null : { ...(lineClass.roadbed as Roadbed), ...change }
  return { ...plan, lineClasses: { ...plan.lineClasses, [id]: { ...lineClass, roadbed } } }
}

const workOf = (plan: Plan): RoadbedWork => roadbedOf(pipelineCreate().derive(plan))
const isOn = (run: RoadbedWork['runs'][number] | undefined, id: string): boolean => run?.owner.kind === 'track' && run.owner.track === id
const kinds = (problems: readonly RoadbedProblem[]): readonly string[] => problems.map(({ kind }) => kind)

/** Two straights at a right angle with a curve of a radius, no easements. */
function bentPlan(radiusMm: number, sideMm = 3000): Plan {
  return planWith({
    tracks: [
      aTrack({
        corners: [{ id: 'corner-1', x: sideMm, y: 0, radius: radiusMm, easementIn: 0, easementOut: 0 }],
        end: { kind: 'free', x: sideMm, y: sideMm },
      }),
    ],
  })
}

describe('strain of a bent strip', () => {
  it('is w / 2R, as elementary bending has it', () => {
    // Worked by hand: 3 mm on 600 mm; the outer edge of a quarter is (601.5 - 600) / 600 longer.
    expect(bendStrain(3, 600)).toBeCloseTo(0.0025, 12)
    expect(bendStrain(3, null)).toBe(0)
  })

  it('tells half strips of 7/8 in round 24 in from whole ones', () => {
    // Common practice, no source: halves of 7/8 in go round 24 in (1.8 %), the whole strip of 1 3/4 in (3.6 %) does not, 3/8 in is .8 %.
    expect(bendStrain(0.875, 24)).toBeCloseTo(0.0182, 4)
    expect(bendStrain(1.75, 24)).toBeCloseTo(0.0365, 4)
    expect(bendStrain(0.375, 24)).toBeCloseTo(0.0078, 4)
    expect(stripsThatBend(1.75 * inch, 24 * inch, 0.02, 3)).toBe(2)
    // Wood: 1/4 in at 30 in .42 %, 3/16 in at 24 in .39 %.
    expect(bendStrain(0.25, 30)).toBeCloseTo(0.0042, 4)
    expect(bendStrain(3 / 16, 24)).toBeCloseTo(0.0039, 4)
  })

  it('holds for the innermost strip of a band: the widest strip is just strained to the limit', () => {
    const widest = widestStrip(44, 500, 0.02) ?? 0
    expect(widest / (2 * (500 - (44 - widest) / 2))).toBeCloseTo(0.02, 12)
    expect(bandStrain(44, 3, radiusForStrips(44, 3, 0.02))).toBeCloseTo(0.02, 12)
    expect(stripsThatBend(44, 20, 0.02, 3)).toBeNull()
    expect(bandStrain(44, 3, 22)).toBeNull()
  })
})

describe('lengths of offsets', () => {
  // An easement into a left arc and out again, and a straight.
  const path = pathFromElements({ x: 0, y: 0, headingRad: 0.3 }, [
    { lengthMm: 120, k0: 0, k1: 1 / 500 },
    { lengthMm: 300, k0: 1 / 500, k1: 1 / 500 },
    { lengthMm: 120, k0: 1 / 500, k1: 0 },
    { lengthMm: 200, k0: 0, k1: 0 },
  ])
  const measured = pathMeasured(path)

  it.each([-20, 0, 20])('are those of the offset line itself, easements too: %s mm', (offsetMm) => {
    expect(measured.alongAt(path.lengthMm, offsetMm)).toBeCloseTo(pathOffset(path, offsetMm).lengthMm, 6)
    for (const station of [0, 55, 120, 333, 500, 740]) {
      expect(measured.stationAt(measured.alongAt(station, offsetMm), offsetMm)).toBeCloseTo(station, 8)
    }
  })
})

describe('joints of a strip', () => {
  it('takes as few pieces as can be, the rest first', () => {
    expect(jointsPlaced({ lengthMm: 2000, longestMm: 900, leastMm: 50, forbidden: [] })).toEqual([200, 1100])
    expect(jointsPlaced({ lengthMm: 900, longestMm: 900, leastMm: 50, forbidden: [] })).toEqual([])
  })

  it('goes round forbidden places, and says when there is no way', () => {
    const forbidden = [{ fromMm: 100, toMm: 1120 }]
    expect(jointsPlaced({ lengthMm: 2000, longestMm: 900, leastMm: 50, forbidden })).toBeNull()
    const joints = jointsPlaced({ lengthMm: 2000, longestMm: 1050, leastMm: 50, forbidden }) ?? []
    expect(joints).toEqual([70, 1120])
  })
})

describe('a curve of a track', () => {
  const work = workOf(bentPlan(600))
  const [run] = work.runs

  it('is laid with two strips of cork where straights have one', () => {
    expect(work.problems).toEqual([])
    expect(run?.stretches.map(({ strips }) => strips)).toEqual([1, 2, 1])
    expect(run?.stretches.every(({ strain }) => (strain ?? 1) <= 0.02)).toBe(true)
  })

  it('has a fan whose strips are as long as their radii say', () => {
    const [fan] = run?.curves ?? []
    const half = (run?.footWidthMm ?? 0) / 4
    // A quarter to the left: the left strip lies inside, on 600 less half a strip's width.
    expect(fan?.strips.map(({ lengthMm }) => lengthMm)).toEqual([
      expect.closeTo(((600 - half) * Math.PI) / 2, 6),
      expect.closeTo(((600 + half) * Math.PI) / 2, 6),
    ])
    expect(fan?.strips[0]?.leftEdgeMm).toBeCloseTo(((600 - 2 * half) * Math.PI) / 2, 6)
    expect(fan?.strips[1]?.rightEdgeMm).toBeCloseTo(((600 + 2 * half) * Math.PI) / 2, 6)
  })
})

describe('a turnout', () => {
  const plan = planWith({
    tracks: [
      aTrack(),
      aTrack({
        id: 'track-2',
        lineClass: 'siding',
        start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
        end: { kind: 'free', x: 2600, y: 260 },
        corners: [],
      }),
    ],
    turnouts: [aTurnout({ stationMm: 640 })],
  })
  const derived = pipelineCreate().derive(plan)
  const work = roadbedOf(derived)
  const [piece] = work.turnoutPieces

  it('lies on the band of its host, with no joint in the throw bay', () => {
    const run = work.runs.find((one) => isOn(one, 'track-1'))
    const [bay] = run?.forbidden ?? []
    // Head blocks stand half a space to either side of the points' tips; 25 mm to each side are kept clear.
    expect(bay?.fromMm).toBeCloseTo(640 + 2.845 - 25, 1)
    for (const { toMm } of run?.pieces ?? []) expect(toMm > (bay?.fromMm ?? 0) + 1e-6 && toMm < (bay?.toMm ?? 0) - 1e-6).toBe(false)
  })

  it('has strips that begin in a taper where they come out of the host, the outer one first', () => {
    expect(piece?.strips.length).toBeGreaterThan(0)
    for (const { lengthMm, taperMm } of piece?.strips ?? []) expect(taperMm).toBeLessThanOrEqual(lengthMm + 1e-6)
    const lengths = piece?.strips.map(({ lengthMm }) => lengthMm) ?? []
    expect(lengths).toEqual(lengths.toSorted((a, b) => b - a))
    // On the straight beyond the frog a band comes out of another over its width by the sine of No. 6; the switch makes it longer.
    const crossMm = (piece?.roadbed.topWidthMm ?? 0) / Math.sin(2 * Math.atan(1 / 12))
    expect(piece?.taperMm).toBeGreaterThan(0.6 * crossMm)
    expect(piece?.taperMm).toBeLessThan(1.6 * crossMm)
  })

  it('is ramped down behind its long ties: 1 % over all that the siding is lower', () => {
    const [ramp] = work.ramps
    const roadbed = (id: string): number => plan.lineClasses[id]?.roadbed?.thicknessMm ?? 0
    expect(ramp?.dropMm).toBeCloseTo(roadbed('main') - roadbed('siding'), 9)
    expect(ramp?.lengthMm).toBeCloseTo(100 * (ramp?.dropMm ?? 0), 9)
    const firstTie = derived.trackwork.tracks.get('track-2')?.ties[0]?.stationMm ?? 0
    expect(ramp?.startMm).toBeGreaterThanOrEqual(firstTie - 1e-9)
    expect(work.runs.find((one) => isOn(one, 'track-2'))?.originMm).toBeCloseTo(ramp?.startMm ?? 0, 6)
  })
})

describe('tracks between turnouts', () => {
  const straights = planWith({
    tracks: [
      aTrack({ end: { kind: 'free', x: 6000, y: 0 } }),
      aTrack({ id: 'track-2', start: { kind: 'free', x: 0, y: 50.8 }, end: { kind: 'free', x: 6000, y: 50.8 } }),
    ],
  })

  it('a crossover is laid from both turnouts to its middle, level across, with no roadbed of its own', () => {
    const crossover = {
      kind: 'crossover',
      track: 'track-1',
      otherTrack: 'track-2',
      stationMm: 2500,
      hand: 'left',
      frog: 6,
      layout: 'single',
    } as const
    const at = pipelineCreate().derive(planMade(straights, aMaker(crossover)))
    const work = roadbedOf(at)
    expect(work.runs.map(({ owner }) => owner.kind === 'track' && owner.track)).toEqual(['track-1', 'track-2'])
    expect(work.ramps).toEqual([])
    expect(work.problems).toEqual([])
    const lengthMm = [...at.network.tracks.values()].map(({ alignment }) => (alignment.ok ? alignment.path.lengthMm : 0)).at(-1) ?? 0
    // The outer strip begins ahead of the frog and ends in the middle of the track between.
    const [first] = work.turnoutPieces
    const route = [...at.network.turnouts.values()][0]?.result.geometry?.divergingRoute.lengthMm ?? 0
    expect(first?.strips[0]?.lengthMm).toBeLessThan(route + lengthMm / 2)
    expect(first?.strips[0]?.lengthMm).toBeGreaterThan(route / 2)
  })

  it('a spur too near beside its host is told by how much both lie in each other', () => {
    const course = { kind: 'parallel', centresMm: 38 } as const
    const spur = {
      kind: 'spur',
      track: 'track-1',
      stationMm: 1000,
      facing: 'rising',
      side: 'right',
      frog: 6,
      course,
      lengthMm: 800,
    } as const
    const plan = planMade(straights, aMaker(spur))
    const { problems } = workOf(plan)
    const { topWidthMm = 0, thicknessMm = 0 } = plan.lineClasses['main']?.roadbed ?? {}
    const foot = topWidthMm + 2 * thicknessMm
    expect(problems).toEqual([
      { kind: 'bandsOverlap', turnout: 'turnout-1', track: 'track-3', host: 'track-1', overlapMm: expect.closeTo(foot - 38, 6) },
    ])
  })

  it('a wye is laid whole along one leg, from ahead of its throw bay, and the other leg beside it', () => {
    const wye = { kind: 'wye', track: 'track-1', stationMm: 3000, side: 'right', frog: 6, tailFrog: 6, radius: 600, tailMm: 500 } as const
    const at = pipelineCreate().derive(planMade(straights, aMaker(wye)))
    const work = roadbedOf(at)
    const ends = work.runs.flatMap(({ pieces, forbidden }) =>
      pieces.flatMap(({ fromMm, toMm }) => [fromMm, toMm].map((end) => ({ end, forbidden }))),
    )
    for (const { end, forbidden } of ends)
      expect(forbidden.some(({ fromMm, toMm }) => fromMm + 1e-6 < end && end < toMm - 1e-6)).toBe(false)
    expect(work.problems.filter(({ kind }) => kind !== 'rampTooLong')).toEqual([])
  })

  it('the second track of a crossing is broken at the first, by the width of its foot over the sine of the angle', () => {
    const crossing = planWith({
      tracks: [aTrack(), aTrack({ id: 'track-2', start: { kind: 'free', x: 1000, y: -600 }, end: { kind: 'free', x: 1000, y: 600 } })],
    })
    const work = workOf(crossing)
    const halves = work.runs.filter((one) => isOn(one, 'track-2'))
    const pieces = work.turnoutPieces.flatMap(({ strips }) => strips)
    const foot = work.runs[0]?.footWidthMm ?? 0
    const laid = halves.reduce((sum, { lengthMm }) => sum + lengthMm, 0) + pieces.reduce((sum, { lengthMm }) => sum + lengthMm, 0)
    // Pieces begin where they are a millimetre thick.
    expect(Math.abs(laid - (1200 - foot))).toBeLessThan(2.5)
  })

  it('the slips of a crossing add a sliver each, cut from a strip that holds it', () => {
    const tracks = [aTrack(), aTrack({ id: 'track-2', start: { kind: 'free', x: 0, y: -150 }, end: { kind: 'free', x: 2000, y: 150 } })]
    const crossings = [aCrossing({ slip: 'double' })]
    const slips = workOf(planWith({ tracks, crossings })).turnoutPieces.filter(({ route }) => route.startsWith('slip-'))
    expect(slips.map(({ route }) => route)).toEqual(['slip-left', 'slip-right'])
    for (const { strips, foot } of slips) {
      const [strip] = strips
      const far = Math.max(...foot.flatMap((a) => foot.map((b) => Math.hypot(a.x - b.x, a.y - b.y))))
      expect(strip?.lengthMm).toBeCloseTo(far, 0)
      expect(strip?.widthMm).toBeLessThan(0.2 * far)
    }
  })
})

describe('a ramp', () => {
  it('takes 18 3/4 in for 3/16 in at 1 %', () => {
    const ramp = rampShaped({ less: { roadbedMm: (3 / 16) * inch, tieMm: 0, railMm: 0 }, ownMm: 2, grade: 0.01, shimMm: 0.127 })
    expect((ramp?.lengthMm ?? 0) / inch).toBeCloseTo(18.75, 9)
    expect(ramp?.thickness[0]?.thicknessMm).toBeCloseTo(2 + (3 / 16) * inch, 9)
    expect(ramp?.thickness.at(-1)?.thicknessMm).toBeCloseTo(2, 9)
  })

  it('steps from code 83 to 70 by two layers of .005 in and .003 in over, to 1 : 100', () => {
    // Rail heights .083 and .070 in: .013 in; tape of .005 in.
    const ramp = rampShaped({ less: { roadbedMm: 0, tieMm: 0, railMm: 0.013 * inch }, ownMm: 2, grade: 0.01, shimMm: 0.005 * inch })
    expect(ramp?.shims?.endsMm.map((end) => end / inch)).toEqual([expect.closeTo(0.8, 9), expect.closeTo(0.3, 9)])
    expect((ramp?.shims?.remainderMm ?? 0) / inch).toBeCloseTo(0.003, 9)
    expect(rampShaped({ less: { roadbedMm: 0.01, tieMm: 0, railMm: 0 }, ownMm: 2, grade: 0.01, shimMm: 0.1 })).toBeNull()
    expect(rampShaped({ less: { roadbedMm: -1, tieMm: 0, railMm: 0 }, ownMm: 2, grade: 0.01, shimMm: 0.1 })?.shims).toBeNull()
  })
})

describe('sheets', () => {
  it('hold as many strips as fit with a cut between any two', () => {
    expect(stripsAcross(300, 30, 0)).toBe(10)
    expect(stripsAcross(300, 30, 0.5)).toBe(9)
    expect(stripsAcross(304.5, 30, 0.5)).toBe(10)
  })

  it('carry every piece once, and what must be bought comes in packs', async () => {
    const plan = withRoadbed(bentPlan(600), { strips: 3 })
    const work = workOf({ ...plan, stocks: { ...plan.stocks } })
    const result = await roadbedCut(plan, work, fitLengths)
    if (!result.ok) throw new Error(JSON.stringify(result.problem))
    const cut = result.plan.sheets.flatMap(({ strips }) => strips.flatMap(({ pieces }) => pieces.map(({ id }) => id)))
    const wanted = work.runs.flatMap(({ pieces }) => pieces.map(({ id }) => id))
    expect(cut.toSorted()).toEqual(wanted.toSorted())
    // By hand: 17.2 m of strip in lengths of 914.4 mm are 19 strips and more, as joints are staggered; 19 of 14.8 mm with a cut of 0.5 mm
    // between them lie on a sheet of 304.8 mm: two sheets.
    expect(result.plan.counts).toEqual([{ stock: 'stock-2', used: 2, fromHand: 0, toBuy: 2, packs: 2 }])
  })

  it('tells what is wanting', async () => {
    const plan = bentPlan(600)
    const stocks = Object.fromEntries(Object.entries(plan.stocks).map(([id, stock]) => [id, { ...stock, canBuy: false, onHand: 1 }]))
    const few = { ...withRoadbed(bentPlan(600, 12000), { strips: 2 }), stocks }
    const result = await roadbedCut(few, workOf(few), fitLengths)
    expect(result.ok ? null : result.problem.kind).toMatch(/notEnough|lengths/)
    const none = { ...plan, stocks: {} }
    expect(kinds(workOf(none).problems)).toEqual(['noStock'])
    const bare = await roadbedCut(none, workOf(none), fitLengths)
    expect(bare.ok ? null : bare.problem.kind).toBe('noStock')
    const kerf = {
      ...plan,
      railway: { ...plan.railway, laying: { ...plan.railway.laying, cutting: { ...plan.railway.laying.cutting, kerfMm: -1 } } },
    }
    const cut = await roadbedCut(kerf, workOf(kerf), fitLengths)
    expect(cut.ok ? null : cut.problem).toEqual({ kind: 'badKerf', value: -1, wouldDo: 0.5 })
  })
})

describe('what does not go', () => {
  const prefs = { units: 'both', fraction: 32 } as const

  it('no roadbed is none', () => {
    expect(workOf(withRoadbed(bentPlan(600), null)).runs).toEqual([])
  })

  it('a value that nothing can be cut to is told with one that would do', () => {
    const work = workOf(withRoadbed(bentPlan(600), { thicknessMm: 0 }))
    expect(work.runs).toEqual([])
    expect(work.problems).toEqual([{ kind: 'badRoadbed', lineClass: 'main', what: 'thickness', value: 0, wouldDo: 4.76 }])
  })

  it('strips that tear are told with the count that would do', () => {
    const [problem] = workOf(withRoadbed(bentPlan(600), { strips: 1 })).problems
    expect(problem).toMatchObject({ kind: 'stripsTear', radiusMm: expect.closeTo(600, 6), strips: 1, stripsThatDo: 2 })
  })

  it('a curve that no strip goes round is told with the radius that would do, and no length is made up inside its centre', () => {
    const tight = workOf(bentPlan(100)).problems[0]
    if (tight?.kind !== 'cannotBend') throw new Error('no cannotBend')
    expect(workOf(bentPlan(tight.radiusThatDoesMm + 1e-6)).problems).toEqual([])
    expect(kinds(workOf(bentPlan(tight.radiusThatDoesMm - 1)).problems)).toContain('cannotBend')
    const inside = workOf(bentPlan(20))
    expect(kinds(inside.problems)).toContain('cannotBend')
    expect(inside.runs[0]?.pieces).toEqual([])
  })

  it('stock too short for the stagger is told with a length and a stagger that would do', () => {
    const plan = withRoadbed(bentPlan(600), { strips: 2 })
    const cutting = { ...plan.railway.laying.cutting, roadbedStaggerMm: 500 }
    const asked = { ...plan, railway: { ...plan.railway, laying: { ...plan.railway.laying, cutting } } }
    const problem = workOf(asked).problems[0]
    if (problem?.kind !== 'noJointPlace') throw new Error('no noJointPlace')
    expect(problem.staggerThatDoesMm).toBeLessThan(500)
    const less = { ...cutting, roadbedStaggerMm: problem.staggerThatDoesMm ?? 0 }
    expect(workOf({ ...plan, railway: { ...plan.railway, laying: { ...plan.railway.laying, cutting: less } } }).problems).toEqual([])
  })

  it('all of it has words', () => {
    const at = { owner: { kind: 'track', track: 'track-1' }, fromMm: 100, toMm: 300 } as const
    const plan = bentPlan(600)
    const all: readonly RoadbedProblem[] = [
      { kind: 'badRoadbed', lineClass: 'main', what: 'thickness', value: 0, wouldDo: 4.76 },
      { kind: 'badRoadbed', lineClass: 'main', what: 'strips', value: 0.5, wouldDo: 2 },
      { kind: 'noMaterial', lineClass: 'main', material: 'x', known: ['cork'] },
      { kind: 'badStrain', material: 'cork', value: 0, wouldDo: 0.004 },
      { kind: 'stripsTear', at, radiusMm: 600, strips: 1, widthMm: 44, strain: 0.03, limit: 0.02, stripsThatDo: 2 },
      { kind: 'cannotBend', at, radiusMm: 60, narrowestMm: 5, radiusThatDoesMm: 140, strainThatDoes: 0.06 },
      { kind: 'noStock', material: 'cork', thicknessMm: 4.76, widthMm: 44, widestMm: 20, otherThicknessMm: [] },
      { kind: 'noJointPlace', at, strip: 1, longestMm: 900, lengthThatDoesMm: 1200, staggerThatDoesMm: 300 },
      { kind: 'bandsOverlap', turnout: 't', track: 'track-1', host: 'track-1', overlapMm: 3 },
      { kind: 'pieceTooLong', piece: 'p', lengthMm: 1000, longestMm: 900 },
      { kind: 'rampTooLong', ramp: 'r', track: 'track-1', stationMm: 10, neededMm: 200, roomMm: 100, rampThatDoes: 0.02 },
      { kind: 'rampTooLow', ramp: 'r', track: 'track-1', stationMm: 10, missingMm: 1 },
    ]
    for (const problem of all) {
      const text = roadbedProblemText(problem, plan, prefs)
      expect(text).toMatch(/^[A-Z].*[.]$/)
      expect(text).not.toMatch(/undefined|NaN|null/)
    }
    expect(roadbedCutProblemText({ kind: 'badKerf', value: -1, wouldDo: 0.5 }, plan, prefs, () => '')).toMatch(/less than nothing/)
    expect(roadbedCutProblemText({ kind: 'notEnough', stock: 'stock-2', needed: 3, onHand: 1 }, plan, prefs, () => '')).toMatch(/3 of/)
  })
})
