import { pathNearest, pathPoseAt, pathStart, rootBrent } from '../../geom/index.ts'
import type { Path } from '../../geom/types.ts'
import { nearestRail } from './railFacts.ts'
import type { RailFacts } from './railFacts.ts'
import type { BenchPractice, BuiltMeasures, PointNest, RailStick } from './types.ts'

const stationToleranceMm = 1e-6
/** A bend ahead of the tip by no more than this many gauges is made for the point. */
const setGauges = 1.5

/**
 * How every closed point lies against its stock rail.
 *
 * A stock rail that is bent ahead of the tip has its set as drawn. The other one stays straight for its own route: it is
 * undercut, as deep as the point's tip is thick and over the length of its planing; or by choice it gets a set as well, that
 * leads out by the thickness at the angle of the planing. That widens the gauge of its own route behind the set by as much.
 *
 * Source:  common practice, no source.
 */
export function pointNests(
  rails: readonly RailFacts[],
  sticks: readonly RailStick[],
  measures: BuiltMeasures,
  practice: Pick<BenchPractice, 'nest'>,
): readonly PointNest[] {
  const stocks = rails.filter(({ part }) => part === 'stock')
  return rails.flatMap((point): readonly PointNest[] => {
    if (point.part !== 'point') return []
    const at = pathStart(point.rail.gaugeLine)
    const stock = nearestRail(stocks, at)
    if (stock === null) return []
    const tip = pathNearest(stock.rail.gaugeLine, at).stationMm
    const drawn = sticks[stock.index]?.bends.find(({ atMm }) => Math.abs(tip - atMm) <= setGauges * measures.gaugeMm)
    // The moved rails of a stub lie against nothing.
    const planing = sticks[point.index]?.filings.find(({ kind }) => kind === 'point')
    if (planing === undefined) return []
    const depthMm = planing.tipMm
    const footClearMm = footClear(point.rail.gaugeLine, stock.rail.gaugeLine, measures.railFootMm)
    const nest = { point: point.index, stock: stock.index, at: { x: at.x, y: at.y }, footClearMm }
    if (drawn) return [{ ...nest, by: { kind: 'set', alongMm: drawn.atMm, turnRad: drawn.turnRad, isDrawn: true } }]
    if (practice.nest === 'set') {
      const turnRad = planing.angleRad
      const ahead = depthMm / Math.tan(turnRad)
      // Out, away from the point: to the side of the stock rail's own head.
      return [{ ...nest, by: { kind: 'set', alongMm: tip - ahead, turnRad: stock.rail.headSide * turnRad, isDrawn: false } }]
    }
    return [{ ...nest, by: { kind: 'undercut', depthMm, lengthMm: planing.lengthMm } }]
  })
}

/** Along the point from its tip to where its gauge line stands a foot off the stock rail's, so that their feet clear. */
function footClear(point: Path, stock: Path, footMm: number): number | null {
  const short = (along: number): number => pathNearest(stock, pathPoseAt(point, along)).distanceMm - footMm
  if (short(0) >= 0) return 0
  const root = rootBrent(short, 0, point.lengthMm, stationToleranceMm)
  return root.ok ? root.x : null
}
