import { pointDistance, poseToPlan } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { NetworkCrossing } from '../network/types.ts'
import { slipCards } from '../turnout/index.ts'
import type { Section } from './section.ts'
import type { RoadbedTurnoutPiece } from './types.ts'

/**
 * What a crossing's slips add between its two tracks: a sliver each, cut along its card from a strip as long and as wide as it is. None
 * where a slip lies within the tracks' own roadbed.
 */
export function slipPieces(
  { id, pose, result }: NetworkCrossing,
  short: string,
  { lineClass, roadbed, shoulderMm }: Section,
): readonly RoadbedTurnoutPiece[] {
  if (!result.ok) return []
  return slipCards(result.crossing.routes, { roadbedMm: roadbed.topWidthMm, shoulderMm }).map((card): RoadbedTurnoutPiece => {
    const mark = `${short}-${card.route}`
    const { lengthMm, widthMm } = ringSize(card.foot)
    return {
      id: mark,
      owner: { kind: 'crossing', crossing: id },
      route: card.route,
      lineClass,
      roadbed,
      top: card.top.map((p) => poseToPlan(pose, p)),
      foot: card.foot.map((p) => poseToPlan(pose, p)),
      taperMm: card.taperMm,
      crotchRad: null,
      strips: [{ id: `${mark}.1`, strip: 0, number: 1, widthMm, lengthMm, taperMm: lengthMm / 2 }],
    }
  })
}

/** Length and width of what holds a sliver, along the line between its tips: its first point and that at the middle of its ring. */
function ringSize(ring: readonly Point[]): { readonly lengthMm: number; readonly widthMm: number } {
  const [from, to] = [ring[0] ?? { x: 0, y: 0 }, ring[Math.floor(ring.length / 2)] ?? { x: 0, y: 0 }]
  const reach = pointDistance(from, to) || 1
  const [ux, uy] = [(to.x - from.x) / reach, (to.y - from.y) / reach]
  const along = ring.map(({ x, y }) => x * ux + y * uy)
  const across = ring.map(({ x, y }) => y * ux - x * uy)
  return { lengthMm: Math.max(...along) - Math.min(...along), widthMm: Math.max(...across) - Math.min(...across) }
}
