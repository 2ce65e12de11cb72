import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import { describe, expect, test } from 'vitest'
import { editApply, patchApply } from '../../../src/core/edit/index.ts'
import type { PlanCommand } from '../../../src/core/edit/index.ts'
import type { Cure, Finding } from '../../../src/core/checks/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { onlyFinding, planFindings } from '../../support/checks.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

/** The HO main asks 812.8 mm (32 in) and gives 914.4; a right angle of it fits on sides of 2 m. */
const bent = (change: Parameters<typeof aCorner>[0] = {}, end = { x: 2000, y: 2000 }): Plan =>
  planWith({ tracks: [aTrack({ corners: [aCorner({ x: 2000, y: 0, ...change })], end: { kind: 'free', ...end } })] })

function cureCommand(cure: Exclude<Cure, { readonly kind: 'setNumbers' | 'hangDoor' | 'growHatch' }>): PlanCommand {
  switch (cure.kind) {
    case 'setRadius':
      return { kind: 'corner.set', track: cure.track, corner: cure.corner, change: { radius: cure.radiusMm } }
    case 'scaleEasements':
      return {
        kind: 'corner.set',
        track: cure.track,
        corner: cure.corner,
        change: { easementIn: cure.easementInMm, easementOut: cure.easementOutMm },
      }
    case 'easementsMeet':
      return { kind: 'corner.set', track: cure.track, corner: cure.corner, change: { radius: 'easement-only' } }
    case 'setFrog':
      return { kind: 'turnout.set', id: cure.turnout, change: { frog: cure.frog } }
    case 'moveTurnout':
      return { kind: 'turnout.set', id: cure.turnout, change: { stationMm: cure.stationMm } }
  }
}

/** The plan after the cure of a finding, by the edit that a builder would make. */
function cured(plan: Plan, finding: Finding): Plan {
  const { cure } = finding
  if (cure === null || cure.kind === 'setNumbers' || cure.kind === 'hangDoor' || cure.kind === 'growHatch')
    throw new Error(`${finding.id} offers no cure`)
  const result = editApply(plan, cureCommand(cure))
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  return patchApply(plan, result.patch)
}

describe('a plan that keeps its limits', () => {
  test('has no findings', () => {
    expect(planFindings(bent())).toEqual([])
    expect(planFindings(planWith())).toEqual([])
  })
})

describe('minimum-radius', () => {
  test('finds a curve sharper than its class, with the curve as its stretch and the minimum as cure', () => {
    const plan = bent({ radius: 700, easementIn: 0, easementOut: 0 })
    const finding = onlyFinding(plan, 'minimum-radius')
    // T = R for a right angle: the curve runs from 1300 over a quarter of 700.
    expect(finding).toMatchObject({
      severity: 'error',
      stage: 'line',
      record: 'track-1',
      corner: 'pi-1',
      measured: 700,
      limit: 812.8,
      source: 'class:main',
    })
    expect(finding.stationFromMm).toBeCloseTo(1300, 9)
    expect(finding.stationToMm).toBeCloseTo(1300 + 350 * Math.PI, 9)
    // The middle of the arc: centre (1300, 700).
    expect(finding.x).toBeCloseTo(1300 + 700 * Math.SQRT1_2, 9)
    expect(finding.y).toBeCloseTo(700 - 700 * Math.SQRT1_2, 9)
    expect(planFindings(cured(plan, finding))).toEqual([])
  })

  test('keeps quiet at the very minimum and speaks a hundredth under it', () => {
    expect(planFindings(bent({ radius: 812.8 }))).toEqual([])
    expect(onlyFinding(bent({ radius: 812.79 }), 'minimum-radius').measured).toBe(812.79)
  })

  test('offers no minimum that the sides have no room for', () => {
    const finding = onlyFinding(bent({ radius: 700, easementIn: 0, easementOut: 0 }, { x: 2000, y: 750 }), 'minimum-radius')
    expect(finding.cure).toBeNull()
  })

  test('judges an easement-only corner where its easements meet, and offers no radius to set', () => {
    // R = (L1 + L2) / 2D: 2000 / pi = 636.6.
    const finding = onlyFinding(bent({ radius: 'easement-only', easementIn: 1000, easementOut: 1000 }), 'minimum-radius')
    expect(finding.measured).toBeCloseTo(2000 / Math.PI, 9)
    expect(finding.cure).toBeNull()
  })

  test('warns of a diverging route sharper than the class of the track that leaves there, unless its frog is one that the class allows', () => {
    const main = planWith().lineClasses['main']
    if (main === undefined) throw new Error('the empty plan has a main')
    const spur = aTrack({
      id: 'track-2',
      lineClass: 'wide',
      start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
      end: { kind: 'free', x: 1500, y: 200 },
    })
    const wide = { ...main, id: 'wide', minRadiusMm: 2000, usualRadiusMm: 2000, minFrog: 8 }
    const finding = onlyFinding(planWith({ lineClasses: [wide], tracks: [aTrack(), spur], turnouts: [aTurnout()] }), 'minimum-radius')
    expect(finding).toMatchObject({
      severity: 'warning',
      stage: 'turnouts',
      table: 'turnouts',
      record: 'turnout-1',
      limit: 2000,
      source: 'class:wide',
    })
    expect(finding.measured).toBeLessThan(2000)
    // Radius and frog number stand side by side in the recommendations [NMRA-MRP-1.0]: of a frog that is large enough no radius is asked.
    const allowed = { ...wide, minFrog: 6 }
    expect(planFindings(planWith({ lineClasses: [allowed], tracks: [aTrack(), spur], turnouts: [aTurnout()] }))).toEqual([])
    expect(planFindings(planWith({ tracks: [aTrack(), { ...spur, lineClass: 'main' }], turnouts: [aTurnout()] }))).toEqual([])
  })

  test('on a bend a frog that the class allows may have the radius that the least one has on a straight, and no less', () => {
    // Of a long arc of radius R, a No. 6 to its inside curves by about as much more: 1/(1/R + 1/r).
    const bentHost = (radiusMm: number): ReturnType<typeof planWith> => {
      const corner = aCorner({ x: 2000, y: 0, radius: radiusMm, easementIn: 0, easementOut: 0 })
      const track = aTrack({ corners: [corner], end: { kind: 'free', x: 2000, y: 3000 } })
      return planWith({ tracks: [track], turnouts: [aTurnout({ stationMm: 1100 })] })
    }
    const straightMm = turnoutRadius(planWith({ tracks: [aTrack()], turnouts: [aTurnout()] }))
    const bent = bentHost(1900)
    expect(turnoutRadius(bent)).toBeLessThan(straightMm)
    const [finding] = planFindings(bent).filter(({ rule }) => rule === 'minimum-radius')
    expect(finding?.measured).toBeCloseTo(turnoutRadius(bent), 6)
    expect(finding?.limit).toBeCloseTo(Math.min(812.8, straightMm), 6)
  })
})

/** Tightest radius of the diverging route of a plan's turnout. */
function turnoutRadius(plan: ReturnType<typeof planWith>): number {
  const result = networkCreateDeriver()(plan).turnouts.get('turnout-1')?.result
  return result?.ok === true ? result.geometry.divergingRadiusMm : Number.NaN
}

describe('alignment', () => {
  test.each([
    ['a reversal', [aCorner({ x: 1000, y: 0 })], { kind: 'free', x: 500, y: 0 }, 'reversal', { x: 1000, y: 0 }],
    ['coincident PIs', [aCorner(), aCorner({ id: 'pi-2' })], { kind: 'free', x: 2000, y: 0 }, 'coincidentPoints', { x: 1000, y: 0 }],
    [
      'easement-only without easements',
      [aCorner({ radius: 'easement-only', easementIn: 0, easementOut: 0 })],
      { kind: 'free', x: 2000, y: 500 },
      'noCurvature',
      { x: 1000, y: 0 },
    ],
    ['a loop of two corners', [aCorner(), aCorner({ id: 'pi-2', y: 500 })], { kind: 'closed' }, 'tooFewCorners', { x: 1000, y: 0 }],
  ] as const)('tells of %s and where', (_, corners, end, kind, at) => {
    const finding = onlyFinding(planWith({ tracks: [aTrack({ corners, end })] }), 'alignment')
    expect(finding.problem).toMatchObject({ kind })
    expect(finding).toMatchObject({ severity: 'error', stage: 'line', record: 'track-1', ...at })
  })

  test('a track that hangs on a turnout without a place waits with a warning; the turnout says why', () => {
    const findings = planFindings(
      planWith({
        tracks: [
          aTrack(),
          aTrack({
            id: 'track-2',
            lineClass: 'yard',
            start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
            end: { kind: 'free', x: 2600, y: 100 },
          }),
        ],
        turnouts: [aTurnout({ stationMm: 1950 })],
      }),
    )
    expect(findings.map(({ rule, record, severity }) => [rule, record, severity])).toEqual([
      ['alignment', 'track-2', 'warning'],
      ['turnout-place', 'turnout-1', 'error'],
    ])
  })
})

describe('the place of a line that has none', () => {
  const leg = (turnout: string) => ({ kind: 'leg', turnout, leg: 'diverging' }) as const
  const crossover = aTrack({ id: 'track-2', start: leg('turnout-1'), end: leg('turnout-2') })
  const host = aTrack({ start: { kind: 'free', x: 500, y: 900 }, end: { kind: 'free', x: 2500, y: 900 } })
  const placesOf = (plan: Plan) =>
    planFindings(plan)
      .filter(({ rule, record }) => rule === 'alignment' && record === 'track-2')
      .map(({ problem, x, y }) => [problem?.kind, Math.round(x), Math.round(y)])

  test('from leg to leg without a PI it stands at its first leg', () => {
    const turnouts = [aTurnout({ stationMm: 300 }), aTurnout({ id: 'turnout-2', stationMm: 1200 })]
    const [place] = placesOf(planWith({ tracks: [host, crossover], turnouts }))
    expect(place?.[0]).toBe('legsNotInLine')
    expect(place?.[1]).toBeGreaterThan(800)
    expect(place?.[2]).toBeGreaterThan(900)
  })

  test('where its turnouts have no place either it stands on their host, at the station they are wanted at', () => {
    const folded = { ...host, corners: [aCorner({ x: 1500, y: 900, radius: 900 })], end: { kind: 'free', x: 1500, y: 950 } } as const
    const turnouts = [aTurnout({ stationMm: 300 }), aTurnout({ id: 'turnout-2', stationMm: 600 })]
    const places = placesOf(planWith({ tracks: [folded, crossover], turnouts }))
    expect(places).toEqual([
      ['legUnsolved', 800, 900],
      ['legUnsolved', 800, 900],
    ])
  })
})

describe('easement-fit', () => {
  test('easements that turn more than the corner: what arc there is, what they take, and that they can meet', () => {
    // A tenth of a radian at 914.4: 91.44 mm of arc; two easements of 200 turn 200 / 914.4.
    const plan = bent({ easementIn: 200, easementOut: 200, radius: 914.4 }, { x: 2000 + 1000 * Math.cos(0.1), y: 1000 * Math.sin(0.1) })
    const finding = onlyFinding(plan, 'easement-fit')
    expect(finding.problem).toMatchObject({ kind: 'easementsTooLong', corner: 0 })
    expect(finding.measured).toBeCloseTo(91.44, 6)
    expect(finding.limit).toBeCloseTo(200, 6)
    // Two easements of 200 that meet turn 0.1 with 2000 in the middle, which is wider than the 914.4 that was asked.
    expect(finding.cure).toEqual({ kind: 'easementsMeet', track: 'track-1', corner: 'pi-1' })
    expect(planFindings(cured(plan, finding))).toEqual([])
  })

  test('where the radius itself is under that of the class, it is cured first; easements would have to be shorter than where they meet', () => {
    // Two of 100 that meet in 0.15 rad leave 667 in the middle, and the class asks 812.8. The arc of 600 has 90: rounded down to a tenth from just under.
    const [at, by] = [0.15, 1000]
    const plan = bent({ easementIn: 100, easementOut: 100, radius: 600 }, { x: 2000 + by * Math.cos(at), y: by * Math.sin(at) })
    const finding = onlyFinding(plan, 'easement-fit')
    expect(finding.cure).toEqual({ kind: 'setRadius', track: 'track-1', corner: 'pi-1', radiusMm: 812.8 })
    const shorter = { kind: 'scaleEasements', track: 'track-1', corner: 'pi-1', easementInMm: 89.9, easementOutMm: 89.9 } as const
    expect(finding.others).toEqual([shorter])
    for (const cure of [finding.cure, shorter])
      expect(planFindings(cured(plan, { ...finding, cure })).map(({ rule }) => rule)).not.toContain('easement-fit')
    expect(planFindings(cured(plan, finding)).map(({ rule }) => rule)).not.toContain('minimum-radius')
  })

  test('a radius far too small: the least that its typed easements ask for, and the most that the sides have room for', () => {
    // Two easements of 304.8 turn a right angle at 2 x 304.8 / pi = 194.04; 3 in is far under.
    const plan = bent({ radius: 76.2, easementIn: 304.8, easementOut: 304.8 }, { x: 2000, y: 1500 })
    const finding = onlyFinding(plan, 'easement-fit')
    expect(finding.room).toMatchObject({ corner: 0, radiusMm: 76.2, leastMm: 194.1 })
    expect(finding.cure).toMatchObject({ kind: 'setRadius', radiusMm: 812.8 })
    expect(planFindings(cured(plan, finding)).map(({ rule }) => rule)).not.toContain('easement-fit')
    const radius = (radiusMm: number): readonly string[] =>
      planFindings(bent({ radius: radiusMm, easementIn: 304.8, easementOut: 304.8 }, { x: 2000, y: 1500 })).map(({ rule }) => rule)
    expect(radius(194.1)).not.toContain('easement-fit')
    expect(radius(194)).toContain('easement-fit')
    const mostMm = finding.room?.mostMm ?? 0
    expect(radius(mostMm)).not.toContain('easement-fit')
    expect(radius(mostMm + 0.1)).toContain('easement-fit')
  })

  test.each([3, 5, 70])('easements by class are those of the radius that is told, where %d mm was typed', (radiusMm) => {
    // Too small for the shift at all, too small for its corner, and so on: what is told as the least fits, a tenth less does not.
    const of = (radius: number): ReturnType<typeof bent> =>
      bent({ radius, easementIn: 'class', easementOut: 'class' }, { x: 2000, y: 1500 })
    const finding = onlyFinding(of(radiusMm), 'easement-fit')
    const leastMm = finding.room?.leastMm ?? 0
    const mostMm = finding.room?.mostMm ?? 0
    const rules = (radius: number): readonly string[] => planFindings(of(radius)).map(({ rule }) => rule)
    expect(leastMm).toBeGreaterThan(radiusMm)
    expect(rules(leastMm)).not.toContain('easement-fit')
    expect(rules(leastMm - 0.1)).toContain('easement-fit')
    expect(rules(mostMm)).not.toContain('easement-fit')
    expect(rules(mostMm + 0.1)).toContain('easement-fit')
    expect(planFindings(cured(of(radiusMm), finding))).toEqual([])
  })

  test('a side that is too short: what there is, what is needed, and the largest radius that fits', () => {
    // A bare right angle of 1000 needs 1000 of each side; the second has 900.
    const plan = bent({ radius: 1000, easementIn: 0, easementOut: 0 }, { x: 2000, y: 900 })
    const finding = onlyFinding(plan, 'easement-fit')
    expect(finding.problem).toMatchObject({ kind: 'sideTooShort', side: 1 })
    expect(finding.measured).toBeCloseTo(900, 9)
    expect(finding.limit).toBeCloseTo(1000, 9)
    expect(finding).toMatchObject({ x: 2000, y: 450 })
    // Rounded down to a tenth from just under 900.
    expect(finding.cure).toEqual({ kind: 'setRadius', track: 'track-1', corner: 'pi-1', radiusMm: 899.9 })
    expect(planFindings(cured(plan, finding))).toEqual([])
  })

  test('does not cure one limit by breaking another', () => {
    // Only 500 of side: any radius that fits is under the minimum, and there are no easements to shorten.
    const finding = onlyFinding(bent({ radius: 1000, easementIn: 0, easementOut: 0 }, { x: 2000, y: 500 }), 'easement-fit')
    expect(finding.cure).toBeNull()
  })

  test('between two corners it takes the gentler change', () => {
    const corners = [
      aCorner({ x: 2000, y: 0, radius: 900, easementIn: 0, easementOut: 0 }),
      aCorner({ id: 'pi-2', x: 2000, y: 2000, radius: 1200, easementIn: 0, easementOut: 0 }),
    ]
    const plan = planWith({ tracks: [aTrack({ corners, end: { kind: 'free', x: 0, y: 2000 } })] })
    const finding = onlyFinding(plan, 'easement-fit')
    // 2100 asked of 2000: 900 could become 800 (under the minimum), 1200 could become 1100.
    expect(finding.cure).toMatchObject({ kind: 'setRadius', corner: 'pi-2', radiusMm: 1099.9 })
    // The tenth of a millimetre that is left of the side makes the two a broken-back curve: worse to see than one of two radii.
    expect(planFindings(cured(plan, finding)).map(({ rule, severity }) => [rule, severity])).toEqual([['broken-back', 'warning']])
  })
})
