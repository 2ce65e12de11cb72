import { pathPoseAt } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { Id, ReadingOf } from '../../core/plan/types.ts'
import { lengthParse } from '../../core/units/index.ts'
import { chainSnap, isSamePlace } from '../shared/chain.ts'
import { entryPoint } from '../shared/entry.ts'
import { nextName } from '../shared/names.ts'
import { selectedTrack, trackPicks } from '../shared/pick.ts'
import { layDown, noHint, stay } from '../shared/steps.ts'
import type { Hint, Modifiers, SketchItem, Snap, Step, Tool, ToolContext, ToolEvent } from '../types.ts'

/* Measures by pointing: nothing of it is in the plan until it is kept. */

export type MeasureKind = ReadingOf['kind']

/** A place that was pointed at, and the track there. */
interface Place {
  readonly at: Point
  readonly on: { readonly track: Id; readonly stationMm: number } | null
}

export interface MeasureState {
  readonly of: MeasureKind
  readonly places: readonly Place[]
  readonly pointer: Place | null
  readonly snap: Snap | null
  readonly isDown: boolean
  /** What was measured, until the next place is pointed at. */
  readonly done: ReadingOf | null
}

const fresh: MeasureState = { of: 'distance', places: [], pointer: null, snap: null, isDown: false, done: null }
const inTurn: readonly MeasureKind[] = ['distance', 'angle', 'along', 'radius', 'centres']
const placesNeeded: { readonly [K in MeasureKind]: number } = { distance: 2, angle: 3, along: 2, radius: 1, centres: 2 }
const isFree = (of: MeasureKind): boolean => of === 'distance' || of === 'angle'

export const measureTool: Tool<MeasureState> = {
  name: 'measure',
  initial: fresh,
  step: measureStep,
  sketch: measureSketch,
  entry: ({ of, places }) => (isFree(of) ? 'point' : of === 'centres' && places.length === 1 ? null : 'station'),
  offer: ({ of, done, places }) => ({ kind: 'measure', of, places: places.length, isDone: done !== null }),
  cursor: () => 'draw',
  takesDrag: () => true,
}

function measureSketch(state: MeasureState): readonly SketchItem[] {
  const reading = state.done ?? readingWith(state)
  const knobs = state.done === null ? state.places.map(({ at }): SketchItem => ({ kind: 'knob', at, role: 'point' })) : []
  const pointer: readonly SketchItem[] = state.pointer === null ? [] : [{ kind: 'knob', at: state.pointer.at, role: 'pointer' }]
  return [
    ...(reading === null ? [] : [{ kind: 'reading', of: reading } as const]),
    ...knobs,
    ...pointer,
    ...(state.snap === null ? [] : [{ kind: 'snap', snap: state.snap } as const]),
  ]
}

function measureStep(state: MeasureState, event: ToolEvent, context: ToolContext): Step<MeasureState> {
  switch (event.kind) {
    case 'pointerDown':
      return stay({ ...pointed(state, event.at, event.modifiers, context), isDown: true })
    case 'pointerMove':
      return stay(pointed(state, event.at, event.modifiers, context))
    case 'pointerUp': {
      const next = { ...pointed(state, event.at, event.modifiers, context), isDown: false }
      const last = next.done === null ? next.places.at(-1) : undefined
      return !state.isDown || next.pointer === null || isSamePlace(context, next.pointer.at, last?.at)
        ? stay(next)
        : withPlace(next, next.pointer)
    }
    case 'pointerLeave':
      return stay({ ...state, pointer: null, snap: null, isDown: false })
    case 'key':
      return keyed(state, event.key, context)
    case 'entryChange': {
      const typed = typedPlace(state, event.text, context)
      return stay(typed.ok ? { ...state, pointer: typed.place, snap: null } : state)
    }
    case 'entry': {
      const typed = typedPlace(state, event.text, context)
      return typed.ok ? withPlace(state, typed.place) : { state, effects: [{ kind: 'hint', hint: typed.hint }] }
    }
    case 'option':
      return event.change.kind === 'measure' ? { state: { ...fresh, of: event.change.of }, effects: [noHint] } : stay(state)
    case 'complete':
      return state.done === null ? stay(state) : kept(state, state.done, context)
    case 'cancel':
      if (state.places.length === 0 && state.done === null) return { state: fresh, effects: [noHint, layDown] }
      return { state: { ...fresh, of: state.of, pointer: state.pointer }, effects: [noHint] }
    case 'interrupt':
      return { state: { ...fresh, of: state.of }, effects: [noHint] }
    // The second click of two is the place just set.
    case 'doubleClick':
      return stay(state)
  }
}

function keyed(state: MeasureState, key: string, context: ToolContext): Step<MeasureState> {
  switch (key.toLowerCase()) {
    case 'm':
      return { state: { ...fresh, of: inTurn[(inTurn.indexOf(state.of) + 1) % inTurn.length] ?? 'distance' }, effects: [noHint] }
    case 'k':
      return state.done === null ? stay(state) : kept(state, state.done, context)
    case 'backspace':
      return stay({ ...state, places: state.places.slice(0, -1), done: null })
    default:
      return stay(state)
  }
}

/** Where the pointer is: drawn to things of the plan, or on to the nearest track where a track is measured. */
function pointed(state: MeasureState, at: Point, modifiers: Modifiers, context: ToolContext): MeasureState {
  if (!isFree(state.of)) {
    const pick = trackPicks(context, at)[0]
    const on = pick === undefined ? null : { track: pick.track, stationMm: pick.stationMm }
    return { ...state, pointer: { at: pick?.at ?? at, on }, snap: null }
  }
  const points = state.done === null ? state.places.map((place) => place.at) : []
  const wish = { legs: true, tracks: true, benchwork: true, walls: true, parallels: false } as const
  // A measured place is where it is: no round figures.
  const { point, snap } = chainSnap(context, { points, at, modifiers, wish, canClose: false, bound: null })
  const isDrawn = snap !== null && snap.kind !== 'whole' && (snap.kind !== 'angle' || modifiers.shift)
  return { ...state, pointer: { at: isDrawn ? point : at, on: null }, snap: isDrawn ? snap : null }
}

function withPlace(state: MeasureState, place: Place): Step<MeasureState> {
  const before: MeasureState = state.done === null ? state : { ...state, places: [], done: null }
  const hint = refusal(before, place)
  if (hint !== null) return { state: before, effects: [{ kind: 'hint', hint }] }
  const next: MeasureState = { ...before, places: [...before.places, place], snap: null }
  const done = next.places.length === placesNeeded[next.of] ? readingOf(next.of, next.places) : null
  return { state: { ...next, done }, effects: [noHint] }
}

function refusal({ of, places }: MeasureState, { on }: Place): Hint | null {
  if (isFree(of)) return null
  if (on === null) return { kind: 'measure', needs: 'track' }
  const first = places[0]?.on
  if (of === 'along' && first !== undefined && first?.track !== on.track) return { kind: 'measure', needs: 'sameTrack' }
  return of === 'centres' && first?.track === on.track ? { kind: 'measure', needs: 'otherTrack' } : null
}

/** What is measured if the pointer's place is the next one; null: not enough yet. */
function readingWith(state: MeasureState): ReadingOf | null {
  if (state.pointer === null || refusal(state, state.pointer) !== null) return null
  const places = [...state.places, state.pointer]
  return places.length === placesNeeded[state.of] ? readingOf(state.of, places) : null
}

function readingOf(of: MeasureKind, [first, second, third]: readonly Place[]): ReadingOf | null {
  if (first === undefined) return null
  switch (of) {
    case 'distance':
      return second === undefined ? null : { kind: 'distance', from: first.at, to: second.at }
    case 'angle':
      return second === undefined || third === undefined ? null : { kind: 'angle', at: first.at, from: second.at, to: third.at }
    case 'along':
      if (first.on === null || !second?.on) return null
      return { kind: 'along', track: first.on.track, fromMm: first.on.stationMm, toMm: second.on.stationMm }
    case 'radius':
      return first.on === null ? null : { kind: 'radius', ...first.on }
    case 'centres':
      return first.on === null || !second?.on ? null : { kind: 'centres', ...first.on, other: second.on.track }
  }
}

function kept(state: MeasureState, of: ReadingOf, { plan }: ToolContext): Step<MeasureState> {
  const record = { name: nextName('Measurement', Object.values(plan.readings)), of }
  return {
    state: { ...fresh, of: state.of, pointer: state.pointer },
    effects: [{ kind: 'apply', command: { kind: 'reading.add', record }, selectAdded: false }, noHint],
  }
}

type Typed = { readonly ok: true; readonly place: Place } | { readonly ok: false; readonly hint: Hint }

/** A typed place: from the last one, or by its station. */
function typedPlace(state: MeasureState, text: string, context: ToolContext): Typed {
  const { units, derived } = context
  const last = state.done === null ? state.places.at(-1) : undefined
  if (isFree(state.of)) {
    const from = state.of === 'angle' ? state.places[0] : last
    const typed = entryPoint(text, { from: from?.at ?? null, towards: state.pointer?.at ?? null, units })
    return typed.ok ? { ok: true, place: { at: typed.point, on: null } } : { ok: false, hint: { kind: 'entry', refusal: typed.refusal } }
  }
  const length = lengthParse(text, { bare: units === 'imperial' ? 'in' : 'mm' })
  if (!length.ok) return { ok: false, hint: { kind: 'entry', refusal: { kind: 'length', problem: length.problem } } }
  const track = last?.on?.track ?? state.pointer?.on?.track ?? selectedTrack(context)
  const alignment = track === null ? undefined : derived.network.tracks.get(track)?.alignment
  if (track === null || alignment?.ok !== true) return { ok: false, hint: { kind: 'measure', needs: 'track' } }
  const stationMm = length.mm + (state.of === 'along' ? (last?.on?.stationMm ?? 0) : 0)
  if (stationMm < 0 || stationMm > alignment.path.lengthMm)
    return { ok: false, hint: { kind: 'beyondTrack', lengthMm: alignment.path.lengthMm } }
  const { x, y } = pathPoseAt(alignment.path, stationMm)
  return { ok: true, place: { at: { x, y }, on: { track, stationMm } } }
}
