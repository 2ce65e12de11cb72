import type { Point } from '../../core/geom/types.ts'
import type { Portal } from '../../core/plan/types.ts'
import { trackPicks } from '../shared/pick.ts'
import { portalSides } from '../shared/roomThings.ts'
import { wholeOf, wholeStepMm } from '../shared/snap.ts'
import { layDown, noHint, noHover } from '../shared/steps.ts'
import type { Modifiers, SketchItem, Step, Tool, ToolContext, ToolEvent } from '../types.ts'
import { portalUsual } from './usual.ts'

/* Sets portals over tracks: the portal rides along the track under the pointer, a click leaves it there. */

interface PortalState {
  readonly over: Omit<Portal, 'id'> | null
  readonly isDown: boolean
}

const initial: PortalState = { over: null, isDown: false }

export const portalTool: Tool<PortalState> = {
  name: 'portal',
  initial,
  step: portalStep,
  sketch: ({ over }, { derived }): readonly SketchItem[] => {
    const host = over === null ? undefined : derived.network.tracks.get(over.track)
    if (over === null || host === undefined || !host.alignment.ok) return []
    const { left, right } = portalSides(host.alignment.path, host.alignment.isClosed, over)
    return [{ kind: 'chain', points: [...left, ...right.toReversed()], isClosed: true, role: 'outline' }]
  },
  entry: () => null,
  offer: () => ({ kind: 'none' }),
  cursor: ({ over }) => (over === null ? 'default' : 'draw'),
  takesDrag: ({ over }) => over !== null,
}

function portalStep(state: PortalState, event: ToolEvent, context: ToolContext): Step<PortalState> {
  switch (event.kind) {
    case 'pointerDown':
      return { state: { over: overAt(event.at, event.modifiers, context), isDown: true }, effects: [] }
    case 'pointerMove': {
      const over = overAt(event.at, event.modifiers, context)
      const hover = over === null ? null : { track: over.track, stationMm: over.stationMm }
      return { state: { ...state, over }, effects: [{ kind: 'hover', hover }] }
    }
    case 'pointerUp':
      return state.isDown ? placed({ over: overAt(event.at, event.modifiers, context), isDown: false }) : { state, effects: [] }
    case 'pointerLeave':
      return { state: initial, effects: [noHover] }
    case 'complete':
      return placed(state)
    case 'cancel':
      return { state: initial, effects: [noHint, noHover, layDown] }
    case 'interrupt':
      return { state: initial, effects: [noHint, noHover] }
    case 'doubleClick':
    case 'entryChange':
    case 'entry':
    case 'key':
    case 'option':
      return { state, effects: [] }
  }
}

function overAt(at: Point, modifiers: Modifiers, context: ToolContext): Omit<Portal, 'id'> | null {
  const pick = trackPicks(context, at)[0]
  const host = pick === undefined ? undefined : context.derived.network.tracks.get(pick.track)
  if (pick === undefined || host === undefined || !host.alignment.ok) return null
  const step = modifiers.alt ? null : wholeStepMm(context.pxPerMm, context.units)
  const stationMm = step === null ? pick.stationMm : wholeOf(pick.stationMm, step)
  return portalUsual(context.plan, pick.track, host.lineClass, Math.min(Math.max(stationMm, 0), host.alignment.path.lengthMm))
}

function placed(state: PortalState): Step<PortalState> {
  if (state.over === null) return { state, effects: [{ kind: 'hint', hint: { kind: 'noTrackForPortal' } }] }
  return {
    state: initial,
    effects: [{ kind: 'apply', command: { kind: 'portal.add', record: state.over }, selectAdded: true }, noHint, noHover, layDown],
  }
}
