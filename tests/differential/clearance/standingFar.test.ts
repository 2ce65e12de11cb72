import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bandKept, bandKeepCreate, classCars, classVehicles, standingCreate, trackGap } from '../../../src/core/clearance/index.ts'
import type { SweptTrack } from '../../../src/core/clearance/index.ts'
import type { Network } from '../../../src/core/network/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { aCar, aCorner, aTrack, planWith } from '../../support/plans.ts'

const stepMm = 10

/** Bands of all tracks, none left out for being far. */
function bandsOf(network: Network): ReadonlyMap<string, SweptTrack> {
  const keep = bandKeepCreate()
  const bodiesOf = new Map(
    [...network.tracks.values()].map(({ lineClass }) => [lineClass.id, classCars(classVehicles(lineClass, network)).bodies]),
  )
  return new Map(
    [...network.tracks].flatMap(([id, { lineClass }]) => {
      const work = bandKept(network, id, bodiesOf.get(lineClass.id) ?? [], stepMm, keep)
      let step = work.next()
      while (step.done !== true) step = work.next()
      return step.value === null ? [] : [[id, step.value] as const]
    }),
  )
}

/** Two tracks of which one goes on where the other ends. */
const isOneLine = (track: string, other: string): boolean =>
  track.replace('line', 'more') === other || other.replace('line', 'more') === track

/** Stretches of a track that others take, by whole bands of every pair: in order, with one record each. */
function takenPlainly(network: Network, track: string): readonly { readonly fromMm: number; readonly toMm: number; readonly by: string }[] {
  const bands = bandsOf(network)
  const [mine, railway] = [bands.get(track), network.tracks.get(track)?.railway]
  if (mine === undefined || railway === undefined) return []
  const { runningClearanceMm: limitMm, gaugeMm } = railway
  const lengthMm = mine.line.endMm - mine.line.startMm
  return [...bands]
    .filter(([other]) => other !== track)
    .flatMap(([by, theirs]) =>
      trackGap(mine, theirs, { limitMm, gaugeMm, withinMm: limitMm })
        // Where one goes on into the other, cars of one line stand over the joint.
        .meetings.filter(({ fromMm, toMm }) => !(isOneLine(track, by) && (fromMm <= stepMm || toMm >= lengthMm - stepMm)))
        .map(({ fromMm, toMm }) => ({ fromMm: fromMm - stepMm, toMm: toMm + stepMm, by })),
    )
}

/** A straight line anywhere about the bend, over it as a rule; cars run on from its end into one that goes on there, if one does. */
const line = fc.record({
  x: fc.integer({ min: -600, max: 2300 }),
  y: fc.integer({ min: -900, max: 900 }),
  turnRad: fc.double({ min: -1.6, max: 1.6, noNaN: true }),
  runMm: fc.integer({ min: 300, max: 1500 }),
  moreMm: fc.constantFrom(0, 400, 900),
})

describe('where cars can stand', () => {
  it('is the same when no track is left out for being far', () => {
    let [met, free] = [0, 0]
    fc.assert(
      fc.property(fc.array(line, { minLength: 1, maxLength: 4 }), fc.integer({ min: 60, max: 420 }), (others, lengthMm) => {
        const car = aCar({ overCouplersMm: lengthMm + 10 }, { lengthMm, truckCentresMm: 0.7 * lengthMm })
        const bend = aTrack({
          corners: [aCorner({ x: 1200, y: 0, radius: 500, easementIn: 0, easementOut: 0 })],
          end: { kind: 'free', x: 2000, y: 700 },
        })
        const beside = others.flatMap(({ x, y, turnRad, runMm, moreMm }, i) => {
          const at = (mm: number) => ({ kind: 'free' as const, x: x + mm * Math.cos(turnRad), y: y + mm * Math.sin(turnRad) })
          const first = aTrack({ id: `line-${i}`, start: at(0), end: at(runMm) })
          return moreMm === 0 ? [first] : [first, aTrack({ id: `more-${i}`, start: at(runMm), end: at(runMm + moreMm) })]
        })
        const plan = planWith({ vehicles: [car], tracks: [bend, ...beside] })
        const lineClasses = Object.fromEntries(Object.entries(plan.lineClasses).map(([id, one]) => [id, { ...one, cars: [car.id] }]))
        const { network } = pipelineCreate().derive({ ...plan, lineClasses })
        const roomsOf = standingCreate(network)
        for (const [id, { alignment }] of network.tracks) {
          if (!alignment.ok) continue
          const taken = takenPlainly(network, id)
          const rooms = roomsOf(id)
          for (const { fromMm, toMm } of rooms) {
            // Whoever takes a part of a room was overlooked.
            expect(taken.filter((one) => one.fromMm < toMm - 1e-9 && one.toMm > fromMm + 1e-9)).toEqual([])
          }
          const { lengthMm: trackMm } = alignment.path
          const standsAt = (mm: number): boolean => rooms.some(({ fromMm, toMm }) => fromMm <= mm && mm <= toMm)
          const isTaken = (mm: number, byMm: number): boolean => taken.some((one) => one.fromMm - byMm < mm && mm < one.toMm + byMm)
          // A room shorter than a millimetre is told by neither.
          for (let mm = 1; mm < trackMm - 1; mm += 37) if (!isTaken(mm, 1)) expect(standsAt(mm)).toBe(true)
          if (taken.length > 0) met++
          else free++
        }
      }),
      { seed: 20261127, numRuns: 80 },
    )
    expect(met).toBeGreaterThan(40)
    expect(free).toBeGreaterThan(40)
  })
})
