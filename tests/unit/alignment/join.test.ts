import { describe, expect, test } from 'vitest'
import { joinSolve } from '../../../src/core/alignment/index.ts'
import type { JoinAlternative, JoinFamily, JoinLimits, JoinRequest, JoinStop } from '../../../src/core/alignment/index.ts'
import { pathLine } from '../../../src/core/geom/index.ts'

const DEG = Math.PI / 180

const bare: JoinLimits = {
  minRadiusMm: 610,
  easement: { kind: 'none' },
  shortestCurveMm: 0,
  tangentBetweenMm: 0,
  isBackToBackAllowed: false,
}

/** From the origin, heading +x, to a point where the line arrives in a direction. */
const toward = (x: number, y: number, arrivingDeg: number, limits: JoinLimits = bare): JoinRequest => ({
  start: { x: 0, y: 0, headingRad: 0 },
  target: { kind: 'pose', pose: { x, y, headingRad: (arrivingDeg + 180) * DEG } },
  limits,
})

function solved(request: JoinRequest): { alternatives: readonly JoinAlternative[]; stopped: readonly JoinStop[] } {
  const answer = joinSolve(request)
  if (!answer.ok) throw new Error(JSON.stringify(answer.problem))
  return answer
}

function lineOf(request: JoinRequest, family: JoinFamily): JoinAlternative {
  const found = solved(request).alternatives.find((line) => line.family === family)
  if (found === undefined) throw new Error(`no ${family}`)
  return found
}

// A ten-millionth of a millimetre: a billionth of the radii, which the search promises, and rounding.
const FINE = 6

describe('bare curves worked by hand', () => {
  test('a right angle with 1000 mm before and 1200 behind the PI takes R = 1000, and what is left is straight', () => {
    const line = lineOf(toward(1000, 1200, 90), 'oneCurve')
    expect(line.minRadiusMm).toBeCloseTo(1000, FINE)
    expect(line.straightsMm[0]).toBeCloseTo(0, FINE)
    expect(line.straightsMm[1]).toBeCloseTo(200, FINE)
    expect(line.lengthMm).toBeCloseTo(500 * Math.PI + 200, FINE)
    expect(line.hands).toEqual(['left'])
    expect(line.corners).toHaveLength(1)
  })

  test('a turn of 60 degrees: R tan 30 is the shorter side', () => {
    // PI at (900, 0), 700 mm on from there.
    const line = lineOf(toward(900 + 700 * Math.cos(60 * DEG), 700 * Math.sin(60 * DEG), 60), 'oneCurve')
    expect(line.minRadiusMm).toBeCloseTo(700 / Math.tan(30 * DEG), FINE)
    expect(line.straightsMm[0]).toBeCloseTo(200, FINE)
  })

  test('a reverse between parallels: the centres are 2R apart, so x^2 + y^2 = 4 R y', () => {
    const line = lineOf(toward(600, 200, 0), 'reverse')
    expect(line.minRadiusMm).toBeCloseTo((600 ** 2 + 200 ** 2) / (4 * 200), FINE)
    expect(line.hands).toEqual(['left', 'right'])
    expect(line.breaches).toEqual([{ limit: 'radius', askedMm: 610, reachedMm: line.minRadiusMm }])
  })

  test('with a tangent t between, the centres are t and 2R apart square to each other: x^2 + y^2 = 4 R y + t^2', () => {
    const line = lineOf(toward(1500, 200, 0, { ...bare, tangentBetweenMm: 300 }), 'reverse')
    expect(line.minRadiusMm).toBeCloseTo((1500 ** 2 + 200 ** 2 - 300 ** 2) / (4 * 200), FINE)
    expect(line.straightsMm[1]).toBeCloseTo(300, FINE)
    expect(line.meetsLimits).toBe(true)
  })

  test('a turnback between parallels 1400 mm apart takes R = 700, in two PIs, and what the ends are apart is straight', () => {
    const line = lineOf(toward(-250, 1400, 180), 'oneCurve')
    expect(line.minRadiusMm).toBeCloseTo(700, FINE)
    expect(line.corners).toHaveLength(2)
    expect(line.straightsMm[1]).toBeCloseTo(250, FINE)
    expect(line.lengthMm).toBeCloseTo(700 * Math.PI + 250, FINE)
  })

  test('straight ahead in line is straight, and nothing else', () => {
    const { alternatives, stopped } = solved(toward(500, 0, 0))
    expect(alternatives).toHaveLength(1)
    expect(alternatives[0]).toMatchObject({ family: 'straight', corners: [], minRadiusMm: null, meetsLimits: true })
    expect(alternatives[0]?.lengthMm).toBeCloseTo(500, FINE)
    expect(stopped).toEqual([])
  })
})

describe('easements', () => {
  const eased: JoinLimits = { ...bare, easement: { kind: 'length', lengthMm: 300 } }

  test('a right angle: R + p + k is the side, p and k from the series of the surveying texts', () => {
    const line = lineOf(toward(1000, 1000, 90, eased), 'oneCurve')
    const radius = line.minRadiusMm ?? 0
    const p = 300 ** 2 / (24 * radius) - 300 ** 4 / (2688 * radius ** 3)
    const k = 150 - 300 ** 3 / (240 * radius ** 2)
    // The next terms of the series are some thousandths of a millimetre here.
    expect(radius + p + k).toBeCloseTo(1000, 2)
    expect(line.corners[0]).toMatchObject({ easementInMm: 300, easementOutMm: 300 })
  })

  test('a turnback 1400 mm apart gives up the shift on both sides: R = 700 - p', () => {
    const line = lineOf(toward(0, 1400, 180, { ...bare, easement: { kind: 'shift', shiftMm: 9.5 } }), 'oneCurve')
    expect(line.minRadiusMm).toBeCloseTo(690.5, FINE)
  })

  test('back to back is wider than with a tangent, and breaks a limit only where it is not allowed', () => {
    const request = (isBackToBackAllowed: boolean): JoinRequest =>
      toward(2000, 500, 0, { ...eased, tangentBetweenMm: 250, isBackToBackAllowed })
    const plain = lineOf(request(true), 'reverse')
    const meeting = lineOf(request(true), 'reverseBackToBack')
    expect(meeting.minRadiusMm ?? 0).toBeGreaterThan((plain.minRadiusMm ?? 0) + 10)
    expect(meeting.straightsMm[1]).toBeCloseTo(0, FINE)
    expect(meeting.meetsLimits).toBe(true)
    const refused = lineOf(request(false), 'reverseBackToBack')
    expect(refused.breaches).toEqual([{ limit: 'tangent', askedMm: 250, reachedMm: refused.straightsMm[1] }])
  })

  test('a curve is never shorter than asked', () => {
    const limits: JoinLimits = { ...eased, minRadiusMm: 300, shortestCurveMm: 900 }
    for (const line of solved(toward(2000, 500, 0, limits)).alternatives) {
      for (const turn of line.turnsRad) expect(turn * (line.minRadiusMm ?? 0) + 300).toBeGreaterThan(900 - 1e-6)
    }
    expect(lineOf(toward(2000, 500, 0, limits), 'reverse').minRadiusMm).not.toBeNull()
  })
})

describe('what stops a join', () => {
  const limits: JoinLimits = { ...bare, easement: { kind: 'shift', shiftMm: 9.5 }, tangentBetweenMm: 300, isBackToBackAllowed: true }

  test('the radius, with the largest that can be had', () => {
    const { alternatives, stopped } = solved(toward(500, 600, 90, limits))
    const radius = stopped.find(({ limit }) => limit === 'radius')
    expect(alternatives.every(({ meetsLimits }) => !meetsLimits)).toBe(true)
    expect(radius).toMatchObject({ askedMm: 610, nearestMm: alternatives[0]?.minRadiusMm, isBare: false })
  })

  test('each nearest value does when it is asked instead, and a little more does not', () => {
    const easement = { kind: 'length', lengthMm: 400 } as const
    const asked: JoinLimits = { ...limits, easement }
    const { stopped } = solved(toward(1500, 200, 0, asked))
    const stop = stopped.find(({ limit }) => limit === 'easement')
    if (stop?.limit !== 'easement') throw new Error('no easement stop')
    expect(stop.askedMm).toBe(400)
    expect(stop.factor).toBeCloseTo(stop.nearestMm / 400, 12)
    const meets = (lengthMm: number): boolean =>
      solved(toward(1500, 200, 0, { ...asked, easement: { kind: 'length', lengthMm } })).alternatives.some((line) => line.meetsLimits)
    expect(meets(stop.nearestMm * (1 - 1e-6))).toBe(true)
    expect(meets(stop.nearestMm * (1 + 1e-6))).toBe(false)
  })

  test('the tangent between, by how much it is too long', () => {
    const asked: JoinLimits = { ...bare, tangentBetweenMm: 400 }
    // Bare curves of 610: t^2 = x^2 + y^2 - 4 R y = 490 000 + 40 000 - 488 000.
    const { stopped } = solved(toward(700, 200, 0, asked))
    const stop = stopped.find(({ limit }) => limit === 'tangent')
    expect(stop?.limit === 'tangent' ? stop.nearestMm : 0).toBeCloseTo(Math.sqrt(42000), FINE)
  })

  test('what only bare curves reach is told as such', () => {
    const { alternatives, stopped } = solved(toward(600, 200, 0, limits))
    expect(alternatives).toEqual([])
    expect(stopped).toHaveLength(1)
    expect(stopped[0]).toMatchObject({ limit: 'radius', family: 'reverse', isBare: true })
    expect(stopped[0]?.limit === 'radius' ? stopped[0].nearestMm : 0).toBeCloseTo(500, FINE)
  })

  test('the place: on the spot, or behind', () => {
    expect(solved(toward(0, 0, 0, limits)).stopped).toEqual([
      { limit: 'place', reason: 'coincident', aheadMm: 0, leftMm: 0, turnRad: expect.closeTo(0, 12) },
    ])
    expect(solved(toward(-500, 0, 0, limits)).stopped).toMatchObject([{ limit: 'place', reason: 'behind', aheadMm: -500 }])
  })
})

describe('lines that turn back', () => {
  const limits: JoinLimits = { ...bare, tangentBetweenMm: 300, isBackToBackAllowed: true }

  test('parallels 300 mm apart: a half circle of 150, or a loop at the minimum radius that first swings out', () => {
    const { alternatives } = solved(toward(0, 300, 180, limits))
    expect(alternatives.find(({ family }) => family === 'oneCurve')?.minRadiusMm).toBeCloseTo(150, FINE)
    const loop = alternatives[0]
    expect(loop).toMatchObject({ family: 'reverse', isRadiusFree: true, meetsLimits: true })
    expect(loop?.minRadiusMm).toBeCloseTo(610, FINE)
  })

  test('the two legs of a wye: the shortest loop that fits between them', () => {
    // Legs from (0, 0) at +-15 degrees: the circle touches both at R cot 15 degrees from where they meet.
    const request: JoinRequest = {
      start: { x: 0, y: 0, headingRad: -15 * DEG },
      target: { kind: 'pose', pose: { x: 0, y: 0, headingRad: 15 * DEG } },
      // A tangent that no pair of curves has room for leaves the one curve.
      limits: { ...limits, minRadiusMm: 100, tangentBetweenMm: 5000 },
    }
    const loop = lineOf(request, 'oneCurve')
    expect(loop.isRadiusFree).toBe(true)
    expect(loop.minRadiusMm).toBeCloseTo(100, FINE)
    expect(loop.straightsMm[0]).toBeCloseTo(100 / Math.tan(15 * DEG), FINE)
    expect(loop.turnsRad[0]).toBeCloseTo(210 * DEG, 9)
  })

  test('ends that face each other head on are joined by a loop or not at all, and at once', () => {
    for (const { isRadiusFree } of solved(toward(2000, 0, 180, limits)).alternatives) expect(isRadiusFree).toBe(true)
  })
})

describe('a place along a track', () => {
  const path = pathLine({ x: 0, y: 400 }, { x: 4000, y: 400 })

  test('a leg at 10 degrees to a straight: the place that lets the curve be widest is the farthest', () => {
    // The leg looks back at the comer: it leaves the track at 170 degrees, downwards.
    const along: JoinRequest = {
      start: { x: 0, y: 0, headingRad: 0 },
      target: { kind: 'along', path, fromMm: 500, toMm: 2500, facing: 'falling', leg: { x: 150, y: 10, headingRad: 10 * DEG } },
      limits: { ...bare, tangentBetweenMm: 200 },
    }
    const best = solved(along).alternatives[0]
    if (best === undefined || best.stationMm === null) throw new Error('no line')
    // Placed there by hand it is the same; 50 mm to either side within the range it is not wider.
    const at = (stationMm: number): number => {
      const end = { x: stationMm - 150, y: 390, headingRad: -170 * DEG }
      return solved({ ...along, target: { kind: 'pose', pose: end } }).alternatives[0]?.minRadiusMm ?? 0
    }
    expect(at(best.stationMm)).toBeCloseTo(best.minRadiusMm ?? 0, 3)
    for (let station = 500; station <= 2500; station += 50) expect(at(station)).toBeLessThanOrEqual((best.minRadiusMm ?? 0) + 1e-3)
  })

  test('the place in line with the start gives the straight', () => {
    const line = solved({
      start: { x: 0, y: 0, headingRad: 10 * DEG },
      target: { kind: 'along', path, fromMm: 500, toMm: 3500, facing: 'falling', leg: { x: 0, y: 0, headingRad: 10 * DEG } },
      limits: bare,
    }).alternatives
    expect(line).toHaveLength(1)
    expect(line[0]).toMatchObject({ family: 'straight' })
    expect(line[0]?.stationMm).toBeCloseTo(400 / Math.tan(10 * DEG), 6)
  })
})

describe('requests that cannot be worked with', () => {
  test.each([
    [
      { ...toward(100, 100, 0), start: { x: Number.NaN, y: 0, headingRad: 0 } },
      { kind: 'notFinite', where: 'start x' },
    ],
    [toward(100, Infinity, 0), { kind: 'notFinite', where: 'end y' }],
    [toward(100, 100, 0, { ...bare, minRadiusMm: 0 }), { kind: 'notPositive', where: 'minimum radius', value: 0 }],
    [toward(100, 100, 0, { ...bare, tangentBetweenMm: -1 }), { kind: 'negative', where: 'tangent between', value: -1 }],
    [toward(100, 100, 0, { ...bare, easement: { kind: 'length', lengthMm: -3 } }), { kind: 'negative', where: 'easement', value: -3 }],
  ])('%#', (request, problem) => {
    expect(joinSolve(request)).toEqual({ ok: false, problem })
  })

  test('a stretch that is not on the path', () => {
    const path = pathLine({ x: 0, y: 0 }, { x: 100, y: 0 })
    const target = { kind: 'along', path, fromMm: 50, toMm: 200, facing: 'rising', leg: { x: 0, y: 0, headingRad: 0 } } as const
    expect(joinSolve({ ...toward(0, 0, 0), target })).toMatchObject({ ok: false, problem: { kind: 'outsidePath', lengthMm: 100 } })
  })
})
