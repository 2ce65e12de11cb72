import type { Traverse } from '../../core/alignment/types.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Corner, Id } from '../../core/plan/types.ts'

/** A line that was solved, written down as a track of its own. null: it hangs on a leg, which a parallel never does. */
export function traverseTrack(traverse: Traverse, lineClass: Id, name: string): PlanCommand | null {
  const { start, end } = traverse
  if (start.kind !== 'free' || end.kind === 'leg') return null
  return {
    kind: 'track.add',
    record: {
      name,
      lineClass,
      start: { kind: 'free', x: start.at.x, y: start.at.y },
      corners: traverse.corners.map(cornerOf),
      end: end.kind === 'closed' ? { kind: 'closed' } : { kind: 'free', x: end.at.x, y: end.at.y },
    },
  }
}

function cornerOf({ id, x, y, radiusMm, easementInMm, easementOutMm }: Traverse['corners'][number]): Corner {
  const ends = { id, x, y, easementIn: easementInMm, easementOut: easementOutMm }
  if (radiusMm === null) return { ...ends, radius: 'easement-only' }
  if (typeof radiusMm === 'number') return { ...ends, radius: radiusMm }
  const { first, next } = radiusMm
  return {
    ...ends,
    radius: {
      first: { radius: first.radiusMm, turn: first.turn },
      next: next.map((arc) => ({ radius: arc.radiusMm, turn: arc.turn, easement: arc.easementMm })),
    },
  }
}
