import { describe, expect, it } from 'vitest'
import { filingUses, oneIn } from '../../../../src/core/deliver/bench/filing.ts'
import { midOrdinate, radiusUses } from '../../../../src/core/deliver/bench/gaugeStick.ts'
import { sheetsForSubject } from '../../../../src/core/deliver/index.ts'
import { benchSet, derivedOf, metricA4, strokesOf, textsOf } from '../../../support/benchSheets.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../../support/plans.ts'

const straight = aTrack({ end: { kind: 'free', x: 2000, y: 0 } })
const curved = aTrack({
  id: 'track-2',
  name: 'Curved',
  start: { kind: 'free', x: 0, y: 500 },
  corners: [aCorner({ x: 1200, y: 500, radius: 762, easementIn: 0, easementOut: 0 })],
  end: { kind: 'free', x: 1800, y: 1600 },
})
const derived = derivedOf(
  planWith({
    tracks: [straight, curved],
    turnouts: [aTurnout({ frog: 6 }), aTurnout({ id: 'turnout-2', name: 'Other', stationMm: 1000, frog: 6 })],
  }),
)
const empty = derivedOf(planWith({}))

describe('the card of filing angles', () => {
  it('has the angle of each frog number once, with the turnouts that use it', () => {
    const frogs = filingUses(derived).filter(({ kind }) => kind === 'frog')
    expect(frogs).toHaveLength(1)
    // A No. 6 frog is 9° 31′ 38″ in full (AREA trackwork plans, table of frogs): either rail is filed to half of it.
    const [frog] = frogs
    expect(((frog?.angleRad ?? 0) * 360) / Math.PI).toBeCloseTo(9 + 31 / 60 + 38 / 3600, 3)
    expect(oneIn(frog?.angleRad ?? 1)).toBeCloseTo(12, 6)
    expect(frog?.of).toHaveLength(2)
  })

  it('draws every angle at full size, longer by what the printer needs', () => {
    for (const calibrationX of [1, 0.98]) {
      const set = benchSet(derived, 'filing', { ...metricA4, calibrationX })
      const guides = strokesOf(set).flatMap(({ role, start, segments }) => {
        const to = segments[0]?.to
        return role === 'tick' && segments.length === 1 && to && Math.abs((to.x - start.x) * calibrationX - 75) < 1e-9
          ? [{ rise: to.y - start.y }]
          : []
      })
      for (const { angleRad } of filingUses(derived)) {
        expect(
          guides.some(({ rise }) => Math.abs(rise - 75 * Math.tan(angleRad)) < 1e-9),
          `${angleRad}`,
        ).toBe(true)
      }
    }
  })
})

describe('the card of gauge sticks', () => {
  it('heights over chords are those of right triangles and of string lining', () => {
    expect(midOrdinate(5, 8)).toBeCloseTo(2, 12)
    expect(midOrdinate(13, 10)).toBeCloseTo(1, 12)
    expect(midOrdinate(10, 20)).toBeCloseTo(10, 12)
    expect(midOrdinate(10, 20.1)).toBeNull()
    // 49 CFR 213.57: over a chord of 62 ft the middle ordinate in inches is the degree of curve, to a hundredth part.
    for (const degree of [1, 4, 10]) {
      const radiusMm = (50 / Math.sin((degree * Math.PI) / 360)) * 304.8
      expect((midOrdinate(radiusMm, 62 * 304.8) ?? 0) / 25.4 / degree).toBeCloseTo(1, 1)
    }
  })

  it('has every radius of tracks and turnouts once', () => {
    const uses = radiusUses(derived)
    expect(uses.find(({ radiusMm }) => Math.abs(radiusMm - 762) < 1e-6)?.of).toEqual(['Curved'])
    const turnout = derived.network.turnouts.get('turnout-1')?.result
    const radius = turnout?.ok ? turnout.geometry.divergences[0]?.radiusMm : undefined
    expect(uses.find(({ radiusMm }) => Math.abs(radiusMm - (radius ?? 0)) < 1e-6)?.of).toHaveLength(2)
    expect(uses).toHaveLength(2)
  })

  it('prints heights in both systems, and of both rails', () => {
    const said = textsOf(benchSet(derived, 'gauge-sticks'))
    // 762 − √(762² − 50²) = 1.6422
    expect(said).toContain('1.64 mm, 0.0647 in')
    const { gaugeMm } = derived.plan.railway
    for (const side of [-1, 1]) expect(said).toContain((midOrdinate(762 + (side * gaugeMm) / 2, 100) ?? 0).toFixed(2))
  })
})

describe('the inspection sheet', () => {
  const set = benchSet(derived, 'inspection')
  const said = textsOf(set)

  it('has limits as printed: NMRA S-3.2, 2010, HO: check gauge .605 to .614 in, gauge .649 to .661 in', () => {
    const inches = benchSet(derived, 'inspection', { ...metricA4, units: 'imperial' })
    const words = textsOf(inches)
    for (const limit of ['0.605', '0.614', '0.649', '0.661']) expect(words).toContain(limit)
  })

  it('has a box for each line and a place for each reading, and none as a letter', () => {
    const boxes = strokesOf(set).filter(({ isClosed, segments, role, start }) => {
      const [a, b] = segments
      return (
        role === 'tick' &&
        isClosed &&
        segments.length === 3 &&
        a !== undefined &&
        b !== undefined &&
        Math.abs(a.to.x - start.x - 2.9) < 1e-9
      )
    })
    const measured = said.filter((text) => /^(Gauge|Check gauge|Span|Flangeway|Points spread|Behind|Middle)/.test(text))
    const byHand = said.filter((text) =>
      /^(Points lie|No step|Rail heads|Gaps open|A single car|No kink|Level across|Every rail length)/.test(text),
    )
    expect(measured.length).toBeGreaterThan(30)
    expect(boxes).toHaveLength(measured.length + byHand.length)
    expect(said.some((text) => text.includes('☐') || text.includes('‗'))).toBe(false)
  })
})

describe('the card of standards', () => {
  it('has gauge and check gauge in both systems with their source', () => {
    const said = textsOf(benchSet(derived, 'standards'))
    // NMRA S-3.2, 2010, HO: gauge .651 in, check gauge .607 in, flangeway .048 in.
    for (const value of ['16.535', '0.6510', '0.6070', '0.0480']) expect(said).toContain(value)
    expect(said.some((text) => text.startsWith('From NMRA-S-3.2-2010'))).toBe(true)
  })
})

describe('sheets of a plan that has nothing', () => {
  it.each(['filing', 'gauge-sticks', 'inspection', 'risers', 'roadbed-cuts', 'rail-cuts'] as const)('%s: says so', (sheet) => {
    const { sheets, problems } = sheetsForSubject(empty, { kind: 'bench', sheet }, metricA4)
    expect(sheets).toEqual([])
    expect(problems).toHaveLength(1)
  })
})
