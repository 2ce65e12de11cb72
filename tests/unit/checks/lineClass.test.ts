import { describe, expect, test } from 'vitest'
import { easementByRule } from '../../../src/core/alignment/index.ts'
import type { Corner, LineClass, Plan } from '../../../src/core/plan/index.ts'
import { onlyFinding, planFindings } from '../../support/checks.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const rad = Math.PI / 180

/** One bend of so many degrees in the middle of a line of 2 m on each side, of the HO main with what a case changes. */
function bend(degrees: number, corner: Partial<Corner>, change: Partial<LineClass> = {}): Plan {
  const main = planWith().lineClasses['main']
  if (main === undefined) throw new Error('no main class')
  const end = { kind: 'free', x: 2000 + 2000 * Math.cos(degrees * rad), y: 2000 * Math.sin(degrees * rad) } as const
  return planWith({
    lineClasses: [{ ...main, ...change }],
    tracks: [aTrack({ corners: [aCorner({ x: 2000, ...corner })], end })],
  })
}

describe('easement-short', () => {
  const asked = easementByRule({ kind: 'length', lengthMm: 300 }, 900)
  const byLength: Partial<LineClass> = { easement: { kind: 'length', lengthMm: 300 } }

  test('tells the shorter easement against what the class asks, and makes both as long', () => {
    const finding = onlyFinding(bend(60, { radius: 900, easementIn: 300, easementOut: 120 }, byLength), 'easement-short')
    expect(asked).toMatchObject({ ok: true, lengthMm: 300 })
    expect(finding).toMatchObject({ severity: 'warning', measured: 120, limit: 300, source: 'class:main', corner: 'pi-1' })
    expect(finding.cure).toEqual({ kind: 'scaleEasements', track: 'track-1', corner: 'pi-1', easementInMm: 300, easementOutMm: 300 })
  })

  test("is quiet where the easements are the class's own or longer, and where the class asks none", () => {
    const quiet = (plan: Plan): void => {
      expect(() => onlyFinding(plan, 'easement-short')).toThrow('there are: []')
    }
    quiet(bend(60, { radius: 900 }, byLength))
    quiet(bend(60, { radius: 900, easementIn: 350, easementOut: 400 }, byLength))
    quiet(bend(60, { radius: 900, easementIn: 0, easementOut: 0 }, { easement: { kind: 'none' } }))
  })

  test('lets the easement go beyond sixty gauges of radius, as NEM 113 clause 1 does', () => {
    // 60 times the gauge of the HO standard, which lies between 16.5 and 16.6 mm.
    const bare = { easementIn: 0, easementOut: 0 }
    expect(onlyFinding(bend(60, { radius: 989, ...bare }, byLength), 'easement-short').measured).toBe(0)
    expect(() => onlyFinding(bend(60, { radius: 997, ...bare }, byLength), 'easement-short')).toThrow('there are: []')
  })

  test('has no cure where the length asked does not fit', () => {
    // 15 degrees of 900 mm hold 235 mm of arc: two easements of 300 mm want 300 of it.
    const finding = onlyFinding(bend(15, { radius: 900, easementIn: 0, easementOut: 0 }, byLength), 'easement-short')
    expect(finding.cure).toBeNull()
  })

  test('leaves the curve behind a turnout alone', () => {
    const plan = planWith({
      tracks: [
        aTrack({ end: { kind: 'free', x: 4000, y: 0 } }),
        aTrack({
          id: 'track-2',
          lineClass: 'siding',
          start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
          corners: [aCorner({ x: 1300, y: 90, radius: 900, easementIn: 0, easementOut: 0 })],
          end: { kind: 'free', x: 2600, y: 95 },
        }),
      ],
      turnouts: [aTurnout()],
    })
    expect(() => onlyFinding(plan, 'easement-short')).toThrow(/^(?!.*easement-short:).*there are: /s)
  })
})

describe('short-curve', () => {
  const bare = { easementIn: 0, easementOut: 0 }

  test('tells the length of the curve, and widens a bare one to the radius of that length', () => {
    // R D: 1000 mm and 10 degrees make 174.5 mm; 300 mm ask 1718.9.
    const finding = onlyFinding(bend(10, { radius: 1000, ...bare }, { minCurveMm: 300 }), 'short-curve')
    expect(finding.measured).toBeCloseTo(1000 * 10 * rad, 6)
    expect(finding).toMatchObject({ severity: 'warning', limit: 300, source: 'class:main', corner: 'pi-1' })
    expect(finding.cure).toMatchObject({ kind: 'setRadius', radiusMm: Math.ceil((300 / (10 * rad)) * 10) / 10 })
  })

  test('counts the easements in', () => {
    // Easements add half of both: R D + L.
    expect(planFindings(bend(20, { radius: 1000, easementIn: 100, easementOut: 100 }, { minCurveMm: 449 }))).toEqual([])
    const finding = onlyFinding(bend(20, { radius: 1000, easementIn: 100, easementOut: 100 }, { minCurveMm: 450 }), 'short-curve')
    expect(finding.measured).toBeCloseTo(1000 * 20 * rad + 100, 6)
  })

  test('has no cure where so wide a curve does not fit', () => {
    // 2 m of tangent and 10 degrees: R tan 5 is at most 2000, and 4 m of curve would ask R 22918.
    expect(onlyFinding(bend(10, { radius: 1000, ...bare }, { minCurveMm: 4000 }), 'short-curve').cure).toBeNull()
  })

  test('is quiet where any curve will do', () => {
    expect(planFindings(bend(1, { radius: 1000, ...bare }))).toEqual([])
  })
})
