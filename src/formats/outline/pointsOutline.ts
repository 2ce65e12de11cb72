import { pointsRead } from '../pointsText.ts'
import type { PointFault } from '../pointsText.ts'
import type { DrawingResult } from './types.ts'

/** A list of points as the corners of one line or outline; and the lines of it that are no point. */
export function pointsOutlineRead(text: string): { readonly result: DrawingResult; readonly faults: readonly PointFault[] } {
  const { points, faults, bare } = pointsRead(text, 'mm')
  const of = (result: DrawingResult): { readonly result: DrawingResult; readonly faults: readonly PointFault[] } => ({ result, faults })
  if (points.length < 2) return of({ ok: false, problem: { kind: 'noOutlines', expected: 'points' } })
  if (bare > 0 && bare < 2 * points.length) return of({ ok: false, problem: { kind: 'mixedUnits' } })
  const corners = points.map(({ x, y }) => ({ x, y }))
  return of({
    ok: true,
    unitMm: bare === 0 ? 1 : null,
    outlines: [{ layer: 'points', points: corners, isClosed: null }],
    leftOut: new Map(),
  })
}
