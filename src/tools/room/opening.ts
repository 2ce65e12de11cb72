import { poseToLocal } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { DoorLeaf, Hand, Id, Opening, Wall } from '../../core/plan/types.ts'
import { pickToleranceMm } from '../shared/pick.ts'
import { openingHeld, openingLeaf, openingRings, wallNearest, wallPoseAt } from '../shared/roomThings.ts'
import { wholeOf, wholeStepMm } from '../shared/snap.ts'
import { layDown, noHint, stay } from '../shared/steps.ts'
import type { Modifiers, OpeningOf, SketchItem, Step, Tool, ToolContext, ToolEvent } from '../types.ts'
import { openingUsual } from './usual.ts'

/* Makes doors, passages and windows: the opening rides along the wall under the pointer, opens to the side the pointer is on, a click leaves it. */

interface OpeningState {
  readonly of: OpeningOf
  readonly hinge: DoorLeaf['hinge']
  readonly over: { readonly wall: Id; readonly opening: Omit<Opening, 'id'> } | null
  readonly isDown: boolean
}

const initial: OpeningState = { of: 'door', hinge: 'from', over: null, isDown: false }

export const openingTool: Tool<OpeningState> = {
  name: 'opening',
  initial,
  step: openingStep,
  sketch: ({ over }, { plan }) => {
    const wall = over === null ? null : recordFind(plan, 'walls', over.wall)
    return wall === null || over === null ? [] : openingSketch(wall, over.opening)
  },
  entry: () => null,
  offer: ({ of, hinge }) => ({ kind: 'opening', of, hinge }),
  cursor: ({ over }) => (over === null ? 'default' : 'draw'),
  takesDrag: ({ over }) => over !== null,
}

/** The gap, the leaf with what it sweeps, and how far it is from the corner before it. */
function openingSketch(wall: Wall, opening: Omit<Opening, 'id'>): readonly SketchItem[] {
  const picture = openingLeaf(wall, opening)
  const rings = openingRings(wall, opening)
  const [corner, start] = [wallPoseAt(wall, openingHeld(wall, 0, opening.widthMm)), rings[0]?.[0]]
  return [
    ...rings.map((points): SketchItem => ({ kind: 'chain', points, isClosed: true, role: 'outline' })),
    ...(picture === null
      ? []
      : [{ kind: 'chain', points: [...picture.leaf, ...picture.arc.toReversed()], isClosed: false, role: 'construction' } as const]),
    ...(corner === null || start === undefined || opening.fromMm === 0
      ? []
      : [{ kind: 'measure', from: corner, to: start } as const].filter(() => isOnFirstSide(wall, opening))),
  ]
}

/** The distance from the wall's first point can be shown as one straight measure. */
function isOnFirstSide(wall: Wall, { fromMm, widthMm }: Omit<Opening, 'id'>): boolean {
  return openingHeld(wall, 0, widthMm) === 0 && wallPoseAt(wall, 0)?.headingRad === wallPoseAt(wall, fromMm + widthMm / 2)?.headingRad
}

function openingStep(state: OpeningState, event: ToolEvent, context: ToolContext): Step<OpeningState> {
  switch (event.kind) {
    case 'pointerDown':
      return stay({ ...hovered(state, event.at, event.modifiers, context), isDown: true })
    case 'pointerMove':
      return stay(hovered(state, event.at, event.modifiers, context))
    case 'pointerUp':
      return state.isDown ? placed({ ...hovered(state, event.at, event.modifiers, context), isDown: false }) : stay(state)
    case 'pointerLeave':
      return stay({ ...state, over: null, isDown: false })
    case 'key':
      return { state: keyed(state, event.key, context), effects: [noHint] }
    case 'option':
      if (event.change.kind === 'leaf') return stay(withLeaf({ ...state, of: event.change.of }, context))
      return stay(event.change.kind === 'hinge' ? withLeaf({ ...state, hinge: event.change.hinge }, context) : state)
    case 'complete':
      return placed(state)
    case 'cancel':
      return { state: initial, effects: [noHint, layDown] }
    case 'interrupt':
      return { state: { ...state, over: null, isDown: false }, effects: [noHint] }
    case 'doubleClick':
    case 'entryChange':
    case 'entry':
      return stay(state)
  }
}

/** K goes round these. */
const nextOf: { readonly [O in OpeningOf]: OpeningOf } = { door: 'passage', passage: 'window', window: 'door' }

function keyed(state: OpeningState, key: string, context: ToolContext): OpeningState {
  switch (key.toLowerCase()) {
    case 'h':
      return withLeaf({ ...state, hinge: state.hinge === 'from' ? 'to' : 'from' }, context)
    case 'k':
      return withLeaf({ ...state, of: nextOf[state.of] }, context)
    default:
      return state
  }
}

/** The opening under the pointer as what is wanted now. */
function withLeaf(state: OpeningState, { plan, units }: ToolContext): OpeningState {
  const { over, of, hinge } = state
  const wall = over === null ? null : recordFind(plan, 'walls', over.wall)
  if (over === null || wall === null) return state
  const side: Hand = over.opening.leaf?.side ?? 'left'
  const { name, leaf, sillMm } = openingUsual(plan, units, wall, 0, of, { hinge, side })
  return { ...state, over: { ...over, opening: { ...over.opening, name, leaf, sillMm } } }
}

function hovered(state: OpeningState, at: Point, modifiers: Modifiers, context: ToolContext): OpeningState {
  const { plan } = context
  const near = Object.values(plan.walls)
    .flatMap((wall) => {
      const place = wallNearest(wall, at)
      return place === null || place.distanceMm > Math.max(2 * pickToleranceMm(context), wall.thicknessMm) ? [] : [{ wall, ...place }]
    })
    .toSorted((a, b) => a.distanceMm - b.distanceMm)[0]
  const pose = near === undefined ? null : wallPoseAt(near.wall, near.alongMm)
  if (near === undefined || pose === null) return { ...state, over: null }
  const side: Hand = poseToLocal(pose, at).y >= 0 ? 'left' : 'right'
  const usual = openingUsual(plan, context.units, near.wall, near.alongMm, state.of, { hinge: state.hinge, side })
  const step = modifiers.alt ? null : wholeStepMm(context.pxPerMm, context.units)
  const fromMm = step === null ? usual.fromMm : openingHeld(near.wall, wholeOf(usual.fromMm, step), usual.widthMm)
  return { ...state, over: { wall: near.wall.id, opening: { ...usual, fromMm } } }
}

function placed(state: OpeningState): Step<OpeningState> {
  if (state.over === null) return { state, effects: [{ kind: 'hint', hint: { kind: 'noWallHere' } }] }
  return {
    state: { ...state, over: null },
    effects: [{ kind: 'apply', command: { kind: 'opening.add', record: state.over.opening }, selectAdded: true }, noHint, layDown],
  }
}
