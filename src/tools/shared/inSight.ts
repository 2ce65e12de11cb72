import type { Hideable } from '../../store/hidden.ts'
import type { ToolContext } from '../types.ts'

const nothing: ReadonlyMap<never, never> = new Map<never, never>()

/** The context as it is seen: without what is out of sight. For what the pointer means, not for what is done. */
export function inSight(context: ToolContext): ToolContext {
  const { hidden = [], plan, derived } = context
  if (hidden.length === 0) return context
  const is = (kind: Hideable): boolean => hidden.includes(kind)
  const { network } = derived
  return {
    ...context,
    plan: {
      ...plan,
      ...(is('room') ? { walls: {}, obstacles: {}, openings: {} } : {}),
      ...(is('benchwork') ? { benchworks: {}, hatches: {}, joists: {} } : {}),
      ...(is('guides') ? { guides: {} } : {}),
      ...(is('readings') ? { readings: {} } : {}),
      ...(is('tracks') ? { portals: {} } : {}),
    },
    derived: {
      ...derived,
      network: {
        ...network,
        ...(is('tracks') ? { tracks: nothing } : {}),
        ...(is('turnouts') ? { turnouts: nothing, crossings: nothing } : {}),
      },
    },
  }
}
