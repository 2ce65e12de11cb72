import { describe, expect, it } from 'vitest'
import { editApply, editRemoveCommand } from '../../../src/core/edit/index.ts'
import { pathPoseAt, poseToPlan } from '../../../src/core/geom/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { crossoverFigures, ladderFigures, makerStart } from '../../../src/core/makers/index.ts'
import type { MakerProblem } from '../../../src/core/makers/index.ts'
import { recordFind } from '../../../src/core/plan/index.ts'
import type { MakerNumbers, Plan, YardNumbers } from '../../../src/core/plan/index.ts'
import { late, makersFollowing, makersLate, planStoreCreate } from '../../../src/store/index.ts'
import type { PlanCommand } from '../../../src/core/edit/index.ts'
import { planFindings } from '../../support/checks.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { aMaker, expanded, networkOf, planMade } from '../../support/makers.ts'
import { aCorner, aTrack, planAfter, planWith } from '../../support/plans.ts'

await makersLate.bring()

const inch = 25.4
const long = planWith({ tracks: [aTrack({ end: { kind: 'free', x: 6000, y: 0 } })] })
const pair = planWith({
  tracks: [
    aTrack({ end: { kind: 'free', x: 6000, y: 0 } }),
    aTrack({ id: 'track-2', name: 'Second', start: { kind: 'free', x: 0, y: 2 * inch }, end: { kind: 'free', x: 6000, y: 2 * inch } }),
  ],
})
const t = 'track-1'
const crossover: MakerNumbers = {
  kind: 'crossover',
  track: t,
  otherTrack: 'track-2',
  stationMm: 3000,
  hand: 'left',
  frog: 6,
  layout: 'single',
}
const yard: YardNumbers = {
  kind: 'yard',
  track: t,
  stationMm: 300,
  facing: 'rising',
  side: 'left',
  frog: 6,
  tracks: 5,
  leadCentresMm: 110,
  centresMm: 2 * inch,
  bodyMm: 800,
  ladder: 'straight',
  ends: 'stub',
}

function problemOf(plan: Plan, numbers: MakerNumbers): MakerProblem {
  const result = expanded(plan, aMaker(numbers))
  if (result.ok) throw new Error('it was made')
  return result.problem
}

function frogPoint(plan: Plan, id: string): Point {
  const result = networkOf(plan).turnouts.get(id)?.result
  if (result?.ok !== true) throw new Error(`${id} has no place`)
  return poseToPlan(result.pose, result.geometry.frogPoint)
}

function lengthOf(plan: Plan, id: string): number {
  const alignment = networkOf(plan).tracks.get(id)?.alignment
  if (alignment?.ok !== true) throw new Error(`${id} is not solved`)
  return alignment.path.lengthMm
}

describe('figures', () => {
  // Worked by hand with G 0.65 in, c 2 in, F = 2 atan(1/12): 1.35/0.167832 - 0.65/0.165517 = 8.0437 - 3.9271.
  it('of a crossover No. 6 at 2 in', () => {
    const figures = crossoverFigures({
      gaugeMm: 0.65 * inch,
      centresMm: 2 * inch,
      frogAngleRad: 2 * Math.atan(1 / 12),
      leadMm: 6.14 * inch,
    })
    expect(figures.frogToFrogMm / inch).toBeCloseTo(4.117, 3)
    expect(figures.pointsToPointsMm / inch).toBeCloseTo(16.397, 3)
  })

  // For an isosceles frog c / sin F is c (N + 1/4N) and c / tan F is c (N - 1/4N): tan(F/2) = 1/2N in the double angle formulas.
  it.each([5, 6, 8])('of a ladder No. %d at 2 in are those of the double angle', (n) => {
    const { pitchAlongLadderMm, pitchAlongBodyMm } = ladderFigures({ centresMm: 2 * inch, frogAngleRad: 2 * Math.atan(1 / (2 * n)) })
    expect(pitchAlongLadderMm / inch).toBeCloseTo(2 * (n + 1 / (4 * n)), 9)
    expect(pitchAlongBodyMm / inch).toBeCloseTo(2 * (n - 1 / (4 * n)), 9)
  })
})

describe('a crossover', () => {
  it('has its frog points as far apart as its figures say, measured on the turnouts as they are laid', () => {
    const made = planMade(pair, aMaker(crossover))
    const result = expanded(pair, aMaker(crossover))
    const fact = result.ok ? result.facts.find(({ name }) => name === 'frogToFrogMm')?.value : undefined
    const [a, b] = [frogPoint(made, 'turnout-1'), frogPoint(made, 'turnout-2')]
    expect(b.x - a.x).toBeCloseTo(fact ?? NaN, 6)
    const { gaugeMm } = pair.railway
    expect(a.y).toBeCloseTo(gaugeMm / 2, 9)
    expect(b.y).toBeCloseTo(2 * inch - gaugeMm / 2, 9)
  })

  it('of the other hand leads the other way, and both hands stand in a row or on one stretch', () => {
    const right = planMade(pair, aMaker({ ...crossover, hand: 'right' }))
    expect(frogPoint(right, 'turnout-2').x).toBeLessThan(frogPoint(right, 'turnout-1').x)
    const double = planMade(pair, aMaker({ ...crossover, layout: 'double' }))
    expect(Object.keys(double.turnouts)).toHaveLength(4)
    expect(planFindings(double).filter(({ rule }) => rule === 'track-clearance')).toEqual([])
    // A scissors stands at the same centres: its diamond is built in one with the four turnouts, and all lie on shared ties.
    const scissors = planMade(pair, aMaker({ ...crossover, layout: 'scissors' }))
    const { network, trackwork } = pipelineCreate().derive(scissors)
    expect([...network.crossings.values()].map(({ result }) => result.ok)).toEqual([true])
    const longest = Math.max(...[...trackwork.turnouts.values()].flatMap(({ ties }) => ties.map(({ lengthMm }) => lengthMm)))
    expect(longest).toBeGreaterThan(2 * inch + pair.railway.gaugeMm)
    const own = ['turnout-place', 'check-dimensions', 'crossing-build', 'track-clearance', 'switch-motor']
    expect(planFindings(scissors).filter(({ rule }) => own.includes(rule))).toEqual([])
  })

  it('tells a scissors for which the tracks lie too near the centres that would do', () => {
    const at = (y: number): Plan =>
      planWith({
        tracks: [
          aTrack({ end: { kind: 'free', x: 6000, y: 0 } }),
          aTrack({ id: 'track-2', start: { kind: 'free', x: 0, y }, end: { kind: 'free', x: 6000, y } }),
        ],
      })
    const scissors: MakerNumbers = { ...crossover, layout: 'scissors' }
    const tight = problemOf(at(46), scissors)
    if (tight.kind !== 'centresTooSmall') throw new Error('expected the least centres')
    expect(tight.leastMm).toBeGreaterThan(46)
    expect(tight.leastMm).toBeLessThan(2 * inch)
    expect(problemOf(at(tight.leastMm - 0.1), scissors)).toMatchObject({ kind: 'centresTooSmall' })
    const { network } = pipelineCreate().derive(planMade(at(tight.leastMm + 0.01), aMaker(scissors)))
    expect([...network.crossings.values()].map(({ result }) => result.ok)).toEqual([true])
  })

  it('tells where it would find its straights, and when tracks are not parallel', () => {
    expect(problemOf(pair, { ...crossover, stationMm: 5990 })).toMatchObject({ kind: 'station', where: 'stationMm' })
    const skew = planWith({
      tracks: [aTrack(), aTrack({ id: 'track-2', start: { kind: 'free', x: 0, y: -400 }, end: { kind: 'free', x: 2000, y: 500 } })],
    })
    const problem = problemOf(skew, { ...crossover, stationMm: 1000 })
    expect(problem.kind === 'notParallel' && problem.angleRad).toBeCloseTo(Math.atan(900 / 2000), 9)
    expect(problemOf(pair, { ...crossover, otherTrack: t })).toEqual({ kind: 'sameTrack', track: t })
    expect(problemOf(pair, { ...crossover, otherTrack: 'track-9' })).toEqual({ kind: 'hostMissing', track: 'track-9' })
    expect(problemOf(pair, { ...crossover, stationMm: NaN })).toMatchObject({ kind: 'badNumber', where: 'stationMm' })
  })
})

describe('a passing siding', () => {
  const bent = planWith({ tracks: [aTrack({ corners: [aCorner({ x: 3000, y: 0 })], end: { kind: 'free', x: 3000, y: 3000 } })] })
  const siding: MakerNumbers = {
    kind: 'siding',
    track: t,
    fromMm: 500,
    toMm: 4500,
    side: 'left',
    centresMm: 50.8,
    curveCentresMm: 57,
    frogFrom: 6,
    frogTo: 6,
  }

  it('runs round a curve about its centre, wider there', () => {
    const made = planMade(bent, aMaker(siding))
    const network = networkOf(made)
    const [host, beside] = ['track-1', 'track-2'].map((id) => network.tracks.get(id)?.alignment)
    if (host?.ok !== true || beside?.ok !== true) throw new Error('not solved')
    const [curve] = host.corners
    const inner = beside.corners[1]
    if (curve === undefined || inner === undefined) throw new Error('no curve')
    expect(inner.solution.radiusMm).toBeCloseTo(curve.solution.radiusMm - 57, 6)
    const middle = pathPoseAt(host.path, (curve.scMm + curve.csMm) / 2)
    const near = pathPoseAt(beside.path, (inner.scMm + inner.csMm) / 2)
    expect(Math.hypot(middle.x - near.x, middle.y - near.y)).toBeCloseTo(57, 6)
  })

  it('refuses an end in a curve with the stations beside it', () => {
    expect(problemOf(bent, { ...siding, fromMm: 2600 })).toMatchObject({ kind: 'station', where: 'fromMm' })
    expect(problemOf(bent, { ...siding, toMm: 700 })).toMatchObject({ kind: 'tooShort', what: 'siding' })
    expect(problemOf(bent, { ...siding, fromMm: -3 })).toMatchObject({ kind: 'station', where: 'fromMm', nearestMm: [0] })
    expect(problemOf(bent, { ...siding, side: 'right', curveCentresMm: 90 })).toMatchObject({ kind: 'beside' })
  })
})

describe('a yard', () => {
  it('tells what a turnout of its ladder takes where another follows it, and not of a ladder with one', () => {
    const told = (tracks: number): readonly string[] => {
      const result = expanded(long, aMaker({ ...yard, tracks }))
      return result.ok ? result.facts.map(({ name }) => name) : []
    }
    expect(told(3)).toContain('leastPitchMm')
    expect(told(2)).not.toContain('leastPitchMm')
    expect(told(2)).toContain('pitchAlongLadderMm')
  })

  it('between two ladders has each body track shorter than the one before by twice the pitch along the body', () => {
    const made = planMade(long, aMaker({ ...yard, ends: 'double' }))
    const { tracks } = recordFind(made, 'makers', 'maker-1')?.made ?? { tracks: [] }
    const { shorterByMm } = ladderFigures({ centresMm: yard.centresMm, frogAngleRad: 2 * Math.atan(1 / 12) })
    const bodies = tracks.slice(1).map((id) => lengthOf(made, id))
    for (const [i, length] of bodies.slice(1).entries()) expect((bodies[i] ?? NaN) - length).toBeCloseTo(shorterByMm, 6)
    expect(planFindings(made)).toEqual([])
  })

  it('is shorter with a compound ladder, and clean to the checks', () => {
    const reach = (numbers: YardNumbers): number => {
      const result = expanded(long, aMaker(numbers))
      return (result.ok ? result.facts.find(({ name }) => name === 'reachMm')?.value : undefined) ?? NaN
    }
    const compound: YardNumbers = { ...yard, tracks: 6, ladder: 'compound' }
    expect(reach(compound)).toBeLessThan(reach({ ...yard, tracks: 6 }) - 300)
    expect(planFindings(planMade(long, aMaker(compound)))).toEqual([])
    expect(problemOf(long, { ...yard, tracks: 3, ladder: 'compound' })).toMatchObject({ kind: 'badNumber', where: 'tracks' })
  })

  it('keeps the ids of what stays when tracks are added and taken off again', () => {
    const made = planMade(long, aMaker({ ...yard, tracks: 3 }))
    const grown = planMade(made, aMaker(yard, { made: recordFind(made, 'makers', 'maker-1')?.made ?? { tracks: [], turnouts: [] } }))
    const ids = (plan: Plan): readonly string[] => recordFind(plan, 'makers', 'maker-1')?.made.tracks ?? []
    expect(ids(grown).slice(0, 3)).toEqual(ids(made))
    expect(Object.keys(grown.tracks)).toHaveLength(6)
  })
})

describe('a wye', () => {
  it('that no straight holds says the largest radius that would fit', () => {
    const wye = { kind: 'wye', track: t, stationMm: 3000, side: 'left', frog: 6, tailFrog: 6, radius: 5000, tailMm: 300 } as const
    const problem = problemOf(long, wye)
    if (problem.kind !== 'baseTooShort' || problem.mostRadiusMm === null) throw new Error(problem.kind)
    expect(problem.needMm).toBeGreaterThan(problem.haveMm)
    expect(
      expanded(long, aMaker({ ...wye, radius: problem.mostRadiusMm })).ok ||
        problemOf(long, { ...wye, radius: problem.mostRadiusMm }).kind === 'station',
    ).toBe(true)
    expect(problemOf(long, { ...wye, radius: problem.mostRadiusMm + 1 }).kind).toBe('baseTooShort')
  })
})

describe('what was made', () => {
  const made = planMade(pair, aMaker(crossover))

  it('is not bent by hand, but may be named and built as one likes', () => {
    const refused = { ok: false, problem: { kind: 'madeBy', maker: 'maker-1' } }
    expect(editApply(made, { kind: 'turnout.set', id: 'turnout-1', change: { stationMm: 10 } })).toMatchObject(refused)
    expect(editApply(made, { kind: 'track.setEnd', id: 'track-3', end: { kind: 'free', x: 0, y: 0 } })).toMatchObject(refused)
    expect(editApply(made, { kind: 'remove', table: 'tracks', id: 'track-3' })).toMatchObject(refused)
    expect(editApply(made, { kind: 'turnout.set', id: 'turnout-1', change: { name: 'East points' } })).toMatchObject({ ok: true })
    const apart = planAfter(made, { kind: 'maker.takeApart', id: 'maker-1' })
    expect(editApply(apart, { kind: 'remove', table: 'tracks', id: 'track-3' })).toMatchObject({ ok: true })
  })

  it('goes with its host, when that is taken out', () => {
    expect(editApply(made, { kind: 'remove', table: 'tracks', id: 'track-2' })).toMatchObject({ problem: { kind: 'inUse', by: 'maker-1' } })
    const without = planAfter(
      made,
      editRemoveCommand(made, 'tracks', 'track-2', () => null),
    )
    expect([Object.keys(without.tracks), Object.keys(without.turnouts), Object.keys(without.makers)]).toEqual([['track-1'], [], []])
  })

  const bothMoved: PlanCommand = {
    kind: 'group',
    label: 'Move both',
    commands: [
      { kind: 'track.setStart', id: t, start: { kind: 'free', x: 0, y: 100 } },
      { kind: 'track.setEnd', id: t, end: { kind: 'free', x: 6000, y: 100 } },
      { kind: 'track.setStart', id: 'track-2', start: { kind: 'free', x: 0, y: 160 } },
      { kind: 'track.setEnd', id: 'track-2', end: { kind: 'free', x: 6000, y: 160 } },
    ],
  }

  it('follows its host in the store, as one step that undo takes back', () => {
    const store = planStoreCreate(made)
    store.getState().apply(bothMoved)
    const after = store.getState().plan
    expect(networkOf(after).tracks.get('track-3')?.alignment.ok).toBe(true)
    expect(after.turnouts['turnout-2']?.stationMm).not.toBe(made.turnouts['turnout-2']?.stationMm)
    expect(store.getState().undoStack).toHaveLength(1)
    store.getState().undo()
    expect(store.getState().plan).toEqual(made)
  })

  it('follows in the step before, when it comes after the change', async () => {
    const atOnce = planStoreCreate(made)
    atOnce.getState().apply(bothMoved)
    for (const isDrag of [false, true]) {
      const makers = late(() => Promise.resolve(makersFollowing))
      const store = planStoreCreate(made, undefined, { makers })
      if (isDrag) store.getState().begin('Drag both')
      store.getState().replace(bothMoved)
      expect(store.getState().plan.turnouts['turnout-2']).toBe(made.turnouts['turnout-2'])
      await makers.bring()
      await Promise.resolve()
      expect(store.getState().plan).toEqual(atOnce.getState().plan)
      store.getState().commit()
      expect(store.getState().undoStack).toHaveLength(1)
      store.getState().undo()
      expect(store.getState().plan).toEqual(made)
    }
  })

  it('follows with the next change, when it could not come before', async () => {
    let isThere = false
    const makers = late(() => (isThere ? Promise.resolve(makersFollowing) : Promise.reject(new Error('no network'))))
    const store = planStoreCreate(made, undefined, { makers })
    store.getState().apply(bothMoved)
    await Promise.resolve()
    isThere = true
    await makers.bring()
    store.getState().apply({ kind: 'track.setEnd', id: t, end: { kind: 'free', x: 6000, y: 100 } })
    store.getState().apply({ kind: 'railway.set', change: { title: 'Another' } })
    const after = store.getState().plan
    expect(after.turnouts['turnout-2']?.stationMm).not.toBe(made.turnouts['turnout-2']?.stationMm)
  })

  it('follows the build that the builder gave a turnout of it', () => {
    const store = planStoreCreate(made)
    const build = { ...made.turnouts['turnout-1']?.build, pointLengthMm: 50 } as Plan['turnouts'][string]['build']
    store.getState().apply({ kind: 'turnout.set', id: 'turnout-1', change: { build } })
    const after = store.getState().plan
    expect(after.turnouts['turnout-1']?.build.pointLengthMm).toBe(50)
    expect(networkOf(after).tracks.get('track-3')?.alignment.ok).toBe(true)
  })
})

describe('numbers to begin with', () => {
  it.each(['crossover', 'siding', 'spur', 'yard', 'wye', 'loop', 'turnback'] as const)('make a %s where one fits', (kind) => {
    const plan = planWith({
      tracks: [
        aTrack({ end: { kind: 'free', x: 6000, y: 0 } }),
        aTrack({ id: 'track-2', start: { kind: 'free', x: 0, y: 52 }, end: { kind: 'free', x: 6000, y: 52 } }),
        aTrack({ id: 'track-3', start: { kind: 'free', x: 0, y: 2200 }, end: { kind: 'free', x: 6000, y: 2200 } }),
      ],
    })
    const maker = makerStart(plan, networkOf(plan), kind, null, 'imperial')
    expect(maker?.numbers.kind).toBe(kind)
    expect(maker !== null && expanded(plan, maker).ok).toBe(true)
  })

  it.each([
    ['imperial', 25.4],
    ['metric', 10],
  ] as const)('are round where a rule is %s', (units, stepMm) => {
    const curve = aCorner({ x: 4321.7, y: 0 })
    const plan = planWith({
      tracks: [
        aTrack({ corners: [curve], end: { kind: 'free', x: 4321.7, y: 2777.7 } }),
        aTrack({ id: 'track-2', start: { kind: 'free', x: 0.3, y: -52 }, end: { kind: 'free', x: 4000.9, y: -52 } }),
      ],
    })
    for (const kind of ['crossover', 'siding', 'spur', 'yard', 'wye', 'loop'] as const) {
      const maker = makerStart(plan, networkOf(plan), kind, 'track-1', units)
      if (maker === null) throw new Error(kind)
      expect(expanded(plan, maker).ok).toBe(true)
      for (const name of ['stationMm', 'fromMm', 'toMm', 'lengthMm', 'bodyMm', 'tailMm', 'straightMm']) {
        const [, mm] = Object.entries(maker.numbers).find(([key]) => key === name) ?? []
        if (typeof mm === 'number') expect([kind, name, Math.abs(mm / stepMm - Math.round(mm / stepMm)) < 1e-5]).toEqual([kind, name, true])
      }
    }
  })

  it('are none without a track', () => {
    const bare = planWith()
    expect(makerStart(bare, networkOf(bare), 'spur', null, 'imperial')).toBeNull()
    expect(makerStart(long, networkOf(long), 'crossover', t, 'imperial')).toBeNull()
  })
})
