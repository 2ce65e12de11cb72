import { tieCorners } from '../track/index.ts'
import type { Rail, Tie } from '../track/types.ts'
import { chainOfRing } from './chain.ts'
import { edgesAlong } from './edge.ts'
import type { PlanItem } from './planItem.ts'
import { RAIL_HEAD_GREY, TIE_GREY } from './roles.ts'

/**
 * A rail as the builder lays it: the head filled, the foot as two thin lines, the gauge line on the edge of the head.
 * Where the head is planed or filed to a taper, head and foot run out with it.
 */
export function railItems(rail: Rail): readonly PlanItem[] {
  const { path, offsetMm, fromMm, toMm } = rail.gaugeLine
  const side = rail.headSide
  const headStart = rail.startHeadMm ?? rail.headWidthMm
  const headEnd = rail.endHeadMm ?? rail.headWidthMm
  const rim = (rail.footWidthMm - rail.headWidthMm) / 2
  const rimStart = rail.startHeadMm === undefined ? rim : 0
  const rimEnd = rail.endHeadMm === undefined ? rim : 0
  const beside = (start: number, end: number): { startMm: number; endMm: number } => ({
    startMm: offsetMm + side * start,
    endMm: offsetMm + side * end,
  })
  const [gauge, back, footFront, footBack] = edgesAlong(path, fromMm, toMm, [
    beside(0, 0),
    beside(headStart, headEnd),
    beside(-rimStart, -rimEnd),
    beside(headStart + rimStart, headEnd + rimEnd),
  ])
  if (!gauge || !back || !footFront || !footBack) return []
  return [
    { kind: 'stroke', layer: 'rail-foot', role: 'rail-foot', chain: footFront },
    { kind: 'stroke', layer: 'rail-foot', role: 'rail-foot', chain: footBack },
    { kind: 'band', layer: 'rail-head', role: 'rail-head', fill: RAIL_HEAD_GREY, edges: [gauge, back] },
    { kind: 'stroke', layer: 'rail-head', role: 'rail-gauge', chain: gauge },
  ]
}

/** A tie: its outline closed and lightly filled, so that it is told from a gap. */
export function tieItem(tie: Tie): PlanItem | null {
  const chain = chainOfRing(tieCorners(tie))
  return chain && { kind: 'stroke', layer: 'ties', role: 'tie', chain, fill: TIE_GREY }
}
