import type { PlanCommand } from '../../core/edit/types.ts'
import { pointDistance } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { ToolName } from '../../store/types.ts'
import { chainSketch, chainSnap, isSamePlace } from '../shared/chain.ts'
import { entryPoint } from '../shared/entry.ts'
import { layDown, noHint, stay } from '../shared/steps.ts'
import type { TargetWish } from '../shared/targets.ts'
import type { Hint, Modifiers, Snap, Step, Tool, ToolContext, ToolEvent } from '../types.ts'

/* Straight sides from corner to corner: benchwork, a hole in it, a hatch, walls, joists. One machine; what becomes of the points differs. */

export interface OutlineState {
  readonly kind: 'idle' | 'drawing'
  readonly points: readonly Point[]
  readonly pointer: Point | null
  readonly snap: Snap | null
  /** The pointer was pressed here and has not left; a point is set where it is let go. */
  readonly isDown: boolean
}

export interface OutlineUse {
  readonly name: ToolName
  readonly wish: TargetWish
  /** Its sides are to fit walls and wood that stand there. */
  readonly fitsRoom: boolean
  /** A wall may end anywhere; benchwork is always a ring. */
  readonly canStayOpen: boolean
  /** With so many points it is done by itself; null: never. */
  readonly endsAt: number | null
  /** Why the first point cannot lie here; null: it can. */
  refuses(first: Point, context: ToolContext): Hint | null
  /** The step that the drawn points become. */
  finish(points: readonly Point[], isClosed: boolean, context: ToolContext): Finish
}
export type Finish =
  | { readonly ok: true; readonly command: PlanCommand; readonly selectAdded: boolean }
  | { readonly ok: false; readonly hint: Hint }

const idle: OutlineState = { kind: 'idle', points: [], pointer: null, snap: null, isDown: false }

export function outlineTool(use: OutlineUse): Tool<OutlineState> {
  return {
    name: use.name,
    initial: idle,
    step: (state, event, context) => outlineStep(use, state, event, context),
    sketch: (state) => chainSketch(state.points, state.pointer, state.snap, 'outline'),
    entry: () => 'point',
    offer: ({ points }) => ({ kind: 'chain', points: points.length, canEnd: points.length >= (use.canStayOpen ? 2 : 3), lineClass: null }),
    cursor: () => 'draw',
    takesDrag: () => true,
  }
}

function outlineStep(use: OutlineUse, state: OutlineState, event: ToolEvent, context: ToolContext): Step<OutlineState> {
  switch (event.kind) {
    case 'pointerDown':
      return stay({ ...pointed(use, state, event.at, event.modifiers, context), isDown: true })
    case 'pointerMove':
      return stay(pointed(use, state, event.at, event.modifiers, context))
    case 'pointerUp': {
      if (!state.isDown) return stay(state)
      const next = { ...pointed(use, state, event.at, event.modifiers, context), isDown: false }
      if (next.snap?.kind === 'firstPoint') return finished(use, next, true, context)
      return next.pointer === null || isSamePlace(context, next.pointer, next.points.at(-1))
        ? stay(next)
        : withPoint(use, next, next.pointer, context)
    }
    case 'pointerLeave':
      return stay({ ...state, pointer: null, snap: null, isDown: false })
    case 'doubleClick':
    case 'complete':
      return state.kind === 'idle' ? stay(state) : finished(use, state, !use.canStayOpen, context)
    case 'key':
      return event.key === 'Backspace' ? stay(withoutLast(state)) : stay(state)
    case 'entryChange': {
      const typed = entryPoint(event.text, { from: state.points.at(-1) ?? null, towards: state.pointer, units: context.units })
      return stay(typed.ok ? { ...state, pointer: typed.point, snap: null } : state)
    }
    case 'entry': {
      const typed = entryPoint(event.text, { from: state.points.at(-1) ?? null, towards: state.pointer, units: context.units })
      if (!typed.ok) return { state, effects: [{ kind: 'hint', hint: { kind: 'entry', refusal: typed.refusal } }] }
      const first = state.points[0]
      // A typed side that comes back to the start closes the ring: a tenth of a millimetre is finer than any saw.
      if (first !== undefined && state.points.length >= 3 && pointDistance(first, typed.point) < 0.1)
        return finished(use, state, true, context)
      return withPoint(use, state, typed.point, context)
    }
    case 'cancel':
      return state.kind === 'idle' ? { state: idle, effects: [layDown] } : { state: idle, effects: [noHint] }
    case 'interrupt':
      return { state: idle, effects: [noHint] }
    case 'option':
      return stay(state)
  }
}

function pointed(use: OutlineUse, state: OutlineState, at: Point, modifiers: Modifiers, context: ToolContext): OutlineState {
  const canClose = state.points.length >= 3
  const { point, snap } = chainSnap(context, {
    points: state.points,
    at,
    modifiers,
    wish: use.wish,
    canClose,
    bound: null,
    ...(use.fitsRoom ? { fitsRoom: true } : {}),
  })
  return { ...state, pointer: point, snap }
}

function withPoint(use: OutlineUse, state: OutlineState, point: Point, context: ToolContext): Step<OutlineState> {
  const hint = state.points.length === 0 ? use.refuses(point, context) : null
  if (hint !== null) return { state, effects: [{ kind: 'hint', hint }] }
  const next: OutlineState = { ...state, kind: 'drawing', points: [...state.points, point], pointer: point, snap: null }
  return next.points.length === use.endsAt ? finished(use, next, false, context) : { state: next, effects: [noHint] }
}

function withoutLast(state: OutlineState): OutlineState {
  const points = state.points.slice(0, -1)
  return points.length === 0 ? { ...idle, pointer: state.pointer } : { ...state, points, snap: null }
}

function finished(use: OutlineUse, state: OutlineState, isClosed: boolean, context: ToolContext): Step<OutlineState> {
  const need = isClosed ? 3 : 2
  if (state.points.length < need) {
    return { state, effects: [{ kind: 'hint', hint: { kind: 'needPoints', have: state.points.length, need } }] }
  }
  const finish = use.finish(state.points, isClosed, context)
  if (!finish.ok) return { state, effects: [{ kind: 'hint', hint: finish.hint }] }
  return {
    state: idle,
    effects: [{ kind: 'apply', command: finish.command, selectAdded: finish.selectAdded }, noHint, layDown],
  }
}
