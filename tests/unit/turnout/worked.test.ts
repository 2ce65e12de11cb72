import { describe, expect, it } from 'vitest'
import { pathNearest, pathPoseAt } from '../../../src/core/geom/index.ts'
import { frogAngle } from '../../../src/core/turnout/index.ts'
import { ho6, inch, railOf, requestOfScale, solved } from '../../support/turnouts.ts'

const degree = Math.PI / 180
const turnout = solved(ho6)

describe('No. 6 in HO, worked by hand in inches', () => {
  // F = 2 atan(1/12) = 9.527 deg.  S = asin(.085 / 1.515) = 3.216 deg.
  // Rr = (.650 - .090 - .750 sin F) / (cos S - cos F) = .43586 / .012218 = 35.67
  // lead = 1.515 cos S + 35.67 (sin F - sin S) + .750 cos F = 1.5126 + 3.9031 + .7397 = 6.155
  // curved closure = 35.67 (F - S) = 3.929;  straight = 6.155 - 1.515 - .750 = 3.890
  it.each([
    ['frog angle, degrees', turnout.frogAngleRad / degree, 9.527, 1e-3],
    ['switch angle, degrees', turnout.switchAngleRad / degree, 3.216, 1e-3],
    ['closure radius of the gauge line', turnout.closureGaugeLineRadiusMm / inch, 35.67, 0.01],
    ['closure radius of the centreline', turnout.closureRadiusMm / inch, 35.67 - 0.325, 0.01],
    ['lead', turnout.leadMm / inch, 6.155, 1e-3],
    ['curved closure', turnout.closureCurvedMm / inch, 3.929, 1e-3],
    ['straight closure', turnout.closureStraightMm / inch, 3.89, 1e-3],
    // x = (1.75 - .325 (1 + cos F)) / tan F - .325 sin F = 6.5809 - .0538
    ['fouling point', turnout.foulingMm / inch, 6.527, 1e-3],
    ['overall, lead and heel', turnout.overallMm / inch, 7.355, 1e-3],
  ])('%s', (_, measured, byHand, tolerance) => {
    expect(Math.abs(measured - byHand)).toBeLessThan(tolerance)
  })

  it('has the ordinates .090 .158 .254 .376 .526 at the quarters of the closure', () => {
    const byHand = [0.09, 0.158, 0.254, 0.376, 0.526]
    expect(turnout.ordinates).toHaveLength(byHand.length)
    for (const [i, { yMm }] of turnout.ordinates.entries()) expect(Math.abs(yMm / inch - (byHand[i] ?? 0))).toBeLessThan(6e-4)
  })
})

describe('numbers and drawing agree', () => {
  it('ordinates lie on the drawn closure rail', () => {
    const closure = railOf(turnout, 'closure-curved').gaugeLine
    const heelX = closure.elements[0]?.start.x ?? 0
    for (const { xMm, yMm } of turnout.ordinates) {
      const at = pathNearest(closure, { x: heelX + xMm, y: yMm - ho6.gaugeMm / 2 })
      expect(at.distanceMm).toBeLessThan(1e-9)
    }
  })

  it('closure lengths are those of the drawn rails', () => {
    expect(railOf(turnout, 'closure-curved').gaugeLine.lengthMm).toBeCloseTo(turnout.closureCurvedMm, 9)
    expect(railOf(turnout, 'closure-straight').gaugeLine.lengthMm).toBeCloseTo(turnout.closureStraightMm, 9)
  })

  it('the gauge lines stand one flangeway apart at the throat', () => {
    const [straight, curved] = (['frog-straight', 'frog-curved'] as const).map((role) => railOf(turnout, role).gaugeLine.end)
    const { frogPoint, throatMm } = turnout
    // Both gauge lines, brought back from their heels to the same distance ahead of the point.
    const back = (heel: typeof straight) => ({
      x: frogPoint.x - throatMm * Math.cos(heel?.headingRad ?? 0),
      y: frogPoint.y - throatMm * Math.sin(heel?.headingRad ?? 0),
    })
    const [a, b] = [back(straight), back(curved)]
    expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeCloseTo(ho6.flangewayMm, 9)
    // Nearly N flangeways: for No. 6 a third of one per cent more along the rail.
    expect(throatMm / (6 * ho6.flangewayMm)).toBeCloseTo(1.00347, 4)
  })

  it('the wing rails run on their gauge lines to just ahead of the knuckle', () => {
    const [a, b] = [railOf(turnout, 'wing-straight').gaugeLine, railOf(turnout, 'wing-curved').gaugeLine]
    const knuckle = ho6.flangewayMm / Math.sin(turnout.frogAngleRad)
    const toBend = ho6.toeLengthMm - knuckle - ho6.railHeadMm
    const [pa, pb] = [pathPoseAt(a, toBend), pathPoseAt(b, toBend)]
    expect(Math.hypot(pa.x - pb.x, pa.y - pb.y)).toBeCloseTo(2 * (knuckle + ho6.railHeadMm) * Math.sin(turnout.frogAngleRad / 2), 9)
  })

  it('the half-inch point is where the vee has half an inch full size, N times that behind the theoretical point', () => {
    const { frogPoint, halfInchPoint } = turnout
    const away = Math.hypot(halfInchPoint.x - frogPoint.x, halfInchPoint.y - frogPoint.y)
    expect(away).toBeCloseTo((6 * 0.5 * inch) / 87.1, 9)
    const vee = (['frog-straight', 'frog-curved'] as const).map((role) => railOf(turnout, role).gaugeLine.elements[0]?.start)
    expect(Math.hypot((vee[0]?.x ?? 0) - (vee[1]?.x ?? 0), (vee[0]?.y ?? 0) - (vee[1]?.y ?? 0))).toBeCloseTo((0.5 * inch) / 87.1, 9)
  })

  it('the centrelines are the fouling distance apart at the fouling point', () => {
    // From the definition: straight on from the leg, square to the straight route.
    const { leg } = turnout
    const x = turnout.leadMm + turnout.foulingMm
    const y = leg.y + (x - leg.x) * Math.tan(leg.headingRad)
    expect(y).toBeCloseTo(ho6.foulingMm, 9)
  })

  it('the straight stock rail of the diverging route is bent G tan(S/2) + t / tan S ahead of PS', () => {
    const curved = railOf(turnout, 'stock-curved').gaugeLine
    const [before, , after] = curved.elements
    const s = turnout.switchAngleRad
    // The straight behind the bend, brought back to the line of the stock rail.
    const at = after?.start ?? { x: 0, y: 0 }
    const vertexX = at.x - (at.y - ho6.gaugeMm / 2) / Math.tan(s)
    expect(before?.start.y).toBe(ho6.gaugeMm / 2)
    expect(vertexX).toBeCloseTo(-(ho6.gaugeMm * Math.tan(s / 2) + ho6.pointThicknessMm / Math.tan(s)), 9)
  })

  it('curved points are tightest in the diverging route where they are sharper than the closure', () => {
    const curved = solved({ ...ho6, points: 'curved' })
    expect(curved.pointRadiusMm).not.toBeNull()
    expect(curved.divergingRadiusMm).toBe(Math.min(curved.closureRadiusMm, (curved.pointRadiusMm ?? 0) - ho6.gaugeMm / 2))
    expect(curved.divergingRadiusMm).toBeLessThan(turnout.divergingRadiusMm)
  })

  it('a frog of the right-angle definition stands at atan(1/N)', () => {
    const nine = solved({ ...ho6, frog: 9, frogDefinition: 'tangent' })
    expect(nine.frogAngleRad).toBe(Math.atan(1 / 9))
    expect(frogAngle(9, 'isosceles')).toBeGreaterThan(nine.frogAngleRad)
  })

  it('four gaps cut the frog free, each on its rail', () => {
    expect(turnout.gaps.map(({ rail }) => rail)).toEqual(['closure-straight', 'frog-straight', 'closure-curved', 'frog-curved'])
    for (const { at, rail } of turnout.gaps) expect(pathNearest(railOf(turnout, rail).gaugeLine, at).distanceMm).toBeLessThan(1e-9)
  })

  it('a curved point is planed to the curve of its stock rail, a hundredth of a millimetre at most', () => {
    const curved = solved({ ...ho6, points: 'curved' })
    const [point, stock] = [railOf(curved, 'point-curved'), railOf(curved, 'stock-straight').gaugeLine]
    const taper = point.headTaper ?? []
    expect(taper).toHaveLength(5)
    for (const [i, from] of taper.entries()) {
      expect(Math.abs(pathNearest(stock, pathPoseAt(point.gaugeLine, from.alongMm)).distanceMm - from.headMm)).toBeLessThan(0.001)
      const to = taper[i + 1]
      if (!to) continue
      const gap = pathNearest(stock, pathPoseAt(point.gaugeLine, (from.alongMm + to.alongMm) / 2)).distanceMm
      const over = (from.headMm + to.headMm) / 2 - gap
      expect(over).toBeGreaterThan(0)
      expect(over).toBeLessThan(0.0125)
    }
    expect(taper.at(-1)?.headMm).toBeCloseTo(ho6.railHeadMm, 9)
  })

  it('points and vee are planed from their edge to the full head', () => {
    const point = railOf(turnout, 'point-curved')
    expect(point.startHeadMm).toBeCloseTo(ho6.pointThicknessMm, 12)
    // The gap to the stock rail grows from t by sin S a mm: a full head has room after (.034 - .005) / sin S.
    expect(point.headTaper?.at(-1)?.alongMm).toBeCloseTo((0.029 * inch) / Math.sin(turnout.switchAngleRad), 9)
    expect(point.headTaper?.at(-1)?.headMm).toBe(ho6.railHeadMm)
    const vee = railOf(turnout, 'frog-straight')
    // Half of the half inch, square to the rail and not to the middle of the vee.
    expect(vee.startHeadMm).toBeCloseTo((0.25 * inch) / 87.1 / Math.cos(turnout.frogAngleRad / 2), 9)
  })
})

describe('standard values of a scale', () => {
  it('HO No. 6: 11 ft points, toe and heel from flangeway, head and foot', () => {
    const request = requestOfScale('HO', 6, 'straight')
    const { flangewayMm, railHeadMm, railFootMm } = request
    expect(request.pointLengthMm).toBeCloseTo((11 * 12 * inch) / 87.1, 9)
    expect(request.pointThicknessMm).toBe(0.127)
    expect(request.heelSpreadMm).toBeCloseTo(Math.max((6.25 * inch) / 87.1, flangewayMm + railHeadMm), 9)
    const half = Math.sin(frogAngle(6, 'isosceles') / 2)
    expect(2 * request.toeLengthMm * half).toBeCloseTo(flangewayMm + 2 * railHeadMm, 9)
    expect(2 * request.heelLengthMm * half).toBeGreaterThanOrEqual(railHeadMm + railFootMm - 1e-9)
  })

  it.each([
    [4, 11],
    [6, 11],
    [6.5, 16.5],
    [10, 16.5],
    [12, 22],
    [20, 30],
  ])('HO No. %d has points of %d ft', (frog, feet) => {
    expect(requestOfScale('HO', frog, 'straight').pointLengthMm).toBeCloseTo((feet * 12 * inch) / 87.1, 9)
  })

  it('lengthens curved points until they are no sharper than the closure behind them', () => {
    const request = requestOfScale('N', 5, 'curved')
    expect(request.pointLengthMm).toBeGreaterThan((11 * 12 * inch) / request.ratio)
    const { pointRadiusMm, closureGaugeLineRadiusMm } = solved(request)
    expect(pointRadiusMm).toBeCloseTo(closureGaugeLineRadiusMm, 6)
  })
})
