import type { CompoundArc, CompoundCurve } from '../../core/plan/types.ts'

/** A curve of several radii with one of its arcs changed, counted from 0. */
export function arcWith(curve: CompoundCurve, index: number, change: Partial<CompoundArc>): CompoundCurve {
  if (index === 0) return { ...curve, first: { ...curve.first, ...change } }
  return { ...curve, next: curve.next.map((arc, i) => (i === index - 1 ? { ...arc, ...change } : arc)) }
}
