import Flatbush from 'flatbush'
import { boxOfPoints } from '../../geom/index.ts'
import type { Benchwork } from '../../plan/types.ts'
import type { Finding } from '../types.ts'
import { ringsEvenOdd, ringsShared, ringsSolid, widestDisc } from './rings.ts'
import type { Solid } from './solids.ts'

/** Benchwork may be drawn this much into a wall: plaster is no truer, mm. */
const INTO_MM = 1

/** Walls and obstacles by where they stand. */
export interface Standing {
  readonly solids: readonly Solid[]
  readonly index: Flatbush | null
}

export function standingOf(solids: readonly Solid[]): Standing {
  const fixed = solids.filter(({ table, rings }) => table !== 'benchworks' && rings.some((ring) => ring.length > 2))
  if (fixed.length === 0) return { solids: fixed, index: null }
  const index = new Flatbush(fixed.length)
  for (const { rings } of fixed) {
    const box = boxOfPoints(rings.flat()) ?? { minX: 0, minY: 0, maxX: 0, maxY: 0 }
    index.add(box.minX, box.minY, box.maxX, box.maxY)
  }
  index.finish()
  return { solids: fixed, index }
}

/**
 * Benchwork that runs into a wall or an obstacle (one that hangs over it is none), and how deep: the widest disc in what both want.
 *
 * Exactness: 0.1 mm; up to a millimetre is not told.
 */
export function benchOverlap(bench: Benchwork, { solids, index }: Standing): readonly Finding[] {
  const box = boxOfPoints(bench.outline)
  if (box === null || index === null) return []
  const area = ringsEvenOdd([bench.outline, ...bench.holes])
  const found = index.search(box.minX, box.minY, box.maxX, box.maxY)
  found.sort((a, b) => a - b)
  return found.flatMap((i): Finding[] => {
    const solid = solids[i]
    if (solid === undefined || solid.undersideMm >= bench.heightMm) return []
    const disc = widestDisc(ringsShared(area, ringsSolid(solid.rings)))
    if (disc === null || disc.diameterMm <= INTO_MM) return []
    return [
      {
        id: `bench-overlap:${bench.id}:${solid.table}:${solid.record}`,
        rule: 'bench-overlap',
        severity: 'warning',
        stage: 'room',
        table: 'benchworks',
        record: bench.id,
        otherRecord: null,
        corner: null,
        stationFromMm: null,
        stationToMm: null,
        x: disc.at.x,
        y: disc.at.y,
        measured: disc.diameterMm,
        limit: 0,
        unit: 'mm',
        source: 'geometry',
        problem: { kind: 'benchRunsInto', by: { table: solid.table, record: solid.record } },
        cure: null,
      },
    ]
  })
}
