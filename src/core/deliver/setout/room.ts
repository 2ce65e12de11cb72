import {
  pointCross,
  pointDistance,
  pointDot,
  pointLerp,
  pointSubtract,
  polygonContains,
  polylineSides,
  ringContains,
  segmentIntersection,
} from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import type { CentreReach, EdgeRef, FixedPoint, SetoutEdge, SetoutRoom } from './types.ts'

/** A side that neither tape nor trammel bar passes. */
interface Block {
  readonly name: string
  readonly a: Point
  readonly b: Point
}

const byId = <R extends { readonly id: string }>(table: { readonly [id: string]: R }): readonly R[] => Object.values(table)

/** Sides of walls and obstacles. */
export function roomBlocks(room: SetoutRoom): readonly Block[] {
  const walls = byId(room.walls).flatMap((wall) => polylineSides(wall.points, wall.isClosed).map(({ a, b }) => ({ name: wall.name, a, b })))
  const obstacles = byId(room.obstacles).flatMap((it) => polylineSides(it.outline, true).map(({ a, b }) => ({ name: it.name, a, b })))
  return [...walls, ...obstacles]
}

/** A tape begins on the face it is hooked to: this much of its start does not count as passing through, mm. */
const FACE_MM = 0.5

/** What stands between two points; null when a tape passes. The first may lie on a face. */
export function sightBlocked(blocks: readonly Block[], from: Point, to: Point): string | null {
  const length = pointDistance(from, to)
  if (length <= 2 * FACE_MM) return null
  const start = pointLerp(from, to, FACE_MM / length)
  // Boxes first: most sides are far from most tapes.
  const [minX, maxX] = start.x < to.x ? [start.x, to.x] : [to.x, start.x]
  const [minY, maxY] = start.y < to.y ? [start.y, to.y] : [to.y, start.y]
  for (const { name, a, b } of blocks) {
    if ((a.x < minX && b.x < minX) || (a.x > maxX && b.x > maxX) || (a.y < minY && b.y < minY) || (a.y > maxY && b.y > maxY)) continue
    if (segmentIntersection(start, to, a, b) !== null) return name
  }
  return null
}

/** Every side of walls and benchwork that something can be measured from. */
export function setoutEdges(room: SetoutRoom): readonly SetoutEdge[] {
  const sides = (points: readonly Point[], isClosed: boolean, ref: Omit<EdgeRef, 'edge'>, name: string): readonly SetoutEdge[] =>
    polylineSides(points, isClosed).map(({ index: edge, a, b }) => ({ ...ref, edge, name: `${name}, side ${edge + 1}`, a, b }))
  return [
    ...byId(room.walls).flatMap((wall) => sides(wall.points, wall.isClosed, { table: 'walls', id: wall.id, ring: -1 }, wall.name)),
    ...byId(room.benchworks).flatMap(({ id, name, outline, holes }) => [
      ...sides(outline, true, { table: 'benchworks', id, ring: -1 }, name),
      ...holes.flatMap((hole, ring) => sides(hole, true, { table: 'benchworks', id, ring }, `${name}, hole ${ring + 1}`)),
    ]),
  ]
}

/** Corners closer than this are one place to hook a tape to, mm. */
const SAME_POINT_MM = 1

/** Corners of walls and benchwork, none twice. */
export function fixedPoints(room: SetoutRoom): readonly FixedPoint[] {
  const named = (points: readonly Point[], name: string): readonly FixedPoint[] =>
    points.map(({ x, y }, i) => ({ x, y, name: `${name}, corner ${i + 1}` }))
  const all = [
    ...byId(room.walls).flatMap((wall) => named(wall.points, wall.name)),
    ...byId(room.benchworks).flatMap(({ name, outline, holes }) => [
      ...named(outline, name),
      ...holes.flatMap((hole, i) => named(hole, `${name}, hole ${i + 1}`)),
    ]),
  ]
  return all.filter((point, i) => !all.slice(0, i).some((other) => pointDistance(point, other) < SAME_POINT_MM))
}

/** Where a centre stands, seen from a place on its arc. */
export function centreReach(room: SetoutRoom, blocks: readonly Block[], centre: Point, seenFrom: Point): CentreReach {
  const obstacle = byId(room.obstacles).find(({ outline }) => ringContains(outline, centre))
  if (obstacle) return { kind: 'obstacle', name: obstacle.name }
  const inside = byId(room.walls).find(({ points, isClosed, thicknessMm }) => wallHolds(points, isClosed, thicknessMm, centre))
  if (inside) return { kind: 'wall', name: inside.name }
  const closed = byId(room.walls).filter(({ isClosed }) => isClosed)
  const beyond = closed.length > 0 && !closed.some(({ points }) => ringContains(points, centre)) ? closed[0] : undefined
  if (beyond) return { kind: 'outside', name: beyond.name }
  const between = sightBlocked(blocks, seenFrom, centre)
  const wall = between === null ? undefined : byId(room.walls).find(({ name }) => name === between)
  if (wall) return { kind: 'outside', name: wall.name }
  const bench = byId(room.benchworks).find((it) => polygonContains(it, centre))
  return bench ? { kind: 'benchwork', name: bench.name } : { kind: 'floor' }
}

/** True when a point lies in the thickness of a wall, which is to the right of its points. */
function wallHolds(points: readonly Point[], isClosed: boolean, thicknessMm: number, p: Point): boolean {
  const sides = polylineSides(points, isClosed)
  return sides.some(({ a, b, lengthMm: length }, i) => {
    const run = pointSubtract(b, a)
    const along = pointDot(pointSubtract(p, a), run) / length
    const across = pointCross(run, pointSubtract(p, a)) / length
    if (across >= 0 || across < -thicknessMm) return false
    if (along >= 0 && along <= length) return true
    // The wedge outside a corner belongs to both of its walls.
    const next = sides[i + 1] ?? (isClosed ? sides[0] : undefined)
    if (along < length || !next) return false
    const acrossNext = pointCross(pointSubtract(next.b, next.a), pointSubtract(p, next.a)) / next.lengthMm
    return acrossNext < 0 && acrossNext >= -thicknessMm
  })
}
