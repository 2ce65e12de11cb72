import { wallRings } from './fixed.ts'
import { boxOfPoints, pointDistance, pointLerp } from '../geom/index.ts'
import type { Box, Point } from '../geom/types.ts'
import { isWay, obstaclesBelow, overTrainsMm } from '../plan/index.ts'
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

export function obstacleThing({ id, outline }: Obstacle): FixedThing {
  return { table: 'obstacles', record: id, rings: [outline], box: boxOfPoints(outline) ?? nowhere }
}

/** All that stands still in the room of a plan where trains run: not what hangs high over them. */
export function fixedThings(plan: Plan): readonly FixedThing[] {
  const { walls, openings } = plan
  const obstacles = obstaclesBelow(plan.obstacles, overTrainsMm(plan))
  const cuts = Object.values(openings).filter(isWay)
  return [
    ...Object.values(walls).map((one) =>
      wallThing(
        one,
        cuts.filter(({ wall }) => wall === one.id),
      ),
    ),
    ...Object.values(obstacles).map(obstacleThing),
  ]
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
