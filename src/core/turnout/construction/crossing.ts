import { pathNearest, pathPoseAt } from '../../geom/index.ts'
import type { CrossingGeometry } from '../crossing/types.ts'
import { throwOf } from '../throw.ts'
import type { BoardPattern } from '../types.ts'
import { workConstruction } from './construction.ts'
import { benchUsual } from './practice.ts'
import type { BenchPractice, TurnoutConstruction } from './types.ts'

/** The same as constructionOf, of a crossing with or without slips. The slips' curves count as leaving routes. */
export function crossingConstructionOf(
  crossing: CrossingGeometry,
  practice: BenchPractice = benchUsual(crossing.request),
  board: BoardPattern | null = null,
): TurnoutConstruction {
  const { request, routes, frogs, rails, ties, gaps, slips, throwHoles } = crossing
  const first = routes.find(({ name }) => name === 'straight')
  return workConstruction(
    {
      routes,
      frogs,
      rails,
      ties,
      gaps,
      measures: request,
      board,
      diverging: slips,
      throws:
        first === undefined
          ? []
          : throwHoles.map(({ at }) => ({
              bar: { ...at, headingRad: pathPoseAt(first.centre, pathNearest(first.centre, at).stationMm).headingRad },
              throwMm: throwOf(request),
            })),
    },
    practice,
  )
}
