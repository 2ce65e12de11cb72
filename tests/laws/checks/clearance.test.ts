import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { pathPoseAt } from '../../../src/core/geom/index.ts'
import type { StationPose } from '../../../src/core/geom/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { swing, trackCentresForCars } from '../../../src/core/vehicles/index.ts'
import type { Plan, Vehicle } from '../../../src/core/plan/index.ts'
import { planFindings } from '../../support/checks.ts'
import { aBenchwork, aCorner, aTrack, planWith } from '../../support/plans.ts'

const SEED = 20261128

const carOf = (id: string): Vehicle => {
  const car = planWith().vehicles[id]
  if (car === undefined) throw new Error(`no car ${id}`)
  return car
}

describe('concentric curves', () => {
  /** Two right-angled bare curves about one centre, the outer one wider by the centres; their tangents as far apart. */
  const concentric = (innerRadiusMm: number, centresMm: number, isOuterFirst: boolean): Plan => {
    const bent = (id: string, lineClass: string, outMm: number): ReturnType<typeof aTrack> =>
      aTrack({
        id,
        lineClass,
        start: { kind: 'free', x: -2500, y: -outMm },
        corners: [aCorner({ x: outMm, y: -outMm, radius: innerRadiusMm + outMm, easementIn: 0, easementOut: 0 })],
        end: { kind: 'free', x: outMm, y: 2500 },
      })
    return planWith({
      tracks: [bent('track-1', 'yard', isOuterFirst ? centresMm : 0), bent('track-2', 'main', isOuterFirst ? 0 : centresMm)],
    })
  }

  test('are found too near just where the formula for two cars says so', () => {
    const passenger = carOf('car-85ft-passenger')
    const box = carOf('car-50ft-box')
    fc.assert(
      fc.property(fc.integer({ min: 815, max: 2000 }), fc.boolean(), (innerRadiusMm, isOuterFirst) => {
        // track-1 is the yard's and runs 50 ft boxcars, track-2 the main's with 85 ft cars.
        const [innerCar, outerCar] = isOuterFirst ? [passenger, box] : [box, passenger]
        const needed = trackCentresForCars({ innerRadiusMm, innerCar, outerCar, clearanceMm: 6.416 })
        if (!needed.ok) throw new Error(needed.problem.kind)
        expect(planFindings(concentric(innerRadiusMm, needed.trackCentresMm + 0.01, isOuterFirst))).toEqual([])
        const under = planFindings(concentric(innerRadiusMm, needed.trackCentresMm - 0.01, isOuterFirst))
        expect(under.map(({ rule }) => rule)).toEqual(['track-clearance'])
        // On a curve a hundredth closer the outer radius and so its swing is a little different: under 1e-3.
        expect(Math.abs((under[0]?.limit ?? NaN) - needed.trackCentresMm)).toBeLessThan(1e-3)
        expect(Math.abs((under[0]?.measured ?? NaN) - (needed.trackCentresMm - 0.01))).toBeLessThan(1e-6)
      }),
      { seed: SEED, numRuns: 15 },
    )
  })
})

describe('any two tracks', () => {
  const coordinate = fc.integer({ min: -1500, max: 1500 })
  const lines = fc.record({
    from: fc.tuple(coordinate, coordinate),
    by: fc.tuple(coordinate, coordinate),
    to: fc.tuple(coordinate, coordinate),
  })
  const stepMm = 5

  /** Points of a solved line every few millimetres, with direction and curvature. */
  const walk = (plan: Plan, id: string): readonly StationPose[] => {
    const alignment = pipelineCreate().derive(plan).network.tracks.get(id)?.alignment
    if (alignment?.ok !== true) return []
    const { path } = alignment
    const count = Math.ceil(path.lengthMm / stepMm)
    return Array.from({ length: count + 1 }, (_, i) => pathPoseAt(path, (path.lengthMm * i) / count))
  }

  /** What a boxcar of the yard asks to one side, from the circle relations. */
  const asks = (curvature: number, side: number): number => {
    const car = carOf('car-50ft-box')
    const result = curvature === 0 ? null : swing(1 / Math.abs(curvature), car)
    const swung = result?.ok === true ? (curvature * side > 0 ? result.swing.insideMm : result.swing.outsideMm) : 0
    return car.bodyWidthMm / 2 + 6.416 / 2 + swung
  }
  const sideOf = (a: StationPose, b: StationPose): number =>
    Math.sign(Math.cos(a.headingRad) * (b.y - a.y) - Math.sin(a.headingRad) * (b.x - a.x))

  test('are too near, and where, as comparing every point with every point says', () => {
    let near = 0
    let clear = 0
    fc.assert(
      fc.property(lines, lines, (first, second) => {
        const bent = (id: string, { from, by, to }: typeof first): ReturnType<typeof aTrack> =>
          aTrack({
            id,
            lineClass: 'yard',
            start: { kind: 'free', x: from[0], y: from[1] },
            corners: [aCorner({ x: by[0], y: by[1], radius: 620, easementIn: 0, easementOut: 0 })],
            end: { kind: 'free', x: to[0], y: to[1] },
          })
        const plan = planWith({ tracks: [bent('track-1', first), bent('track-2', second)] })
        const a = walk(plan, 'track-1')
        const b = walk(plan, 'track-2')
        fc.pre(a.length > 0 && b.length > 0)
        const { crossings } = pipelineCreate().derive(plan).network
        const findings = planFindings(plan).filter(({ rule, otherRecord }) => rule === 'track-clearance' && otherRecord === 'track-2')
        // About a crossing tracks are as near as they like.
        const isTold = (s: number, slackMm: number): boolean =>
          crossings.size > 0 ||
          findings.some(
            ({ stationFromMm, stationToMm, problem }) =>
              problem !== null || (s >= (stationFromMm ?? NaN) - slackMm && s <= (stationToMm ?? NaN) + slackMm),
          )
        let isNear = false
        for (const here of a) {
          let there = b[0]
          let distance = Infinity
          for (const one of b) {
            const d = (one.x - here.x) ** 2 + (one.y - here.y) ** 2
            if (d < distance) [there, distance] = [one, d]
          }
          if (there === undefined) continue
          const slack = Math.sqrt(distance) - asks(here.curvature, sideOf(here, there)) - asks(there.curvature, sideOf(there, here))
          // Steps of 5 mm lengthen a distance of 40 by up to 0.08, and next to the end of an arc the swing differs by millimetres.
          if (slack < -4) expect(isTold(here.stationMm, stepMm)).toBe(true)
          if (slack < -4) isNear = true
        }
        if (isNear) near++
        else if (findings.length === 0 && crossings.size === 0) clear++
        // Nothing is told that the walk does not see: some point must be nearer than both ask with all their swing.
        if (findings.length > 0) {
          const least = Math.min(...a.map((here) => Math.min(...b.map((one) => Math.hypot(one.x - here.x, one.y - here.y)))))
          expect(least).toBeLessThan(42.5 + 2 * 4.2)
        }
      }),
      { seed: SEED + 2, numRuns: 30 },
    )
    expect(near).toBeGreaterThan(5)
    expect(clear).toBeGreaterThan(2)
  })
})

describe('stretches off the edge', () => {
  test('are those that a dense walk along the line finds', () => {
    const coordinate = fc.integer({ min: -200, max: 2600 })
    const low = fc.integer({ min: -100, max: 700 })
    fc.assert(
      fc.property(coordinate, low, coordinate, low, fc.integer({ min: 0, max: 80 }), (x0, y0, x1, y1, marginMm) => {
        fc.pre(Math.hypot(x1 - x0, y1 - y0) > 50)
        const plan = planWith({
          railway: { edgeMarginMm: marginMm },
          benchworks: [
            aBenchwork({
              holes: [
                [
                  { x: 800, y: 200 },
                  { x: 1300, y: 250 },
                  { x: 1000, y: 420 },
                ],
              ],
            }),
          ],
          tracks: [aTrack({ start: { kind: 'free', x: x0, y: y0 }, end: { kind: 'free', x: x1, y: y1 } })],
        })
        const findings = planFindings(plan).filter(({ rule }) => rule === 'benchwork-edge')
        const lengthMm = Math.hypot(x1 - x0, y1 - y0)
        const inFinding = (s: number, slackMm: number): boolean =>
          findings.some(({ stationFromMm, stationToMm }) => s >= (stationFromMm ?? NaN) - slackMm && s <= (stationToMm ?? NaN) + slackMm)
        const steps = 300
        for (let i = 0; i <= steps; i++) {
          const s = (i / steps) * lengthMm
          const point = { x: x0 + ((x1 - x0) * i) / steps, y: y0 + ((y1 - y0) * i) / steps }
          const distance = tableDistance(point)
          // Within a hundredth of the limit either answer is right: the rule lets the union's rounding pass.
          if (distance < marginMm - 0.01) expect(inFinding(s, 0.01)).toBe(true)
          else if (distance > marginMm + 0.01) expect(inFinding(s, -0.01)).toBe(false)
        }
      }),
      { seed: SEED + 1, numRuns: 80 },
    )
  })
})

/** Signed distance to the edge of the table with its hole, by half planes and segments: not the core's way. */
function tableDistance({ x, y }: { readonly x: number; readonly y: number }): number {
  const hole = [
    [800, 200],
    [1300, 250],
    [1000, 420],
  ] as const
  const segment = (a: readonly [number, number], b: readonly [number, number]): number => {
    const t = Math.min(
      1,
      Math.max(0, ((x - a[0]) * (b[0] - a[0]) + (y - a[1]) * (b[1] - a[1])) / ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2)),
    )
    return Math.hypot(x - a[0] - t * (b[0] - a[0]), y - a[1] - t * (b[1] - a[1]))
  }
  const toHole = Math.min(segment(hole[0], hole[1]), segment(hole[1], hole[2]), segment(hole[2], hole[0]))
  const left = (a: readonly [number, number], b: readonly [number, number]): boolean =>
    (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]) > 0
  const isInHole = left(hole[0], hole[1]) && left(hole[1], hole[2]) && left(hole[2], hole[0])
  const toTable = Math.min(
    segment([0, 0], [2400, 0]),
    segment([2400, 0], [2400, 600]),
    segment([2400, 600], [0, 600]),
    segment([0, 600], [0, 0]),
  )
  const isOnTable = x > 0 && x < 2400 && y > 0 && y < 600 && !isInHole
  return isOnTable ? Math.min(toHole, toTable) : -Math.min(toHole, toTable)
}
