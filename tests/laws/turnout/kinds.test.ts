import { describe, expect, it } from 'vitest'
import { pathMirror, pathNearest, pathPoseAt, pointDistance } from '../../../src/core/geom/index.ts'
import type { Path, Point } from '../../../src/core/geom/index.ts'
import { turnoutMirror, turnoutSolve } from '../../../src/core/turnout/index.ts'
import type {
  TurnoutGeometry,
  TurnoutKind,
  TurnoutProblem,
  TurnoutRail,
  TurnoutRailRole,
  TurnoutRequest,
} from '../../../src/core/turnout/index.ts'
import { ho6, hostOf, hostOfCurvature, railOf, requestOfScale, routesBare, solved } from '../../support/turnouts.ts'

/** Gauge, mm: rounding, and 1e-7 beside easements. */
const gaugeToleranceMm = 1e-6
const scales = ['HO', 'N', 'S', 'O'] as const
const frogs = [4, 5, 6, 8, 10, 14, 20]
const cases = scales.flatMap((scale) => (['straight', 'curved'] as const).map((points) => ({ scale, points })))

function stations(path: Path): number[] {
  return Array.from({ length: 13 }, (_, i) => (path.lengthMm * i) / 12)
}

function worst(path: Path, other: Path, distanceMm: number): number {
  return Math.max(...stations(path).map((station) => Math.abs(pathNearest(other, pathPoseAt(path, station)).distanceMm - distanceMm)))
}

function railsOf(turnout: TurnoutGeometry, role: TurnoutRailRole): readonly TurnoutRail[] {
  return turnout.rails.filter((rail) => rail.role === role)
}

function problemOf(request: TurnoutRequest): TurnoutProblem {
  const result = turnoutSolve(request)
  if (result.ok) throw new Error('expected a problem')
  return result.problem
}

function gapBetween(path: Path, stationMm: number, other: Path): number {
  return pathNearest(other, pathPoseAt(path, stationMm)).distanceMm
}

/** How far two paths lie apart at like stations. */
function apart(a: Path, b: Path): number {
  return Math.max(
    ...[0, 0.25, 0.5, 0.75, 1].map((share) => pointDistance(pathPoseAt(a, share * a.lengthMm), pathPoseAt(b, share * b.lengthMm))),
  )
}

describe.each(cases)('wyes: $scale, $points points, No. 4 to 20', ({ scale, points }) => {
  const turnouts = frogs.flatMap((frog, i) =>
    [0.5, 0.3, 0.65, 0.85].map((share) =>
      solved({ ...requestOfScale(scale, frog, points, i % 2 === 0 ? 'left' : 'right'), kind: { kind: 'wye', share } }),
    ),
  )
  const nameOf = ({ request }: TurnoutGeometry): string => `No. ${request.frog} ${JSON.stringify(request.kind)}`

  it('keeps gauge along both routes', () => {
    for (const turnout of turnouts) {
      expect(routesBare(turnout), nameOf(turnout)).toEqual([])
      for (const route of ['curved', 'other'] as const) {
        const stock = railOf(turnout, `stock-${route}`).gaugeLine
        for (const part of ['closure', 'frog'] as const)
          expect(worst(railOf(turnout, `${part}-${route}`).gaugeLine, stock, turnout.request.gaugeMm), nameOf(turnout)).toBeLessThan(
            gaugeToleranceMm,
          )
      }
    }
  })

  it('has one frog of the number asked, and legs that share its angle as asked', () => {
    for (const turnout of turnouts) {
      const { frogAngleRad, legs, request } = turnout
      if (request.kind.kind !== 'wye') throw new Error('no wye')
      const side = request.hand === 'left' ? 1 : -1
      expect(turnout.frogs.map(({ kind }) => kind)).toEqual(['vee'])
      expect(Math.abs((turnout.frogs[0]?.angleRad ?? 0) - frogAngleRad), nameOf(turnout)).toBeLessThan(1e-9)
      expect(legs.map(({ leg }) => leg)).toEqual(['diverging', 'other'])
      expect(legs[0]?.pose.headingRad).toBeCloseTo(side * request.kind.share * frogAngleRad, 12)
      expect(legs[1]?.pose.headingRad).toBeCloseTo(-side * (1 - request.kind.share) * frogAngleRad, 12)
    }
  })

  // Abreast of the heel the stock rail, G off the other point, has just begun to bend on as its closure does.
  it('stands t off at the tip and h at the heel of the point that turns more, to a thousandth', () => {
    for (const turnout of turnouts) {
      const { request } = turnout
      const isHand = request.kind.kind === 'wye' && request.kind.share >= 0.5
      const point = railOf(turnout, isHand ? 'point-curved' : 'point-other').gaugeLine
      const stock = railOf(turnout, isHand ? 'stock-other' : 'stock-curved').gaugeLine
      expect(Math.abs(gapBetween(point, 0, stock) - request.pointThicknessMm), nameOf(turnout)).toBeLessThan(gaugeToleranceMm)
      expect(Math.abs(gapBetween(point, point.lengthMm, stock) - request.heelSpreadMm), nameOf(turnout)).toBeLessThan(1e-3)
    }
  })
})

describe('a wye', () => {
  const wye = (share: number, more: Partial<TurnoutRequest> = {}) => solved({ ...ho6, kind: { kind: 'wye', share }, ...more })

  it('of equal shares is its own mirror image', () => {
    const turnout = wye(0.5)
    for (const part of ['stock', 'point', 'closure', 'wing', 'frog', 'guard'] as const) {
      const [one, other] = [railOf(turnout, `${part}-curved`).gaugeLine, railOf(turnout, `${part}-other`).gaugeLine]
      expect(apart(one, pathMirror(other)), part).toBeLessThan(1e-9)
    }
    expect(turnout.frogPoint.y).toBeCloseTo(0, 9)
  })

  it('of unequal shares to the left is that of the shares exchanged to the right', () => {
    for (const points of ['straight', 'curved'] as const) {
      const [left, right] = [wye(0.3, { points }), wye(0.7, { points, hand: 'right' })]
      expect(right.leadMm).toBeCloseTo(left.leadMm, 9)
      expect(apart(railOf(left, 'closure-curved').gaugeLine, railOf(right, 'closure-other').gaugeLine)).toBeLessThan(1e-9)
      expect(apart(railOf(left, 'stock-other').gaugeLine, railOf(right, 'stock-curved').gaugeLine)).toBeLessThan(1e-9)
    }
  })

  it('of equal shares has about twice the radius of a plain turnout of its number, and its lead [common practice, no source]', () => {
    const [plain, equal] = [solved(ho6), wye(0.5)]
    expect(equal.divergingRadiusMm / plain.divergingRadiusMm).toBeGreaterThan(1.95)
    expect(equal.divergingRadiusMm / plain.divergingRadiusMm).toBeLessThan(2.05)
    expect(Math.abs(equal.leadMm / plain.leadMm - 1)).toBeLessThan(0.01)
  })

  it('comes near a plain turnout as its share goes to the whole', () => {
    const plain = solved(ho6).leadMm
    const off = [0.7, 0.8, 0.9].map((share) => Math.abs(wye(share).leadMm - plain))
    expect(off[2]).toBeLessThan(off[1] ?? 0)
    expect(off[1]).toBeLessThan(off[0] ?? 0)
    expect(off[2]).toBeLessThan(0.5)
  })

  it('of a share of nothing, or of all, is none', () => {
    for (const share of [0, 1, 0.05, Number.NaN, -1])
      expect(problemOf({ ...ho6, kind: { kind: 'wye', share } })).toEqual({ kind: 'shareOutOfRange', share, min: 0.1, max: 0.9 })
    expect(wye(0.1).routes).toHaveLength(2)
    expect(wye(0.9).routes).toHaveLength(2)
  })

  it('asks of its host to be straight and long enough ahead, no more', () => {
    const kind: TurnoutKind = { kind: 'wye', share: 0.5 }
    const ahead = -wye(0.5).extent.fromMm
    const straight = (lengthMm: number) => hostOf([{ lengthMm, k0: 0, k1: 0 }], lengthMm)
    expect(solved({ ...ho6, kind, host: straight(ahead) }).leadMm).toBeCloseTo(wye(0.5).leadMm, 9)
    expect(problemOf({ ...ho6, kind, host: straight(ahead - 1) })).toMatchObject({ kind: 'hostTooShort', end: 'ahead' })
    const bent = hostOf(
      [
        { lengthMm: 100, k0: 0.001, k1: 0.001 },
        { lengthMm: ahead - 1, k0: 0, k1: 0 },
      ],
      100 + ahead - 1,
    )
    expect(problemOf({ ...ho6, kind, host: bent })).toEqual({ kind: 'hostNotStraight', fromMm: -ahead })
  })
})

describe.each(cases)('three-way turnouts: $scale, $points points', ({ scale, points }) => {
  const pairs = [
    [6, 6],
    [8, 6],
    [5, 8],
    [10, 10],
  ] as const
  const turnouts = pairs.map(([frog, secondFrog], i) =>
    solved({
      ...requestOfScale(scale, frog, points, i % 2 === 0 ? 'left' : 'right'),
      kind: { kind: 'three-way', secondFrog, secondAfterMm: 0 },
    }),
  )

  it('keeps gauge along all three routes', () => {
    for (const turnout of turnouts) expect(routesBare(turnout), `${turnout.request.frog}`).toEqual([])
  })

  it('has three frogs: one of each number and the one between the diverging routes', () => {
    for (const turnout of turnouts) {
      const { kind, frog } = turnout.request
      const own = (a: string, b: string): number | undefined =>
        turnout.frogs.find(({ lines }) => lines.some(({ route }) => route === a) && lines.some(({ route }) => route === b))?.number
      expect(turnout.frogs.map(({ kind: form }) => form)).toEqual(['vee', 'vee', 'vee'])
      expect(own('straight', 'curved')).toBeCloseTo(frog, 7)
      expect(own('straight', 'other')).toBeCloseTo(kind.kind === 'three-way' ? kind.secondFrog : 0, 7)
      expect(own('curved', 'other')).toBeGreaterThan(2)
    }
  })

  it('has as its diverging routes those of two plain turnouts', () => {
    for (const turnout of turnouts) {
      const { kind, hand, frog } = turnout.request
      if (kind.kind !== 'three-way') throw new Error('no three-way')
      const [first, second] = [
        solved(requestOfScale(scale, frog, points, hand)),
        solved(requestOfScale(scale, kind.secondFrog, points, hand === 'left' ? 'right' : 'left')),
      ]
      const other = turnout.routes.find(({ name }) => name === 'other')
      expect(apart(turnout.divergingRoute, first.divergingRoute)).toBeLessThan(1e-9)
      // The second has the points of the first: their length is the request's. Lead and radius then differ from the standard's own.
      if (frog === kind.secondFrog && other) expect(apart(other.centre, second.divergingRoute)).toBeLessThan(1e-9)
    }
  })
})

/** Ahead of its points the second's stock rail is set out, as that of any turnout. */
function bareButSetOut(turnout: TurnoutGeometry, lapMm: number): string[] {
  return routesBare(turnout).filter((place) => {
    const aheadMm = lapMm - Number(/ at ([\d.]+) /.exec(place)?.[1])
    return !(place.startsWith('straight') && aheadMm > 0 && aheadMm < 6 * ho6.railHeadMm)
  })
}

describe('a three-way turnout', () => {
  const lapped = (secondAfterMm: number, more: Partial<TurnoutRequest> = {}): TurnoutRequest => ({
    ...ho6,
    kind: { kind: 'three-way', secondFrog: 6, secondAfterMm },
    ...more,
  })

  it('of two like switches at one place is its own mirror image', () => {
    const turnout = solved(lapped(0))
    const crotch = turnout.frogs.find(({ lines }) => lines.every(({ route }) => route !== 'straight'))
    expect(crotch?.at.y).toBeCloseTo(0, 9)
    for (const part of ['stock', 'point'] as const)
      expect(apart(railOf(turnout, `${part}-curved`).gaugeLine, pathMirror(railOf(turnout, `${part}-other`).gaugeLine))).toBeLessThan(1e-9)
  })

  it('lapped has its second switch so much farther on, a plain turnout of the other hand', () => {
    const turnout = solved(lapped(60))
    const plain = solved({ ...ho6, hand: 'right' })
    const other = turnout.routes.find(({ name }) => name === 'other')
    const moved = (path: Path): Point[] => stations(path).map((station) => pathPoseAt(path, station))
    const [a, b] = [other ? moved(other.centre) : [], moved(plain.divergingRoute)]
    for (const [i, p] of a.entries()) expect(pointDistance(p, { x: (b[i]?.x ?? 0) + 60, y: b[i]?.y ?? 0 })).toBeLessThan(1e-9)
    expect(bareButSetOut(turnout, 60)).toEqual([])
    expect(turnout.divergences.map(({ route }) => route)).toEqual(['curved', 'other'])
  })

  it('so lapped that points or frogs collide says between which laps there is room, and there is', () => {
    const [blades, frogsMeet] = [problemOf(lapped(10)), problemOf(lapped(130))]
    if (blades.kind !== 'noRoomForSecond' || frogsMeet.kind !== 'noRoomForSecond') throw new Error('another problem')
    expect([blades.what, frogsMeet.what]).toEqual(['points', 'frogs'])
    const { leastMm, mostMm } = blades
    expect(frogsMeet.mostMm).toBe(mostMm)
    for (const lap of [(leastMm ?? 0) + 1e-6, (mostMm ?? 0) - 1e-6]) expect(turnoutSolve(lapped(lap)).ok, `${lap}`).toBe(true)
    for (const lap of [(leastMm ?? 0) - 0.01, (mostMm ?? 0) + 0.01, -5, Number.NaN])
      expect(problemOf(lapped(lap)).kind, `${lap}`).toBe('noRoomForSecond')
    // Behind the first points' heel, and ahead of the first frog.
    expect(leastMm).toBeGreaterThan(ho6.pointLengthMm * 0.99)
    expect(mostMm).toBeLessThan(solved(ho6).leadMm)
  })

  it('of a second number that is none says so', () => {
    expect(problemOf({ ...ho6, kind: { kind: 'three-way', secondFrog: 1, secondAfterMm: 0 } })).toMatchObject({
      kind: 'frogOutOfRange',
      frog: 1,
    })
  })

  it('keeps gauge on a host that bends', () => {
    for (const k of [1 / 1500, -1 / 1500])
      for (const lap of [0, 48]) {
        const turnout = solved(lapped(lap, { host: hostOfCurvature(k) }))
        expect(bareButSetOut(turnout, lap)).toEqual([])
        expect(turnout.frogs).toHaveLength(3)
      }
  })
})

describe.each(cases)('stub turnouts: $scale, $points, No. 4 to 20', ({ scale, points }) => {
  const turnouts = frogs.map((frog, i) => {
    const hand = i % 2 === 0 ? 'left' : 'right'
    return solved({ ...requestOfScale(scale, frog, points, hand, { kind: 'stub' }) })
  })

  it('keeps gauge along both routes behind the moved rails', () => {
    for (const turnout of turnouts) expect(routesBare(turnout), `No. ${turnout.request.frog}`).toEqual([])
  })

  it('moves both host rails over by the throw, and the fixed rails go on from where they lie', () => {
    for (const turnout of turnouts) {
      const { pointLengthMm, heelSpreadMm, hand, gaugeMm } = turnout.request
      expect(turnout.throwMm).toBe(heelSpreadMm)
      const moved = railsOf(turnout, 'point-straight')
      expect(moved).toHaveLength(2)
      for (const rail of moved) expect(rail.gaugeLine.lengthMm).toBeCloseTo(pointLengthMm, 9)
      const side = hand === 'left' ? 1 : -1
      const outer = railOf(turnout, 'closure-curved').gaugeLine
      const start = pathPoseAt(outer, 0)
      const straightRail = moved.find(({ headSide }) => headSide === -side)
      if (!straightRail) throw new Error('no moved rail')
      expect(Math.abs(pathNearest(straightRail.gaugeLine, start).distanceMm - heelSpreadMm)).toBeLessThan(heelSpreadMm * 0.01)
      expect(worst(outer, railOf(turnout, 'stock-curved').gaugeLine, gaugeMm)).toBeLessThan(gaugeToleranceMm)
    }
  })

  it('moves rails as long as the throw and the curve ask: one radius from where they are held to the toe', () => {
    for (const turnout of turnouts.filter(({ request }) => request.points === 'curved')) {
      const { request, closureGaugeLineRadiusMm: radius } = turnout
      // throw = R (1 - cos a), length = R a: about sqrt(2 R throw).
      const turn = request.pointLengthMm / radius
      expect(Math.abs(radius * (1 - Math.cos(turn)) - request.heelSpreadMm)).toBeLessThan(1e-6)
      expect(request.pointLengthMm / Math.sqrt(2 * radius * request.heelSpreadMm)).toBeCloseTo(1, 2)
    }
  })
})

it('a stub turnout on a host that bends keeps gauge', () => {
  for (const k of [1 / 800, -1 / 800]) expect(routesBare(solved({ ...ho6, kind: { kind: 'stub' }, host: hostOfCurvature(k) }))).toEqual([])
})

const kinds: readonly TurnoutKind[] = [
  { kind: 'wye', share: 0.4 },
  { kind: 'three-way', secondFrog: 7, secondAfterMm: 0 },
  { kind: 'three-way', secondFrog: 6, secondAfterMm: 50 },
  { kind: 'stub' },
]

describe.each(kinds)('of every kind: %j', (kind) => {
  it('a right-hand turnout is the left-hand one mirrored', () => {
    const [left, right] = [solved({ ...ho6, kind }), solved({ ...ho6, kind, hand: 'right' })]
    expect(right).toEqual(turnoutMirror(left))
    expect(turnoutMirror(right)).toEqual(left)
  })

  it('a host without curvature is a straight one', () => {
    if (kind.kind === 'wye') return
    const [closed, general] = [solved({ ...ho6, kind }), solved({ ...ho6, kind, host: hostOfCurvature(0) })]
    expect(general.rails.map(({ role }) => role)).toEqual(closed.rails.map(({ role }) => role))
    for (const [i, rail] of closed.rails.entries()) {
      const other = general.rails[i]
      if (other) expect(apart(rail.gaugeLine, other.gaugeLine), rail.role).toBeLessThan(1e-9)
    }
    for (const [i, { leadMm, radiusMm }] of closed.divergences.entries()) {
      expect(Math.abs(leadMm - (general.divergences[i]?.leadMm ?? 0))).toBeLessThan(1e-9)
      expect(Math.abs(radiusMm - (general.divergences[i]?.radiusMm ?? 0))).toBeLessThan(1e-6)
    }
  })

  it('twice the size is twice every rail', () => {
    const twice = Object.fromEntries(Object.entries(ho6).map(([key, value]) => [key, key.endsWith('Mm') ? Number(value) * 2 : value]))
    const large: TurnoutKind = kind.kind === 'three-way' ? { ...kind, secondAfterMm: 2 * kind.secondAfterMm } : kind
    const [once, double] = [solved({ ...ho6, kind }), solved({ ...ho6, ...twice, ratio: ho6.ratio / 2, kind: large })]
    for (const [i, rail] of once.rails.entries())
      expect(Math.abs((double.rails[i]?.gaugeLine.lengthMm ?? 0) - 2 * rail.gaugeLine.lengthMm), rail.role).toBeLessThan(1e-7)
    expect(double.ties).toHaveLength(once.ties.length)
  })
})
