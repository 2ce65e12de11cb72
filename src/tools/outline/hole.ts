import { ringContains } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { Benchwork } from '../../core/plan/types.ts'
import type { ToolContext } from '../types.ts'
import { outlineTool } from './machine.ts'

/** Draws a hole (an access hatch, a turntable pit) in the benchwork that its first corner lies on. */
export const holeTool = outlineTool({
  name: 'hole',
  wish: { legs: false, tracks: false, benchwork: true, walls: false },
  fitsRoom: true,
  canStayOpen: false,
  endsAt: null,
  refuses: (first, context) => (benchworkUnder(first, context) === null ? { kind: 'outsideBenchwork' } : null),
  finish: (ring, _isClosed, context) => {
    const first = ring[0]
    const benchwork = first === undefined ? null : benchworkUnder(first, context)
    if (benchwork === null) return { ok: false, hint: { kind: 'outsideBenchwork' } }
    return { ok: true, command: { kind: 'benchwork.addHole', id: benchwork.id, ring }, selectAdded: false }
  },
})

/** The benchwork on top at a point; its edge counts, so that a notch can begin there. */
function benchworkUnder(point: Point, { plan }: ToolContext): Benchwork | null {
  return Object.values(plan.benchworks).findLast(({ outline }) => ringContains(outline, point)) ?? null
}
