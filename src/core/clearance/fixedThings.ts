import { wallRings } from './fixed.ts'
import { boxOfPoints, pointDistance, pointLerp } from '../geom/index.ts'
import type { Box, Point } from '../geom/types.ts'
import { isWay, keptFor, keptOn, obstaclesBelow, overTrainsMm } from '../plan/index.ts'
import type { Id, Obstacle, Opening, Plan, Wall } from '../plan/types.ts'
import type { FixedShape } from './types.ts'

/** Something solid that stands still: rings, which may overlap; what lies in any of them is within. */
export interface FixedThing {
  readonly table: 'walls' | 'obstacles'
  readonly record: Id
  readonly rings: readonly (readonly Point[])[]
  readonly box: Box
}

const nowhere: Box = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity }

/** A wall without the openings that are cut in it. */
export function wallThing(wall: Wall, openings: readonly Opening[]): FixedThing {
  const rings = wallLengths(wall, openings).flatMap((points) => wallRings({ points, thicknessMm: wall.thicknessMm, isClosed: false }))
  return { table: 'walls', record: wall.id, rings, box: boxOfPoints(rings.flat()) ?? nowhere }
}

function obstacleThing({ id, outline }: Obstacle): FixedThing {
  return { table: 'obstacles', record: id, rings: [outline], box: boxOfPoints(outline) ?? nowhere }
}

/**
 * A function that tells all that stands still in the room of a plan where trains run: not what hangs high over them. The same objects again
 * for all that an edit left alone.
 */
export function fixedThingsCreate(): (plan: Plan) => readonly FixedThing[] {
  const wallOf = keptOn<Wall, FixedThing>()
  const obstacleOf = keptFor(obstacleThing)
  const belowOf = keptFor(obstaclesBelow)
  const thingsOf = keptFor((walls: Plan['walls'], obstacles: Plan['obstacles'], openings: Plan['openings']): readonly FixedThing[] => [
    ...Object.values(walls).map((wall) => {
      const own = Object.values(openings).filter((opening) => opening.wall === wall.id && isWay(opening))
      return wallOf(wall, own, () => wallThing(wall, own))
    }),
    ...Object.values(obstacles).map((obstacle) => obstacleOf(obstacle)),
  ])
  return (plan) => thingsOf(plan.walls, belowOf(plan.obstacles, overTrainsMm(plan)), plan.openings)
}

/** The same, with nothing remembered. */
export function fixedThings(plan: Plan): readonly FixedThing[] {
  return fixedThingsCreate()(plan)
}

/**
 * What stands still where trains run, as shapes, each for itself, and the benchwork as one.
 *
 * benchRings: what all benchwork covers together, inside by the even-odd rule; none: there is no benchwork.
 */
export function trainShapes(plan: Plan, benchRings: readonly (readonly Point[])[]): readonly FixedShape[] {
  const bench: FixedShape = { kind: 'benchworks', record: null, rings: benchRings, isRoom: true }
  const things = fixedThings(plan).map(({ table, record, rings }): FixedShape => ({ kind: table, record, rings, isRoom: false }))
  return benchRings.length === 0 ? things : [bench, ...things]
}

/** The lengths of a wall that are wall. */
function wallLengths({ points, isClosed }: Wall, openings: readonly Opening[]): readonly (readonly [Point, Point])[] {
  const ends = isClosed ? [...points, ...points.slice(0, 1)] : points
  const lengths: (readonly [Point, Point])[] = []
  let alongMm = 0
  for (const [i, b] of ends.entries()) {
    const a = ends[i - 1]
    if (a === undefined) continue
    const longMm = pointDistance(a, b)
    const cuts = openings
      .map(({ fromMm, widthMm }) => [fromMm - alongMm, fromMm + widthMm - alongMm] as const)
      .filter(([from, to]) => to > 0 && from < longMm)
      .toSorted(([one], [other]) => one - other)
    let doneMm = 0
    for (const [from, to] of [...cuts, [longMm, longMm] as const]) {
      if (from > doneMm) lengths.push([pointLerp(a, b, doneMm / longMm), pointLerp(a, b, Math.min(from, longMm) / longMm)])
      doneMm = Math.max(doneMm, to)
    }
    alongMm += longMm
  }
  return lengths
}
