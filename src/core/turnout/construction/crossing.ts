import { pathNearest, pathPoseAt } from '../../geom/index.ts'
import type { Point, Pose } from '../../geom/types.ts'
import type { CrossingGeometry } from '../crossing/types.ts'
import { throwOf } from '../throw.ts'
import type { BoardPattern } from '../types.ts'
import { workConstruction, workWiring } from './construction.ts'
import { benchUsual } from './practice.ts'
import { railFactsOf } from './railFacts.ts'
import { crossingCards, slipCards } from './roadbed.ts'
import { throwZone } from './throwSlot.ts'
import type { BenchPractice, BuiltWork, ThrowZone, TurnoutConstruction, TurnoutWiring } from './types.ts'

/**
 * The same as constructionOf, of a crossing with or without slips. The slips' curves count as leaving routes; the roadbed's cards are those of
 * the second track, cut where it butts against the first one's on either side, and what slips add between both.
 */
export function crossingConstructionOf(
  crossing: CrossingGeometry,
  practice: BenchPractice = benchUsual(crossing.request),
  board: BoardPattern | null = null,
): TurnoutConstruction {
  const work = crossingBuilt(crossing, board)
  return {
    ...workConstruction(work, practice),
    roadbed: [...crossingCards(crossing.routes, work.measures, practice), ...slipCards(crossing.routes, practice)],
  }
}

/** Of a crossing only what is marked on its full-size sheet. */
export function crossingWiringOf(crossing: CrossingGeometry): TurnoutWiring {
  const work = crossingBuilt(crossing, null)
  return workWiring(work, railFactsOf(work), benchUsual(crossing.request))
}

function crossingBuilt(crossing: CrossingGeometry, board: BoardPattern | null): BuiltWork {
  const { request, routes, frogs, rails, ties, gaps, slips, throwHoles } = crossing
  const throwMm = throwOf(request)
  return {
    routes,
    frogs,
    rails,
    ties,
    gaps,
    measures: request,
    board,
    diverging: slips,
    throws: throwHoles.map(({ at }) => ({ bar: barOn(crossing, at), throwMm })),
  }
}

/** The room below the deck that the usual machines of a crossing's slips take, in its own frame. */
export function crossingThrowZones(crossing: CrossingGeometry): readonly ThrowZone[] {
  const { motor } = benchUsual(crossing.request)
  return crossing.throwHoles.map(({ at }) => throwZone(barOn(crossing, at), motor))
}

/** A throw bar lies square to the track that its points are on. */
function barOn({ routes }: CrossingGeometry, at: Point): Pose {
  const [track] = routes
    .filter(({ name }) => name === 'straight' || name === 'other')
    .toSorted((a, b) => pathNearest(a.centre, at).distanceMm - pathNearest(b.centre, at).distanceMm)
  return { ...at, headingRad: track ? pathPoseAt(track.centre, pathNearest(track.centre, at).stationMm).headingRad : 0 }
}
