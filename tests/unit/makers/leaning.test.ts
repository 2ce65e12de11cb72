import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { MakerProblem } from '../../../src/core/makers/index.ts'
import { pathCurvatureAt, pathNearest, pathPoseAt, pathStart } from '../../../src/core/geom/index.ts'
import type { Path } from '../../../src/core/geom/index.ts'
import type { CrossoverNumbers, Plan, Track } from '../../../src/core/plan/index.ts'
import { aMaker, expanded, networkOf, planMade } from '../../support/makers.ts'
import { aTrack, planWith } from '../../support/plans.ts'

const degree = Math.PI / 180
const numbers: CrossoverNumbers = {
  kind: 'crossover',
  track: 'track-1',
  otherTrack: 'track-2',
  stationMm: 1500,
  hand: 'left',
  frog: 6,
  layout: 'single',
}

/** The main along x, and beside it a second line that stands at these centres at 1500 mm and leans by this angle. */
function leaning(angleRad: number, centresMm: number, isTurned = false): Plan {
  const at = (x: number): { readonly kind: 'free'; readonly x: number; readonly y: number } => ({
    kind: 'free',
    x,
    y: centresMm + (x - 1500) * Math.tan(angleRad),
  })
  const [start, end] = isTurned ? [at(3000), at(0)] : [at(0), at(3000)]
  return planWith({ tracks: [aTrack({ end: { kind: 'free', x: 3000, y: 0 } }), aTrack({ id: 'track-2', name: 'Second', start, end })] })
}

/** Two quarter circles about one centre, straights at both ends. */
function concentric(radiusMm: number, centresMm: number): Plan {
  const quarter = (id: string, r: number): Track =>
    aTrack({
      id,
      name: id,
      start: { kind: 'free', x: -600, y: -r },
      corners: [{ id: 'pi-1', x: r, y: -r, radius: r, easementIn: 0, easementOut: 0 }],
      end: { kind: 'free', x: r, y: 600 },
    })
  return planWith({ tracks: [quarter('track-1', radiusMm), quarter('track-2', radiusMm - centresMm)] })
}

interface Made {
  readonly path: Path
  /** How far both ends of it stand off the legs, and how far they look away from them. */
  readonly gapMm: number
  readonly kinkRad: number
  readonly middleMm: number
}

function madeOn(plan: Plan, change: Partial<CrossoverNumbers> = {}): Made {
  const made = planMade(plan, aMaker({ ...numbers, ...change }))
  const network = networkOf(made)
  const alignment = network.tracks.get(made.makers['maker-1']?.made.tracks[0] ?? '')?.alignment
  const host = network.tracks.get('track-1')?.alignment
  if (alignment?.ok !== true || host?.ok !== true) throw new Error('not solved')
  const { path } = alignment
  const legs = [...network.turnouts.values()].map(({ result }) => {
    if (!result.ok) throw new Error(JSON.stringify(result.problem))
    return result.leg
  })
  const ends = [pathStart(path), { ...path.end, headingRad: path.end.headingRad + Math.PI }]
  const apart = ends.map((end, i) => Math.hypot(end.x - (legs[i]?.x ?? NaN), end.y - (legs[i]?.y ?? NaN)))
  const kinks = ends.map((end, i) => Math.abs(Math.sin((end.headingRad - (legs[i]?.headingRad ?? NaN)) / 2)))
  const [a = { x: NaN, y: NaN }, b = { x: NaN, y: NaN }] = legs
  return {
    path,
    gapMm: Math.max(...apart),
    kinkRad: Math.max(...kinks),
    middleMm: pathNearest(host.path, { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }).stationMm,
  }
}

function problemOf(plan: Plan, change: Partial<CrossoverNumbers> = {}, lineClass = 'yard'): MakerProblem {
  const result = expanded(plan, aMaker({ ...numbers, ...change }, { lineClass }))
  if (result.ok) throw new Error('it was made')
  return result.problem
}

const sharpestOf = (path: Path): number =>
  1 / Math.max(1e-9, ...Array.from({ length: 41 }, (_, i) => Math.abs(pathCurvatureAt(path, (i / 40) * path.lengthMm))))

describe('a crossover between tracks that lean', () => {
  it('meets both legs, stands abreast of its station, and keeps the radius of its class', () => {
    let made = 0
    fc.assert(
      fc.property(
        fc.record({
          angle: fc.integer({ min: -400, max: 400 }).map((hundredths) => (hundredths / 100) * degree),
          centres: fc.integer({ min: 55, max: 120 }),
          isBelow: fc.boolean(),
          isTurned: fc.boolean(),
          hand: fc.constantFrom('left', 'right'),
          frog: fc.constantFrom(5, 6, 8),
        }),
        ({ angle, centres, isBelow, isTurned, hand, frog }) => {
          const plan = leaning(angle, isBelow ? -centres : centres, isTurned)
          const result = expanded(plan, aMaker({ ...numbers, hand, frog }))
          if (!result.ok) {
            expect(['crossoverTooSharp', 'centresTooSmall', 'place']).toContain(result.problem.kind)
            return
          }
          const { path, gapMm, kinkRad, middleMm } = madeOn(plan, { hand, frog })
          expect(gapMm).toBeLessThan(1e-6)
          expect(kinkRad).toBeLessThan(1e-9)
          // Exactly parallel ones are counted from the frogs; the others are found to 1e-7 mm.
          if (angle !== 0) expect(middleMm).toBeCloseTo(1500, 6)
          expect(sharpestOf(path)).toBeGreaterThanOrEqual(plan.lineClasses['yard']?.minRadiusMm ?? Infinity)
          made++
        },
      ),
      { seed: 20261204, numRuns: 50 },
    )
    expect(made).toBeGreaterThan(20)
  })

  it('of a very small angle is the one between parallel tracks', () => {
    const parallel = madeOn(leaning(0, 60))
    const nearly = madeOn(leaning(1e-7, 60))
    for (const part of [0, 0.5, 1]) {
      const [p, q] = [pathPoseAt(parallel.path, part * parallel.path.lengthMm), pathPoseAt(nearly.path, part * nearly.path.lengthMm)]
      // 1e-7 rad over 3 m lifts a line by 3e-4 mm; along a frog of 9.5 deg that is six times as much.
      expect(Math.hypot(p.x - q.x, p.y - q.y)).toBeLessThan(5e-3)
    }
  })

  // By hand: legs that part by t over a chord L turn on L / 2 sin(t / 2). Two straights at 3 deg with equal frogs turn by 3 deg.
  it('turns from frog to frog by the angle between the tracks', () => {
    const { path } = madeOn(leaning(2 * degree, 80))
    const chordMm = Math.hypot(path.end.x - pathStart(path).x, path.end.y - pathStart(path).y)
    expect(Math.abs(path.end.headingRad - pathStart(path).headingRad)).toBeCloseTo(2 * degree, 9)
    expect(sharpestOf(path)).toBeCloseTo(chordMm / (2 * Math.sin(1 * degree)), 1)
  })

  it('says which limit stops it: the frog angle, the radius of the class, or both hands', () => {
    const frogAngleRad = 2 * Math.atan(1 / 12)
    expect(problemOf(leaning(12 * degree, 100))).toEqual({
      kind: 'notParallel',
      track: 'track-1',
      otherTrack: 'track-2',
      angleRad: expect.closeTo(12 * degree, 9),
      mostRad: expect.closeTo(frogAngleRad, 9),
    })
    expect(problemOf(leaning(1 * degree, 80), { layout: 'scissors' })).toMatchObject({ kind: 'notParallel', mostRad: 0 })
    const sharp = problemOf(leaning(8 * degree, 60), {}, 'main')
    if (sharp.kind !== 'crossoverTooSharp') throw new Error(JSON.stringify(sharp))
    expect(sharp.angleRad).toBeCloseTo(8 * degree, 9)
    expect(sharp.radiusMm).toBeLessThan(sharp.leastRadiusMm)
    // With the angle named, over the same length, the radius is that of the class.
    expect(sharp.radiusMm * Math.sin(sharp.angleRad / 2)).toBeCloseTo(sharp.leastRadiusMm * Math.sin(sharp.mostAngleRad / 2), 1)
    expect(problemOf(leaning(1 * degree, 36))).toMatchObject({ kind: 'centresTooSmall', where: 'measured' })
  })
})

describe('a crossover between concentric curves', () => {
  it('lies on both as they bend, and meets its legs', () => {
    for (const [radius, hand] of [
      [2500, 'left'],
      [2500, 'right'],
      [4000, 'left'],
    ] as const) {
      const plan = concentric(radius, 60)
      const stationMm = 600 + (radius * Math.PI) / 4
      const { gapMm, kinkRad, middleMm } = madeOn(plan, { stationMm, hand })
      expect(gapMm).toBeLessThan(1e-6)
      expect(kinkRad).toBeLessThan(1e-9)
      expect(middleMm).toBeCloseTo(stationMm, 6)
    }
  })
})
