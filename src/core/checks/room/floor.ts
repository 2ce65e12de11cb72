import { fixedShapes } from '../../clearance/index.ts'
import { boxGrow, boxOfPoints } from '../../geom/index.ts'
import type { Box, Point } from '../../geom/types.ts'
import { HEAD_MM, isWay, obstaclesBelow, recordFind } from '../../plan/index.ts'
import type { Plan } from '../../plan/types.ts'
import { areaOfRings } from '../area.ts'
import type { BenchArea } from '../area.ts'
import { ringsEvenOdd, ringsGrown, ringsPieces, ringsShared, ringsSolid, ringsTogether, ringsWithout } from './rings.ts'
import type { Rings } from './rings.ts'
import { THIN_WALL_MM, openingPlace, openingRing } from './walls.ts'

/** The floor that a person can stand on, seen from above. */
export interface Floor {
  /** All floor: in the room, off benchwork, walls and obstacles that one cannot go under; doors and passages are floor, windows are not. */
  readonly rings: Rings
  /** Where the middle of a person can be: half of `standMm` from everything. */
  readonly middles: BenchArea
  /** As much width as a person needs to stand, mm. */
  readonly standMm: number
  /** Middles of the openings: there one comes in. */
  readonly entries: readonly Point[]
  /** No wall closes the room: all beyond this box is floor as well. null: walls close it. */
  readonly openBox: Box | null
}

/** Lengths of wall that meet at a corner count as joined when they come so near, mm. */
const CLOSING_MM = 0.05

/**
 * The floor of a plan: within the walls that go round its benchwork; without such walls everywhere around it.
 *
 * Units:      mm.
 * Exactness:  1e-4 mm; where the middle of a person can be to 0.05 mm.
 * Throws:     never.
 */
export function planFloor(plan: Plan, area: BenchArea): Floor {
  const { aisleMm, hatchMm } = plan.railway
  const bench = ringsEvenOdd(area.rings)
  const shapes = fixedShapes({ ...plan, obstacles: obstaclesBelow(plan.obstacles, HEAD_MM) })
  const obstacles = ringsSolid(shapes.filter(({ kind }) => kind === 'obstacles').flatMap(({ rings }) => rings))
  const walls = wallBodies(
    plan,
    shapes.filter(({ kind }) => kind === 'walls').flatMap(({ rings }) => rings),
  )
  const openings = Object.values(plan.openings)
    .filter(isWay)
    .flatMap((opening) => {
      const place = openingPlace(opening, recordFind(plan, 'walls', opening.wall))
      return place === null ? [] : [openingRing(place)]
    })
  const doors = ringsSolid(openings)
  const rooms = roomsAround(walls, bench)
  const openBox = rooms.length > 0 ? null : boxOfPoints([...bench, ...obstacles, ...walls].flat())
  const around = openBox === null ? null : boxGrow(openBox, 2 * Math.max(aisleMm, hatchMm) + 1)
  const ground = around === null ? ringsTogether(rooms, doors) : [boxRing(around)]
  const solids = ringsTogether(ringsTogether(bench, obstacles), ringsWithout(walls, doors))
  const rings = ringsWithout(ground, solids)
  const standMm = Math.min(aisleMm, hatchMm)
  return {
    rings,
    middles: areaOfRings(ringsGrown(rings, -standMm / 2)),
    standMm,
    entries: openings.flatMap(([a, , c]) => (a === undefined || c === undefined ? [] : [{ x: (a.x + c.x) / 2, y: (a.y + c.y) / 2 }])),
    openBox: around,
  }
}

/** All walls as one body, each with some thickness, joined at their corners. */
function wallBodies(plan: Plan, rings: Rings): Rings {
  const thin = Object.values(plan.walls).filter(({ thicknessMm }) => thicknessMm < THIN_WALL_MM)
  const thickened = fixedShapes({
    ...plan,
    walls: Object.fromEntries(thin.map((wall) => [wall.id, { ...wall, thicknessMm: THIN_WALL_MM }])),
  })
  const bodies = ringsSolid([...rings, ...thickened.filter(({ kind }) => kind === 'walls').flatMap((shape) => shape.rings)])
  return ringsGrown(ringsGrown(bodies, CLOSING_MM), -CLOSING_MM)
}

/** The rooms: holes in the body of the walls in which benchwork stands. */
function roomsAround(walls: Rings, bench: Rings): Rings {
  return ringsPieces(walls).flatMap(({ holes }) => {
    const inner = ringsSolid(holes)
    return inner.filter((room) => ringsShared([room], bench).length > 0)
  })
}

const boxRing = ({ minX, minY, maxX, maxY }: Box): readonly Point[] => [
  { x: minX, y: minY },
  { x: maxX, y: minY },
  { x: maxX, y: maxY },
  { x: minX, y: maxY },
]
