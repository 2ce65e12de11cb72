import { keptFor } from '../plan/index.ts'
import type { Joist } from '../plan/types.ts'
import type { Point } from '../geom/types.ts'
import type { Derived } from '../pipeline/types.ts'
import { roadbedOf } from '../roadbed/index.ts'
import type { Tie } from '../track/types.ts'
import { chainOfPoints } from './chain.ts'
import { amongTies, edgeClear, ringClear } from './clearOfTies.ts'
import type { PlanItem } from './planItem.ts'

/** Longest piece of a straight edge, so that a page can leave out what is far from it. */
const PIECE_MM = 300

const roadbedKept = keptFor(roadbedOf)

/**
 * Edges of the roadbed at its top and at its foot, with the pieces that turnouts and crossings add; as far as they lie clear of the ties, whose gaps
 * they would close.
 */
export function roadbedItems(derived: Derived, ties: readonly Tie[]): readonly PlanItem[] {
  const isAmong = amongTies(ties)
  const { runs, turnoutPieces } = roadbedKept(derived)
  const along = runs.flatMap(({ path, lengthMm, roadbed, footWidthMm }) =>
    [...new Set([roadbed.topWidthMm, footWidthMm])].flatMap((width) =>
      [width / 2, -width / 2].flatMap((offset) => edgeClear(path, lengthMm, offset, isAmong)),
    ),
  )
  const round = turnoutPieces.flatMap(({ top, foot }) => [top, foot].flatMap((ring) => ringClear(ring, isAmong)))
  return [...along, ...round].map((chain) => ({ kind: 'stroke', layer: 'roadbed', role: 'roadbed', chain }))
}

/** Edges of joists and risers: where no hole can be drilled and no machine hung. */
export function joistItems({ plan }: Derived): readonly PlanItem[] {
  return Object.values(plan.joists).flatMap((joist): readonly PlanItem[] => {
    const chain = chainOfPoints(joistRing(joist))
    return chain ? [{ kind: 'stroke', layer: 'joists', role: 'joist', chain }] : []
  })
}

function joistRing({ from, to, widthMm }: Joist): readonly Point[] {
  const length = Math.hypot(to.x - from.x, to.y - from.y)
  if (!(length > 0)) return []
  const [ux, uy] = [(to.x - from.x) / length, (to.y - from.y) / length]
  const point = (along: number, across: number): Point => ({ x: from.x + along * ux - across * uy, y: from.y + along * uy + across * ux })
  const pieces = Math.max(1, Math.ceil(length / PIECE_MM))
  const side = (across: number): readonly Point[] => Array.from({ length: pieces + 1 }, (_, i) => point((length * i) / pieces, across))
  const start = point(0, -widthMm / 2)
  return [...side(-widthMm / 2), ...side(widthMm / 2).toReversed(), start]
}
