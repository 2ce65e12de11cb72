import { describe, expect, it } from 'vitest'
import { pathFromElements, pointDistance, segmentIntersection } from '../../../src/core/geom/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { gaugeList } from '../../../src/core/standards/index.ts'
import { pathAcross, tieDistance, turnoutSolve } from '../../../src/core/turnout/index.ts'
import type { HostLine, TurnoutGeometry, TurnoutRequest, TurnoutTie } from '../../../src/core/turnout/index.ts'
import { ho6, inch, requestOfScale } from '../../support/turnouts.ts'

const scales = gaugeList().map(({ key }) => key)
const frogs = [4, 9]
const lays = [
  { lay: 'square', spacing: 'even', board: null },
  { lay: 'fanned', spacing: 'even', board: null },
  { lay: 'square', spacing: 'close', board: null },
  { lay: 'fanned', spacing: 'close', board: null },
] as const

/** A host of one radius, positive to the left, with room on both sides of PS. */
function bentHost(radiusMm: number): HostLine {
  const before = 200
  // Through the origin along +x: half of the turn lies before it.
  const turn = before / radiusMm
  const start = { x: -radiusMm * Math.sin(turn), y: radiusMm * (1 - Math.cos(turn)), headingRad: -turn }
  return { path: pathFromElements(start, [{ lengthMm: 3000, k0: 1 / radiusMm, k1: 1 / radiusMm }]), psMm: before }
}

function built(request: TurnoutRequest): TurnoutGeometry[] {
  const result = turnoutSolve(request)
  return result.ok ? [result.turnout] : []
}

const straight = scales.flatMap((scale) =>
  frogs.flatMap((frog) =>
    lays.flatMap((ties) => built({ ...requestOfScale(scale, frog, 'straight', frog % 4 === 0 ? 'left' : 'right'), ties })),
  ),
)
const bent = [1200, -1200, 4000].flatMap((radius) => lays.flatMap((ties) => built({ ...ho6, host: bentHost(radius), ties })))
const all = [...straight, ...bent]

function corners({ from, to, widthMm }: TurnoutTie): readonly Point[] {
  const length = pointDistance(from, to)
  const [ux, uy] = [((to.x - from.x) / length) * (widthMm / 2), ((to.y - from.y) / length) * (widthMm / 2)]
  return [
    { x: from.x + uy, y: from.y - ux },
    { x: to.x + uy, y: to.y - ux },
    { x: to.x - uy, y: to.y + ux },
    { x: from.x - uy, y: from.y + ux },
  ]
}

function overlap(a: TurnoutTie, b: TurnoutTie): boolean {
  const [ca, cb] = [corners(a), corners(b)]
  if (ca.some((p) => tieDistance(b, p) < 0) || cb.some((p) => tieDistance(a, p) < 0)) return true
  return ca.some((p, i) => cb.some((q, j) => segmentIntersection(p, ca[(i + 1) % 4] ?? p, q, cb[(j + 1) % 4] ?? q) !== null))
}

describe('ties of every scale, frog and way of laying', () => {
  it('there are some to look at: none of the choices is refused', () => {
    expect(straight).toHaveLength(scales.length * frogs.length * lays.length)
    expect(bent.length).toBeGreaterThanOrEqual(8)
  })

  it('stand in the order of their stations and never overlap', () => {
    for (const { ties, request } of all) {
      for (const [i, tie] of ties.entries()) {
        const next = ties[i + 1]
        if (next === undefined) continue
        expect(next.stationMm).toBeGreaterThan(tie.stationMm)
        expect(overlap(tie, next), `1:${request.ratio} No. ${request.frog} ${JSON.stringify(request.ties)} tie ${i}`).toBe(false)
      }
    }
  })

  it('every gap lies clear of all ties and between two', () => {
    for (const { ties, gaps, request } of all) {
      for (const { at, rail } of gaps) {
        const what = `1:${request.ratio} No. ${request.frog} ${JSON.stringify(request.ties)} ${rail}`
        const clear = Math.min(...ties.map((tie) => tieDistance(tie, at)))
        expect(clear, what).toBeGreaterThan(0)
        const sides = ties.map(({ from, to }) => Math.sign((to.x - from.x) * (at.y - from.y) - (to.y - from.y) * (at.x - from.x)))
        expect(new Set(sides).size, what).toBeGreaterThan(1)
        // The ties on both sides are near: no farther than a bay.
        const two = ties
          .map((tie) => tieDistance(tie, at))
          .toSorted((a, b) => a - b)
          .slice(0, 2)
        for (const distance of two) expect(distance, what).toBeLessThan(request.tieSpacingMm)
      }
    }
  })

  it('lengths never fall short of a tie and the separation, come in 6 in steps and are not a step too long', () => {
    for (const { ties, request, routes } of all) {
      const step = (6 * inch) / request.ratio
      for (const tie of ties.filter(({ isHeadBlock }) => !isHeadBlock)) {
        expect(Math.abs(tie.lengthMm / step - Math.round(tie.lengthMm / step))).toBeLessThan(1e-9)
        expect(tie.lengthMm - request.tieLengthMm).toBeGreaterThan(-1e-9)
        if (request.ties?.lay === 'fanned') continue
        const headingRad = Math.atan2(tie.to.y - tie.from.y, tie.to.x - tie.from.x) - Math.PI / 2
        const offsets = routes.flatMap(({ centre }) => {
          const at = pathAcross(centre, { ...tie.from, headingRad: request.hand === 'left' ? headingRad : headingRad + Math.PI })
          return at !== null && at.stationMm <= centre.lengthMm ? [at.offsetMm] : []
        })
        if (offsets.length < 2) continue
        const spread = Math.max(...offsets) - Math.min(...offsets)
        expect(tie.lengthMm - request.tieLengthMm - spread).toBeGreaterThan(-1e-6)
        expect(tie.lengthMm - request.tieLengthMm - spread).toBeLessThan(step + 1e-6)
      }
    }
  })

  it('square ones stand square to the host, fanned ones turn no farther than half of the frog', () => {
    for (const { ties, request, frogAngleRad } of straight) {
      for (const { from, to } of ties) {
        const turned = Math.abs(Math.atan2(to.x - from.x, Math.abs(to.y - from.y)))
        if (request.ties?.lay === 'square') expect(turned).toBeLessThan(1e-12)
        else expect(turned).toBeLessThan(frogAngleRad / 2 + 1e-9)
      }
    }
    // Behind the frog both routes are straight: the bisector stands at just half of it.
    const fan = straight.find(({ request }) => request.ties?.lay === 'fanned')
    const last = fan?.ties.at(-1)
    expect(last && fan && Math.abs(Math.atan2(last.to.x - last.from.x, last.to.y - last.from.y))).toBeCloseTo(
      (fan?.frogAngleRad ?? 0) / 2,
      9,
    )
  })

  it('close ones are nearer under points and frog; only a tie that makes room for a gap leaves its place', () => {
    for (const { ties, request } of straight) {
      const steps = ties.slice(1).map(({ stationMm }, i) => (stationMm - (ties[i]?.stationMm ?? 0)) / request.tieSpacingMm)
      const isOf = (part: number) => (step: number) => Math.abs(step - part) < 1e-9
      const [whole, close] = [steps.filter(isOf(1)).length, steps.filter(isOf(0.85)).length]
      expect(steps.length - whole - close).toBeLessThanOrEqual(2)
      if (request.ties?.spacing === 'close') expect(close).toBeGreaterThan(4)
      else expect(close).toBe(0)
    }
  })
})
