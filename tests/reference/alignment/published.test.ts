import { describe, expect, test } from 'vitest'
import { cornerSolve, easementLengthForShift, spiralSolve } from '../../../src/core/alignment/index.ts'
import type { CornerSolution } from '../../../src/core/alignment/types.ts'
import { elementPoseAt } from '../../../src/core/geom/index.ts'
import { expectMeets, referenceInput, referenceRows, referenceValue } from '../../support/reference.ts'

const DEG = Math.PI / 180
const FOOT = 304.8

const corner = (deflectionRad: number, radiusMm: number, easementMm = 0): CornerSolution => {
  const result = cornerSolve({ deflectionRad, radiusMm, easementInMm: easementMm, easementOutMm: easementMm })
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  return result.corner
}

/** Degree of curve over a chord of 100 ft: R = 50 / sin(D/2) ft. */
const chordRadius = (degreeRad: number): number => (50 * FOOT) / Math.sin(degreeRad / 2)

describe('easement length for a shift [NEM 113]', () => {
  test.each(referenceRows('spiral', { quantity: 'easement length from shift and radius' }))('$id', (row) => {
    const radiusMm = referenceInput(row, 'radius')
    const shiftMm = referenceInput(row, 'shift')
    const result = easementLengthForShift(radiusMm, shiftMm)
    if (!result.ok) throw new Error(result.problem.kind)
    // The table is the first term of the shift's series, sqrt(24 f R), rounded to 5 mm; the next term, theta^2 / 28 of the shift,
    // makes the exact length longer by half as much: some 3 mm at most here (gauge 64, R 1400).
    const firstTerm = Math.sqrt(24 * shiftMm * radiusMm)
    expectMeets(row, 'length_exact', firstTerm)
    const angle = result.lengthMm / (2 * radiusMm)
    const longerMm = (firstTerm * angle * angle) / 55
    expect(result.lengthMm).toBeGreaterThan(firstTerm)
    expect(result.lengthMm).toBeLessThan(firstTerm + longerMm)
    expectMeets(row, 'length', result.lengthMm - longerMm)
  })

  test('its worked example: R 600, shift 9, length 360, end ordinate 36', () => {
    const [row] = referenceRows('spiral', { idPrefix: 'nem113-ex1' })
    if (row === undefined) throw new Error('no row')
    const result = easementLengthForShift(referenceInput(row, 'radius'), referenceValue(row, 'shift').value)
    if (!result.ok) throw new Error(result.problem.kind)
    const spiral = spiralSolve(result.lengthMm, referenceInput(row, 'radius'))
    // 360 and 36 are the first terms; the exact clothoid has 360.58 along the line and 358.6 along the straight.
    expect(Math.abs(spiral.lengthMm - referenceValue(row, 'length').value)).toBeLessThan(0.6)
    expect(Math.abs(spiral.yMm - referenceValue(row, 'end_ordinate').value)).toBeLessThan(0.2)
    const element = { lengthMm: spiral.lengthMm, k0: 0, k1: 1 / 600 }
    // At x = 252 along the straight the line has run almost as far.
    expectMeets(row, 'y_at_x', elementPoseAt(element, { x: 0, y: 0, headingRad: 0 }, referenceInput(row, 'x')).y)
  })

  test('its table of ordinates between the ends: the cubic, which a gentle clothoid is', () => {
    const rows = referenceRows('spiral', { idPrefix: 'nem113-y-' })
    expect(rows).toHaveLength(5)
    const element = { lengthMm: 100, k0: 0, k1: 1e-4 }
    const at = (mm: number): number => elementPoseAt(element, { x: 0, y: 0, headingRad: 0 }, mm).y
    for (const row of rows) {
      const part = at(referenceInput(row, 'x_over_L') * element.lengthMm) / at(element.lengthMm)
      expectMeets(row, 'cubic', part)
      // Above the middle the print lies under the cubic: 0.49 against 0.512 at most.
      expect(Math.abs(part - referenceValue(row, 'y_over_yE').value)).toBeLessThan(0.0225)
    }
  })

  test('the divisor of its shift formula: 24 to L/R 0.6; exact within one in a hundred of it there', () => {
    const [row] = referenceRows('spiral', { idPrefix: 'nem113-divisor-24' })
    if (row === undefined) throw new Error('no row')
    for (const ratio of [0.1, 0.3, 0.6]) {
      const divisor = (ratio * ratio) / spiralSolve(ratio, 1).shiftMm
      expect(Math.abs(divisor - referenceValue(row, 'divisor').value)).toBeLessThan(0.24)
    }
  })
})

describe('spirals', () => {
  test.each([...referenceRows('spiral', { idPrefix: 'clothoid-' }), ...referenceRows('spiral', { idPrefix: 'talbot-' })])('$id', (row) => {
    // Talbot's rows name the curve by its degree over an arc of 100 ft.
    const radiusMm = 'radius' in row.inputs ? referenceInput(row, 'radius') : (100 * FOOT) / referenceInput(row, 'degree')
    const { angleRad, xMm, yMm, shiftMm, kMm } = spiralSolve(referenceInput(row, 'length'), radiusMm)
    const found: Readonly<Record<string, number>> = {
      theta: angleRad,
      spiral_angle: angleRad,
      X: xMm,
      Y: yMm,
      shift_p: shiftMm,
      tangent_k: kMm,
      long_tangent: xMm - yMm / Math.tan(angleRad),
      short_tangent: yMm / Math.sin(angleRad),
      chord: Math.hypot(xMm, yMm),
      deflection: Math.atan2(yMm, xMm),
    }
    for (const { name } of row.expected) expectMeets(row, name, found[name] ?? Number.NaN)
  })

  test('shift and main tangent of a road transition', () => {
    const [row] = referenceRows('spiral', { idPrefix: 'uk-shift' })
    if (row === undefined) throw new Error('no row')
    const solved = corner(
      referenceInput(row, 'intersection_angle'),
      referenceInput(row, 'radius'),
      referenceInput(row, 'transition_length'),
    )
    expectMeets(row, 'shift', solved.shiftInMm)
    // The page takes k for L/2; the exact one is shorter by L^3 / 240 R^2, 3.6 mm in 338 m.
    const lengthMm = referenceInput(row, 'transition_length')
    expectMeets(row, 'tangent', solved.tangentInMm - solved.kInMm + lengthMm / 2)
    expect(lengthMm / 2 - solved.kInMm).toBeCloseTo(lengthMm ** 3 / (240 * solved.radiusMm ** 2), 2)
  })

  test.each(referenceRows('spiral', { quantity: 'deflection angle along a transition' }))('$id', (row) => {
    const element = { lengthMm: referenceInput(row, 'transition_length'), k0: 0, k1: 1 / referenceInput(row, 'radius') }
    const { x, y } = elementPoseAt(element, { x: 0, y: 0, headingRad: 0 }, referenceInput(row, 'distance'))
    expectMeets(row, 'deflection', (Math.atan2(y, x) / DEG) * 60)
  })

  test.each(referenceRows('spiral', { quantity: 'cubic-parabola transition ordinate and local radius' }))('$id', (row) => {
    // The cubic parabola y = x^3 / 6C against the clothoid of the same C = R L: they part by y (x^2/C)^2 / 10 or so.
    const c = (row.inputs['C'] as { readonly value: number }).value * 1e6
    const x = referenceInput(row, 'x')
    const element = { lengthMm: 2 * x, k0: 0, k1: (2 * x) / c }
    const { y } = elementPoseAt(element, { x: 0, y: 0, headingRad: 0 }, x)
    const apart = (y * (x * x) ** 2) / c ** 2 / 10
    const { value, plus, minus } = referenceValue(row, 'y')
    expect(y).toBeGreaterThan(value - minus - apart)
    expect(y).toBeLessThan(value + plus + apart)
    expectMeets(row, 'radius', c / x)
  })
})

describe('simple curves of the field books', () => {
  test.each(referenceRows('degree-of-curve', { quantity: 'tangent and external of a 1-degree curve' }))('$id', (row) => {
    const solved = corner(referenceInput(row, 'intersection_angle'), chordRadius(referenceInput(row, 'degree')))
    expectMeets(row, 'tangent', solved.tangentInMm)
    expectMeets(row, 'external', solved.externalMm)
  })

  test('a tangent of 1855, also by dividing that of a 1-degree curve', () => {
    const [row] = referenceRows('degree-of-curve', { idPrefix: 'cross-1855' })
    if (row === undefined) throw new Error('no row')
    const deflectionRad = referenceInput(row, 'intersection_angle')
    expectMeets(row, 'tangent_1deg', corner(deflectionRad, chordRadius(DEG)).tangentInMm)
    expectMeets(row, 'tangent', corner(deflectionRad, chordRadius(referenceInput(row, 'degree'))).tangentInMm)
  })

  test.each([...referenceRows('turnouts', { idPrefix: 'tangent-' }), ...referenceRows('turnouts', { idPrefix: 'half-length-' })])(
    '$id: the curve of a turnout whose angle is its slope',
    (row) => {
      const [, number = NaN] = String(row.inputs['slope']).split(':').map(Number)
      const solved = corner(Math.atan(1 / number), referenceInput(row, 'radius'))
      expectMeets(row, 'tangent', solved.tangentInMm)
      if (row.expected.length > 1) {
        expectMeets(row, 'arc_length', solved.arcLengthMm)
        expectMeets(row, 'angle', solved.deflectionRad)
      }
    },
  )

  test('a whole curve worked in the Dietzgen tables', () => {
    const [row] = referenceRows('degree-of-curve', { idPrefix: 'dietzgen-curve' })
    if (row === undefined) throw new Error('no row')
    const degreeRad = referenceInput(row, 'degree')
    const solved = corner(referenceInput(row, 'intersection_angle'), chordRadius(degreeRad))
    expectMeets(row, 'tangent', solved.tangentInMm)
    expectMeets(row, 'external', solved.externalMm)
    // Its length counts chords of 100 ft.
    expectMeets(row, 'length', (solved.totalLengthMm / solved.radiusMm / degreeRad) * 100 * FOOT)
  })

  test('a curve of a published station and curve report', () => {
    const [row] = referenceRows('degree-of-curve', { quantity: 'simple curve elements' })
    if (row === undefined) throw new Error('no row')
    const solved = corner(referenceInput(row, 'intersection_angle'), referenceInput(row, 'radius'))
    const half = solved.deflectionRad / 2
    expectMeets(row, 'length', solved.totalLengthMm)
    expectMeets(row, 'tangent', solved.tangentInMm)
    expectMeets(row, 'external', solved.externalMm)
    expectMeets(row, 'middle_ordinate', solved.radiusMm * (1 - Math.cos(half)))
    expectMeets(row, 'chord', 2 * solved.radiusMm * Math.sin(half))
  })
})
