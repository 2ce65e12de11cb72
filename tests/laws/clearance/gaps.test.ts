import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { benchArea } from '../../../src/core/checks/index.ts'
import { fixedGap, sweptTrack, trackGap, trackLine, trainShapes } from '../../../src/core/clearance/index.ts'
import type { SweptTrack, TrackLine } from '../../../src/core/clearance/index.ts'
import { pathFromElements, pathPoseAt } from '../../../src/core/geom/index.ts'
import type { CurveElement, Point, Pose } from '../../../src/core/geom/index.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import type { Plan, Track } from '../../../src/core/plan/index.ts'
import { bodyOfCar, trackCentresForCars } from '../../../src/core/vehicles/index.ts'
import type { CarShape } from '../../../src/core/vehicles/index.ts'
import { aBenchwork, aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

/** 85 ft passenger car in HO, typical sizes, from memory. */
const car: CarShape = { bodyLengthMm: 297.5, bodyWidthMm: 35, truckCentresMm: 208.3, truckWheelbaseMm: 31.5 }
const options = { limitMm: 6.4, gaugeMm: 16.5, withinMm: Infinity }
/** Chords of 10 mm on both bands, on radii of 600 mm and more: 0.03 mm each. */
const chordsMm = 0.06

function swept(id: string, start: Pose, elements: readonly CurveElement[], isClosed = false, shape = car): SweptTrack {
  const path = pathFromElements(start, elements)
  const line: TrackLine = {
    track: id,
    path,
    isClosed,
    span: { fromMm: 0, toMm: path.lengthMm },
    startMm: 0,
    endMm: path.lengthMm,
    level: null,
  }
  return sweptTrack(line, [bodyOfCar(shape)], 10)
}

const straight = (lengthMm: number): CurveElement => ({ lengthMm, k0: 0, k1: 0 })
const circle = (id: string, radiusMm: number): SweptTrack =>
  swept(id, { x: 0, y: -radiusMm, headingRad: 0 }, [{ lengthMm: 2 * Math.PI * radiusMm, k0: 1 / radiusMm, k1: 1 / radiusMm }], true)

const planned = (plan: Plan, ids: readonly string[], withShape = car): readonly SweptTrack[] => {
  const network = networkCreateDeriver()(plan)
  return ids.map((id) => {
    const line = trackLine(network, id, 600)
    if (!line) throw new Error(`${id} is not solved`)
    return sweptTrack(line, [bodyOfCar(withShape)], 10)
  })
}

describe('the gap between the swept bands of two tracks', () => {
  it('on concentric curves is the clearance for which the closed formula sets the centres', () => {
    for (const clearanceMm of [1, 6.4, 20]) {
      const centres = trackCentresForCars({ innerRadiusMm: 620, innerCar: car, outerCar: car, clearanceMm })
      if (!centres.ok) throw new Error('no centres')
      const gap = trackGap(circle('in', 620), circle('out', 620 + centres.trackCentresMm), options)
      expect(gap.meetings).toEqual([])
      expect(Math.abs((gap.least?.gapMm ?? 0) - clearanceMm)).toBeLessThan(chordsMm)
    }
  })

  it('on parallel tangents is what the widths leave of the centres, below nothing too', () => {
    for (const centresMm of [60, 41, 30]) {
      const a = swept('a', { x: 0, y: 0, headingRad: 0 }, [straight(2000)])
      const b = swept('b', { x: 0, y: centresMm, headingRad: 0 }, [straight(2000)])
      const gap = trackGap(a, b, options)
      expect(gap.least?.gapMm).toBeCloseTo(centresMm - 35, 6)
      expect(gap.meetings).toEqual([])
    }
  })

  it('is the same seen from either track, and wider centres never lessen it', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 30, max: 90, noNaN: true }),
        fc.double({ min: 0, max: 40, noNaN: true }),
        fc.double({ min: 1 / 1500, max: 1 / 600, noNaN: true }),
        (centresMm, moreMm, k) => {
          const bend = [
            straight(400),
            { lengthMm: 200, k0: 0, k1: k },
            { lengthMm: 400, k0: k, k1: k },
            { lengthMm: 200, k0: k, k1: 0 },
            straight(200),
          ]
          const a = swept('a', { x: 0, y: 0, headingRad: 0 }, bend)
          const beside = (apartMm: number): SweptTrack => swept('b', { x: 0, y: apartMm, headingRad: 0 }, bend)
          const here = trackGap(a, beside(centresMm), options).least?.gapMm ?? Number.NaN
          const back = trackGap(beside(centresMm), a, options).least?.gapMm ?? Number.NaN
          expect(Math.abs(here - back)).toBeLessThan(1e-9)
          const wider = trackGap(a, beside(centresMm + moreMm), options).least?.gapMm ?? Number.NaN
          expect(wider).toBeGreaterThanOrEqual(here - chordsMm)
        },
      ),
      { numRuns: 8, seed: 31 },
    )
  })

  it('of tracks that cross is what is left beyond the crossing', () => {
    const a = swept('a', { x: 0, y: 0, headingRad: 0 }, [straight(2000)])
    const b = swept('b', { x: 1000, y: -800, headingRad: Math.PI / 2 }, [straight(1600)])
    const { meetings, least } = trackGap(a, b, options)
    expect(meetings.map(({ kind }) => kind)).toEqual(['crossing'])
    // Half the other car and the running clearance on either side of station 1000, to the next station of the band.
    expect(meetings[0]?.fromMm).toBeGreaterThan(1000 - 17.5 - 6.4 - 10)
    expect(meetings[0]?.toMm).toBeLessThan(1000 + 17.5 + 6.4 + 10)
    expect(least?.gapMm).toBeGreaterThanOrEqual(options.limitMm)
  })

  it('of a track that leaves another at a turnout counts from the fouling point', () => {
    const plan = planWith({
      tracks: [aTrack({ end: { kind: 'free', x: 3000, y: 0 } }), spur(60)],
      turnouts: [aTurnout()],
    })
    const [main, side] = planned(plan, ['track-1', 'side'])
    if (!main || !side) throw new Error('no tracks')
    const { meetings, least } = trackGap(main, side, options)
    expect(meetings.map(({ kind }) => kind)).toEqual(['joined'])
    const [meeting] = meetings
    // Points at station 500; a No. 6 has opened to 35 mm and the running clearance within a third of a metre of frog.
    expect(meeting?.fromMm).toBeLessThanOrEqual(500)
    expect(meeting?.toMm).toBeGreaterThan(500 + 6 * 35)
    expect(meeting?.toMm).toBeLessThan(1000)
    expect(least?.gapMm).toBeGreaterThanOrEqual(options.limitMm)
    expect(least?.gapMm).toBeLessThan(options.limitMm + 3)
    // Beyond the leg the side track's stations count from its own start; its route lies before it.
    expect(side.line.startMm).toBeGreaterThan(side.line.span.fromMm)
  })

  it('of a route that begins between two stations counts from there, though only the farther one fouls', () => {
    const short: CarShape = { bodyLengthMm: 100, bodyWidthMm: 30, truckCentresMm: 90, truckWheelbaseMm: 0 }
    const limits = { ...options, limitMm: 6.8 }
    const a = swept('a', { x: 0, y: 0, headingRad: 0 }, [straight(1000)], false, short)
    // The corner of its first car stands at x = 104, 6 mm from the other band, and the route leaves by 1 in 10.
    const turn = 0.1
    const b = swept('b', { x: 104 - 15 * Math.sin(turn), y: 15 + 6 + 15 * Math.cos(turn), headingRad: turn }, [straight(800)], false, short)
    const leg: SweptTrack = { ...b, line: { ...b.line, startMm: 200 } }
    // From station 100 it is 4 mm farther along, the root of 36 and 16; from 110 it is 6.6 mm.
    const { meetings, least } = trackGap(a, leg, limits)
    expect(meetings.map(({ kind }) => kind)).toEqual(['joined'])
    expect(least?.gapMm).toBeGreaterThanOrEqual(limits.limitMm)
  })

  it('tells a side track that stops parting too near', () => {
    const plan = planWith({
      tracks: [aTrack({ end: { kind: 'free', x: 3000, y: 0 } }), spur(38)],
      turnouts: [aTurnout()],
    })
    const [main, side] = planned(plan, ['track-1', 'side'])
    if (!main || !side) throw new Error('no tracks')
    const { least } = trackGap(main, side, options)
    // 38 mm less the width of a car, and where the side track curves back its car swings out.
    expect(least?.gapMm).toBeLessThan(38 - 35 + 0.01)
    expect(least?.stationMm).toBeGreaterThan(700)
  })
})

/** A track from the diverging leg that bends back to run beside the main, the centres given. */
function spur(centresMm: number): Track {
  return aTrack({
    id: 'side',
    name: 'Side',
    start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
    corners: [aCorner({ x: 500 + 6 * centresMm + 60, y: centresMm, radius: 700, easementIn: 0, easementOut: 0 })],
    end: { kind: 'free', x: 2500, y: centresMm },
  })
}

describe('the line of a track', () => {
  it('goes on into a track that its end touches, and is told only for itself', () => {
    const plan = planWith({
      tracks: [
        aTrack({ id: 'a', end: { kind: 'free', x: 1000, y: 0 } }),
        aTrack({ id: 'b', start: { kind: 'free', x: 1000, y: 0 }, end: { kind: 'free', x: 2000, y: 0 } }),
      ],
    })
    const network = networkCreateDeriver()(plan)
    const line = trackLine(network, 'b', 600)
    expect(line?.path.lengthMm).toBeCloseTo(1600, 6)
    expect(line?.startMm).toBeCloseTo(600, 6)
    expect(line && pathPoseAt(line.path, 0).x).toBeCloseTo(400, 6)
    expect(trackLine(network, 'none', 600)).toBeNull()
    const [a, b] = planned(plan, ['a', 'b'])
    if (!a || !b) throw new Error('no tracks')
    expect(trackGap(a, b, options).meetings.map(({ kind }) => kind)).toEqual(['joined'])
  })
})

const square = (x: number, y: number, size: number): readonly Point[] => [
  { x, y },
  { x: x + size, y },
  { x: x + size, y: y + size },
  { x, y: y + size },
]

describe('the gap between a swept band and what stands still', () => {
  const track = swept('a', { x: 0, y: 0, headingRad: 0 }, [straight(2000)])
  const shapes = (change: Parameters<typeof planWith>[0]) => {
    const plan = planWith(change)
    return trainShapes(plan, benchArea(plan.benchworks).rings)
  }
  const gapTo = (change: Parameters<typeof planWith>[0], band = track): number =>
    Math.min(...shapes(change).map((shape) => fixedGap(band, shape)?.gapMm ?? Infinity))

  it('beside a straight is what half a car leaves', () => {
    expect(gapTo({ obstacles: [{ id: 'post', name: 'Post', undersideMm: 0, outline: square(900, 50, 40) }] })).toBeCloseTo(50 - 17.5, 6)
    expect(gapTo({ obstacles: [{ id: 'post', name: 'Post', undersideMm: 0, outline: square(900, 10, 40) }] })).toBeCloseTo(10 - 17.5, 6)
    expect(
      gapTo({
        benchworks: [
          aBenchwork({
            outline: [
              { x: -500, y: -300 },
              { x: 2500, y: -300 },
              { x: 2500, y: 40 },
              { x: -500, y: 40 },
            ],
          }),
        ],
      }),
    ).toBeCloseTo(22.5, 6)
  })

  it('is below nothing where the track leaves the benchwork or runs through a wall', () => {
    expect(gapTo({ benchworks: [aBenchwork({ outline: square(-500, -300, 1500) })] })).toBeLessThan(-900)
    const across = {
      id: 'w',
      name: 'Wall',
      points: [
        { x: 1003, y: -500 },
        { x: 1003, y: 500 },
      ],
      thicknessMm: 100,
      isClosed: false,
    }
    // Right through the middle: to slip past it the wall would have to give way by half a car.
    expect(gapTo({ walls: [across] })).toBeLessThan(-17)
    expect(gapTo({ walls: [{ ...across, thicknessMm: 2 }] })).toBeLessThan(0)
  })

  it('to a wall is to either face of it', () => {
    const wall = (y: number, isFlipped: boolean) => {
      const points = [
        { x: -100, y },
        { x: 2100, y },
      ]
      return [{ id: 'w', name: 'Wall', points: isFlipped ? points.toReversed() : points, thicknessMm: 30, isClosed: false }]
    }
    // To the right of its direction: towards the track for the one, away from it for the other.
    expect(gapTo({ walls: wall(100, false) })).toBeCloseTo(100 - 30 - 17.5, 6)
    expect(gapTo({ walls: wall(100, true) })).toBeCloseTo(100 - 17.5, 6)
  })

  it('is never more for a wall moved nearer', () => {
    const bend = swept('b', { x: 0, y: 0, headingRad: 0 }, [
      straight(300),
      { lengthMm: 200, k0: 0, k1: 1 / 650 },
      { lengthMm: 600, k0: 1 / 650, k1: 1 / 650 },
    ])
    fc.assert(
      fc.property(fc.double({ min: -400, max: -60, noNaN: true }), fc.double({ min: 0, max: 50, noNaN: true }), (y, nearerMm) => {
        // The track bends away upwards; the wall lies below it.
        const wallAt = (at: number): number =>
          gapTo(
            {
              walls: [
                {
                  id: 'w',
                  name: 'Wall',
                  points: [
                    { x: -300, y: at },
                    { x: 1500, y: at },
                  ],
                  thicknessMm: 100,
                  isClosed: false,
                },
              ],
            },
            bend,
          )
        expect(wallAt(y + nearerMm)).toBeLessThanOrEqual(wallAt(y) + 1e-9)
      }),
      { numRuns: 20, seed: 41 },
    )
  })
})
