import { pointDistance } from '../../core/geom/index.ts'
import type { Point, Pose } from '../../core/geom/types.ts'
import type { Modifiers, SketchItem, Snap, ToolContext } from '../types.ts'
import { pickToleranceMm } from './pick.ts'
import { snapBest, wholeStepMm, type SnapPoint } from './snap.ts'
import { targetEdges, targetGuides, targetParallels, targetPoints, type TargetWish } from './targets.ts'

/** Points set one after the other, as for an outline or a line of PIs. */
export interface ChainSnap {
  readonly points: readonly Point[]
  readonly at: Point
  readonly modifiers: Modifiers
  readonly wish: TargetWish
  /** The chain can be closed by pointing at its first point. */
  readonly canClose: boolean
  readonly bound: Pose | null
  /** It is to fit what stands there: sides end on walls and wood and go along them, and line up with their corners. */
  readonly fitsRoom?: true
}

/** Where the next point of a chain goes: steps of 45 degrees from the last one, level with earlier ones, on things of the plan. */
export function chainSnap(context: ToolContext, chain: ChainSnap): { readonly point: Point; readonly snap: Snap | null } {
  const { points, at, modifiers, wish, fitsRoom = false } = chain
  const first = points[0]
  const own: readonly SnapPoint[] = chain.canClose && first !== undefined ? [{ kind: 'firstPoint', at: first }] : []
  const targets = targetPoints(context, wish, at)
  const corners = fitsRoom ? targets.flatMap((target) => (isCorner(target) ? [target.at] : [])) : []
  return snapBest({
    at,
    toleranceMm: pickToleranceMm(context),
    modifiers,
    points: [...own, ...targets],
    edges: targetEdges(context, wish),
    lines: [...targetGuides(context), ...targetParallels(context, wish, at)],
    from: points.at(-1) ?? null,
    lineUp: [...points.slice(0, -1), ...corners],
    wholeMm: wholeStepMm(context.pxPerMm, context.units),
    bound: chain.bound,
    fitsEdges: fitsRoom,
  })
}

const isCorner = ({ kind }: SnapPoint): boolean => kind === 'benchworkCorner' || kind === 'wallCorner'

/** A second click on the point just set is not another point. */
export function isSamePlace(context: ToolContext, a: Point, b: Point | undefined): boolean {
  return b !== undefined && pointDistance(a, b) <= pickToleranceMm(context) / 2
}

/** What a chain shows: its sides, its points, the measure of the side in hand, and what draws the pointer. */
export function chainSketch(
  points: readonly Point[],
  pointer: Point | null,
  snap: Snap | null,
  role: 'outline' | 'construction',
): readonly SketchItem[] {
  const items: SketchItem[] = []
  const last = points.at(-1)
  const isClosing = snap?.kind === 'firstPoint'
  const shown = pointer === null || isClosing ? points : [...points, pointer]
  if (shown.length > 1) items.push({ kind: 'chain', points: shown, isClosed: isClosing, role })
  points.forEach((at, i) => items.push({ kind: 'knob', at, role: i === 0 ? 'first' : 'point' }))
  if (pointer !== null) {
    if (snap !== null) items.push({ kind: 'snap', snap })
    if (last !== undefined && pointDistance(last, pointer) > 0) items.push({ kind: 'measure', from: last, to: pointer })
    items.push({ kind: 'knob', at: pointer, role: 'pointer' })
  }
  return items
}
