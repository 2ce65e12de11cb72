import { pointDistance, pointRotate } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import { freeSpacePlace, freeSpaceTaken, freeSpaceTakeArea, type FreeSpace, type Place } from '../freeSpace.ts'
import type { SheetJoin } from '../join.ts'
import { CROSS_ARM_MM } from '../join.ts'
import type { PlanText } from '../text.ts'
import { tileCentre, tileCorners, tileLocal, tilePlan } from './tile.ts'
import type { Tile, TileSeam, Tiling } from './types.ts'

/** Grain of the places that a cross may take in the shared part of two sheets. */
const CROSS_STEP_MM = 3
/** Where a neighbour's name may stand along the join. */
const NAME_PARTS = [0.5, 0.4, 0.6, 0.3, 0.7, 0.22, 0.78, 0.45, 0.55, 0.35, 0.65, 0.26, 0.74, 0.16, 0.84]

/**
 * Joins of sheets that follow a line: trimmed square to the line in the middle of what both show, with two crosses on
 * free places as far apart across the line as the shared part allows.
 */
export function seamJoins(tiling: Tiling, space: FreeSpace): readonly SheetJoin[] {
  const byName = new Map(tiling.tiles.map((tile) => [tile.name, tile]))
  return tiling.seams.flatMap((seam): readonly SheetJoin[] => {
    const [a, b] = [byName.get(seam.a), byName.get(seam.b)]
    return a && b ? seamJoin(seam, tileCorners(a, tiling.window), tileCorners(b, tiling.window), space) : []
  })
}

function seamJoin(seam: TileSeam, a: readonly Point[], b: readonly Point[], space: FreeSpace): readonly SheetJoin[] {
  const shared = ringsShared(a, b)
  // In the frame of the seam: x along the line, y across it.
  const local = shared.map((p) => pointRotate({ x: p.x - seam.at.x, y: p.y - seam.at.y }, -seam.angleRad))
  const plan = (p: Point): Point => {
    const turned = pointRotate(p, seam.angleRad)
    return { x: turned.x + seam.at.x, y: turned.y + seam.at.y }
  }
  const trim = ringAcross(local)
  if (trim === null) return []
  const crosses = crossPlaces(local, trim, (p) => freeSpaceTaken(space, squareRound(plan(p), seam.angleRad)))
  const [from, to] = [plan({ x: 0, y: trim[0] }), plan({ x: 0, y: trim[1] })]
  const placed: readonly [Point, Point] = [plan(crosses[0]), plan(crosses[1])]
  for (const p of placed) freeSpaceTakeArea(space, squareRound(p, seam.angleRad))
  return [{ a: seam.a, b: seam.b, crosses: placed, trim: [from, to], angleRad: seam.angleRad }]
}

/** What two convex rings, both anticlockwise, have in common: each edge of the second cuts off what lies to its right. */
export function ringsShared(a: readonly Point[], b: readonly Point[]): readonly Point[] {
  let ring = a
  b.forEach((from, i) => {
    const to = b[(i + 1) % b.length]
    if (!to) return
    const side = (p: Point): number => (to.x - from.x) * (p.y - from.y) - (to.y - from.y) * (p.x - from.x)
    const kept: Point[] = []
    ring.forEach((p, k) => {
      const q = ring[(k + 1) % ring.length]
      if (!q) return
      const [sp, sq] = [side(p), side(q)]
      if (sp >= 0) kept.push(p)
      if ((sp > 0 && sq < 0) || (sp < 0 && sq > 0)) {
        const t = sp / (sp - sq)
        kept.push({ x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) })
      }
    })
    ring = kept
  })
  return ring
}

/** Where the y axis runs through a convex ring; null when it does not. */
function ringAcross(ring: readonly Point[]): readonly [number, number] | null {
  const ys = ring.flatMap((p, i): readonly number[] => {
    const q = ring[(i + 1) % ring.length]
    if (!q || p.x > 0 === q.x > 0) return []
    return [p.y + ((0 - p.x) / (q.x - p.x)) * (q.y - p.y)]
  })
  return ys.length < 2 ? null : [Math.min(...ys), Math.max(...ys)]
}

/** How far a point lies inside of a convex anticlockwise ring; below 0 outside. */
function depth(ring: readonly Point[], p: Point): number {
  let least = Infinity
  ring.forEach((from, i) => {
    const to = ring[(i + 1) % ring.length]
    const length = to ? pointDistance(from, to) : 0
    if (!to || length < 1e-9) return
    least = Math.min(least, ((to.x - from.x) * (p.y - from.y) - (to.y - from.y) * (p.x - from.x)) / length)
  })
  return least
}

/**
 * Two places for crosses: whole and on free paper if there are such, far apart across the line and near the trim line; the
 * trim line itself always offers two.
 */
function crossPlaces(ring: readonly Point[], trim: readonly [number, number], taken: (p: Point) => number): readonly [Point, Point] {
  const lengthMm = trim[1] - trim[0]
  const xs = ring.map(({ x }) => x)
  const sideMm = Math.min(24, Math.max(0, Math.max(...xs)), Math.max(0, -Math.min(...xs)))
  const onTrim = (t: number): Point => ({ x: 0, y: trim[0] + t * lengthMm })
  const best = (isLow: boolean): Point => {
    let chosen = onTrim(isLow ? 0.2 : 0.8)
    let least = Infinity
    const steps = Math.max(1, Math.floor((0.42 * lengthMm) / CROSS_STEP_MM))
    for (let i = 1; i <= steps; i++) {
      const off = (i * 0.42 * lengthMm) / steps
      const y = isLow ? trim[0] + off : trim[1] - off
      for (let x = -sideMm; x <= sideMm; x += CROSS_STEP_MM) {
        const p = { x, y }
        const room = depth(ring, p)
        if (room < 0.5) continue
        // A whole cross before one that the frame cuts, free paper before far apart, far apart before near the trim line.
        const harm = 4 * Math.max(0, CROSS_ARM_MM + 0.5 - room) + 6 * taken(p) + (2 * off) / lengthMm + Math.abs(x) / 100
        if (harm < least) {
          least = harm
          chosen = p
        }
      }
    }
    return chosen
  }
  return [best(true), best(false)]
}

/** The square that a cross takes. */
export function squareRound(p: Point, angleRad: number): readonly Point[] {
  const r = CROSS_ARM_MM
  return [
    { x: -r, y: -r },
    { x: r, y: -r },
    { x: r, y: r },
    { x: -r, y: r },
  ].map((q) => {
    const turned = pointRotate(q, angleRad)
    return { x: p.x + turned.x, y: p.y + turned.y }
  })
}

/** The neighbour's name with an arrow to it, inside of the trim line, where there is room. Plan mm. */
export function neighbourText(tiling: Tiling, tile: Tile, other: Tile, join: SheetJoin, space: FreeSpace): PlanText | null {
  const [from, to] = (join.trim ?? join.crosses).map((p) => tileLocal(tile, p))
  if (!from || !to) return null
  const away = tileLocal(tile, tileCentre(other, tiling.window))
  const [dx, dy] = [away.x - tiling.window.widthMm / 2, away.y - tiling.window.heightMm / 2]
  // The side to which the trim line faces tells the way, not how far the neighbour reaches.
  const length = Math.max(1e-9, Math.hypot(to.x - from.x, to.y - from.y))
  let normal = { x: (to.y - from.y) / length, y: -(to.x - from.x) / length }
  if (join.trim === null) normal = { x: Math.sign(dx) * Math.SQRT1_2, y: Math.sign(dy) * Math.SQRT1_2 }
  else if (normal.x * dx + normal.y * dy < 0) normal = { x: -normal.x, y: -normal.y }
  const isSide = Math.abs(normal.x) >= Math.abs(normal.y) - 1e-6
  const text = isSide ? (normal.x > 0 ? `${other.name} →` : `← ${other.name}`) : normal.y > 0 ? `↑ ${other.name}` : `↓ ${other.name}`
  const skew = Math.min(Math.abs(normal.x), Math.abs(normal.y))
  const inMm = (isSide ? 2 : 4) + 5 * skew
  const at = (t: number, moreMm: number): Place => ({
    middle: tilePlan(tile, {
      x: from.x + t * (to.x - from.x) - (inMm + moreMm) * normal.x,
      y: from.y + t * (to.y - from.y) - (inMm + moreMm) * normal.y,
    }),
    angleRad: tile.angleRad,
    anchor: isSide ? (normal.x > 0 ? 'end' : 'start') : 'middle',
  })
  // Where the shared part is full of track the name may stand farther in.
  const places = join.trim === null ? [at(0.5, 0)] : [0, 6, 12, 18].flatMap((mm) => NAME_PARTS.map((t) => at(t, mm)))
  return freeSpacePlace(space, { kind: 'text', layer: 'match', text, sizeMm: 5, weight: 'bold', grey: 0 }, places, 'least-taken')
}
