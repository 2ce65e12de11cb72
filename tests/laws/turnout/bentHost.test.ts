import { describe, expect, it } from 'vitest'
import { pathNearest, pathOffsetPoint, pathPoseAt } from '../../../src/core/geom/index.ts'
import type { Path, Pose } from '../../../src/core/geom/index.ts'
import { frogAngle, turnoutSolve } from '../../../src/core/turnout/index.ts'
import type { HostLine, TurnoutGeometry, TurnoutProblem, TurnoutRequest } from '../../../src/core/turnout/index.ts'
import { ho6, hostOf, hostOfCurvature, railOf, requestOfScale, solved } from '../../support/turnouts.ts'

/** Gauge on a bent host, mm: easements are offset to 1e-7, the rest is rounding. */
const gaugeToleranceMm = 1e-6
const scales = ['HO', 'N', 'S', 'O'] as const
const frogs = [4, 5, 6, 8, 10, 14, 20]

/** Hosts for a turnout of this gauge: both ways, as sharp as a line of that scale is laid; and on easements. */
function hostsOf(gaugeMm: number): readonly { readonly name: string; readonly host: HostLine }[] {
  const k = 1 / (45 * gaugeMm)
  const eased = 30 * gaugeMm
  const element = (lengthMm: number, k0: number, k1: number) => ({ lengthMm, k0, k1 })
  return [
    { name: 'same hand', host: hostOf([element(110 * gaugeMm, k, k)], 15 * gaugeMm) },
    { name: 'other hand', host: hostOf([element(110 * gaugeMm, -k, -k)], 15 * gaugeMm) },
    {
      name: 'entering an easement',
      host: hostOf([element(1000, 0, 0), element(eased, 0, k), element(90 * gaugeMm, k, k)], 1000 + 2 * gaugeMm),
    },
    {
      name: 'leaving an easement',
      host: hostOf([element(15 * gaugeMm, -k, -k), element(eased, -k, 0), element(90 * gaugeMm, 0, 0)], 15 * gaugeMm + eased / 4),
    },
    {
      name: 'a reverse curve',
      host: hostOf([element(15 * gaugeMm, k, k), element(eased, k, -k), element(90 * gaugeMm, -k, -k)], 15 * gaugeMm + eased / 3),
    },
    { name: 'a curve without easement', host: hostOf([element(1000, 0, 0), element(110 * gaugeMm, k / 2, k / 2)], 1000 - gaugeMm) },
  ]
}

function stations(path: Path, fromMm = 0, toMm = path.lengthMm, steps = 12): number[] {
  return Array.from({ length: steps + 1 }, (_, i) => fromMm + ((toMm - fromMm) * i) / steps)
}

function worst(path: Path, other: Path, distanceMm: number, at: readonly number[] = stations(path)): number {
  return Math.max(...at.map((station) => Math.abs(pathNearest(other, pathPoseAt(path, station)).distanceMm - distanceMm)))
}

/** Turnouts of every scale and number on every host; a low number's room is the host's radius. */
const cases = scales.flatMap((scale) => (['straight', 'curved'] as const).map((points) => ({ scale, points })))

describe.each(cases)('on hosts that bend: $scale, $points points, No. 4 to 20', ({ scale, points }) => {
  type Case = { readonly at: string; readonly turnout: TurnoutGeometry | null; readonly problem: TurnoutProblem | null }
  const built = frogs.flatMap((frog, i): readonly Case[] => {
    const request = requestOfScale(scale, frog, points, i % 2 === 0 ? 'left' : 'right')
    return hostsOf(request.gaugeMm).map(({ name, host }) => {
      const result = turnoutSolve({ ...request, host })
      return { at: `No. ${frog}, ${name}`, turnout: result.ok ? result.turnout : null, problem: result.ok ? null : result.problem }
    })
  })
  const turnouts = built.flatMap(({ at, turnout }) => (turnout ? [{ at, turnout }] : []))

  it('is built, but for high numbers on sharp curves of their own hand, and these are told', () => {
    expect(turnouts.length).toBeGreaterThan(built.length * 0.7)
    for (const { at, problem } of built) if (problem) expect(problem.kind, at).toBe('hostTooSharp')
  })

  it('keeps gauge along the through route, which is the host', () => {
    for (const { at, turnout } of turnouts) {
      const { host, gaugeMm } = turnout.request
      const stock = railOf(turnout, 'stock-straight').gaugeLine
      for (const role of ['point-straight', 'closure-straight', 'frog-straight'] as const) {
        const rail = railOf(turnout, role).gaugeLine
        expect(worst(rail, stock, gaugeMm), `${at}: ${role}`).toBeLessThan(gaugeToleranceMm)
        if (host) expect(worst(rail, host.path, gaugeMm / 2), `${at}: ${role}`).toBeLessThan(gaugeToleranceMm)
      }
    }
  })

  it('keeps gauge along the diverging route', () => {
    for (const { at, turnout } of turnouts) {
      const { gaugeMm, hand, railHeadMm } = turnout.request
      const stock = railOf(turnout, 'stock-curved').gaugeLine
      for (const role of ['closure-curved', 'frog-curved'] as const)
        expect(worst(railOf(turnout, role).gaugeLine, stock, gaugeMm), `${at}: ${role}`).toBeLessThan(gaugeToleranceMm)
      const side = hand === 'left' ? gaugeMm / 2 : -gaugeMm / 2
      const route = turnout.divergingRoute
      for (const station of stations(route, 3 * railHeadMm)) {
        const { distanceMm } = pathNearest(stock, pathOffsetPoint(route, station, side))
        expect(distanceMm, `${at} at ${station}`).toBeLessThan(gaugeToleranceMm)
      }
    }
  })

  it('holds the frog number: the drawn lines cross at its angle, by differences of points alone', () => {
    for (const { at, turnout } of turnouts) {
      const { host, hand, gaugeMm, frog, frogDefinition } = turnout.request
      if (!host) throw new Error('no host')
      const side = hand === 'left' ? 1 : -1
      const { frogPoint, leadMm, divergingRoute } = turnout
      const hostDirection = directionAt(host.path, host.psMm + leadMm)
      const through = pathOffsetPoint(host.path, host.psMm + leadMm, (side * gaugeMm) / 2)
      const abreast = pathNearest(divergingRoute, frogPoint)
      expect(Math.hypot(through.x - frogPoint.x, through.y - frogPoint.y), at).toBeLessThan(gaugeToleranceMm)
      expect(Math.abs(abreast.distanceMm - gaugeMm / 2), at).toBeLessThan(gaugeToleranceMm)
      const turn = side * (directionAt(divergingRoute, abreast.stationMm) - hostDirection)
      expect(Math.abs(Math.atan2(Math.sin(turn), Math.cos(turn)) - frogAngle(frog, frogDefinition)), at).toBeLessThan(1e-8)
      expect(turnout.frogs).toHaveLength(1)
      // Beside an easement a line's direction is that of its pieces, a ten-millionth of a radian off.
      expect(Math.abs((turnout.frogs[0]?.angleRad ?? 0) - turnout.frogAngleRad), at).toBeLessThan(2e-7)
    }
  })

  it('has points that stand t off their stock rail at the tip and h at the heel, and stock rails that are whole', () => {
    for (const { at, turnout } of turnouts) {
      const { pointThicknessMm, heelSpreadMm, hand, gaugeMm } = turnout.request
      const point = railOf(turnout, 'point-curved').gaugeLine
      const stock = railOf(turnout, 'stock-straight').gaugeLine
      const [tip, heel] = [0, point.lengthMm].map((station) => pathNearest(stock, pathPoseAt(point, station)).distanceMm)
      expect(Math.abs((tip ?? 0) - pointThicknessMm), at).toBeLessThan(gaugeToleranceMm)
      expect(Math.abs((heel ?? 0) - heelSpreadMm), at).toBeLessThan(gaugeToleranceMm)
      const curved = railOf(turnout, 'stock-curved').gaugeLine
      expect(worst(curved, stock, gaugeMm, [0]), at).toBeLessThan(gaugeToleranceMm)
      for (const [i, element] of curved.elements.entries()) {
        const before = curved.elements[i - 1]
        if (before) expect(stepBetween(curved, element.startStationMm), at).toBeLessThan(gaugeToleranceMm)
      }
      const side = hand === 'left' ? 1 : -1
      const end = pathOffsetPoint(turnout.divergingRoute, turnout.divergingRoute.lengthMm, (side * gaugeMm) / 2)
      expect(Math.hypot(curved.end.x - end.x, curved.end.y - end.y), at).toBeLessThan(gaugeToleranceMm)
    }
  })

  it('reports the tightest place of the diverging route, by the turn over a millimetre', () => {
    for (const { at, turnout } of turnouts) {
      const { divergingRoute: route, divergingRadiusMm } = turnout
      const turns = stations(route, 1, route.lengthMm - 1, 400).map((s) =>
        Math.abs(directionAt(route, s + 0.5) - directionAt(route, s - 0.5)),
      )
      const sharpest = Math.max(...turns)
      // Turns over a millimetre at a join are means of both sides, and a peak may lie between two places; where the pieces of an
      // offset easement join, directions from points a thousandth apart are rough.
      expect(sharpest * divergingRadiusMm, at).toBeLessThan(1.005)
      expect(sharpest * divergingRadiusMm, at).toBeGreaterThan(0.97)
    }
  })
})

/** Direction of a path at a station from two points of it, rad. */
function directionAt(path: Path, stationMm: number): number {
  const reach = 1e-3
  const from = Math.max(0, Math.min(path.lengthMm - 2 * reach, stationMm - reach))
  const [a, b] = [pathPoseAt(path, from), pathPoseAt(path, from + 2 * reach)]
  return Math.atan2(b.y - a.y, b.x - a.x)
}

/** How far a path jumps or turns at a station. */
function stepBetween(path: Path, stationMm: number): number {
  const eps = 1e-9
  const [a, b] = [pathPoseAt(path, stationMm - eps), pathPoseAt(path, stationMm + eps)]
  return Math.max(Math.hypot(a.x - b.x, a.y - b.y), Math.abs(a.headingRad - b.headingRad))
}

describe('a host without curvature is a straight one', () => {
  const straight: HostLine = hostOf(
    [
      { lengthMm: 1010, k0: 0, k1: 0 },
      { lengthMm: 37, k0: 0, k1: 0 },
      { lengthMm: 5000, k0: 0, k1: 0 },
    ],
    1000,
  )
  it.each(cases)('$scale, $points points: every number within 1e-9', ({ scale, points }) => {
    for (const frog of frogs) {
      const request = requestOfScale(scale, frog, points, frog % 2 === 0 ? 'left' : 'right')
      const [closed, general] = [solved(request), solved({ ...request, host: straight })]
      const differs = differences(figures(closed), figures(general))
      expect(
        differs.filter(({ by }) => !(by < 1e-9)),
        `No. ${frog}`,
      ).toEqual([])
    }
  })
})

/** What a turnout measures, and points along everything that it draws: elements may be cut otherwise. */
function figures(turnout: TurnoutGeometry): unknown {
  const { rails, routes, legs, frogs, divergences, ties, gaps, throwHoles, extent, leadMm, overallMm, foulingMm, frogPoint } = turnout
  const drawn = [
    ...rails.map(({ role, gaugeLine }) => ({ role, path: gaugeLine })),
    ...routes.map(({ name, centre }) => ({ role: name, path: centre })),
  ]
  return {
    measures: { leadMm, overallMm, foulingMm, frogPoint, extent, throwHoles, divergences },
    closures: [turnout.closureRadiusMm, turnout.closureStraightMm, turnout.closureCurvedMm, turnout.switchAngleRad],
    frogs: frogs.map(({ at, angleRad, actualPoint, lines }) => ({
      at,
      angleRad,
      actualPoint,
      names: lines.map(({ route, side }) => route + side),
    })),
    tapers: rails.map(({ headTaper }) => headTaper),
    ties,
    gaps,
    legs,
    drawn: drawn.map(({ role, path }) => ({
      role,
      lengthMm: path.lengthMm,
      points: stations(path).map((s) => posed(pathPoseAt(path, s))),
    })),
  }
}

function posed({ x, y, headingRad }: Pose): Pose {
  return { x, y, headingRad }
}

function differences(a: unknown, b: unknown, at = ''): { readonly at: string; readonly by: number }[] {
  if (typeof a === 'number' && typeof b === 'number') return a === b ? [] : [{ at, by: Math.abs(a - b) }]
  if (typeof a !== 'object' || a === null) return a === b ? [] : [{ at, by: Infinity }]
  if (typeof b !== 'object' || b === null) return [{ at, by: Infinity }]
  return Object.entries(a).flatMap(([key, value]) => differences(value, (b as Record<string, unknown>)[key], `${at}.${key}`))
}

describe('a turnout is continuous in the curvature of its host', () => {
  it.each(['straight', 'curved'] as const)('%s points: a little more curvature moves every rail a little', (points) => {
    const little = 1e-11
    for (let i = -20; i <= 20; i++) {
      const k = i / (20 * 400)
      const [a, b] = [k, k + little].map((curvature) => solved({ ...ho6, points, host: hostOfCurvature(curvature) }))
      for (const [j, rail] of (a?.rails ?? []).entries()) {
        const other = b?.rails[j]
        if (!other) throw new Error('a rail is missing')
        const ends = [0, 1].map((share) => {
          const [p, q] = [
            pathPoseAt(rail.gaugeLine, share * rail.gaugeLine.lengthMm),
            pathPoseAt(other.gaugeLine, share * other.gaugeLine.lengthMm),
          ]
          return Math.hypot(p.x - q.x, p.y - q.y)
        })
        // The lead changes by some 1e4 to 1e5 mm for a curvature of 1 / mm.
        expect(Math.max(...ends), `${rail.role} at ${k}`).toBeLessThan(1e6 * little)
      }
    }
  })
})

describe('curves of one radius: the lead by angles about the centre', () => {
  /** Where a pose lies about the host's centre: distance, how far round, and its direction less that of the circle there. */
  const around = (
    radius: number,
    { x, y, headingRad }: Pose,
  ): { readonly far: number; readonly roundRad: number; readonly offRad: number } => {
    const [dx, dy] = [x, y - radius]
    const turn = Math.atan2(dx, -Math.sign(radius) * dy)
    return { far: Math.hypot(dx, dy), roundRad: turn, offRad: headingRad - Math.sign(radius) * turn }
  }

  // The chord between two poses on circles about one centre, an angle a apart, stands half of a off the first circle and
  // atan((R1 - R2) / (R1 + R2) / tan(a / 2)) more (towards the centre); it bisects their directions where that is the mean of what
  // they stand off their circles. For a host that curves to the other hand the centre lies on the other side.
  it.each([1500, 762, 400, 300, -1500, -762, -400, -300])('host radius %d', (radius) => {
    const turnout = solved({ ...ho6, host: hostOfCurvature(1 / radius) })
    const { gaugeMm: g, toeLengthMm: u } = ho6
    const sign = Math.sign(radius)
    const f = turnout.frogAngleRad
    const heel = around(radius, railOf(turnout, 'point-curved').gaugeLine.end)
    // The toe of a frog abreast of station 0, set out by hand.
    const toe = around(radius, { x: -u * Math.cos(f), y: g / 2 - u * Math.sin(f), headingRad: f })
    const mean = (heel.offRad + toe.offRad) / 2
    const apart = 2 * Math.atan((sign * (heel.far - toe.far)) / (heel.far + toe.far) / Math.tan(mean))
    const leadMm = Math.abs(radius) * (heel.roundRad + apart - toe.roundRad)
    expect(Math.abs(leadMm - turnout.leadMm)).toBeLessThan(1e-8)
  })
})

describe('hosts that do not do', () => {
  const problemOf = (request: TurnoutRequest): TurnoutProblem => {
    const result = turnoutSolve(request)
    if (result.ok) throw new Error('expected a problem')
    return result.problem
  }

  it.each([150, -100])('a radius of %d is too sharp for No. 6 in HO: the radius and the number that would do', (radius) => {
    const problem = problemOf({ ...ho6, host: hostOfCurvature(1 / radius) })
    if (problem.kind !== 'hostTooSharp') throw new Error(problem.kind)
    const least = (problem.leastRadiusMm ?? 0) * Math.sign(radius)
    expect(Math.abs(problem.hostRadiusMm - Math.abs(radius))).toBeLessThan(1e-6)
    expect(solved({ ...ho6, host: hostOfCurvature(1 / (least * 1.0001)) }).request.frog).toBe(6)
    expect(problemOf({ ...ho6, host: hostOfCurvature(1 / (least * 0.999)) }).kind).toBe('hostTooSharp')
    expect(problem.frogThatDoes).not.toBeNull()
  })

  it('a host that ends inside the turnout: by how much', () => {
    const whole = solved(ho6)
    const { fromMm, toMm } = whole.extent
    const cut = (aheadMm: number, behindMm: number) => hostOf([{ lengthMm: aheadMm + behindMm, k0: 0, k1: 0 }], aheadMm)
    expect(problemOf({ ...ho6, host: cut(100, toMm - 7) })).toMatchObject({ kind: 'hostTooShort', end: 'behind' })
    const ahead = problemOf({ ...ho6, host: cut(-fromMm - 2, toMm + 1) })
    expect(ahead.kind === 'hostTooShort' && Math.abs(ahead.shortByMm - 2) < 1e-6 && ahead.end).toBe('ahead')
    expect(turnoutSolve({ ...ho6, host: cut(-fromMm, toMm) }).ok).toBe(true)
  })
})

it('a right-hand turnout on a host is the left-hand one on the host mirrored', () => {
  for (const k of [1 / 700, -1 / 700]) {
    const [right, left] = [
      solved({ ...ho6, hand: 'right', host: hostOfCurvature(k) }),
      solved({ ...ho6, hand: 'left', host: hostOfCurvature(-k) }),
    ]
    expect(right.leadMm).toBeCloseTo(left.leadMm, 9)
    expect(right.leg.y).toBeCloseTo(-left.leg.y, 9)
    expect(right.divergingRadiusMm).toBeCloseTo(left.divergingRadiusMm, 6)
  }
})
