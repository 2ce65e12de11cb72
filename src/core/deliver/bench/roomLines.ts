import { openingPlace, type OpeningPlace } from '../../checks/room/walls.ts'
import { wallThing } from '../../clearance/index.ts'
import { pointDistance, pointLerp } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import { isWay, recordFind } from '../../plan/index.ts'
import type { Opening, Plan, Wall } from '../../plan/types.ts'
import type { DrawItem } from '../types.ts'
import { penArc, penLine, penPath } from './pen.ts'

/** From the plan to the page. */
export type PlaceOn = (p: Point) => Point

const wallGrey = 0.78
const postGrey = 0.6

/** Walls with their openings, posts and the like, hatches, and the edges of benchwork. Page mm. */
export function roomLines(plan: Plan, place: PlaceOn): readonly DrawItem[] {
  return [
    ...wallItems(plan, place),
    ...Object.values(plan.openings).flatMap((opening) => openingItems(plan, opening, place)),
    ...benchItems(plan, place),
  ]
}

function wallItems({ walls, openings }: Plan, place: PlaceOn): readonly DrawItem[] {
  return Object.values(walls).flatMap((wall) => {
    const cuts = Object.values(openings).filter((opening) => opening.wall === wall.id && isWay(opening))
    const { rings } = wallThing(wall, cuts)
    return [
      ...[...rings, ...cornerRings(wall)].flatMap((ring) => penPath('rail-head', ring.map(place), { isClosed: true, fill: wallGrey })),
      // The face that is measured is the first side of each ring.
      ...rings.flatMap(([a, b]) => (a && b ? [penLine('mark', place(a), place(b))] : [])),
    ]
  })
}

/** What two lengths of a wall leave open between their backs at a corner. */
function cornerRings({ points, isClosed, thicknessMm }: Plan['walls'][string]): readonly (readonly Point[])[] {
  return points.flatMap((at, i) => {
    const before = points[i - 1] ?? (isClosed ? points.at(-1) : undefined)
    const after = points[i + 1] ?? (isClosed ? points[0] : undefined)
    if (!before || !after) return []
    const [a, b] = [rightOf(before, at), rightOf(at, after)]
    const along = 1 + a.x * b.x + a.y * b.y
    if (along < 0.2) return []
    const off = (n: Point, part: number): Point => ({ x: at.x + n.x * part * thicknessMm, y: at.y + n.y * part * thicknessMm })
    return [[at, off(a, 1), off({ x: a.x + b.x, y: a.y + b.y }, 1 / along), off(b, 1)]]
  })
}

/** Unit vector to the right of the way from one point to another. */
export function rightOf(from: Point, to: Point): Point {
  const lengthMm = pointDistance(from, to) || 1
  return { x: (to.y - from.y) / lengthMm, y: -(to.x - from.x) / lengthMm }
}

/** A point of an opening: a share of its width along the wall, mm to the right of the wall's line. */
export function openingPoint({ from, to, along }: OpeningPlace, share: number, rightMm: number): Point {
  const p = pointLerp(from, to, share)
  return { x: p.x + along.y * rightMm, y: p.y - along.x * rightMm }
}

/** How far the leaf of a door reaches when it stands open. */
export function doorReach(opening: Opening, wall: Wall | null): readonly Point[] {
  const found = openingPlace(opening, wall)
  if (found === null || opening.leaf === null) return []
  const { leaf } = opening
  const widthMm = pointDistance(found.from, found.to)
  return [0, 1].map((share) => openingPoint(found, share, leaf.side === 'left' ? -widthMm : found.thicknessMm + widthMm))
}

function openingItems(plan: Plan, opening: Opening, place: PlaceOn): readonly DrawItem[] {
  const found = openingPlace(opening, recordFind(plan, 'walls', opening.wall))
  if (found === null) return []
  const at = (share: number, rightMm: number): Point => place(openingPoint(found, share, rightMm))
  const { thicknessMm } = found
  const jambs = [0, 1].map((share) => penLine('tick', at(share, 0), at(share, thicknessMm)))
  if (opening.sillMm !== null) {
    return [...jambs, ...[0, 0.5, 1].map((part) => penLine('tick', at(0, part * thicknessMm), at(1, part * thicknessMm)))]
  }
  const { leaf } = opening
  if (leaf === null) return jambs
  const hinge = leaf.hinge === 'from' ? 0 : 1
  const faceMm = leaf.side === 'left' ? 0 : thicknessMm
  const widthMm = pointDistance(found.from, found.to)
  const [pivot, shut, open] = [at(hinge, faceMm), at(1 - hinge, faceMm), at(hinge, leaf.side === 'left' ? -widthMm : thicknessMm + widthMm)]
  const radius = pointDistance(pivot, open)
  const rad = (p: Point): number => Math.atan2(p.y - pivot.y, p.x - pivot.x)
  const turn = Math.atan2(Math.sin(rad(open) - rad(shut)), Math.cos(rad(open) - rad(shut)))
  return [...jambs, penLine('mark', pivot, open), penArc('tangent', pivot, radius, rad(shut), rad(shut) + turn)]
}

function benchItems({ benchworks, obstacles, hatches }: Plan, place: PlaceOn): readonly DrawItem[] {
  return [
    ...Object.values(benchworks).flatMap(({ outline, holes }) =>
      [outline, ...holes].flatMap((ring) => penPath('scale-bar', ring.map(place), { isClosed: true })),
    ),
    ...Object.values(hatches).flatMap(({ outline }) => penPath('trim', outline.map(place), { isClosed: true })),
    ...Object.values(obstacles).flatMap(({ outline, undersideMm }) =>
      penPath(undersideMm > 0 ? 'tangent' : 'mark', outline.map(place), { isClosed: true, ...(undersideMm > 0 ? {} : { fill: postGrey }) }),
    ),
  ]
}
