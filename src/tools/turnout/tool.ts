import { kindUsual, turnoutSet } from '../../core/network/index.ts'
import type { NetworkTrack, NetworkTurnout } from '../../core/network/types.ts'
import type { Point } from '../../core/geom/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { Facing, Hand, Id, Turnout, TurnoutKind } from '../../core/plan/types.ts'
import { frogNumberParse } from '../../core/units/index.ts'
import { nextName } from '../shared/names.ts'
import { trackPicks } from '../shared/pick.ts'
import { wholeOf, wholeStepMm } from '../shared/snap.ts'
import { layDown, noHint, noHover } from '../shared/steps.ts'
import type { Modifiers, SketchItem, Step, Tool, ToolContext, ToolEvent, ToolOption } from '../types.ts'

/* Sets turnouts on tracks: the turnout rides along the track under the pointer, a click leaves it there. */

interface TurnoutToolState {
  readonly of: TurnoutKind['kind']
  readonly hand: Hand
  readonly facing: Facing
  /** Null: what the class of the track under the pointer usually has. */
  readonly frog: number | null
  readonly over: { readonly track: Id; readonly stationMm: number } | null
  readonly isDown: boolean
}

/** Frog numbers that a person can ask for. Finer than 4 no car follows, beyond 20 no room has the length. */
const frogLeast = 4
const frogMost = 20

const initial: TurnoutToolState = { of: 'plain', hand: 'left', facing: 'rising', frog: null, over: null, isDown: false }

export const turnoutTool: Tool<TurnoutToolState> = {
  name: 'turnout',
  initial,
  step: turnoutStep,
  sketch: (state, context): readonly SketchItem[] => {
    const ghost = turnoutGhost(state, context)
    return ghost === null ? [] : [{ kind: 'turnout', turnout: ghost }]
  },
  entry: () => 'frog',
  offer: ({ of, hand, facing, frog }) => ({ kind: 'turnout', of, hand, facing, frog }),
  cursor: (state) => (state.over === null ? 'default' : 'draw'),
  takesDrag: (state) => state.over !== null,
}

function turnoutStep(state: TurnoutToolState, event: ToolEvent, context: ToolContext): Step<TurnoutToolState> {
  switch (event.kind) {
    case 'pointerDown':
      return { state: { ...hovered(state, event.at, event.modifiers, context), isDown: true }, effects: [] }
    case 'pointerMove': {
      const next = hovered(state, event.at, event.modifiers, context)
      return { state: next, effects: [{ kind: 'hover', hover: next.over }] }
    }
    case 'pointerUp':
      return state.isDown
        ? placed({ ...hovered(state, event.at, event.modifiers, context), isDown: false }, context)
        : { state, effects: [] }
    case 'pointerLeave':
      return { state: { ...state, over: null, isDown: false }, effects: [noHover] }
    case 'key':
      return { state: keyed(state, event.key), effects: [noHint] }
    case 'option':
      return optioned(state, event.change)
    case 'entryChange':
      return { state, effects: [] }
    case 'entry': {
      const typed = frogNumberParse(event.text)
      if (!typed.ok)
        return { state, effects: [{ kind: 'hint', hint: { kind: 'entry', refusal: { kind: 'number', problem: typed.problem } } }] }
      return optioned(state, { kind: 'frog', frog: typed.frog })
    }
    case 'complete':
      return state.over === null ? { state, effects: [{ kind: 'hint', hint: { kind: 'noTrackHere' } }] } : placed(state, context)
    case 'cancel':
      return { state: initial, effects: [noHint, noHover, layDown] }
    case 'interrupt':
      return { state: { ...state, over: null, isDown: false }, effects: [noHint, noHover] }
    case 'doubleClick':
      return { state, effects: [] }
  }
}

const kindsInTurn: readonly TurnoutKind['kind'][] = ['plain', 'wye', 'three-way', 'stub']

function keyed(state: TurnoutToolState, key: string): TurnoutToolState {
  switch (key.toLowerCase()) {
    case 'h':
      return { ...state, hand: state.hand === 'left' ? 'right' : 'left' }
    case 'k':
      return { ...state, of: kindsInTurn[(kindsInTurn.indexOf(state.of) + 1) % kindsInTurn.length] ?? 'plain' }
    case 'f':
      return { ...state, facing: state.facing === 'rising' ? 'falling' : 'rising' }
    default:
      return state
  }
}

function optioned(state: TurnoutToolState, change: ToolOption): Step<TurnoutToolState> {
  switch (change.kind) {
    case 'kind':
      return { state: { ...state, of: change.of }, effects: [] }
    case 'hand':
      return { state: { ...state, hand: change.hand }, effects: [] }
    case 'facing':
      return { state: { ...state, facing: change.facing }, effects: [] }
    case 'frog':
      if (change.frog < frogLeast || change.frog > frogMost || !Number.isFinite(change.frog)) {
        return { state, effects: [{ kind: 'hint', hint: { kind: 'outOfRange', what: 'frog', min: frogLeast, max: frogMost } }] }
      }
      return { state: { ...state, frog: change.frog }, effects: [noHint] }
    case 'lineClass':
    case 'drawOn':
    case 'leaf':
    case 'hinge':
    case 'box':
    case 'measure':
      return { state, effects: [] }
  }
}

/** The place on the nearest track; at its ends the whole turnout is drawn on to it. */
function hovered(state: TurnoutToolState, at: Point, modifiers: Modifiers, context: ToolContext): TurnoutToolState {
  const pick = trackPicks(context, at)[0]
  const host = pick === undefined ? undefined : context.derived.network.tracks.get(pick.track)
  if (pick === undefined || host === undefined || !host.alignment.ok) return { ...state, over: null }
  const step = modifiers.alt ? null : wholeStepMm(context.pxPerMm, context.units)
  const whole = step === null ? pick.stationMm : wholeOf(pick.stationMm, step)
  const stationMm = Math.min(Math.max(whole, 0), host.alignment.path.lengthMm)
  const wanted = { track: pick.track, stationMm }
  // A wye has its place at the end that it faces.
  if (state.of === 'wye' && !modifiers.alt) {
    return { ...state, over: { track: pick.track, stationMm: state.facing === 'rising' ? host.alignment.path.lengthMm : 0 } }
  }
  const held = modifiers.alt ? null : heldOnTrack({ ...state, over: wanted }, host, context)
  return { ...state, over: held === null ? wanted : { track: pick.track, stationMm: held } }
}

/** The nearest station at which the turnout lies wholly on its track; null when it does already or cannot. */
function heldOnTrack(state: TurnoutToolState, host: NetworkTrack, context: ToolContext): number | null {
  const ghost = turnoutGhost(state, context)
  if (ghost === null || ghost.result.ok || !host.alignment.ok) return null
  const { problem, geometry } = ghost.result
  if (geometry === null) return null
  if (problem.kind !== 'runsOff') return null
  const { fromMm, toMm } = geometry.extent
  // What lies before and behind PS along rising station.
  const [behind, ahead] = ghost.turnout.facing === 'rising' ? [-fromMm, toMm] : [toMm, -fromMm]
  const [least, most] = [behind, host.alignment.path.lengthMm - ahead]
  if (least > most) return null
  return Math.min(Math.max(ghost.turnout.stationMm, least), most)
}

/** The turnout as it would lie under the pointer. */
function turnoutGhost(state: TurnoutToolState, context: ToolContext): NetworkTurnout | null {
  if (state.over === null) return null
  const host = context.derived.network.tracks.get(state.over.track)
  if (host === undefined) return null
  const turnout: Turnout = { ...turnoutRecord(state, state.over, host, context), id: 'draft' }
  return { turnout, lineClass: host.lineClass, result: turnoutSet(turnout, host) }
}

function turnoutRecord(
  state: TurnoutToolState,
  over: NonNullable<TurnoutToolState['over']>,
  host: NetworkTrack,
  { plan }: ToolContext,
): Omit<Turnout, 'id'> {
  return {
    name: nextName('Turnout', Object.values(plan.turnouts)),
    kind: kindUsual(state.of, host, state.frog ?? host.lineClass.usualFrog),
    track: over.track,
    stationMm: over.stationMm,
    facing: state.facing,
    hand: state.hand,
    frog: state.frog ?? host.lineClass.usualFrog,
    build: {
      points: 'straight',
      pointLengthMm: 'standard',
      pointThicknessMm: 'standard',
      heelSpreadMm: 'standard',
      toeLengthMm: 'standard',
      heelLengthMm: 'standard',
    },
  }
}

function placed(state: TurnoutToolState, context: ToolContext): Step<TurnoutToolState> {
  if (state.over === null) return { state, effects: [{ kind: 'hint', hint: { kind: 'noTrackHere' } }] }
  const track = recordFind(context.plan, 'tracks', state.over.track)
  const host = context.derived.network.tracks.get(state.over.track)
  const ghost = turnoutGhost(state, context)
  if (track === null || host === undefined || ghost === null) return { state, effects: [{ kind: 'hint', hint: { kind: 'noTrackHere' } }] }
  if (!ghost.result.ok) return { state, effects: [{ kind: 'hint', hint: { kind: 'turnoutDoesNotFit', turnout: ghost } }] }
  const record = turnoutRecord(state, state.over, host, context)
  return {
    state: { ...state, over: null },
    effects: [{ kind: 'apply', command: { kind: 'turnout.add', record }, selectAdded: true }, noHint, noHover, layDown],
  }
}
