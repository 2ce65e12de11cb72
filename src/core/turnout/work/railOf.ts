import { pathReverse } from '../../geom/index.ts'
import type { Path } from '../../geom/types.ts'
import type { HeadWidth, RailPart, TurnoutRail } from '../types.ts'
import { sideSign } from './side.ts'
import type { GaugeLine, Side, WorkMeasures } from './types.ts'

/** A rail of special work: part, the line that it belongs to, its face and the side of its head. */
export function railOf(
  measures: WorkMeasures,
  part: RailPart,
  line: GaugeLine,
  gaugeLine: Path,
  side: Side,
  headTaper: readonly HeadWidth[] = [],
): TurnoutRail {
  const first = headTaper[0]
  return {
    role: `${part}-${line.route}`,
    gaugeLine,
    headSide: sideSign(side),
    headWidthMm: measures.railHeadMm,
    footWidthMm: measures.railFootMm,
    ...(first ? { startHeadMm: first.headMm, headTaper } : {}),
  }
}

/** The same rail told from its other end. Rails with a taper are told from the thin end. */
export function railReverse(rail: TurnoutRail): TurnoutRail {
  return { ...rail, gaugeLine: pathReverse(rail.gaugeLine), headSide: rail.headSide === 1 ? -1 : 1 }
}
