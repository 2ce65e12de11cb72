import { describe, expect, it } from 'vitest'
import { pathNearest, pathOffset, pathPoseAt } from '../../../src/core/geom/index.ts'
import { checkDimensions, checkStandard } from '../../../src/core/turnout/index.ts'
import type { TurnoutGeometry, TurnoutRequest } from '../../../src/core/turnout/index.ts'
import { wheelsets } from '../../support/wheelsets.ts'
import { walkGround } from '../../support/wheelsetGround.ts'
import { wheelsetWalk } from '../../support/wheelsetWalk.ts'
import { hostOfCurvature, requestOfScale, solved } from '../../support/turnouts.ts'

const byMm = 0.2
/** Faces lie on their offsets to this, mm. */
const faceMm = 1e-6

const widened = (request: TurnoutRequest, by = byMm): TurnoutGeometry =>
  solved({ ...request, widening: [{ belowRadiusMm: 1e6, byMm: by }] })

/** How far the stock rail of a diverging route stands outside its own gauge at stations of the route. */
function wider(turnout: TurnoutGeometry, name: 'curved' | 'other', stations: readonly number[]): readonly number[] {
  const route = turnout.routes.find((one) => one.name === name)
  const rail = turnout.rails.find(({ role }) => role === `stock-${name}`)
  if (!route || !rail) throw new Error('no such route')
  const side = (name === 'curved') === (turnout.request.hand === 'left') ? 1 : -1
  const line = pathOffset(route.centre, (side * route.gaugeMm) / 2)
  return stations.map((station) => {
    const at = pathPoseAt(route.centre, station)
    return side * pathNearest(line, pathPoseAt(rail.gaugeLine, pathNearest(rail.gaugeLine, at).stationMm)).offsetMm
  })
}

describe.each(['HO', 'N', 'O'])('a widened gauge in %s', (scale) => {
  const by = scale === 'N' ? 0.1 : byMm
  it.each([
    ['plain', {}],
    ['plain, right hand, curved points', { hand: 'right', points: 'curved' }],
    ['on a curve to its hand', { host: hostOfCurvature(1 / 3000) }],
    ['wye', { kind: { kind: 'wye', share: 0.5 } }],
    ['stub', { kind: { kind: 'stub' } }],
  ] as const)('%s: standard at heel and frog, full between two ramps', (_, asked) => {
    const points = 'points' in asked ? asked.points : 'straight'
    const hand = 'hand' in asked ? asked.hand : 'left'
    const kind = 'kind' in asked ? asked.kind : ({ kind: 'plain' } as const)
    const base = requestOfScale(scale, 6, points, hand, kind)
    const request = 'host' in asked ? { ...base, host: asked.host } : base
    const turnout = widened(request, by)
    for (const { route, widening, wideningAskedMm } of turnout.divergences) {
      if (widening === null || (route !== 'curved' && route !== 'other')) throw new Error('expected a widening')
      expect(wideningAskedMm).toBe(by)
      const { fromMm, toMm, rampMm } = widening
      const [start, widens, ...full] = wider(turnout, route, [
        fromMm,
        fromMm + rampMm / 2,
        fromMm + 1.05 * rampMm,
        (fromMm + toMm) / 2,
        toMm - 1.05 * rampMm,
      ])
      expect(Math.abs(start ?? 1)).toBeLessThan(faceMm)
      expect(widens).toBeGreaterThan(0.3 * by)
      expect(widens).toBeLessThan(0.7 * by)
      for (const mm of full) expect(Math.abs(mm - by)).toBeLessThan(faceMm)
      for (const mm of wider(turnout, route, [toMm, toMm + 1, turnout.routes.find((one) => one.name === route)?.centre.lengthMm ?? 0]))
        expect(Math.abs(mm)).toBeLessThan(faceMm)
    }
  })

  it('moves nothing but the stock rail of the diverging route', () => {
    const request = requestOfScale(scale, 6, 'straight')
    const [plain, wide] = [solved(request), widened(request, by)]
    const moved = plain.rails.flatMap(({ role, gaugeLine }, i) =>
      JSON.stringify(wide.rails[i]?.gaugeLine) === JSON.stringify(gaugeLine) ? [] : [role],
    )
    expect(moved).toEqual(['stock-curved'])
  })

  it('lets every wheelset roll both ways, and the check dimensions tell it', () => {
    for (const frog of [4, 6, 8]) {
      for (const points of ['straight', 'curved'] as const) {
        const turnout = widened(requestOfScale(scale, frog, points), by)
        for (const route of turnout.routes) {
          const ground = walkGround({ route, rails: turnout.rails, throwMm: turnout.throwMm })
          for (const wheels of wheelsets[scale as 'HO']) expect(wheelsetWalk(ground, wheels).faults, `No. ${frog}`).toEqual([])
        }
        const rows = checkDimensions({ ...turnout, measures: turnout.request }, checkStandard({ ...turnout.request, scaleKey: scale }))
        const gauge = rows.find(({ kind, route }) => kind === 'gauge' && route === 'curved')
        expect(Math.abs((gauge?.valueMm ?? 0) - turnout.request.gaugeMm - by)).toBeLessThan(faceMm)
      }
    }
  })
})

describe('a rule of the class', () => {
  const request = requestOfScale('HO', 6, 'straight')
  const { divergingRadiusMm } = solved(request)

  it('applies below its radius only, and of several the largest', () => {
    const laid = (rules: TurnoutRequest['widening'] & object): number => {
      const [first] = solved({ ...request, widening: rules }).divergences
      return first?.widening?.byMm ?? 0
    }
    expect(laid([{ belowRadiusMm: divergingRadiusMm - 1, byMm: 0.3 }])).toBe(0)
    expect(laid([{ belowRadiusMm: divergingRadiusMm + 1, byMm: 0.1 }])).toBe(0.1)
    expect(
      laid([
        { belowRadiusMm: divergingRadiusMm + 9, byMm: 0.1 },
        { belowRadiusMm: divergingRadiusMm + 1, byMm: 0.2 },
        { belowRadiusMm: divergingRadiusMm - 1, byMm: 0.3 },
      ]),
    ).toBe(0.2)
  })

  it('that asks for nothing leaves the turnout as it is', () => {
    expect(solved({ ...request, widening: [] }).rails).toEqual(solved(request).rails)
  })

  it('says when there is no inner rail to move: the host bends away', () => {
    const [first] = widened({ ...request, host: hostOfCurvature(-1 / 500) }).divergences
    expect(first?.wideningAskedMm).toBe(byMm)
    expect(first?.widening).toBeNull()
  })
})
