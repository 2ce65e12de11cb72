import { pathStart } from '../../geom/index.ts'
import { nearestRail, railAcross, tieAxes } from './railFacts.ts'
import type { RailFacts } from './railFacts.ts'
import type { BuiltWork, RouteOrdinates, TieOrdinate } from './types.ts'

/**
 * Ordinates of every leaving route: at the quarters of its closure as solved, and at every tie from the gauge line of the
 * stock rail that its point lies against to that of its outer rail and to that of the stock rail opposite, along the tie.
 *
 * Exactness:  as pathAcross. Where a rail has ended the value is null.
 */
export function routeOrdinates(work: BuiltWork, rails: readonly RailFacts[]): readonly RouteOrdinates[] {
  const axes = tieAxes(work.ties)
  return work.diverging.flatMap(({ route, ordinates }) => {
    const stocks = rails.filter(({ part }) => part === 'stock')
    const outers = rails.filter((facts) => facts.route === route && isOuterPart(facts))
    const point = outers.find(({ part }) => part === 'point') ?? outers[0]
    const base = point && nearestRail(stocks, pathStart(point.rail.gaugeLine))
    if (!point || !base) return []
    const outer = outers.filter(({ side }) => side === point.side)
    const opposite = stocks.filter(({ side, index }) => side !== base.side && index !== base.index)
    const ties = work.ties.flatMap((tie, index): readonly TieOrdinate[] => {
      const axis = axes[index]
      if (axis === undefined) return []
      const from = railAcross(base.rail.gaugeLine, axis)
      if (from === null) return []
      const to = (all: readonly RailFacts[]): number | null => {
        for (const { rail } of all) {
          const at = railAcross(rail.gaugeLine, axis)
          if (at !== null) return Math.abs(at.offsetMm - from.offsetMm)
        }
        return null
      }
      return [{ tie: index, stationMm: tie.stationMm, closureMm: to(outer), stockMm: to(opposite) }]
    })
    return [{ route, quarters: ordinates, ties: ties.filter(({ closureMm, stockMm }) => closureMm !== null || stockMm !== null) }]
  })
}

/** Parts of the line from the tip of the points through the closure to the frog's heel. */
function isOuterPart({ part }: RailFacts): boolean {
  return part === 'point' || part === 'closure' || part === 'frog'
}
