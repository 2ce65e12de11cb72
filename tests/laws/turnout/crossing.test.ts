import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { pathNearest, pathOffset, pathPoseAt, pointDistance } from '../../../src/core/geom/index.ts'
import type { Path } from '../../../src/core/geom/index.ts'
import { crossingSolve, elbowGuided } from '../../../src/core/turnout/index.ts'
import type { CrossingGeometry, CrossingRequest, TurnoutRail } from '../../../src/core/turnout/index.ts'
import { elbowUnguarded } from '../../../src/core/turnout/work/meetings.ts'
import { crossed, crossingRequest, trackThrough } from '../../support/crossings.ts'
import { ho6, inch, requestOfScale } from '../../support/turnouts.ts'

/** Rails lie on their gauge lines to this, mm: a thousandth of what can be filed. Offsets of easements are good to 1e-7. */
const toleranceMm = 1e-6
const angleOf = (frog: number): number => 2 * Math.atan(1 / (2 * frog))

function worstOff(rail: TurnoutRail, line: Path): number {
  const { gaugeLine } = rail
  return Math.max(...[0, 0.2, 0.5, 0.8, 1].map((part) => pathNearest(line, pathPoseAt(gaugeLine, gaugeLine.lengthMm * part)).distanceMm))
}

describe('a diamond of two straight tracks', () => {
  // Common practice, no source: a rhombus of the gauge G crossing at A has sides G / sin A, diagonals G / sin(A/2) and G / cos(A/2).
  it.each([4, 5, 6, 8, 10, 14])('has the sides and diagonals of its rhombus, No. %s', (frog) => {
    const angle = angleOf(frog)
    const { frogs } = crossed(crossingRequest(angle))
    const vees = frogs.filter(({ kind }) => kind === 'vee')
    const elbows = frogs.filter(({ kind }) => kind === 'elbow')
    expect([vees.length, elbows.length]).toEqual([2, 2])
    const between = (list: typeof frogs): number => (list[0] && list[1] ? pointDistance(list[0].at, list[1].at) : Number.NaN)
    expect(between(vees)).toBeCloseTo(ho6.gaugeMm / Math.sin(angle / 2), 9)
    expect(between(elbows)).toBeCloseTo(ho6.gaugeMm / Math.cos(angle / 2), 9)
    for (const vee of vees)
      for (const elbow of elbows) expect(pointDistance(vee.at, elbow.at)).toBeCloseTo(ho6.gaugeMm / Math.sin(angle), 9)
    for (const { number } of frogs) expect(number).toBeCloseTo(frog, 9)
  })

  it('of 3 ft on the long diagonal for No. 6 in HO: 7.8 in', () => {
    // Common practice, no source: G / sin(A/2) at G .650 in.
    const vees = crossed(crossingRequest(angleOf(6))).frogs.filter(({ kind }) => kind === 'vee')
    const [a, b] = vees
    expect(a && b ? pointDistance(a.at, b.at) / inch : Number.NaN).toBeCloseTo(7.83, 2)
  })
})

describe('fixed elbows', () => {
  // Common practice, no source: in full size elbows are fixed down to about No. 8 and have movable points at flatter angles.
  it('hold a wheel of 33 in with a flange of 1 in at No. 8 and not at No. 10', () => {
    const held = elbowGuided({ wheelDiameterMm: 33 * inch, flangeDepthMm: inch })
    expect(elbowUnguarded(angleOf(8), 1.75 * inch, 56.5 * inch, 1.75 * inch)).toBeLessThan(held)
    expect(elbowUnguarded(angleOf(10), 1.75 * inch, 56.5 * inch, 1.75 * inch)).toBeGreaterThan(held)
  })

  it('with movable points leave nothing unguarded', () => {
    expect(crossed(crossingRequest(angleOf(10))).unguardedMm).toBeGreaterThan(0)
    expect(crossed(crossingRequest(angleOf(10), { elbow: 'movable' })).unguardedMm).toBe(0)
  })
})

const curvatures = fc.double({ min: -1 / 700, max: 1 / 700, noNaN: true })
const angles = fc.double({ min: 0.12, max: 1.5, noNaN: true })

/** Curves of one hand may run beside each other for long: what is no crossing is refused, and not what these laws are about. */
function solvedOr(request: CrossingRequest): CrossingGeometry | null {
  const result = crossingSolve(request)
  return result.ok ? result.crossing : null
}

describe('any crossing', () => {
  it('has its running rails on the gauge lines of both tracks', () => {
    let checked = 0
    fc.assert(
      fc.property(angles, curvatures, curvatures, fc.boolean(), (angle, firstCurvature, secondCurvature, toLeft) => {
        const request = crossingRequest(toLeft ? angle : -angle, { firstCurvature, secondCurvature })
        const crossing = solvedOr(request)
        if (!crossing) return
        checked++
        const lines = [request.first, request.second].flatMap(({ path }) => [
          pathOffset(path, request.gaugeMm / 2),
          pathOffset(path, -request.gaugeMm / 2),
        ])
        for (const rail of crossing.rails) {
          const part = rail.role.split('-')[0]
          if (part !== 'stock' && part !== 'closure' && part !== 'frog') continue
          expect(Math.min(...lines.map((line) => worstOff(rail, line))), rail.role).toBeLessThan(toleranceMm)
        }
      }),
      { numRuns: 25, seed: 5 },
    )
    expect(checked).toBeGreaterThan(15)
  })

  it('to the right is the one to the left in a mirror', () => {
    for (const slip of ['none', 'single-left', 'double'] as const) {
      const mirrored = slip === 'single-left' ? 'single-right' : slip
      const left = crossed(crossingRequest(angleOf(6), { firstCurvature: 1 / 1500, secondCurvature: 1 / 1200, slip }))
      const right = crossed(crossingRequest(-angleOf(6), { firstCurvature: -1 / 1500, secondCurvature: -1 / 1200, slip: mirrored }))
      expect(right.rails.length).toBe(left.rails.length)
      for (const rail of left.rails) {
        const start = pathPoseAt(rail.gaugeLine, 0)
        const twin = right.rails.some(
          ({ gaugeLine, headSide }) =>
            headSide === -rail.headSide &&
            Math.abs(gaugeLine.lengthMm - rail.gaugeLine.lengthMm) < toleranceMm &&
            pointDistance(pathPoseAt(gaugeLine, 0), { x: start.x, y: -start.y }) < toleranceMm,
        )
        expect(twin, rail.role).toBe(true)
      }
    }
  })

  it('is the same whichever track is told first', () => {
    const request = crossingRequest(angleOf(5), { firstCurvature: 1 / 3000, secondCurvature: -1 / 2500 })
    const one = crossed(request)
    const other = crossed({ ...request, first: request.second, second: request.first, elbow: 'fixed' })
    expect(other.angleRad).toBeCloseTo(one.angleRad, 12)
    expect(other.extents.first.fromMm).toBeCloseTo(one.extents.second.fromMm, 9)
    expect(other.rails.length).toBe(one.rails.length)
  })

  it('gains nothing at once when a track begins to bend', () => {
    const straight = crossed(crossingRequest(angleOf(6)))
    const bent = crossed(crossingRequest(angleOf(6), { firstCurvature: 1e-9, secondCurvature: -1e-9 }))
    for (const [i, rail] of straight.rails.entries()) {
      const other = bent.rails[i]
      expect(other?.role).toBe(rail.role)
      // A curvature of 1e-9 moves the end of a 130 mm arm by 1e-5 mm; a frog No. 6 turns that into six times as much along the rail.
      expect(other ? pointDistance(other.gaugeLine.end, rail.gaugeLine.end) : Infinity).toBeLessThan(3e-4)
    }
  })
})

describe('a slip', () => {
  it.each([5, 6, 7, 8])('is one arc between the toes of the outer frogs, No. %s', (frog) => {
    const angle = angleOf(frog)
    const request = crossingRequest(angle, { slip: 'double' })
    const { slips, routes } = crossed(request)
    expect(slips.map(({ side }) => side)).toEqual(['left', 'right'])
    const [left, right] = slips
    // By hand: PS lies a toe inside the outer frog, that frog G / sin A from where the outer rails cross.
    const toe = (request.flangewayMm + 2 * request.railHeadMm) / (2 * Math.sin(angle / 2))
    const tangent = request.gaugeMm / Math.sin(angle) - toe
    const byHand = (tangent - request.pointThicknessMm * Math.tan(angle / 2)) / Math.tan(angle / 2) - request.gaugeMm / 2
    expect(left?.radiusMm).toBeCloseTo(byHand, 6)
    expect(right?.radiusMm).toBeCloseTo(byHand, 6)
    const centre = routes.find(({ name }) => name === 'slip-left')?.centre
    expect(centre?.end.headingRad).toBeCloseTo(angle, 9)
  })

  it('opens by the heel spread at the heel of its points', () => {
    const request = crossingRequest(angleOf(6), { slip: 'single-left' })
    const { rails } = crossed(request)
    const points = rails.filter(({ role }) => role === 'point-slip-left')
    expect(points.length).toBe(2)
    const [outer] = points
    const stock = pathOffset(request.first.path, -request.gaugeMm / 2)
    expect(outer ? pathNearest(stock, outer.gaugeLine.end).distanceMm : Number.NaN).toBeCloseTo(request.heelSpreadMm, 6)
  })

  it('that would foul the elbow, or has no room, is refused with what it lacks', () => {
    const long = crossingSolve(crossingRequest(angleOf(6), { slip: 'double', heelSpreadMm: 8 }))
    expect(long).toMatchObject({ ok: false, problem: { kind: 'noSlip', side: 'left' } })
    const wide = { railHeadMm: 2.2, railFootMm: 3, heelSpreadMm: 2.4 }
    const tight = crossingSolve(crossingRequest(angleOf(6), { slip: 'double', ...wide }))
    expect(tight).toMatchObject({ ok: false, problem: { kind: 'slipFoulsElbow' } })
    if (tight.ok || tight.problem.kind !== 'slipFoulsElbow') return
    expect(tight.problem.spreadMm).toBeLessThan(tight.problem.needMm)
  })

  it.each(['N', 'HO', 'S', 'O'])('can be built in %s at No. 8', (scale) => {
    const measures = requestOfScale(scale, 8, 'straight')
    const { slips } = crossed(crossingRequest(angleOf(8), { slip: 'double' }, measures))
    expect(slips.length).toBe(2)
  })
})

describe('what is no crossing', () => {
  it.each([
    ['angleTooSmall', crossingRequest(0.03)],
    ['trackTooShort', crossingRequest(0.5, { first: { path: crossingRequest(0.5).first.path, atMm: 10 } })],
    ['meetAgain', crossingRequest(0.1, { firstCurvature: 1 / 650 })],
    ['notApart', crossingRequest(0.166, { first: { path: trackThrough(0, 1 / 900, 250), atMm: 250 } })],
    ['badValue', crossingRequest(0.5, { gaugeMm: Number.NaN })],
    ['badValue', crossingRequest(0.5, { flangewayMm: 10 })],
    ['badValue', crossingRequest(0.5, { heelSpreadMm: 0.01, slip: 'double' })],
  ] as const)('%s', (kind, request) => {
    expect(crossingSolve(request)).toMatchObject({ ok: false, problem: { kind } })
  })

  it('never throws and never gives what is not finite', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -Math.PI / 2, max: Math.PI / 2, noNaN: true }),
        fc.double({ min: -1 / 60, max: 1 / 60, noNaN: true }),
        fc.double({ min: -1 / 60, max: 1 / 60, noNaN: true }),
        fc.constantFrom('none', 'single-left', 'single-right', 'double'),
        (angle, firstCurvature, secondCurvature, slip) => {
          const result = crossingSolve(crossingRequest(angle, { firstCurvature, secondCurvature, slip }))
          expect(JSON.stringify(result)).not.toMatch(/null,"y"|NaN|Infinity/)
        },
      ),
      { numRuns: 60, seed: 6 },
    )
  })
})
