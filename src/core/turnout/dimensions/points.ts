import { pathNearest, pathPoseAt } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import type { TurnoutRail } from '../types.ts'
import { partOf, railNearest } from './faces.ts'
import type { Measured } from './faces.ts'

/** Places along a point at which its gap is measured. */
const places = 60

export interface OpenPoint {
  readonly point: TurnoutRail
  /** Between the stock rail and the back of the point, at its tip and where it is narrowest. */
  readonly atTip: Measured
  readonly narrowest: Measured
}

/**
 * The gap behind each point when it stands open: it has turned about its heel by the throw at its tip, and its head is as wide as it is
 * planed. Exact to the first order in the switch angle.
 */
export function openPoints(rails: readonly TurnoutRail[], throwMm: number): readonly OpenPoint[] {
  const stocks = rails.filter((rail) => partOf(rail) === 'stock' || partOf(rail) === 'elbow' || partOf(rail) === 'closure')
  return rails
    .filter((rail) => partOf(rail) === 'point')
    .flatMap((point): OpenPoint[] => {
      const { gaugeLine, headSide } = point
      const tip = pathPoseAt(gaugeLine, 0)
      const beside = stocks.filter(
        (stock) => stock.headSide === headSide || pathNearest(stock.gaugeLine, tip).distanceMm < point.headWidthMm,
      )
      const stock = railNearest(beside, tip)
      if (stock === null) return []
      const gapAt = (share: number): Measured => {
        const along = share * gaugeLine.lengthMm
        const at = pathPoseAt(gaugeLine, along)
        const closed = pathNearest(stock.gaugeLine, at).distanceMm
        return { mm: closed + throwMm * (1 - share) - Math.min(headAt(point, along), closed), at: place(at) }
      }
      const gaps = Array.from({ length: places + 1 }, (_, i) => gapAt(i / places))
      const narrowest = gaps.reduce((least, gap) => (gap.mm < least.mm ? gap : least))
      return [{ point, atTip: gapAt(0), narrowest }]
    })
}

const place = ({ x, y }: Point): Point => ({ x, y })

/** Width of a head at a distance along its rail; rails with a taper are told from the thin end. */
function headAt({ headTaper, headWidthMm }: TurnoutRail, alongMm: number): number {
  if (!headTaper) return headWidthMm
  const next = headTaper.findIndex((knot) => knot.alongMm >= alongMm)
  const after = headTaper[next]
  if (!after) return headWidthMm
  const before = headTaper[next - 1]
  if (!before) return after.headMm
  return before.headMm + ((after.headMm - before.headMm) * (alongMm - before.alongMm)) / (after.alongMm - before.alongMm)
}
