import { describe, expect, test } from 'vitest'
import { spiralSolve } from '../../../src/core/alignment/index.ts'
import { bendGaps } from '../../../src/core/checks/bends.ts'
import type { Finding } from '../../../src/core/checks/index.ts'
import { pathFromElements, pathReverse } from '../../../src/core/geom/index.ts'
import type { CurveElement } from '../../../src/core/geom/types.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Corner, Plan } from '../../../src/core/plan/index.ts'
import { onlyFinding, planFindings } from '../../support/checks.ts'
import { aCorner, aTrack, aTurnout, planAfter, planWith } from '../../support/plans.ts'

/** The car of the HO main: 85 ft at 1:87.1. */
const carMm = 297.45

const bare = { easementIn: 0, easementOut: 0 } as const
/** Half of what turns 30 degrees: T = R tan 15. */
const tangentOf = (radiusMm: number): number => radiusMm * Math.tan(Math.PI / 12)

/** Tangent distance of 30 degrees with equal easements: (R + p) tan 15 + k. */
function tangentEased(radiusMm: number, easementMm: number): number {
  const { shiftMm, kMm } = spiralSolve(easementMm, radiusMm)
  return (radiusMm + shiftMm) * Math.tan(Math.PI / 12) + kMm
}

/** Two bends of 30 degrees: left, then left (same) or right (opposite) again, the PIs `apartMm` apart. */
function twoBends(kind: 'same' | 'opposite', apartMm: number, curve: Partial<Corner>): Plan {
  const along = (from: { x: number; y: number }, degrees: number, mm: number): { x: number; y: number } => ({
    x: from.x + mm * Math.cos((degrees * Math.PI) / 180),
    y: from.y + mm * Math.sin((degrees * Math.PI) / 180),
  })
  const first = { x: 1500, y: 0 }
  const second = along(first, 30, apartMm)
  const end = along(second, kind === 'same' ? 60 : 0, 1500)
  const corners = [aCorner({ id: 'pi-1', ...first, ...curve }), aCorner({ id: 'pi-2', ...second, ...curve })]
  return planWith({ tracks: [aTrack({ corners, end: { kind: 'free', ...end } })] })
}

describe('reverse-curve', () => {
  test('measures the straight between two bare curves against the longest car', () => {
    const radius = 900
    const plan = twoBends('opposite', 2 * tangentOf(radius) + 100, { radius, ...bare })
    const finding = onlyFinding(plan, 'reverse-curve')
    expect(finding).toMatchObject({ severity: 'error', record: 'track-1', corner: 'pi-2', source: 'car:car-85ft-passenger' })
    expect(finding.measured).toBeCloseTo(100, 9)
    expect(finding.limit).toBe(carMm)
    expect(finding.problem).toMatchObject({ kind: 'curvesInARow', hands: [1, -1], easementsMm: [0, 0], turnout: null })
    // The first curve ends after its tangent of 1500 - T and an arc of R pi / 6.
    expect(finding.stationFromMm).toBeCloseTo(1500 - tangentOf(radius) + (radius * Math.PI) / 6, 9)
    expect((finding.stationToMm ?? 0) - (finding.stationFromMm ?? 0)).toBeCloseTo(100, 9)
  })

  test('is quiet where the car has its length, and speaks a hundredth under it', () => {
    const apart = 2 * tangentOf(900) + carMm
    expect(planFindings(twoBends('opposite', apart, { radius: 900, ...bare }))).toEqual([])
    expect(onlyFinding(twoBends('opposite', apart - 0.01, { radius: 900, ...bare }), 'reverse-curve').measured).toBeCloseTo(carMm - 0.01, 6)
  })

  test('is cured by the largest radius that leaves the car its straight', () => {
    // There are 270 of straight: 297.45 asks a tangent distance shorter by 27.45 at one of them, R less by 27.45 / tan 15.
    const plan = twoBends('opposite', 2 * tangentOf(1000) + 270, { radius: 1000, ...bare })
    const finding = onlyFinding(plan, 'reverse-curve')
    if (finding.cure?.kind !== 'setRadius') throw new Error('a radius')
    const exact = 1000 - (carMm - 270) / Math.tan(Math.PI / 12)
    expect(finding.cure.radiusMm).toBeLessThanOrEqual(exact)
    expect(finding.cure.radiusMm).toBeGreaterThan(exact - 0.12)
    const { track, corner, radiusMm } = finding.cure
    expect(planFindings(planAfter(plan, { kind: 'corner.set', track, corner, change: { radius: radiusMm } }))).toEqual([])
  })

  test('offers no radius under the minimum of the class', () => {
    const plan = twoBends('opposite', 2 * tangentOf(900) + 10, { radius: 900, ...bare })
    expect(onlyFinding(plan, 'reverse-curve').cure).toBeNull()
  })

  test('counts half of the easements beside the straight, and warns only where curvature passes through zero gradually', () => {
    // Easements of 200 out of the one and into the other; the PIs so far apart that they meet back to back.
    const eased = { radius: 900, easementIn: 200, easementOut: 200 } as const
    const solved = planFindings(twoBends('opposite', 2000, eased))
    expect(solved).toEqual([])
    const shortest = 2 * tangentEased(900, 200)
    const finding = onlyFinding(twoBends('opposite', shortest + 1e-4, eased), 'reverse-curve')
    expect(finding.severity).toBe('warning')
    expect(finding.cure).toBeNull()
    expect(finding.measured).toBeCloseTo(200 + 1e-4, 4)
    // With a hundred of straight between them a car of 297.45 has 300.
    expect(planFindings(twoBends('opposite', shortest + 100, eased))).toEqual([])
  })

  test('easing a curve in its place changes nothing: what its easement takes is counted', () => {
    const apart = 2 * tangentOf(900) + 250
    const bareMm = onlyFinding(twoBends('opposite', apart, { radius: 900, ...bare }), 'reverse-curve').measured ?? NaN
    const easedMm =
      onlyFinding(twoBends('opposite', apart, { radius: 900, easementIn: 60, easementOut: 60 }), 'reverse-curve').measured ?? NaN
    // But for the shift: k is a little less than L/2, and the tangent grows by p tan 15.
    expect(Math.abs(easedMm - bareMm)).toBeLessThan(0.2)
  })

  test('a class without a car asks nothing', () => {
    const plan = twoBends('opposite', 2 * tangentOf(900), { radius: 900, ...bare })
    const main = plan.lineClasses['main']
    if (main === undefined) throw new Error('the empty plan has a main')
    expect(planFindings({ ...plan, lineClasses: { ...plan.lineClasses, main: { ...main, cars: [] } } })).toEqual([])
  })

  test.each(['start', 'end'] as const)('warns of a curve of the other hand right behind a turnout at the %s', (end) => {
    // A left-hand No. 6, then a curve to the right by half of its angle: the frog's straight and 60 mm of track lie between.
    const leg = { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' } as const
    const frog = 2 * Math.atan(1 / 12)
    const bareTrack = planWith({ tracks: [aTrack()], turnouts: [aTurnout()] })
    const legPose = poseOfLeg(bareTrack)
    const radius = 900
    const pi = {
      x: legPose.x + (60 + radius * Math.tan(frog / 4)) * Math.cos(frog),
      y: legPose.y + (60 + radius * Math.tan(frog / 4)) * Math.sin(frog),
    }
    const free = { kind: 'free', x: pi.x + 1000 * Math.cos(frog / 2), y: pi.y + 1000 * Math.sin(frog / 2) } as const
    const spur = aTrack({
      id: 'track-2',
      corners: [aCorner({ ...pi, radius, ...bare })],
      ...(end === 'start' ? { start: leg, end: free } : { start: free, end: leg }),
    })
    const finding = onlyFinding(planWith({ tracks: [aTrack(), spur], turnouts: [aTurnout()] }), 'reverse-curve')
    expect(finding).toMatchObject({ severity: 'warning', record: 'track-2', corner: 'pi-1', otherRecord: 'turnout-1', cure: null })
    expect(finding.measured).toBeCloseTo(60 + legPose.straightMm, 6)
    expect(finding.problem).toMatchObject({ turnout: 'turnout-1' })
  })

  test.each(['start', 'end'] as const)('is silent of the curve that brings a siding in line again behind its turnout at the %s', (end) => {
    // Common practice, no source: the straight through the frog is the tangent between the two; frog and centres leave no longer one.
    const leg = { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' } as const
    const frog = 2 * Math.atan(1 / 12)
    const legPose = poseOfLeg(planWith({ tracks: [aTrack()], turnouts: [aTurnout()] }))
    const sidingTurned = (turnRad: number): readonly Finding[] => {
      const along = 60 + 900 * Math.tan(frog / 2)
      const pi = { x: legPose.x + along * Math.cos(frog), y: legPose.y + along * Math.sin(frog) }
      const free = { kind: 'free', x: pi.x + 900 * Math.cos(frog - turnRad), y: pi.y + 900 * Math.sin(frog - turnRad) } as const
      const siding = aTrack({
        id: 'track-2',
        corners: [aCorner({ ...pi, radius: 900, ...bare })],
        ...(end === 'start' ? { start: leg, end: free } : { start: free, end: leg }),
      })
      const plan = planWith({ tracks: [aTrack(), siding], turnouts: [aTurnout()] })
      return planFindings(plan).filter(({ rule }) => rule === 'reverse-curve')
    }
    expect(sidingTurned(frog)).toEqual([])
    expect(sidingTurned(frog * 1.01)).toHaveLength(1)
  })
})

/** Leg of the turnout of a plan, and the straight of its frog at the end of the diverging route. */
function poseOfLeg(plan: Plan): { readonly x: number; readonly y: number; readonly straightMm: number } {
  const result = pipelineCreate().derive(plan).network.turnouts.get('turnout-1')?.result
  if (result?.ok !== true) throw new Error('the turnout has its place')
  const last = result.geometry.divergingRoute.elements.at(-1)
  if (last === undefined || last.k0 !== 0) throw new Error('a straight frog')
  return { x: result.leg.x, y: result.leg.y, straightMm: last.lengthMm }
}

describe('broken-back', () => {
  test('is two curves of one hand with less straight than the car between them', () => {
    const finding = onlyFinding(twoBends('same', 2 * tangentOf(900) + 120, { radius: 900, ...bare }), 'broken-back')
    expect(finding).toMatchObject({ severity: 'warning', record: 'track-1', corner: 'pi-2', limit: carMm, cure: null })
    expect(finding.measured).toBeCloseTo(120, 9)
    expect(finding.problem).toMatchObject({ hands: [1, 1] })
  })

  test('is none with the car in between, nor where the curves meet without any straight', () => {
    expect(planFindings(twoBends('same', 2 * tangentOf(900) + carMm, { radius: 900, ...bare }))).toEqual([])
    expect(planFindings(twoBends('same', 2 * tangentOf(900), { radius: 900, ...bare }))).toEqual([])
  })

  test('is none of one curve of two radii', () => {
    const share = { kind: 'share', share: 1 } as const
    const radius = { first: { radius: 900, turn: share }, next: [{ easement: 100, radius: 1200, turn: share }] }
    const corners = [aCorner({ x: 2000, radius })]
    expect(planFindings(planWith({ tracks: [aTrack({ corners, end: { kind: 'free', x: 2000, y: 2000 } })] }))).toEqual([])
  })

  test('is looked for across the joint of a loop', () => {
    // A rectangle of 2400 by 2000 + gap with bare curves of 1000: only the sides of `gap` are too short; station zero lies on one of them.
    const loop = (zeroX: number): readonly Finding[] => {
      const corners = [
        [0, 0],
        [2120, 0],
        [2120, 2400],
        [0, 2400],
      ].map(([x = 0, y = 0], i) => aCorner({ id: `pi-${i + 1}`, x, y, radius: 1000, ...bare }))
      return planFindings(planWith({ tracks: [aTrack({ start: { kind: 'free', x: zeroX, y: 2400 }, corners, end: { kind: 'closed' } })] }))
    }
    const found = loop(0)
    expect(found.map(({ id, measured }) => [id, Math.round(1e6 * (measured ?? NaN)) / 1e6])).toEqual([
      ['broken-back:track-1:pi-1:pi-2', 120],
      ['broken-back:track-1:pi-3:pi-4', 120],
    ])
    // The loop begins on the side before its first PI; with PIs numbered from another corner that is a short side.
    const turned = (plan: Plan): Plan => {
      const track = plan.tracks['track-1']
      if (track === undefined) throw new Error('a track')
      const [first, ...rest] = track.corners
      return first === undefined ? plan : { ...plan, tracks: { 'track-1': { ...track, corners: [...rest, first] } } }
    }
    const corners = [
      [0, 0],
      [2120, 0],
      [2120, 2400],
      [0, 2400],
    ].map(([x = 0, y = 0], i) => aCorner({ id: `pi-${i + 1}`, x, y, radius: 1000, ...bare }))
    const across = planFindings(
      turned(planWith({ tracks: [aTrack({ start: { kind: 'free', x: 1030, y: 0 }, corners, end: { kind: 'closed' } })] })),
    )
    const round = across.find(({ id }) => id === 'broken-back:track-1:pi-1:pi-2')
    expect(across.length).toBe(2)
    expect(round?.measured).toBeCloseTo(120, 9)
    // Station zero is 30 along the side; the 90 behind it stand for the whole.
    expect(round?.stationFromMm).toBe(0)
    expect(round?.stationToMm).toBeCloseTo(90, 9)
    expect(round?.x).toBeCloseTo(1060, 9)
  })
})

describe('what lies between bends', () => {
  const origin = { x: 0, y: 0, headingRad: 0 }
  const gapsOf = (elements: readonly CurveElement[], isClosed = false): readonly (readonly [number, boolean])[] =>
    bendGaps({ path: pathFromElements(origin, elements), isClosed }).map(({ countedMm, isGradual }) => [countedMm, isGradual])
  const el = (lengthMm: number, k0: number, k1 = k0): CurveElement => ({ lengthMm, k0, k1 })

  test('an easement that runs through zero is half out of the one and half into the other', () => {
    // Curvature passes zero a third of the way: 100 out, 200 in.
    expect(gapsOf([el(50, 0.001), el(300, 0.001, -0.002), el(50, -0.002)])).toEqual([[150, true]])
  })

  test('bends of one hand that meet above zero are one; at zero they are two', () => {
    expect(gapsOf([el(50, 0.001), el(50, 0.002), el(80, 0.002, 0.001)])).toEqual([])
    expect(gapsOf([el(80, 0.001, 0), el(40, 0, 0.002)])).toEqual([[60, true]])
  })

  test('run through from the other end they are the same', () => {
    const elements = [el(50, 0.001), el(60, 0.001, 0), el(33, 0), el(20, -0.001), el(10, 0), el(90, 0, -0.002)]
    const path = pathFromElements(origin, elements)
    const there = bendGaps({ path, isClosed: false }).map(({ countedMm, isGradual }) => [countedMm, isGradual])
    const back = bendGaps({ path: pathReverse(path), isClosed: false }).map(({ countedMm, isGradual }) => [countedMm, isGradual])
    expect(there).toEqual([
      [63, false],
      [55, false],
    ])
    for (const [i, [mm, isGradual]] of back.toReversed().entries()) {
      expect(mm).toBeCloseTo(Number(there[i]?.[0]), 9)
      expect(isGradual).toBe(there[i]?.[1])
    }
  })

  test('a circle has none; a loop of one bend and one straight has that one', () => {
    const circle = 2000 * Math.PI
    expect(gapsOf([el(circle / 2, 0.001), el(circle / 2, 0.001)], true)).toEqual([])
    expect(gapsOf([el(30, 0), el(circle, 0.001), el(70, 0)], true).map(([mm]) => Math.round(1e6 * mm) / 1e6)).toEqual([100])
  })
})
