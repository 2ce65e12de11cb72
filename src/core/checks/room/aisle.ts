import { pointDot, pointSubtract, ringNearest } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import type { Finding, RoomRecord } from '../types.ts'
import type { Floor } from './floor.ts'
import { floorPinches } from './pinches.ts'
import type { Solid } from './solids.ts'

/** A gap narrower by no more than this is as wide as asked, mm: no tape tells it, and widths are found by halving. */
const TAPE_MM = 0.5

/**
 * Where the floor is narrower than the railway's aisle between two wide parts of it: one finding a pinch, of the thing that stands
 * nearest to its middle, with what stands across from it. Measured 0: no floor leads there at all, one has to duck under.
 *
 * Exactness:  width to 0.1 mm; less than TAPE_MM under the aisle is not told.
 * Source:     common practice, no source: 24 in for one person.
 */
export function aisle(floor: Floor, solids: readonly Solid[], aisleMm: number): readonly Finding[] {
  const counts = new Map<string, number>()
  return floorPinches(floor, aisleMm - TAPE_MM).map(({ widthMm, at }): Finding => {
    const sides = sidesOf(solids, at)
    const key = `${sides[0]?.table ?? ''}:${sides[0]?.record ?? ''}`
    const count = counts.get(key) ?? 0
    counts.set(key, count + 1)
    const [near, across] = sides
    return {
      id: `aisle:${key}:${count}`,
      rule: 'aisle',
      severity: 'warning',
      stage: 'room',
      table: near?.table ?? 'benchworks',
      record: near?.record ?? '',
      otherRecord: null,
      corner: null,
      stationFromMm: null,
      stationToMm: null,
      x: at.x,
      y: at.y,
      measured: widthMm,
      limit: aisleMm,
      unit: 'mm',
      source: 'railway',
      problem: widthMm === 0 ? { kind: 'floorCutOff' } : { kind: 'aislePinch', across: across ?? null },
      cure: null,
    }
  })
}

/** What stands nearest to a place, and what is nearest on the other side of it. */
function sidesOf(solids: readonly Solid[], at: Point): readonly RoomRecord[] {
  const near = solids
    .flatMap(({ table, record, rings }) =>
      rings.flatMap((ring) => {
        const place = ringNearest(ring, at)
        return place === null ? [] : [{ table, record, mm: place.distanceMm, way: pointSubtract(place.at, at) }]
      }),
    )
    .toSorted((a, b) => a.mm - b.mm)
  const [first] = near
  if (first === undefined) return []
  const across = near.find(({ way }) => pointDot(way, first.way) < 0)
  return [first, ...(across === undefined ? [] : [across])].map(({ table, record }) => ({ table, record }))
}
