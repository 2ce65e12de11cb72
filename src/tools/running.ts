import type { Point } from '../core/geom/types.ts'
import type { ToolName } from '../store/types.ts'
import type { EntryKind, Modifiers, SketchItem, Tool, ToolContext, ToolEffect, ToolEvent, ToolOffer } from './types.ts'

/** A tool with the state that it is in; its kind of state stays inside. */
export interface RunningTool {
  readonly name: ToolName
  state(): unknown
  /** Back to a state that `state()` gave out. */
  restore(state: unknown): void
  step(event: ToolEvent, context: ToolContext): readonly ToolEffect[]
  sketch(context: ToolContext): readonly SketchItem[]
  entry(context: ToolContext): EntryKind
  offer(context: ToolContext): ToolOffer
  cursor(context: ToolContext): 'default' | 'draw' | 'pick' | 'grab' | 'grabbing'
  takesDrag(at: Point, modifiers: Modifiers, context: ToolContext): boolean
}

/** A tool in its first state. */
export function running<S>(tool: Tool<S>): RunningTool {
  let state = tool.initial
  // States given out, so that only such a state can be put back.
  const known = new Set<S>([state])
  return {
    name: tool.name,
    state: () => state,
    restore(earlier) {
      for (const one of known) if (one === earlier) state = one
    },
    step(event, context) {
      const next = tool.step(state, event, context)
      known.clear()
      known.add(state)
      known.add(next.state)
      state = next.state
      return next.effects
    },
    sketch: (context) => tool.sketch(state, context),
    entry: (context) => tool.entry(state, context),
    offer: (context) => tool.offer(state, context),
    cursor: (context) => tool.cursor(state, context),
    takesDrag: (at, modifiers, context) => tool.takesDrag(state, at, modifiers, context),
  }
}
