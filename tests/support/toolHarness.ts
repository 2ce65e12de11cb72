import { expect } from 'vitest'
import type { PlanCommand } from '../../src/core/edit/index.ts'
import type { Point } from '../../src/core/geom/types.ts'
import { planEmpty } from '../../src/core/plan/index.ts'
import type { Plan } from '../../src/core/plan/types.ts'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import { lastGoodNone, makersLate, planStoreCreate, prefsStoreCreate, sessionStoreCreate } from '../../src/store/index.ts'
import type { Hideable } from '../../src/store/hidden.ts'
import type { DerivedStoreState, Prefs, Selection, ToolName } from '../../src/store/types.ts'
import { toolHostCreate, toolsBring, type MeasuredChange, type Modifiers, type ToolEvent, type ToolOption } from '../../src/tools/index.ts'
import type { ToolBox } from '../../src/tools/toolbox.ts'

await Promise.all([makersLate.bring(), toolsBring()])

const none: Modifiers = { shift: false, alt: false }

/** A hand at the canvas without a canvas: what it does goes to the tools, what comes of it can be asked for. */
export function toolHarness(start: Plan = planEmpty(), tool: ToolName = 'select', units: Prefs['units'] = 'imperial', box?: ToolBox) {
  const plan = planStoreCreate(start)
  // One pixel to the millimetre: nine millimetres are "near", a whole step is a quarter of an inch.
  const session = sessionStoreCreate({ tool, viewport: { centre: { x: 0, y: 0 }, pxPerMm: 1 } })
  const prefs = prefsStoreCreate()
  prefs.getState().setPrefs({ units })
  const pipeline = pipelineCreate()
  const derived = {
    getState(): DerivedStoreState {
      const now = plan.getState().plan
      return {
        derived: pipeline.derive(now),
        lastGood: lastGoodNone,
        findings: [],
        silenced: [],
        idle: [],
        findingsFor: now,
        checksTrouble: null,
      }
    },
    subscribe: () => () => {},
  }
  const measured: MeasuredChange[] = []
  const host = toolHostCreate(
    { plan, session, prefs, derived },
    () => 1,
    (change) => measured.push(change),
    box,
  )
  let held = none

  const at = (x: number, y: number): { readonly at: Point; readonly modifiers: Modifiers } => ({ at: { x, y }, modifiers: held })
  const send = (event: ToolEvent) => {
    host.send(event)
    return hand
  }

  const hand = {
    send,
    /** Modifiers for what follows. */
    holding(modifiers: Partial<Modifiers>) {
      held = { ...none, ...modifiers }
      return hand
    },
    pointerDown: (x: number, y: number) => send({ kind: 'pointerDown', ...at(x, y) }),
    pointerMove: (x: number, y: number) => send({ kind: 'pointerMove', ...at(x, y) }),
    pointerUp: (x: number, y: number) => send({ kind: 'pointerUp', ...at(x, y) }),
    pointerLeave: () => send({ kind: 'pointerLeave' }),
    click: (x: number, y: number) => hand.pointerMove(x, y).pointerDown(x, y).pointerUp(x, y),
    /** As a browser sends it: two clicks, then the double click. */
    doubleClick: (x: number, y: number) => {
      hand.click(x, y).click(x, y)
      return send({ kind: 'doubleClick', ...at(x, y) })
    },
    /** Presses, goes there in a few moves, lets go. */
    drag: (from: readonly [number, number], to: readonly [number, number]) => {
      hand.pointerDown(...from)
      for (const share of [0.25, 0.5, 0.75, 1]) {
        hand.pointerMove(from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share)
      }
      return hand.pointerUp(...to)
    },
    key: (key: string) => send({ kind: 'key', key, modifiers: held }),
    /** Types into the field at the pointer and ends it with Enter. */
    type: (text: string) => {
      host.entryOpen(text)
      return send({ kind: 'entry', text })
    },
    /** One stroke into that field, which the first one opens. */
    stroke: (text: string) => {
      host.entryOpen(text)
      return hand
    },
    option: (change: ToolOption) => send({ kind: 'option', change }),
    enter: () => send({ kind: 'complete' }),
    escape: () => send({ kind: 'cancel' }),
    interrupt: () => send({ kind: 'interrupt' }),
    take: (next: ToolName) => {
      session.getState().setTool(next)
      return hand
    },
    select: (selection: Selection) => {
      session.getState().select(selection)
      return hand
    },
    hide: (...kinds: readonly Hideable[]) => {
      session.getState().setHidden(kinds)
      return hand
    },
    load: (next: Plan) => {
      plan.getState().load(next)
      return hand
    },
    /** A command from elsewhere on the desk; a refused one changes nothing. */
    apply: (command: PlanCommand) => {
      plan.getState().apply(command)
      return hand
    },
    undo: () => {
      plan.getState().undo()
      return hand
    },
    redo: () => {
      plan.getState().redo()
      return hand
    },

    plan: () => plan.getState().plan,
    committed: () => plan.getState().committed,
    hidden: () => session.getState().hidden,
    selection: () => session.getState().selection,
    hover: () => session.getState().hover,
    tool: () => session.getState().tool,
    steps: () => plan.getState().undoStack.length,
    hint: () => host.view().hint,
    entry: () => host.view().entry,
    isComing: () => host.view().isComing,
    sketch: () => host.sketch(),
    takesDrag: (x: number, y: number) => host.takesDrag({ x, y }, held),
    network: () => derived.getState().derived.network,
    measured: (): readonly MeasuredChange[] => measured,
    stop: () => host.stop(),

    expectState(kind: string) {
      expect(host.view().state).toMatchObject({ kind })
      return hand
    },
    expectPlan(check: (plan: Plan) => void) {
      check(plan.getState().plan)
      return hand
    },
    expectUndoCount(count: number) {
      expect(plan.getState().undoStack.map(({ label }) => label)).toHaveLength(count)
      return hand
    },
    /** What the last step is called. */
    lastLabel: (): string | null => plan.getState().undoStack.at(-1)?.label ?? null,
    expectNoTransaction() {
      expect(plan.getState().transaction).toBeNull()
      expect(plan.getState().plan).toBe(plan.getState().committed)
      return hand
    },
    expectTool(name: ToolName) {
      expect(session.getState().tool).toBe(name)
      return hand
    },
    expectHint(kind: string | null) {
      expect(host.view().hint?.kind ?? null).toBe(kind)
      return hand
    },
  }
  return hand
}
export type ToolHarness = ReturnType<typeof toolHarness>

/** The single record of a table. */
export function only<R>(table: { readonly [id: string]: R }): R {
  const records = Object.values(table)
  expect(records).toHaveLength(1)
  const record = records[0]
  if (record === undefined) throw new Error('the table is empty')
  return record
}
