import { commandApply } from '../../core/edit/index.ts'
import { editLabel } from '../../words/editLabel.ts'
import { pointDistance } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import { cornerPutIn } from '../shared/cornerPutIn.ts'
import { trackHandles } from '../shared/handles.ts'
import { picksAt, sidePick, trackPicks } from '../shared/pick.ts'
import { noHint, noHover } from '../shared/steps.ts'
import type { Modifiers, Pick, SketchItem, Snap, Step, Tool, ToolContext, ToolEffect, ToolEvent } from '../types.ts'
import { selectionMembers, selectionOfMembers, selectionToggled } from '../../store/selection.ts'
import { gripOf, pickIsGripped, pickMember, selectionOf, type Grip } from './grip.ts'
import { keyEffects, selectionGrip } from './keys.ts'
import { gripMove } from './move.ts'
import { boxSelection } from './several.ts'
import { stepKind, stepTyped } from './typed.ts'

/* The tool in the hand when no other is: choose a thing, drag what can be dragged, put points in and take things out. */

export type SelectState =
  /** over: what a press would do here; for the shape of the pointer. */
  | { readonly kind: 'idle'; readonly over: 'nothing' | 'thing' | 'grip' }
  /** Pressed on something that a drag does not move: letting go selects it. */
  | { readonly kind: 'pressed'; readonly at: Point }
  /** Pressed with Shift or Ctrl: a click takes in or leaves out, a drag draws a frame around what is to be chosen. */
  | { readonly kind: 'adding'; readonly at: Point }
  | { readonly kind: 'boxing'; readonly from: Point; readonly to: Point }
  /** The next drag draws such a frame, without a key held: for a finger. */
  | { readonly kind: 'boxNext' }
  /** Pressed on something that a drag moves; nothing is changed until the pointer has gone a little way. */
  | { readonly kind: 'armed'; readonly grip: Grip; readonly at: Point }
  /** typed: a step is being typed, and the pointer does not lead. */
  | {
      readonly kind: 'dragging'
      readonly grip: Grip
      readonly at: Point
      readonly to: Point
      readonly snap: Snap | null
      readonly typed: boolean
    }

/** A press wanders less than this before it is a drag, px. */
const slopPx = 4

const idle: SelectState = { kind: 'idle', over: 'nothing' }

export const selectTool: Tool<SelectState> = {
  name: 'select',
  initial: idle,
  step: selectStep,
  sketch: selectSketch,
  entry: (state, context) => {
    const grip = state.kind === 'dragging' ? state.grip : state.kind === 'idle' ? selectionGrip(context) : null
    return grip === null ? null : stepKind(grip)
  },
  offer: (state) => (state.kind === 'boxNext' ? { kind: 'box' } : { kind: 'none' }),
  cursor: selectCursor,
  takesDrag: (state, at, modifiers, context) => {
    if (state.kind === 'dragging' || state.kind === 'armed' || state.kind === 'boxNext' || isAdding(modifiers)) return true
    const pick = picksAt(context, at)[0]
    return pick !== undefined && pickIsGripped(pick, context)
  },
}

function selectCursor(state: SelectState): ReturnType<Tool<SelectState>['cursor']> {
  switch (state.kind) {
    case 'idle':
      return state.over === 'grip' ? 'grab' : state.over === 'thing' ? 'pick' : 'default'
    case 'pressed':
    case 'adding':
      return 'default'
    case 'boxing':
    case 'boxNext':
      return 'draw'
    case 'armed':
    case 'dragging':
      return 'grabbing'
  }
}

function selectStep(state: SelectState, event: ToolEvent, context: ToolContext): Step<SelectState> {
  switch (event.kind) {
    case 'pointerDown':
      // A second press during a drag (another button, another finger) is no new drag.
      if (state.kind === 'dragging') return { state, effects: [] }
      if (state.kind === 'boxNext') return { state: { kind: 'boxing', from: event.at, to: event.at }, effects: [noHint] }
      return isAdding(event.modifiers) ? adding(event.at, event.modifiers, context) : pressed(event.at, context)
    case 'pointerMove':
      return moved(state, event, context)
    case 'pointerUp':
      return released(state, event, context)
    case 'pointerLeave':
      return { state: idle, effects: state.kind === 'dragging' ? [{ kind: 'cancel' }, noHint] : [noHover] }
    case 'doubleClick':
      return state.kind === 'dragging' ? { state, effects: [] } : { state: idle, effects: pointPutIn(event.at, context) }
    case 'key':
      return { state, effects: state.kind === 'idle' ? keyEffects(event.key, event.modifiers, context) : [] }
    case 'cancel':
      if (state.kind === 'dragging') return { state: idle, effects: [{ kind: 'cancel' }, noHint] }
      return { state: idle, effects: state.kind === 'idle' ? [{ kind: 'select', selection: { kind: 'none' } }, noHint] : [noHint] }
    case 'interrupt':
      return { state: idle, effects: state.kind === 'dragging' ? [{ kind: 'cancel' }, noHint] : [noHint] }
    case 'complete':
      return state.kind === 'dragging' ? { state: idle, effects: [{ kind: 'commit' }, noHint] } : { state, effects: [] }
    case 'entryChange':
      return state.kind === 'dragging' ? typing(state, event.text, context) : { state, effects: [] }
    case 'entry':
      return typed(state, event.text, context)
    case 'option':
      return event.change.kind === 'box' && state.kind === 'idle' ? { state: { kind: 'boxNext' }, effects: [] } : { state, effects: [] }
  }
}

function pressed(at: Point, context: ToolContext): Step<SelectState> {
  const pick = picksAt(context, at)[0]
  if (pick === undefined || !pickIsGripped(pick, context)) return { state: { kind: 'pressed', at }, effects: [noHint] }
  const grip = gripOf(pick, at, context)
  // Several that are taken hold of stay chosen.
  const isSeveral = grip?.kind === 'several' || grip?.kind === 'turn'
  const effects: readonly ToolEffect[] = isSeveral ? [noHint] : [noHint, { kind: 'select', selection: selectionOf(pick) }]
  return { state: grip === null ? { kind: 'pressed', at } : { kind: 'armed', grip, at }, effects }
}

const isAdding = ({ shift, ctrl }: Modifiers): boolean => shift || ctrl === true

/** A handle is dragged with Shift held, too: it then goes along one direction. */
function adding(at: Point, modifiers: Modifiers, context: ToolContext): Step<SelectState> {
  const pick = picksAt(context, at)[0]
  const isHandle = pick !== undefined && pickIsGripped(pick, context)
  if (!isHandle || modifiers.ctrl === true) return { state: { kind: 'adding', at }, effects: [noHint] }
  const grip = gripOf(pick, at, context)
  return { state: grip === null ? { kind: 'adding', at } : { kind: 'armed', grip, at }, effects: [noHint] }
}

/** Takes in what lies here, or leaves it out. */
function toggled(at: Point, context: ToolContext): readonly ToolEffect[] {
  const pick = picksAt(context, at)[0]
  const member = pick === undefined ? null : pickMember(pick)
  return member === null ? [] : [{ kind: 'select', selection: selectionToggled(context.selection, member) }]
}

/** A click on one of several leaves only that one chosen. */
function chosenAlone(at: Point, context: ToolContext): readonly ToolEffect[] {
  const pick = picksAt(context, at)[0]
  return pick === undefined ? [] : [{ kind: 'select', selection: selectionOf(pick) }]
}

function selectSketch(state: SelectState): readonly SketchItem[] {
  if (state.kind === 'boxing') return [{ kind: 'box', from: state.from, to: state.to }]
  return state.kind === 'dragging' && state.snap !== null ? [{ kind: 'snap', snap: state.snap }] : []
}

type Dragging = Extract<SelectState, { kind: 'dragging' }>

/** What is typed during a drag shows at once; emptied, the pointer leads again. */
function typing(state: Dragging, text: string, context: ToolContext): Step<SelectState> {
  if (text.trim() === '') return { state: { ...state, typed: false }, effects: [] }
  const step = stepTyped(text, state.grip, state.at, state.to, context)
  return { state: { ...state, typed: true }, effects: step.ok ? [{ kind: 'replace', command: step.command }] : [] }
}

/** A typed step is done: of what is dragged, or of what is selected. */
function typed(state: SelectState, text: string, context: ToolContext): Step<SelectState> {
  if (state.kind === 'dragging') {
    const step = stepTyped(text, state.grip, state.at, state.to, context)
    if (!step.ok) return { state, effects: [{ kind: 'hint', hint: step.hint }] }
    return { state: idle, effects: [{ kind: 'replace', command: step.command }, { kind: 'commit' }, noHint] }
  }
  const grip = state.kind === 'idle' ? selectionGrip(context) : null
  if (grip === null) return { state, effects: [] }
  const at = 'at' in grip ? grip.at : { x: 0, y: 0 }
  const step = stepTyped(text, grip, at, at, context)
  if (!step.ok) return { state, effects: [{ kind: 'hint', hint: step.hint }] }
  return { state, effects: [{ kind: 'apply', command: step.command, selectAdded: false }, noHint] }
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
    case 'boxNext':
      return { state, effects: [] }
    case 'adding':
      if (pointDistance(state.at, event.at) * context.pxPerMm < slopPx) return { state, effects: [] }
      return { state: { kind: 'boxing', from: state.at, to: event.at }, effects: [] }
    case 'boxing':
      return { state: { ...state, to: event.at }, effects: [] }
    case 'armed': {
      if (pointDistance(state.at, event.at) * context.pxPerMm < slopPx) return { state, effects: [] }
      const move = gripMove(state.grip, state.at, event.at, event.modifiers, context)
      if (!move.ok) return { state: { kind: 'pressed', at: state.at }, effects: [{ kind: 'hint', hint: move.hint }] }
      const refused = commandApply(context.plan, move.command)
      if (!refused.ok && refused.problem.kind === 'locked') {
        return { state: { kind: 'pressed', at: state.at }, effects: [{ kind: 'hint', hint: { kind: 'edit', problem: refused.problem } }] }
      }
      return {
        state: { ...state, kind: 'dragging', to: event.at, snap: move.snap, typed: false },
        effects: [noHover, { kind: 'begin', label: editLabel(move.command, context.plan) }, { kind: 'replace', command: move.command }],
      }
    }
    case 'dragging': {
      if (state.typed) return { state, effects: [] }
      const move = gripMove(state.grip, state.at, event.at, event.modifiers, context)
      if (!move.ok) return { state, effects: [] }
      return { state: { ...state, to: event.at, snap: move.snap }, effects: [{ kind: 'replace', command: move.command }] }
    }
  }
}

function released(state: SelectState, event: PointerEvent, context: ToolContext): Step<SelectState> {
  switch (state.kind) {
    case 'idle':
    case 'boxNext':
      return { state: idle, effects: [] }
    case 'armed':
      // Pressed with Shift and not dragged: it was to be left out.
      if (isAdding(event.modifiers)) return { state: idle, effects: toggled(event.at, context) }
      return { state: idle, effects: state.grip.kind === 'several' ? chosenAlone(event.at, context) : [] }
    case 'adding':
      return { state: idle, effects: toggled(event.at, context) }
    case 'boxing': {
      const within = boxSelection(state.from, event.at, context)
      const isAdded = isAdding(event.modifiers)
      const members = [...(isAdded ? selectionMembers(context.selection) : []), ...selectionMembers(within)]
      return { state: idle, effects: [{ kind: 'select', selection: selectionOfMembers(members) }] }
    }
    case 'pressed': {
      if (pointDistance(state.at, event.at) * context.pxPerMm >= slopPx) return { state: idle, effects: [] }
      const pick = picksAt(context, event.at)[0]
      return { state: idle, effects: [{ kind: 'select', selection: pick === undefined ? { kind: 'none' } : selectionOf(pick) }] }
    }
    case 'dragging': {
      // The hand lets go while a step is typed: Enter ends it.
      if (state.typed) return { state, effects: [] }
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
  const solved = context.derived.network.tracks.get(pick.track)
  const side = solved === undefined ? undefined : trackHandles(solved).sides[pick.side]
  if (solved === undefined || side === undefined) return []
  const { command, corner, room, isLonger } = cornerPutIn(context.plan, solved, pick.side, side, pick.at)
  const isTold = room.longer !== null || room.isShort
  return [
    { kind: 'apply', command, selectAdded: false },
    { kind: 'select', selection: { kind: 'corner', track: pick.track, corner } },
    { kind: 'hint', hint: isTold ? { kind: 'cornerRoom', room, isLonger } : null },
  ]
}
