import { pointLerp, pointRotate } from '../../geom/index.ts'
import { coverGreedy, type CoverPlan, type CoverTile } from './cover.ts'
import { reachFarthest } from './reach.ts'
import { ribIndex, searchStrand, type SearchStrand } from './ribs.ts'
import type { Strand, Tile, TileSeam, TileWindow, Tiling } from './types.ts'

/** Places at which a loop is begun, spread over what the first sheet serves: the least of them is the fewest up to the step. */
const LOOP_STARTS = 12

/**
 * Sheets that follow the lines, each turned as suits it; null when there is no line, something wide fits on no sheet, or
 * more than `atMost` would be needed.
 *
 * Guarantee:  every rib lies on a sheet, and neighbours along a line share at least the overlap of it.
 */
export function lineTiling(strands: readonly Strand[], window: TileWindow, atMost: number): Tiling | null {
  const ready = strands.filter(({ ribs }) => ribs.length > 1).map((strand) => searchStrand(strand, window))
  if (ready.length === 0) return null
  let best: readonly CoverTile[] | null = null
  for (const plan of plans(ready, window)) {
    const tiles = coverGreedy(ready, window, plan, best === null ? atMost : best.length - 1)
    if (tiles !== null) best = tiles
  }
  return best && tilingOf(best, ready, window)
}

function plans(strands: readonly SearchStrand[], window: TileWindow): readonly CoverPlan[] {
  const order = strands.map((_, i) => i)
  const [first] = strands
  const reach = first?.isLoop ? reachFarthest(first, 0, window) : null
  const starts = reach === null ? [0] : Array.from({ length: LOOP_STARTS }, (_, i) => Math.floor((reach.to * i) / LOOP_STARTS))
  const along = starts.map((startAt): CoverPlan => ({ aim: 'farthest', order, startAt }))
  if (strands.length === 1) return [...along, { aim: 'most', order, startAt: 0 }]
  const longest = order.toSorted((a, b) => (strands[b]?.count ?? 0) - (strands[a]?.count ?? 0))
  const isOrdered = longest.every((strand, i) => strand === order[i])
  return [
    ...starts.filter((_, i) => i % (LOOP_STARTS / 2) === 0).map((startAt): CoverPlan => ({ aim: 'most', order, startAt })),
    ...(isOrdered ? [] : [{ aim: 'most', order: longest, startAt: 0 } as const]),
  ]
}

function tilingOf(cover: readonly CoverTile[], strands: readonly SearchStrand[], window: TileWindow): Tiling {
  const tiles = cover.map(({ angleRad, centre }, i): Tile => {
    const readable = upright(angleRad)
    const corner = pointRotate({ x: -window.widthMm / 2, y: -window.heightMm / 2 }, readable)
    return { name: String(i + 1), angleRad: readable, origin: { x: centre.x + corner.x, y: centre.y + corner.y } }
  })
  return { kind: 'line', window, tiles, seams: seamsOf(cover, strands) }
}

/** A page turned by half a turn shows the same: read from below or from the right, as drawings are. */
function upright(angleRad: number): number {
  const turned = Math.atan2(Math.sin(angleRad), Math.cos(angleRad))
  return turned > Math.PI / 2 + 1e-9 ? turned - Math.PI : turned <= -Math.PI / 2 + 1e-9 ? turned + Math.PI : turned
}

/** Where a line goes from one sheet on to the next; two sheets that a line changes between more than once join there first. */
function seamsOf(cover: readonly CoverTile[], strands: readonly SearchStrand[]): readonly TileSeam[] {
  const owners = strands.map(({ count }) => new Int32Array(count).fill(-1))
  cover.forEach(({ owned }, tile) => {
    for (const [s, rib] of owned) owners[s]?.fill(tile, rib, rib + 1)
  })
  const seams = new Map<string, TileSeam>()
  strands.forEach((strand, s) => {
    for (let i = 1; i < strand.count + (strand.isLoop ? 1 : 0); i++) {
      const [a, b] = [owners[s]?.[i - 1] ?? -1, owners[s]?.[ribIndex(strand, i)] ?? -1]
      const [from, to] = [strand.middles[i - 1], strand.middles[ribIndex(strand, i)]]
      if (a === b || a < 0 || b < 0 || !from || !to) continue
      const key = `${Math.min(a, b)} ${Math.max(a, b)}`
      if (seams.has(key)) continue
      const angleRad = Math.atan2(to.y - from.y, to.x - from.x)
      seams.set(key, { a: String(a + 1), b: String(b + 1), at: pointLerp(from, to, 0.5), angleRad })
    }
  })
  return [...seams.values()]
}
