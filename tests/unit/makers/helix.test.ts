import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { helixLevels } from '../../../src/core/levels/index.ts'
import type { HelixLevels } from '../../../src/core/levels/index.ts'
import type { MakerFact, MakerProblem } from '../../../src/core/makers/index.ts'
import { pathCurvatureAt, pathPoseAt } from '../../../src/core/geom/index.ts'
import type { Path } from '../../../src/core/geom/index.ts'
import type { HelixNumbers, LineClass, Plan } from '../../../src/core/plan/index.ts'
import { clearHeightOver, curveResistanceGrade } from '../../../src/core/standards/index.ts'
import { aMaker, expanded, networkOf, planMade } from '../../support/makers.ts'
import { aTrack, planWith } from '../../support/plans.ts'

const inch = 25.4
const HO = 87.1

/** The yard class of HO has no easements; the main one has those of a shift of 9.5 mm. */
const plan = planWith({ tracks: [aTrack()] })
const helix = (change: Partial<HelixNumbers> = {}): HelixNumbers => ({
  kind: 'helix',
  track: 'track-1',
  end: 'end',
  hand: 'left',
  size: { kind: 'radius', radius: 30 * inch },
  climbMm: 24 * inch,
  rise: { kind: 'perTurn', riseMm: 4 * inch },
  deckMm: 20,
  exit: { kind: 'asClimb' },
  straightMm: 300,
  ...change,
})

type Facts = { readonly [N in MakerFact['name']]?: number }

function factsOf(numbers: HelixNumbers, lineClass = 'yard', on: Plan = plan): Facts {
  const result = expanded(on, aMaker(numbers, { lineClass }))
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  return Object.fromEntries(result.facts.map(({ name, value }) => [name, value]))
}

function problemOf(numbers: HelixNumbers, lineClass = 'yard'): MakerProblem {
  const result = expanded(plan, aMaker(numbers, { lineClass }))
  if (result.ok) throw new Error('it was made')
  return result.problem
}

function builtOf(
  numbers: HelixNumbers,
  lineClass: string,
): { readonly path: Path; readonly levels: HelixLevels; readonly turnRad: number } {
  const made = planMade(plan, aMaker(numbers, { lineClass }))
  const alignment = networkOf(made).tracks.get(made.makers['maker-1']?.made.tracks[0] ?? '')?.alignment
  if (alignment?.ok !== true) throw new Error('the helix is not solved')
  const levels = helixLevels(made.railway, numbers, alignment)
  if (levels === null) throw new Error('no levels')
  return { path: alignment.path, levels, turnRad: alignment.path.end.headingRad - (alignment.path.elements[0]?.start.headingRad ?? 0) }
}

describe('the figures of a helix', () => {
  // By hand: grade = h / 2 pi R; 24 in of climb at 4 in a turn is six turns, 6 x 2 pi x 30 in = 94 ft 3 in of track.
  it('without easements are those of the circle', () => {
    const facts = factsOf(helix())
    expect(facts.turns).toBeCloseTo(6, 9)
    expect((facts.helixMm ?? 0) / inch).toBeCloseTo(6 * 2 * Math.PI * 30, 6)
    expect(100 * (facts.grade ?? 0)).toBeCloseTo(2.122, 3)
    expect((facts.outsideMm ?? 0) / inch).toBeCloseTo(60, 9)
    // Code 83 is 0.083 in high.
    expect(facts.clearMm).toBeCloseTo(4 * inch - 20 - 0.083 * inch, 6)
    expect(100 * (factsOf(helix({ size: { kind: 'radius', radius: 36 * inch } })).grade ?? 0)).toBeCloseTo(1.768, 3)
  })

  // EM 1110-3-152, paragraph 3-3: 1 % on a curve of 3 deg pulls like 1 + 0.04 x 3 = 1.12 %. 100 ft of arc turn 3 deg at 5729.58 / 3 ft.
  it('pull like the grade and the curve together', () => {
    expect(100 * curveResistanceGrade((5729.578 / 3) * 304.8, 1)).toBeCloseTo(0.12, 6)
    // Scaled down to HO: 0.04 x 5729.58 x 12 / 87.1 = 31.57 by the inch of radius.
    const { grade = 0, effectiveGrade = 0 } = factsOf(helix())
    expect(100 * (effectiveGrade - grade)).toBeCloseTo(31.57 / 30, 3)
  })

  // Standard S-7 has 3 in for HO, which is 22 ft less a thirty-second of an inch.
  it('leave the height of the scale clear', () => {
    expect(Math.abs(clearHeightOver(HO) / inch - 3)).toBeLessThan(1 / 30)
    const facts = factsOf(helix({ rise: { kind: 'clear', clearMm: clearHeightOver(HO) } }))
    expect(facts.clearMm).toBeCloseTo(clearHeightOver(HO), 9)
  })

  it('take the room there is, less both margins', () => {
    const { radiusMm } = factsOf(helix({ size: { kind: 'across', acrossMm: 1800 } }))
    expect(radiusMm).toBeCloseTo(900 - plan.railway.edgeMarginMm, 9)
    expect(problemOf(helix({ size: { kind: 'across', acrossMm: 60 } }))).toMatchObject({ kind: 'acrossTooSmall' })
  })
})

describe('what a helix cannot be', () => {
  it('says what would do', () => {
    expect(problemOf(helix({ rise: { kind: 'perTurn', riseMm: 15 } }))).toMatchObject({ kind: 'riseTooLow', riseMm: 15 })
    // Straight on again after a whole turn wants the rise of one turn.
    expect(problemOf(helix({ climbMm: 50, exit: { kind: 'angle', angleRad: 0 } }))).toEqual({
      kind: 'climbTooLow',
      climbMm: 50,
      leastMm: expect.closeTo(4 * inch, 9),
    })
    expect(problemOf(helix({ climbMm: 5000 }))).toMatchObject({ kind: 'tooManyTurns', mostClimbMm: expect.closeTo(30 * 4 * inch, 6) })
    expect(problemOf(helix({ track: 'track-1', end: 'start', climbMm: 1, rise: { kind: 'grade', grade: 0.03 } }), 'main')).toMatchObject({
      kind: 'climbTooLow',
    })
  })
})

const seeded = { seed: 20261203, numRuns: 60 }
const between = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: Math.ceil(min * 100), max: Math.floor(max * 100) }).map((hundredths) => hundredths / 100)
const cases = fc.record({
  lineClass: fc.constantFrom('yard', 'main', 'branch'),
  radius: between(500, 1100),
  climbMm: between(150, 600),
  riseMm: between(70, 130),
  angleRad: between(0, 6.28),
  hand: fc.constantFrom('left', 'right'),
  isFree: fc.boolean(),
})

describe('a helix with its way out at an angle', () => {
  it('leaves at that angle and rises no less in a turn than asked, or no steeper', () => {
    let made = 0
    fc.assert(
      fc.property(cases, fc.boolean(), ({ lineClass, radius, climbMm, riseMm, angleRad, hand }, isByGrade) => {
        const grade = riseMm / (2 * Math.PI * radius)
        const numbers = helix({
          size: { kind: 'radius', radius },
          climbMm,
          hand,
          exit: { kind: 'angle', angleRad },
          rise: isByGrade ? { kind: 'grade', grade } : { kind: 'perTurn', riseMm },
        })
        if (!expanded(plan, aMaker(numbers, { lineClass })).ok) return
        const { levels, turnRad } = builtOf(numbers, lineClass)
        const turned = hand === 'left' ? turnRad : -turnRad
        expect(Math.abs(Math.sin((turned - angleRad) / 2))).toBeLessThan(1e-9)
        if (isByGrade) expect(levels.grade).toBeLessThanOrEqual(grade * (1 + 1e-9))
        else if (turned >= 2 * Math.PI) expect(levels.risePerTurnMm).toBeGreaterThanOrEqual(riseMm * (1 - 1e-9))
        made++
      }),
      seeded,
    )
    expect(made).toBeGreaterThan(20)
  })
})

describe('places of a helix over each other', () => {
  it('lie a turn apart in height, easements and the way out included', () => {
    fc.assert(
      fc.property(cases, ({ lineClass, radius, climbMm, riseMm, hand, isFree, angleRad }) => {
        const exit = isFree ? ({ kind: 'asClimb' } as const) : ({ kind: 'angle', angleRad } as const)
        const numbers = helix({ size: { kind: 'radius', radius }, climbMm, hand, rise: { kind: 'perTurn', riseMm }, exit })
        if (!expanded(plan, aMaker(numbers, { lineClass })).ok) return
        const { path, levels } = builtOf(numbers, lineClass)
        const levelAt = (s: number): number =>
          levels.climbMm * Math.min(1, Math.max(0, (s - levels.footMm) / (levels.headMm - levels.footMm)))
        const stepMm = 25
        const poses = Array.from({ length: Math.floor(path.lengthMm / stepMm) }, (_, i) => ({
          s: i * stepMm,
          ...pathPoseAt(path, i * stepMm),
        }))
        // On one circle: neither is where the curvature is that of an easement or a straight.
        const onArc = (s: number): boolean => Math.abs(Math.abs(pathCurvatureAt(path, s)) - 1 / radius) < 1e-12
        for (const p of poses.filter((_, i) => i % 7 === 0)) {
          for (const q of poses) {
            if (q.s - p.s < radius || Math.hypot(p.x - q.x, p.y - q.y) > 20) continue
            const apartMm = levelAt(q.s) - levelAt(p.s)
            // Within 20 mm in plan a place is within 40 mm along of the one right over it, easements of some 10 mm of shift included.
            expect(apartMm).toBeGreaterThan(
              Math.min(levels.risePerTurnMm, levels.climbMm) - levels.grade * 200 * (onArc(p.s) && onArc(q.s) ? 0.2 : 1),
            )
          }
        }
      }),
      { ...seeded, numRuns: 40 },
    )
  })
})

describe('a helix by class', () => {
  it('has easements at both ends only, and corners far from a turn back', () => {
    const main: LineClass | undefined = plan.lineClasses['main']
    expect(main?.easement.kind).toBe('shift')
    const made = planMade(plan, aMaker(helix({ size: { kind: 'radius', radius: 'class' } }), { lineClass: 'main' }))
    const track = made.tracks[made.makers['maker-1']?.made.tracks[0] ?? '']
    expect(track?.corners.map(({ easementIn, easementOut }) => [easementIn, easementOut])).toEqual(
      track?.corners.map((_, i, all) => [i === 0 ? 'class' : 0, i === all.length - 1 ? 'class' : 0]),
    )
    const alignment = networkOf(made).tracks.get(track?.id ?? '')?.alignment
    if (alignment?.ok !== true) throw new Error('not solved')
    for (const { solution } of alignment.corners) expect(Math.abs(solution.deflectionRad)).toBeLessThanOrEqual(Math.PI / 2 + 1e-9)
  })
})
