import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { pathPoseAt, pointDistance } from '../../../src/core/geom/index.ts'
import { networkCreateDeriver, routeFrom, routePlaceAt } from '../../../src/core/network/index.ts'
import type { Lined, Route } from '../../../src/core/network/index.ts'
import { planRead } from '../../../src/formats/planjson.ts'

const read = planRead(readFileSync('public/demo/fennimore.json', 'utf8'))
if (!read.ok) throw new Error('the demo does not open')
const network = networkCreateDeriver()(read.plan)
const solved = [...network.tracks.values()].filter(({ alignment }) => alignment.ok)
const reach = { aheadMm: 9000, behindMm: 9000 }

const lengthOf = (track: string): number => {
  const alignment = network.tracks.get(track)?.alignment
  return alignment?.ok === true ? alignment.path.lengthMm : 0
}

const places = fc
  .record({ index: fc.nat(solved.length - 1), share: fc.double({ min: 0.01, max: 0.99, noNaN: true }), isRising: fc.boolean() })
  .map(({ index, share, isRising }) => {
    const track = solved[index]?.track.id ?? ''
    return { track, stationMm: share * lengthOf(track), isRising }
  })
const linings = fc
  .array(fc.constantFrom<Lined>('straight', 'diverging'), { minLength: network.turnouts.size, maxLength: network.turnouts.size })
  .map((lined) => new Map([...network.turnouts.keys()].map((id, i) => [id, lined[i] ?? 'straight'] as const)))

const routeOf = (...from: Parameters<typeof routeFrom>): Route => {
  const route = routeFrom(...from)
  if (route === null) throw new Error('no route')
  return route
}

describe('a route through the points as they lie', () => {
  it('is one line: every piece begins where the one before ends, and lies on its track', () => {
    fc.assert(
      fc.property(places, linings, (place, lined) => {
        const route = routeOf(network, place, lined, reach)
        let along = 0
        for (const piece of route.pieces) {
          expect(Math.abs(piece.fromMm - along)).toBeLessThan(1e-6)
          along += piece.lengthMm
          if (piece.kind !== 'track') continue
          const path = network.tracks.get(piece.track)?.alignment
          if (path?.ok !== true) throw new Error('no line')
          for (const share of [0, 0.5, 1]) {
            const here = pathPoseAt(route.path, piece.fromMm + share * piece.lengthMm)
            const station = piece.stationMm + (piece.isRising ? share : -share) * piece.lengthMm
            // At a seam the neighbour may be met, and tracks count as touching from 1 mm on.
            expect(pointDistance(here, pathPoseAt(path.path, station))).toBeLessThan(share === 0.5 ? 1e-6 : 1)
          }
        }
        expect(Math.abs(along - route.path.lengthMm)).toBeLessThan(1e-6)
        expect(routePlaceAt(route, route.placeMm)?.track).toBe(place.track)
      }),
      { seed: 6, numRuns: 120 },
    )
  })

  it('asked for the other way round is the same line backwards', () => {
    fc.assert(
      fc.property(places, linings, (place, lined) => {
        const ahead = routeOf(network, place, lined, reach)
        const back = routeOf(network, { ...place, isRising: !place.isRising }, lined, reach)
        expect(back.path.lengthMm).toBeCloseTo(ahead.path.lengthMm, 6)
        expect(back.ahead).toEqual(ahead.behind)
        for (const share of [0, 0.3, 0.8, 1]) {
          const [a, b] = [pathPoseAt(ahead.path, share * ahead.path.lengthMm), pathPoseAt(back.path, (1 - share) * back.path.lengthMm)]
          // As above: a seam.
          expect(pointDistance(a, b)).toBeLessThan(share === 0 || share === 1 ? 1 : 1e-6)
        }
      }),
      { seed: 7, numRuns: 60 },
    )
  })

  it('takes the leg of a turnout that lies for it, and the track that begins there', () => {
    let taken = 0
    for (const { turnout, result } of network.turnouts.values()) {
      if (!result.ok) continue
      const isRising = turnout.facing === 'rising'
      const before = turnout.stationMm + (isRising ? -1 : 1)
      if (before < 0 || before > lengthOf(turnout.track)) continue
      const place = { track: turnout.track, stationMm: before, isRising }
      const route = routeOf(network, place, new Map([[turnout.id, 'diverging']]), { aheadMm: 2000, behindMm: 0 })
      const leg = route.pieces.find((piece) => piece.kind === 'leg')
      expect(leg).toMatchObject({ turnout: turnout.id, leg: 'diverging', isToLeg: true })
      const next = [...network.tracks.values()].find(({ track: { start, end } }) =>
        [start, end].some((one) => one.kind === 'leg' && one.turnout === turnout.id && one.leg === 'diverging'),
      )
      if (next === undefined) expect(route.ahead).toEqual({ kind: 'legEnd', turnout: turnout.id, leg: 'diverging' })
      else expect(route.pieces[2]).toMatchObject({ kind: 'track', track: next.track.id })
      taken++
    }
    expect(taken).toBeGreaterThan(3)
  })
})
