import { describe, expect, it } from 'vitest'
import { pathNearest, pathOffsetPoint, pathPoseAt } from '../../../src/core/geom/index.ts'
import type { Path } from '../../../src/core/geom/index.ts'
import { gaugeList } from '../../../src/core/standards/index.ts'
import type { TurnoutGeometry, TurnoutRequest } from '../../../src/core/turnout/index.ts'
import { frogDistances, turnoutMirror } from '../../../src/core/turnout/index.ts'
import { ho6, railOf, requestOfScale, solved } from '../../support/turnouts.ts'

/** A turnout keeps gauge to this, mm: a thousandth of what any rail can be filed to. Rounding is a thousand times less. */
const gaugeToleranceMm = 1e-6

const frogs = [4, 5, 6, 6.5, 8, 10, 14, 17.25, 20]
const scales = gaugeList().map(({ key }) => key)
const cases = scales.flatMap((scale) => (['straight', 'curved'] as const).map((points) => ({ scale, points })))

function stations(path: Path, fromMm = 0, toMm = path.lengthMm): number[] {
  return Array.from({ length: 6 }, (_, i) => fromMm + ((toMm - fromMm) * i) / 5)
}

/** How far the line stays from a distance to another, at worst over these stations. */
function worst(path: Path, other: Path, distanceMm: number, at: readonly number[] = stations(path)): number {
  return Math.max(...at.map((station) => Math.abs(pathNearest(other, pathPoseAt(path, station)).distanceMm - distanceMm)))
}

function distances(turnout: TurnoutGeometry) {
  return frogDistances(turnout.frogAngleRad, turnout.request)
}

describe.each(cases)('$scale, $points points, No. 4 to 20', ({ scale, points }) => {
  const turnouts = frogs.map((frog) => solved(requestOfScale(scale, frog, points, frog % 2 === 0 ? 'left' : 'right')))

  it('keeps gauge along the straight route', () => {
    for (const turnout of turnouts) {
      const stock = railOf(turnout, 'stock-straight').gaugeLine
      const gauge = turnout.request.gaugeMm
      for (const role of ['point-straight', 'closure-straight', 'frog-straight'] as const) {
        expect(worst(railOf(turnout, role).gaugeLine, stock, gauge), `No. ${turnout.request.frog} ${role}`).toBeLessThan(gaugeToleranceMm)
      }
      const wing = railOf(turnout, 'wing-straight').gaugeLine
      expect(worst(wing, stock, gauge, stations(wing, 0, beforeKnuckle(turnout)))).toBeLessThan(gaugeToleranceMm)
    }
  })

  it('keeps gauge along the diverging route', () => {
    for (const turnout of turnouts) {
      const stock = railOf(turnout, 'stock-curved').gaugeLine
      const gauge = turnout.request.gaugeMm
      for (const role of ['closure-curved', 'frog-curved'] as const) {
        expect(worst(railOf(turnout, role).gaugeLine, stock, gauge), `No. ${turnout.request.frog} ${role}`).toBeLessThan(gaugeToleranceMm)
      }
      const wing = railOf(turnout, 'wing-curved').gaugeLine
      expect(worst(wing, stock, gauge, stations(wing, 0, beforeKnuckle(turnout)))).toBeLessThan(gaugeToleranceMm)
      // In the points too, behind the stock rail's bend: there half a gauge either side of the diverging centreline.
      const route = turnout.divergingRoute
      const side = turnout.request.hand === 'left' ? gauge / 2 : -gauge / 2
      for (const station of stations(route, 3 * turnout.request.railHeadMm)) {
        const inner = pathNearest(stock, pathOffsetPoint(route, station, side)).distanceMm
        expect(inner, `No. ${turnout.request.frog} at ${station}`).toBeLessThan(gaugeToleranceMm)
      }
    }
  })

  it('has both stock rails whole: they start side by side on the straight and end opposite the frog heels', () => {
    for (const turnout of turnouts) {
      const { gaugeMm: gauge, hand } = turnout.request
      const side = hand === 'left' ? 1 : -1
      const [curved, straight] = [railOf(turnout, 'stock-curved').gaugeLine, railOf(turnout, 'stock-straight').gaugeLine]
      const first = curved.elements[0]?.start
      const second = straight.elements[0]?.start
      for (const [start, y] of [
        [first, (side * gauge) / 2],
        [second, (-side * gauge) / 2],
      ] as const)
        expect(Math.hypot((start?.x ?? 1) - turnout.extent.fromMm, (start?.y ?? 1) - y)).toBeLessThan(gaugeToleranceMm)
      expect(Math.abs(first?.headingRad ?? 1)).toBe(0)
      const end = pathOffsetPoint(turnout.divergingRoute, turnout.divergingRoute.lengthMm, (side * gauge) / 2)
      expect(Math.hypot(curved.end.x - end.x, curved.end.y - end.y)).toBeLessThan(gaugeToleranceMm)
    }
  })

  it('meets the theoretical point from both sides, at the frog angle', () => {
    for (const turnout of turnouts) {
      const { frogPoint, frogAngleRad } = turnout
      const [straight, curved] = [railOf(turnout, 'frog-straight').gaugeLine.end, railOf(turnout, 'frog-curved').gaugeLine.end]
      const drawn = Math.abs(curved.headingRad - straight.headingRad)
      expect(Math.abs(drawn - frogAngleRad)).toBeLessThan(1e-12)
      const toe = railOf(turnout, 'closure-curved').gaugeLine.end
      const u = turnout.request.toeLengthMm
      const reached = { x: toe.x + u * Math.cos(toe.headingRad), y: toe.y + u * Math.sin(toe.headingRad) }
      expect(Math.hypot(reached.x - frogPoint.x, reached.y - frogPoint.y)).toBeLessThan(gaugeToleranceMm)
      expect(Math.abs(frogPoint.x - turnout.leadMm)).toBeLessThan(gaugeToleranceMm)
    }
  })

  it('keeps flangeway and check gauge beside the point of the frog', () => {
    for (const turnout of turnouts) {
      const { flangewayMm, checkGaugeMm, gaugeMm, heelLengthMm } = turnout.request
      const { halfInch, knuckle } = distances(turnout)
      for (const [vee, wing, guard, stock] of [
        ['frog-straight', 'wing-curved', 'guard-straight', 'stock-straight'],
        ['frog-curved', 'wing-straight', 'guard-curved', 'stock-curved'],
      ] as const) {
        const veeLine = railOf(turnout, vee).gaugeLine
        const covered = stations(veeLine, 0, flangewayMm)
        expect(worst(veeLine, railOf(turnout, wing).gaugeLine, flangewayMm, covered), wing).toBeLessThan(gaugeToleranceMm)
        const guardLine = railOf(turnout, guard).gaugeLine
        expect(worst(veeLine, guardLine, checkGaugeMm, covered), guard).toBeLessThan(gaugeToleranceMm)
        // Ahead of the point, where the wheel has no rail, the guard is its only hold: to beyond the knuckle.
        const stockLine = railOf(turnout, stock).gaugeLine
        const pointAt = stockLine.lengthMm - heelLengthMm
        const guarded = stations(stockLine, pointAt - knuckle, pointAt + halfInch)
        expect(worst(stockLine, guardLine, gaugeMm - checkGaugeMm, guarded), guard).toBeLessThan(gaugeToleranceMm)
      }
    }
  })

  it('has rails that follow on each other without a step or a corner', () => {
    for (const turnout of turnouts) {
      for (const route of ['straight', 'curved'] as const) {
        const chain = (['point', 'closure', 'wing'] as const).map((part) => railOf(turnout, `${part}-${route}`).gaugeLine)
        for (const [i, next] of chain.slice(1).entries()) {
          const [end, start] = [chain[i]?.end, next.elements[0]?.start]
          expect(Math.hypot((end?.x ?? 0) - (start?.x ?? 1), (end?.y ?? 0) - (start?.y ?? 1))).toBeLessThan(gaugeToleranceMm)
          expect(Math.abs((end?.headingRad ?? 0) - (start?.headingRad ?? 1))).toBeLessThan(1e-12)
        }
      }
    }
  })

  it('gives no number that is not finite', () => {
    for (const turnout of turnouts) expect(notFinite(turnout)).toEqual([])
  })
})

/** Station on a wing rail where its bend begins. */
function beforeKnuckle(turnout: TurnoutGeometry): number {
  return turnout.request.toeLengthMm - distances(turnout).knuckle - turnout.request.railHeadMm
}

function notFinite(value: unknown, at = ''): string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [at]
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).flatMap(([key, item]) => notFinite(item, `${at}.${key}`))
}

/** Every length of a request times a factor; the ratio goes down by it, so that full size stays. */
function requestScaled(request: TurnoutRequest, factor: number): TurnoutRequest {
  const entries = Object.entries(request).map(([key, value]) => [key, key.endsWith('Mm') ? Number(value) * factor : value])
  return { ...(Object.fromEntries(entries) as TurnoutRequest), ratio: request.ratio / factor }
}

function numbers(value: unknown, key = ''): { readonly key: string; readonly value: number }[] {
  if (typeof value === 'number') return [{ key, value }]
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).flatMap(([name, item]) => numbers(item, name))
}

describe('symmetry', () => {
  it.each(['straight', 'curved'] as const)('a right-hand turnout is the left-hand one mirrored, %s points', (points) => {
    const [left, right] = [solved({ ...ho6, points }), solved({ ...ho6, points, hand: 'right' })]
    expect(right).toEqual(turnoutMirror(left))
    expect(turnoutMirror(right)).toEqual(left)
    for (const [i, rail] of left.rails.entries()) {
      const other = right.rails[i]
      expect(other?.headSide).toBe(-rail.headSide)
      for (const station of stations(rail.gaugeLine)) {
        const [a, b] = [pathPoseAt(rail.gaugeLine, station), other && pathPoseAt(other.gaugeLine, station)]
        expect(b?.x).toBeCloseTo(a.x, 9)
        expect(b?.y).toBeCloseTo(-a.y, 9)
      }
    }
  })

  it.each(['straight', 'curved'] as const)('twice the size is twice every length and the same angles, %s points', (points) => {
    const once = numbers({ ...solved({ ...ho6, points }), request: null })
    const twice = numbers({ ...solved(requestScaled({ ...ho6, points }, 2)), request: null })
    expect(twice.length).toBe(once.length)
    for (const [i, { key, value }] of once.entries()) {
      const factor = /^k[01]$/.test(key) ? 0.5 : key.endsWith('Rad') || key === 'headSide' || key === 'number' ? 1 : 2
      expect(Math.abs((twice[i]?.value ?? Number.NaN) - value * factor), key).toBeLessThan(1e-9)
    }
  })
})
