import { pointRotate } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import { reachAngles, reachAt, reachFarthest, usable, type Reach } from './reach.ts'
import { ribBoxes, ribIndex, type SearchStrand } from './ribs.ts'
import type { TileWindow } from './types.ts'

/** A sheet that was laid, and the ribs that it is there for: pairs of strand and rib. */
export interface CoverTile {
  readonly angleRad: number
  /** Middle of the window, in the plan. */
  readonly centre: Point
  readonly owned: readonly (readonly [strand: number, rib: number])[]
}

/** How the next sheet is chosen: it goes as far as it can along the line, or takes in most of what is not served yet. */
export type CoverAim = 'farthest' | 'most'

export interface CoverPlan {
  readonly aim: CoverAim
  /** Strands in the order in which they are gone along. */
  readonly order: readonly number[]
  /** Rib of the first strand to begin at, for loops. */
  readonly startAt: number
}

/**
 * Sheets laid one after the other, each at the first rib that none serves yet; null when more than `atMost` are needed or
 * a rib fits on no sheet.
 *
 * One line alone: every part of what a sheet can serve can be served by a sheet, so going as far as possible each time takes
 * the fewest of the angles tried (exchange argument: the k-th sheet of any other cover ends no farther than the k-th here).
 */
export function coverGreedy(
  strands: readonly SearchStrand[],
  window: TileWindow,
  plan: CoverPlan,
  atMost: number,
): readonly CoverTile[] | null {
  const served = strands.map(({ count }) => new Uint8Array(count))
  const tiles: CoverTile[] = []
  for (const [place, index] of plan.order.entries()) {
    const strand = strands[index]
    if (!strand) continue
    const start = place === 0 && strand.isLoop ? plan.startAt : 0
    for (let at = start; at < start + strand.count; at++) {
      if (served[index]?.[at % strand.count] === 1) continue
      if (tiles.length >= atMost) return null
      const laid = plan.aim === 'farthest' ? farthest(strand, index, at, served, window) : most(strands, index, at, served, window)
      if (laid === null) return null
      for (const [s, rib] of laid.owned) served[s]?.fill(1, rib, rib + 1)
      tiles.push(centred(strands, laid, window))
    }
  }
  return tiles
}

function farthest(strand: SearchStrand, index: number, from: number, served: readonly Uint8Array[], window: TileWindow): CoverTile | null {
  const reach = reachFarthest(strand, from, window)
  if (reach === null) return null
  const owned: [number, number][] = []
  for (let i = from; i <= reach.to; i++) {
    const rib = i % strand.count
    if (served[index]?.[rib] !== 1) owned.push([index, rib])
  }
  return { angleRad: reach.angleRad, centre: centreOf(reach.box, reach.angleRad), owned }
}

interface Frame {
  readonly minX: number
  readonly minY: number
  readonly maxX: number
  readonly maxY: number
}

function centreOf(box: Frame, angleRad: number): Point {
  return pointRotate({ x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 }, angleRad)
}

/** Stretches of strands that a window near a point could hold: strand, first and last rib. */
type Near = readonly (readonly [strand: number, from: number, to: number])[]

function near(strands: readonly SearchStrand[], p: Point, reachMm: number): Near {
  return strands.flatMap(({ middles, count }, s) => {
    const runs: [number, number, number][] = []
    let from = -1
    for (let i = 0; i <= count; i++) {
      const middle = middles[i]
      const isNear = middle !== undefined && Math.abs(middle.x - p.x) < reachMm && Math.abs(middle.y - p.y) < reachMm
      if (isNear && from < 0) from = i
      if (!isNear && from >= 0) {
        runs.push([s, from, i - 1])
        from = -1
      }
    }
    return runs
  })
}

/** Of a window at most angles, moved as far as the ribs at hand allow, the one that takes in most. */
function most(
  strands: readonly SearchStrand[],
  index: number,
  from: number,
  served: readonly Uint8Array[],
  window: TileWindow,
): CoverTile | null {
  const strand = strands[index]
  const here = strand?.middles[from % strand.count]
  if (!strand || !here) return null
  const ahead = strand.middles[ribIndex(strand, (from % strand.count) + (strand.isLoop || from + 1 < strand.count ? 1 : 0))] ?? here
  const around = near(strands, here, Math.hypot(window.widthMm, window.heightMm))
  let best: { readonly angleRad: number; readonly frame: Frame; readonly gain: number } | null = null
  const boxesAt = (angleRad: number): readonly Float64Array[] => around.map(([s, a, b]) => ribBoxes(strands[s] ?? strand, a, b, angleRad))
  const look = (angleRad: number): void => {
    const reach = reachAt(strand, from, angleRad, window)
    if (reach === null) return
    const boxes = boxesAt(angleRad)
    for (const frame of placements(reach, window)) {
      let gain = 0
      let isAtHand = false
      takenIn(strands, around, boxes, frame, served, (s, rib) => {
        gain += strands[s]?.weight[rib] ?? 0
        if (s === index && rib === from % strand.count) isAtHand = true
      })
      // The rib at hand must be among them, or nothing would come to an end.
      if (isAtHand && gain > (best?.gain ?? 0) + 1e-9) best = { angleRad, frame, gain }
    }
  }
  const headingRad = Math.atan2(ahead.y - here.y, ahead.x - here.x)
  // Every second step along and across; the best of them is made finer below.
  for (const angleRad of reachAngles(headingRad).filter((_, i) => i % 4 < 2)) look(angleRad)
  const far = reachFarthest(strand, from, window)
  if (far) look(far.angleRad)
  for (let step = Math.PI / 36; step > 0.008; step /= 2) {
    const middle: number = (best as { angleRad: number } | null)?.angleRad ?? headingRad
    look(middle - step)
    look(middle + step)
  }
  const found = best as { readonly angleRad: number; readonly frame: Frame } | null
  if (found === null) return null
  const owned: (readonly [number, number])[] = []
  takenIn(strands, around, boxesAt(found.angleRad), found.frame, served, (s, rib) => owned.push([s, rib]))
  return { angleRad: found.angleRad, centre: centreOf(found.frame, found.angleRad), owned }
}

/** The window round what it must hold: in the middle, and moved to the ends of its play. */
function placements({ box }: Reach, window: TileWindow): readonly Frame[] {
  const room = usable(window)
  const [playX, playY] = [room.widthMm - (box.maxX - box.minX), room.heightMm - (box.maxY - box.minY)]
  const parts = [0.5, 0, 1]
  return parts.flatMap((x) =>
    parts.map((y) => {
      const [minX, minY] = [box.minX - x * playX, box.minY - y * playY]
      return { minX, minY, maxX: minX + room.widthMm, maxY: minY + room.heightMm }
    }),
  )
}

/** Ribs that no sheet serves yet and this frame would: each is shown to `take`. */
function takenIn(
  strands: readonly SearchStrand[],
  around: Near,
  boxes: readonly Float64Array[],
  frame: Frame,
  served: readonly Uint8Array[],
  take: (strand: number, rib: number) => void,
): void {
  const held = boxes.map((box) => heldBy(frame, box))
  around.forEach(([s, a, b], n) => {
    const strand = strands[s]
    if (!strand) return
    const own = held[n]
    const isHeld = (i: number): boolean => {
      if (i >= a && i <= b) return own?.[i - a] === 1
      // Past the start of a loop: the other run that ends there.
      const rib = ribIndex(strand, i)
      const other = around.findIndex(([t, from, to]) => t === s && rib >= from && rib <= to)
      return other >= 0 && held[other]?.[rib - (around[other]?.[1] ?? 0)] === 1
    }
    // All from the low end of the last rib that was served up to here are held.
    let upTo = -Infinity
    for (let i = a; i <= b; i++) {
      const high = strand.high[i] ?? 0
      let j = Math.max(strand.low[i] ?? 0, upTo + 1)
      while (j <= high && isHeld(j)) j++
      if (j <= high) {
        upTo = -Infinity
        continue
      }
      upTo = high
      if (served[s]?.[i] !== 1) take(s, i)
    }
  })
}

/** Which boxes of ribs lie in a frame. */
function heldBy(frame: Frame, boxes: Float64Array): Uint8Array {
  const inside = new Uint8Array(boxes.length / 4)
  for (let i = 0; i < inside.length; i++) {
    const k = 4 * i
    if (
      (boxes[k] ?? -Infinity) >= frame.minX - 1e-9 &&
      (boxes[k + 1] ?? -Infinity) >= frame.minY - 1e-9 &&
      (boxes[k + 2] ?? Infinity) <= frame.maxX + 1e-9 &&
      (boxes[k + 3] ?? Infinity) <= frame.maxY + 1e-9
    )
      inside[i] = 1
  }
  return inside
}

/** The window moved so that what it is there for lies in its middle; all of that stays on it, with the shared ends. */
function centred(strands: readonly SearchStrand[], tile: CoverTile, window: TileWindow): CoverTile {
  const [cos, sin] = [Math.cos(tile.angleRad), Math.sin(tile.angleRad)]
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const [s, rib] of tile.owned) {
    const strand = strands[s]
    if (!strand) continue
    for (const end of [strand.low[rib] ?? 0, rib, strand.high[rib] ?? 0]) {
      const i = ribIndex(strand, end)
      for (let k = strand.at[i] ?? 0; k < (strand.at[i + 1] ?? 0); k++) {
        const [px, py] = [strand.x[k] ?? 0, strand.y[k] ?? 0]
        const [x, y] = [px * cos + py * sin, py * cos - px * sin]
        minX = Math.min(minX, x)
        maxX = Math.max(maxX, x)
        minY = Math.min(minY, y)
        maxY = Math.max(maxY, y)
      }
    }
  }
  const room = usable(window)
  if (!(maxX - minX <= room.widthMm + 1e-6 && maxY - minY <= room.heightMm + 1e-6)) return tile
  return { ...tile, centre: centreOf({ minX, minY, maxX, maxY }, tile.angleRad) }
}
