import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { easementByRule, joinSolve } from '../../../src/core/alignment/index.ts'
import type { JoinAlternative, JoinLimits, JoinRequest } from '../../../src/core/alignment/index.ts'
import { angleBetween, pathFromElements, poseCompose, poseMirror, poseReverse } from '../../../src/core/geom/index.ts'
import type { CurveElement, Pose } from '../../../src/core/geom/index.ts'

const SEED = 20261128

const real = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true })

const limits: fc.Arbitrary<JoinLimits> = fc.record({
  minRadiusMm: fc.constantFrom(300, 610),
  easement: fc.constantFrom<JoinLimits['easement']>(
    { kind: 'none' },
    { kind: 'length', lengthMm: 200 },
    { kind: 'shift', shiftMm: 4 },
    { kind: 'shift', shiftMm: 9.5 },
  ),
  shortestCurveMm: fc.constantFrom(0, 0, 350),
  tangentBetweenMm: fc.constantFrom(0, 150, 300),
  isBackToBackAllowed: fc.boolean(),
})

/** Ends before, beside and behind the start, in any direction; round numbers and half turns among them. */
const requests: fc.Arbitrary<JoinRequest> = fc
  .record({
    x: fc.oneof(real(-800, 3000), fc.constantFrom(0, 1000)),
    y: fc.oneof(real(-1500, 1500), fc.constantFrom(0, 1000, -300)),
    turn: fc.oneof(real(-Math.PI, Math.PI), fc.constantFrom(0, Math.PI / 2, Math.PI, -Math.PI / 3, 1e-7)),
    frame: fc.record({ x: real(-3000, 3000), y: real(-3000, 3000), headingRad: real(-Math.PI, Math.PI) }),
    limits,
  })
  .map(({ x, y, turn, frame, limits: asked }) => ({
    start: frame,
    target: { kind: 'pose', pose: poseCompose(frame, poseReverse({ x, y, headingRad: turn })) },
    limits: asked,
  }))

function linesOf(request: JoinRequest): readonly JoinAlternative[] {
  const answer = joinSolve(request)
  if (!answer.ok) throw new Error(JSON.stringify(answer.problem))
  if (answer.alternatives.every(({ meetsLimits }) => !meetsLimits)) expect(answer.stopped.length).toBeGreaterThan(0)
  else expect(answer.stopped).toEqual([])
  return answer.alternatives
}

const endOf = (request: JoinRequest): Pose => {
  if (request.target.kind !== 'pose') throw new Error('a pose was drawn')
  return request.target.pose
}

describe('every line of a join', () => {
  test('leaves the one pose and arrives against the other, without a kink and with the radius that is told', () => {
    fc.assert(
      fc.property(requests, (request) => {
        for (const { path, minRadiusMm, lengthMm, family, straightsMm } of linesOf(request)) {
          const end = poseReverse(endOf(request))
          const first = path.elements[0]
          if (first === undefined) throw new Error('a line without length')
          // A millionth of a millimetre and a thousandth of a second of arc: what closed loops keep as well.
          expect(Math.hypot(first.start.x - request.start.x, first.start.y - request.start.y)).toBeLessThan(1e-6)
          expect(Math.abs(angleBetween(first.start.headingRad, request.start.headingRad))).toBeLessThan(1e-9)
          expect(Math.hypot(path.end.x - end.x, path.end.y - end.y)).toBeLessThan(1e-6)
          expect(Math.abs(angleBetween(path.end.headingRad, end.headingRad))).toBeLessThan(1e-9)
          // Laid anew, each element where the one before it ends, it leads to the same place: no join hides a gap.
          const again = pathFromElements(first.start, path.elements)
          expect(Math.hypot(path.end.x - again.end.x, path.end.y - again.end.y)).toBeLessThan(1e-6)
          expect(again.lengthMm).toBeCloseTo(lengthMm, 6)
          const sharpest = Math.max(...path.elements.flatMap(({ k0, k1 }) => [Math.abs(k0), Math.abs(k1)]))
          expect(sharpest).toBe(minRadiusMm === null ? 0 : 1 / minRadiusMm)
          if (request.limits.easement.kind !== 'none') {
            expect(first.k0).toBe(0)
            expect(path.elements.at(-1)?.k1).toBe(0)
          }
          for (const mm of straightsMm) expect(mm).toBeGreaterThanOrEqual(0)
          if (family === 'reverse') expect(straightsMm[1] ?? 0).toBeGreaterThanOrEqual(request.limits.tangentBetweenMm)
        }
      }),
      { seed: SEED, numRuns: 300 },
    )
  })

  test('has the easements of the rule at both ends of its curves, which are no shorter than asked', () => {
    fc.assert(
      fc.property(requests, (request) => {
        for (const { corners, minRadiusMm, turnsRad } of linesOf(request)) {
          if (minRadiusMm === null) continue
          const rule = easementByRule(request.limits.easement, minRadiusMm)
          const easementMm = rule.ok ? rule.lengthMm : Number.NaN
          const eased = corners.flatMap(({ easementInMm, easementOutMm }) => [easementInMm, easementOutMm]).filter((mm) => mm > 0)
          expect(eased).toHaveLength(easementMm > 0 ? 2 * turnsRad.length : 0)
          for (const mm of eased) expect(mm).toBeCloseTo(easementMm, 6)
          for (const turn of turnsRad) expect(turn * minRadiusMm + easementMm).toBeGreaterThanOrEqual(request.limits.shortestCurveMm - 1e-6)
        }
      }),
      { seed: SEED, numRuns: 200 },
    )
  })
})

/** Radii and lengths of all lines by family and hands, for comparing requests that are one under a symmetry. */
function summary(lines: readonly JoinAlternative[], change: (hands: readonly string[]) => readonly string[]): readonly string[] {
  return lines
    .map(({ family, hands, minRadiusMm, lengthMm }) =>
      // Seven digits: the loops are found to 5e-9 of a turn.
      [family, change(hands).join(' '), minRadiusMm?.toPrecision(7) ?? 'straight', lengthMm.toPrecision(6)].join(' '),
    )
    .sort()
}

const same = (hands: readonly string[]): readonly string[] => hands
const swapped = (hands: readonly string[]): readonly string[] => hands.map((hand) => (hand === 'left' ? 'right' : 'left'))

describe('a join under a symmetry', () => {
  const bounded = (request: JoinRequest): readonly JoinAlternative[] => linesOf(request).filter(({ isRadiusFree }) => !isRadiusFree)

  test('the mirror image of a task has the mirror images as lines', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const mirrored: JoinRequest = {
          ...request,
          start: poseMirror(request.start),
          target: { kind: 'pose', pose: poseMirror(endOf(request)) },
        }
        expect(summary(bounded(mirrored), swapped)).toEqual(summary(bounded(request), same))
      }),
      { seed: SEED, numRuns: 150 },
    )
  })

  test('run through from its end it has the same lines backwards', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const backwards: JoinRequest = { ...request, start: endOf(request), target: { kind: 'pose', pose: request.start } }
        expect(summary(bounded(backwards), (hands) => swapped(hands.toReversed()))).toEqual(summary(bounded(request), same))
      }),
      { seed: SEED, numRuns: 150 },
    )
  })

  test('twice the size has twice the radii and lengths', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const double = (pose: Pose): Pose => ({ x: 2 * pose.x, y: 2 * pose.y, headingRad: pose.headingRad })
        const { easement } = request.limits
        const larger: JoinRequest = {
          start: double(request.start),
          target: { kind: 'pose', pose: double(endOf(request)) },
          limits: {
            ...request.limits,
            minRadiusMm: 2 * request.limits.minRadiusMm,
            shortestCurveMm: 2 * request.limits.shortestCurveMm,
            tangentBetweenMm: 2 * request.limits.tangentBetweenMm,
            easement:
              easement.kind === 'length'
                ? { kind: 'length', lengthMm: 2 * easement.lengthMm }
                : easement.kind === 'shift'
                  ? { kind: 'shift', shiftMm: 2 * easement.shiftMm }
                  : easement,
          },
        }
        const halved = bounded(larger).map((line) => ({
          ...line,
          minRadiusMm: line.minRadiusMm === null ? null : line.minRadiusMm / 2,
          lengthMm: line.lengthMm / 2,
        }))
        expect(summary(halved, same)).toEqual(summary(bounded(request), same))
      }),
      { seed: SEED, numRuns: 100 },
    )
  })
})

/**
 * Whether two curves of given radii and first turn lead from pose to pose with straights that run forwards, judged by laying
 * the curves one behind the other and solving for the straights two at a time.
 */
function isReached(
  request: JoinRequest,
  hands: readonly [1 | -1, 1 | -1 | 0],
  radii: readonly number[],
  turns: readonly number[],
  betweenMm: number,
): boolean {
  const elements: CurveElement[] = []
  for (const [i, hand] of hands.entries()) {
    const radiusMm = radii[i] ?? 0
    const turn = turns[i] ?? 0
    if (hand === 0) continue
    const rule = easementByRule(request.limits.easement, radiusMm)
    if (!rule.ok) return false
    const arcMm = turn * radiusMm - rule.lengthMm
    if (arcMm < 0 || turn * radiusMm + rule.lengthMm < request.limits.shortestCurveMm) return false
    const k = hand / radiusMm
    if (i === 1) elements.push({ lengthMm: betweenMm, k0: 0, k1: 0 })
    elements.push({ lengthMm: rule.lengthMm, k0: 0, k1: k }, { lengthMm: arcMm, k0: k, k1: k }, { lengthMm: rule.lengthMm, k0: k, k1: 0 })
  }
  const laid = pathFromElements(request.start, elements)
  const end = endOf(request)
  const miss = { x: end.x - laid.end.x, y: end.y - laid.end.y }
  const first = request.start.headingRad
  const middle = first + hands[0] * (turns[0] ?? 0)
  const directions = hands[1] === 0 ? [first, laid.end.headingRad] : [first, middle, laid.end.headingRad]
  return directions.some((a, i) =>
    directions.slice(i + 1).some((b) => {
      const across = Math.sin(b - a)
      if (Math.abs(across) < 1e-7) return false
      const alongA = (miss.x * Math.sin(b) - miss.y * Math.cos(b)) / across
      const alongB = (miss.y * Math.cos(a) - miss.x * Math.sin(a)) / across
      return alongA >= 0 && alongB >= 0
    }),
  )
}

describe('no wider line is found by trying', () => {
  test('whatever the radii and the turn of the first curve, up to a quarter turn beyond the ends', () => {
    let compared = 0
    fc.assert(
      fc.property(requests, (request) => {
        const best = linesOf(request)[0]
        if (best?.family === 'straight') return
        const widest = best?.minRadiusMm ?? 20
        const turn = angleBetween(request.start.headingRad, poseReverse(endOf(request)).headingRad)
        const { tangentBetweenMm, easement } = request.limits
        const backToBackMm = easement.kind === 'none' ? tangentBetweenMm : 0
        // A thousandth wider, and on up to ten times; equal radii, then one of them larger still.
        for (const factor of [1.001, 1.03, 1.2, 1.6, 2.5, 5, 10]) {
          const radius = widest * factor
          for (const hand of [1, -1] as const) {
            const whole = hand * turn > 0 ? hand * turn : hand * turn + 2 * Math.PI
            if (whole <= Math.PI) expect(isReached(request, [hand, 0], [radius], [whole], 0)).toBe(false)
            for (let i = 1; i < 60; i++) {
              const pair = (i / 60) * whole
              if (whole <= Math.PI)
                expect(isReached(request, [hand, hand], [radius, radius], [pair, whole - pair], tangentBetweenMm)).toBe(false)
              const most = Math.min(Math.max(0, hand * turn) + Math.PI / 2, Math.PI + Math.min(0, hand * turn))
              const first = (i / 60) * most
              const second = first - hand * turn
              if (second <= 0) continue
              for (const wider of i % 4 === 0 ? [1, 1.1, 1.5, 3] : [1]) {
                expect(isReached(request, [hand, hand === 1 ? -1 : 1], [radius, wider * radius], [first, second], backToBackMm)).toBe(false)
                expect(isReached(request, [hand, hand === 1 ? -1 : 1], [wider * radius, radius], [first, second], backToBackMm)).toBe(false)
                compared++
              }
            }
          }
        }
      }),
      { seed: SEED, numRuns: 60 },
    )
    expect(compared).toBeGreaterThan(10_000)
  }, 60_000)
})
