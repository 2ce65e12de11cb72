import * as v from 'valibot'
import type { StoreApi } from 'zustand/vanilla'
import { recordFind, tableNames } from '../core/plan/index.ts'
import type { Plan } from '../core/plan/index.ts'
import { timingReal } from './timing.ts'
import type { Timing } from './timing.ts'
import type { TextStorage } from './prefsStore.ts'
import { hideables } from './hidden.ts'
import { sessionKeys } from './sessionStore.ts'
import type { Selection, SessionState, SessionStoreState, Viewport } from './types.ts'

/** Where one looked in each plan. */
const storageKey = (planId: string): string => `waybench.session.${planId}`
/** A pan ends before it is written; what is lost by a crash is where one looked in the last third of a second. */
const delayMs = 300

const id = v.string()
const end = v.picklist(['start', 'end'])
const selection = v.variant('kind', [
  v.object({ kind: v.literal('none') }),
  v.object({ kind: v.literal('record'), table: v.picklist(tableNames), id }),
  v.object({ kind: v.literal('corner'), track: id, corner: id }),
  v.object({ kind: v.literal('trackEnd'), track: id, end }),
  v.object({ kind: v.literal('ringPoint'), benchwork: id, ring: v.number(), index: v.number() }),
  v.object({ kind: v.literal('several'), members: v.array(v.object({ table: v.picklist(tableNames), id })) }),
]) satisfies v.GenericSchema<unknown, Selection>
const finite = v.pipe(v.number(), v.finite())
const viewport = v.object({
  centre: v.object({ x: finite, y: finite }),
  pxPerMm: v.pipe(finite, v.gtValue(0)),
}) satisfies v.GenericSchema<unknown, Viewport>
const stage = v.picklist(['room', 'line', 'turnouts', 'roadbed', 'track', 'checks', 'sheets']) satisfies v.GenericSchema<
  unknown,
  SessionState['stage']
>
const hidden = v.array(v.picklist(hideables)) satisfies v.GenericSchema<unknown, SessionState['hidden']>

/** Reads what was kept of the session with a plan. A value that cannot be used, and a selection of what the plan does not have, is as if not kept. */
export function sessionKept(storage: TextStorage | null, plan: Plan, planId: string): Partial<SessionState> {
  let json: unknown
  try {
    json = JSON.parse(storage?.getItem(storageKey(planId)) ?? '{}')
  } catch {
    return {}
  }
  if (typeof json !== 'object' || json === null) return {}
  const kept: { [key: string]: unknown } = { ...json }
  return {
    ...(v.is(stage, kept['stage']) ? { stage: kept['stage'] } : {}),
    ...(v.is(viewport, kept['viewport']) ? { viewport: kept['viewport'] } : {}),
    ...(v.is(hidden, kept['hidden']) ? { hidden: kept['hidden'] } : {}),
    ...(v.is(selection, kept['selection']) && selectionExists(plan, kept['selection']) ? { selection: kept['selection'] } : {}),
  }
}

/** Whether what is selected is in the plan. */
export function selectionExists(plan: Plan, selected: Selection): boolean {
  switch (selected.kind) {
    case 'none':
      return true
    case 'record':
      return recordFind<typeof selected.table>(plan, selected.table, selected.id) !== null
    case 'several':
      return selected.members.every(({ table, id }) => recordFind<typeof table>(plan, table, id) !== null)
    case 'corner':
      return recordFind(plan, 'tracks', selected.track)?.corners.some((corner) => corner.id === selected.corner) ?? false
    case 'trackEnd':
      return recordFind(plan, 'tracks', selected.track) !== null
    case 'ringPoint': {
      const benchwork = recordFind(plan, 'benchworks', selected.benchwork)
      const ring = selected.ring === -1 ? benchwork?.outline : benchwork?.holes[selected.ring]
      return ring?.[selected.index] !== undefined
    }
  }
}

/**
 * Keeps those keys of the session that are to be kept (`sessionKeys`), a moment after they change.
 * Gives back what writes them at once. A storage that is full or forbidden is passed over: only where one looked is lost.
 */
export function sessionKeep(
  store: StoreApi<SessionStoreState>,
  storage: TextStorage,
  planId: () => string,
  timing: Timing = timingReal,
): () => void {
  const keys = Object.entries(sessionKeys).flatMap(([key, fate]) => (fate.persist === 'browser' ? [key as keyof SessionState] : []))
  let callOff: (() => void) | null = null
  const write = (): void => {
    callOff?.()
    callOff = null
    const state = store.getState()
    try {
      storage.setItem(storageKey(planId()), JSON.stringify(Object.fromEntries(keys.map((key) => [key, state[key]]))))
    } catch {
      // Nothing of the plan is in it.
    }
  }
  store.subscribe((state, before) => {
    if (keys.some((key) => state[key] !== before[key])) callOff ??= timing.after(delayMs, write)
  })
  return write
}
