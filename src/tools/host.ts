import type { EditProblem } from '../core/edit/types.ts'
import type { Point } from '../core/geom/types.ts'
import type { TableName } from '../core/plan/types.ts'
import type { DerivedStoreState, HistoryEntry, PlanStoreState, PrefsStoreState, SessionStoreState, ToolName } from '../store/types.ts'
import type { RunningTool } from './running.ts'
import { toolBox, type ToolBox } from './toolbox.ts'
import type { EntryKind, Hint, MeasuredChange, Modifiers, SketchItem, ToolContext, ToolEffect, ToolEvent, ToolOffer } from './types.ts'

/* The one place where what a tool asks for is done to the stores. Canvas and headless tests use the same host. */

export interface Readable<T> {
  getState(): T
  subscribe(listener: (state: T, previous: T) => void): () => void
}
export interface ToolStores {
  readonly plan: Readable<PlanStoreState>
  readonly session: Readable<SessionStoreState>
  readonly derived: Readable<DerivedStoreState>
  readonly prefs: Readable<PrefsStoreState>
}

/** What the canvas shows of the tool in the hand. A new object after every change. */
export interface ToolView {
  readonly tool: ToolName
  readonly state: unknown
  readonly hint: Hint | null
  /** Text in the field at the pointer; null: no field. */
  readonly entry: string | null
  /** It is still being fetched: what is done meanwhile waits for it. */
  readonly isComing: boolean
}

export interface ToolHost {
  send(event: ToolEvent): void
  /** Opens the field at the pointer with what was typed, changes its text, or shuts it. */
  entryOpen(text: string): void
  entryShut(): void
  view(): ToolView
  sketch(): readonly SketchItem[]
  entryKind(): EntryKind
  offer(): ToolOffer
  cursor(): ReturnType<RunningTool['cursor']>
  takesDrag(at: Point, modifiers: Modifiers): boolean
  subscribe(listener: () => void): () => void
  /** Ends what is open and lets go of the stores. */
  stop(): void
}

/**
 * Fingers are broader than pointers: `reach` widens what counts as near. 1: a mouse. `measured` hears of places that were measured,
 * which are nothing of the plan.
 */
export function toolHostCreate(
  stores: ToolStores,
  reach: () => number = () => 1,
  measured: (change: MeasuredChange) => void = () => undefined,
  box: ToolBox = toolBox(),
): ToolHost {
  const listeners = new Set<() => void>()
  /** What a hand did while its tool was on the way; done in order when it is there. */
  let waiting: (() => void)[] = []
  let typed = ''
  /** The step that the last nudge made: as long as nothing else was done, the next one goes on with it. */
  let nudge: HistoryEntry | null = null
  let isStopped = false
  let tool = take(stores.session.getState().tool)
  let hint: Hint | null = null
  let entry: string | null = null
  let seen: ToolView = viewNow()

  function take(name: ToolName): RunningTool {
    waiting = []
    typed = ''
    const there = box.now(name)
    if (there !== null) return there
    const coming = comingTool(name)
    comeOver(coming)
    return coming
  }

  /** Brings the tool that is wanted, and gives it what was meant for it. What fails to come is asked for again by the next event. */
  function comeOver(coming: RunningTool): void {
    box.bring(coming.name).then(
      () => {
        if (isStopped || tool !== coming) return
        tool = box.now(coming.name) ?? coming
        const held = waiting
        waiting = []
        for (const act of held) act()
        changed()
      },
      () => undefined,
    )
  }

  function isComing(): boolean {
    return box.now(tool.name) !== tool
  }

  function viewNow(): ToolView {
    return { tool: tool.name, state: tool.state(), hint, entry, isComing: isComing() }
  }

  function context(): ToolContext {
    const { selection, viewport, hidden, stage } = stores.session.getState()
    return {
      plan: stores.plan.getState().plan,
      derived: stores.derived.getState().derived,
      selection,
      pxPerMm: viewport.pxPerMm / reach(),
      units: stores.prefs.getState().units,
      hidden,
      isRoomWork: stage === 'room',
    }
  }

  function changed(): void {
    const now = viewNow()
    const isSame =
      seen.tool === now.tool && seen.state === now.state && seen.hint === hint && seen.entry === entry && seen.isComing === now.isComing
    if (isSame) return
    seen = now
    for (const listener of listeners) listener()
  }

  /** Does one effect; a problem when the plan refuses it. */
  function perform(effect: ToolEffect): EditProblem | null {
    const plan = stores.plan.getState()
    const session = stores.session.getState()
    switch (effect.kind) {
      case 'begin':
        plan.begin(effect.label)
        return null
      case 'replace': {
        const result = plan.replace(effect.command)
        return result.ok ? null : result.problem
      }
      case 'commit':
        plan.commit()
        return null
      case 'cancel':
        plan.cancel()
        return null
      case 'apply': {
        const isMore = effect.isNudge === true && nudge !== null && plan.undoStack.at(-1) === nudge
        const result = plan.apply(effect.command, isMore)
        if (!result.ok) return result.problem
        const { undoStack } = stores.plan.getState()
        // Nudged back to where it was: there is no such step any more.
        const isGone = undoStack.length < plan.undoStack.length
        // What still waits, or changes nothing, has made no step that could go on.
        const isStep = effect.isNudge === true && !isGone && undoStack !== plan.undoStack
        nudge = isStep ? (undoStack.at(-1) ?? null) : null
        const table = tableOf(effect.command.kind)
        if (effect.selectAdded && result.added !== null && table !== null) session.select({ kind: 'record', table, id: result.added })
        return null
      }
      case 'select':
        session.select(effect.selection)
        return null
      case 'setTool':
        session.setTool(effect.tool)
        return null
      case 'hover':
        session.setHover(effect.hover)
        return null
      case 'hint':
        hint = effect.hint
        return null
      case 'measured':
        measured(effect.change)
        return null
    }
  }

  function send(event: ToolEvent): void {
    if (isComing()) {
      if (event.kind === 'interrupt') waiting = []
      // Of the way there nothing is missed: each press says where it is.
      else if (event.kind !== 'pointerMove') {
        waiting.push(() => send(event))
        comeOver(tool)
      }
      return
    }
    const before = tool.state()
    const running = tool
    if (event.kind === 'entry' || event.kind === 'cancel' || event.kind === 'interrupt') entry = null
    for (const effect of running.step(event, context())) {
      const problem = perform(effect)
      if (problem === null) {
        // A move that is good again takes the complaint about the last one away.
        if (effect.kind === 'replace' && hint?.kind === 'edit') hint = null
        continue
      }
      hint = { kind: 'edit', problem }
      if (effect.kind === 'replace') continue
      running.restore(before)
      break
    }
    if (event.kind === 'entry' && hint?.kind === 'entry') entry = event.text
    changed()
  }

  function entryOpen(text: string): void {
    if (isComing()) {
      // Stroke by stroke, as no field is open yet.
      if (typed === '') waiting.push(() => entryOpen(typed))
      typed += text
      return
    }
    typed = ''
    if (tool.entry(context()) === null) return
    entry = text
    send({ kind: 'entryChange', text })
    changed()
  }

  const stopSession = stores.session.subscribe((state) => {
    if (state.tool === tool.name) return
    send({ kind: 'interrupt' })
    tool = take(state.tool)
    hint = null
    entry = null
    changed()
  })

  // Another plan on the desk: what the tool had begun belongs to the one before.
  const stopPlan = stores.plan.subscribe((state, before) => {
    if (state.loaded !== before.loaded) send({ kind: 'interrupt' })
  })

  return {
    send,
    entryOpen,
    entryShut() {
      // What was typed counts no more: the pointer leads again.
      if (entry !== null) send({ kind: 'entryChange', text: '' })
      entry = null
      if (hint?.kind === 'entry') hint = null
      changed()
    },
    view: () => seen,
    sketch: () => tool.sketch(context()),
    entryKind: () => tool.entry(context()),
    offer: () => tool.offer(context()),
    cursor: () => tool.cursor(context()),
    takesDrag: (at, modifiers) => tool.takesDrag(at, modifiers, context()),
    subscribe(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    stop() {
      send({ kind: 'interrupt' })
      isStopped = true
      stopSession()
      stopPlan()
      listeners.clear()
    },
  }
}

/** Stands for a tool that is on its way: it does nothing, and shows nothing. */
function comingTool(name: ToolName): RunningTool {
  return {
    name,
    state: () => null,
    restore: () => undefined,
    step: () => [],
    sketch: () => [],
    // A digit may begin a measure of all but this one.
    entry: () => (name === 'select' ? null : 'point'),
    offer: () => ({ kind: 'none' }),
    cursor: () => 'default',
    takesDrag: () => false,
  }
}

function tableOf(kind: Extract<ToolEffect, { kind: 'apply' }>['command']['kind']): TableName | null {
  switch (kind) {
    case 'benchwork.add':
      return 'benchworks'
    case 'guide.add':
      return 'guides'
    case 'opening.add':
      return 'openings'
    case 'hatch.add':
      return 'hatches'
    case 'joist.add':
      return 'joists'
    case 'portal.add':
      return 'portals'
    case 'wall.add':
      return 'walls'
    case 'track.add':
      return 'tracks'
    case 'turnout.add':
      return 'turnouts'
    default:
      return null
  }
}
