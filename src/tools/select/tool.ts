import { editLabel } from '../../words/editLabel.ts'
import { pointDistance } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import { cornerNextId, recordFind } from '../../core/plan/index.ts'
import { picksAt, sidePick, trackPicks } from '../shared/pick.ts'
import type { Pick, SketchItem, Snap, Step, Tool, ToolContext, ToolEffect, ToolEvent } from '../types.ts'
import { gripOf, pickIsGripped, selectionOf, type Grip } from './grip.ts'
import { keyEffects } from './keys.ts'
import { gripMove } from './move.ts'

/* The tool in the hand when no other is: choose a thing, drag what can be dragged, put points in and take things out. */

export type SelectState =
  /** over: what a press would do here; for the shape of the pointer. */
  | { readonly kind: 'idle'; readonly over: 'nothing' | 'thing' | 'grip' }
  /** Pressed on something that a drag does not move: letting go selects it. */
  | { readonly kind: 'pressed'; readonly at: Point }
  /** Pressed on something that a drag moves; nothing is changed until the pointer has gone a little way. */
  | { readonly kind: 'armed'; readonly grip: Grip; readonly at: Point }
  | { readonly kind: 'dragging'; readonly grip: Grip; readonly at: Point; readonly snap: Snap | null }

/** A press wanders less than this before it is a drag, px. */
const slopPx = 4

const idle: SelectState = { kind: 'idle', over: 'nothing' }
const noHint: ToolEffect = { kind: 'hint', hint: null }

export const selectTool: Tool<SelectState> = {
  name: 'select',
  initial: idle,
  step: selectStep,
  sketch: (state): readonly SketchItem[] => (state.kind === 'dragging' && state.snap !== null ? [{ kind: 'snap', snap: state.snap }] : []),
  entry: () => null,
  offer: () => ({ kind: 'none' }),
  cursor: selectCursor,
  takesDrag: (state, at, context) => {
    if (state.kind === 'dragging' || state.kind === 'armed') return true
    const pick = picksAt(context, at)[0]
    return pick !== undefined && pickIsGripped(pick, context)
  },
}

function selectCursor(state: SelectState): ReturnType<Tool<SelectState>['cursor']> {
  switch (state.kind) {
    case 'idle':
      return state.over === 'grip' ? 'grab' : state.over === 'thing' ? 'pick' : 'default'
    case 'pressed':
      return 'default'
    case 'armed':
    case 'dragging':
      return 'grabbing'
  }
}

function selectStep(state: SelectState, event: ToolEvent, context: ToolContext): Step<SelectState> {
  switch (event.kind) {
    case 'pointerDown':
      // A second press during a drag (another button, another finger) is no new drag.
      return state.kind === 'dragging' ? { state, effects: [] } : pressed(event.at, context)
    case 'pointerMove':
      return moved(state, event, context)
    case 'pointerUp':
      return released(state, event, context)
    case 'pointerLeave':
      return { state: idle, effects: state.kind === 'dragging' ? [{ kind: 'cancel' }, noHint] : [{ kind: 'hover', hover: null }] }
    case 'doubleClick':
      return state.kind === 'dragging' ? { state, effects: [] } : { state: idle, effects: pointPutIn(event.at, context) }
    case 'key':
      return { state, effects: state.kind === 'idle' ? keyEffects(event.key, event.modifiers.shift, context) : [] }
    case 'cancel':
      if (state.kind === 'dragging') return { state: idle, effects: [{ kind: 'cancel' }, noHint] }
      return { state: idle, effects: state.kind === 'idle' ? [{ kind: 'select', selection: { kind: 'none' } }, noHint] : [noHint] }
    case 'interrupt':
      return { state: idle, effects: state.kind === 'dragging' ? [{ kind: 'cancel' }, noHint] : [noHint] }
    case 'complete':
      return state.kind === 'dragging' ? { state: idle, effects: [{ kind: 'commit' }, noHint] } : { state, effects: [] }
    case 'entryChange':
    case 'entry':
    case 'option':
      return { state, effects: [] }
  }
}

function pressed(at: Point, context: ToolContext): Step<SelectState> {
  const pick = picksAt(context, at)[0]
  if (pick === undefined || !pickIsGripped(pick, context)) return { state: { kind: 'pressed', at }, effects: [noHint] }
  const grip = gripOf(pick, at, context)
  const effects: readonly ToolEffect[] = [noHint, { kind: 'select', selection: selectionOf(pick) }]
  return { state: grip === null ? { kind: 'pressed', at } : { kind: 'armed', grip, at }, effects }
}

type PointerEvent = Extract<ToolEvent, { kind: 'pointerMove' | 'pointerUp' }>

function moved(state: SelectState, event: PointerEvent, context: ToolContext): Step<SelectState> {
  switch (state.kind) {
    case 'idle': {
      const over = overAt(event.at, context)
      // The same state as long as nothing changes: a pointer that wanders wakes nobody.
      return {
        state: over === state.over ? state : { kind: 'idle', over },
        effects: [{ kind: 'hover', hover: hoverAt(event.at, context) }],
      }
    }
    case 'pressed':
      return { state, effects: [] }
    case 'armed': {
      if (pointDistance(state.at, event.at) * context.pxPerMm < slopPx) return { state, effects: [] }
      const move = gripMove(state.grip, state.at, event.at, event.modifiers, context)
      if (move === null) return { state: { kind: 'pressed', at: state.at }, effects: [{ kind: 'hint', hint: { kind: 'trackTied' } }] }
      return {
        state: { ...state, kind: 'dragging', snap: move.snap },
        effects: [
          { kind: 'hover', hover: null },
          { kind: 'begin', label: editLabel(move.command, context.plan) },
          { kind: 'replace', command: move.command },
        ],
      }
    }
    case 'dragging': {
      const move = gripMove(state.grip, state.at, event.at, event.modifiers, context)
      if (move === null) return { state, effects: [] }
      return { state: { ...state, snap: move.snap }, effects: [{ kind: 'replace', command: move.command }] }
    }
  }
}

function released(state: SelectState, event: PointerEvent, context: ToolContext): Step<SelectState> {
  switch (state.kind) {
    case 'idle':
    case 'armed':
      return { state: idle, effects: [] }
    case 'pressed': {
      if (pointDistance(state.at, event.at) * context.pxPerMm >= slopPx) return { state: idle, effects: [] }
      const pick = picksAt(context, event.at)[0]
      return { state: idle, effects: [{ kind: 'select', selection: pick === undefined ? { kind: 'none' } : selectionOf(pick) }] }
    }
    case 'dragging': {
      const last = moved(state, event, context)
      return { state: idle, effects: [...last.effects, { kind: 'commit' }, noHint] }
    }
  }
}

function overAt(at: Point, context: ToolContext): 'nothing' | 'thing' | 'grip' {
  const pick = picksAt(context, at)[0]
  if (pick === undefined) return 'nothing'
  if (pickIsGripped(pick, context)) return 'grip'
  // Boards and walls are everywhere; a hand over all of them would say nothing.
  return pick.kind === 'benchwork' || pick.kind === 'wall' || pick.kind === 'obstacle' ? 'nothing' : 'thing'
}

function hoverAt(at: Point, context: ToolContext): { readonly track: string; readonly stationMm: number } | null {
  const pick = trackPicks(context, at)[0]
  return pick === undefined ? null : { track: pick.track, stationMm: pick.stationMm }
}

/** A double click on a side of the selected thing puts a point in there. */
function pointPutIn(at: Point, context: ToolContext): readonly ToolEffect[] {
  const pick: Pick | null = picksAt(context, at).some((candidate) => candidate.kind === 'corner' || candidate.kind === 'ringPoint')
    ? null
    : sidePick(context, at)
  if (pick === null) return []
  if (pick.kind === 'ringSide') {
    const { benchwork: id, ring, index } = pick
    return [
      { kind: 'apply', command: { kind: 'benchwork.insertPoint', id, ring, index, at: pick.at }, selectAdded: false },
      { kind: 'select', selection: { kind: 'ringPoint', benchwork: id, ring, index } },
    ]
  }
  if (pick.kind !== 'trackSide') return []
  const track = recordFind(context.plan, 'tracks', pick.track)
  if (track === null) return []
  const id = cornerNextId(track.corners)
  const corner = { id, x: pick.at.x, y: pick.at.y, radius: 'class', easementIn: 'class', easementOut: 'class' } as const
  return [
    { kind: 'apply', command: { kind: 'corner.insert', track: track.id, index: pick.side, corner }, selectAdded: false },
    { kind: 'select', selection: { kind: 'corner', track: track.id, corner: id } },
  ]
}
