import type { Point } from '../geom/types.ts'
import type { Chain } from './chain.ts'
import type { PlanText } from './text.ts'
import type { LayerName, LineRole } from './types.ts'

/** A line of the plan; a ring is a chain that returns to its start. */
export interface PlanStroke {
  readonly kind: 'stroke'
  readonly layer: LayerName
  readonly role: LineRole
  readonly chain: Chain
  /** Grey of what a ring encloses; absent: not filled. A filled ring is small: it is never drawn in part. */
  readonly fill?: number
}

/** A filled strip between two edges that are broken at the same stations, so that a page can take a part of it. */
export interface PlanBand {
  readonly kind: 'band'
  readonly layer: LayerName
  readonly role: LineRole
  readonly fill: number
  readonly edges: readonly [Chain, Chain]
}

/** Something drawn in plan millimetres, before it is laid on pages. */
export type PlanItem = PlanStroke | PlanBand | PlanText

export function planLine(layer: LayerName, role: LineRole, from: Point, to: Point): PlanStroke {
  return { kind: 'stroke', layer, role, chain: { start: from, segments: [{ kind: 'line', to }] } }
}
