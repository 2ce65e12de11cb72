import { dataEqual, recordFind } from '../core/plan/index.ts'
import type { Id, Plan, TableName } from '../core/plan/types.ts'
import { selectionMembers, selectionOfMembers } from '../store/selection.ts'
import type { Selection } from '../store/types.ts'
import { recordName, tableWord, upperFirst } from '../words/names.ts'
import type { Stores } from './context.ts'

/** What was selected before a step took it away, and what was selected in its place. */
interface Lost {
  readonly was: Selection
  readonly instead: Selection
}

/**
 * Keeps to what is there: when a step takes away what is selected, what it hung on is selected in its place, and a step that brings it back
 * selects it again. Undo and redo say so; who takes something out knows it.
 */
export function selectionKeep(stores: Pick<Stores, 'plan' | 'session' | 'derived'>): void {
  let lost: readonly Lost[] = []
  stores.plan.subscribe((state, before) => {
    if (state.loaded !== before.loaded) lost = []
    if (state.loaded !== before.loaded || state.committed === before.committed) return
    const session = stores.session.getState()
    const { selection } = session
    const last = lost.at(-1)
    if (last !== undefined && !dataEqual(last.instead, selection)) lost = []
    else if (last !== undefined && isThere(last.was, state.committed, stores)) {
      lost = lost.slice(0, -1)
      session.select(last.was)
      session.setNotice(null)
      return
    }
    if (selection.kind === 'none' || isThere(selection, state.committed, stores)) return
    const instead = standIn(selection, before.committed, state.committed)
    lost = [...lost, { was: selection, instead }]
    session.select(instead)
    const isTravel = state.redoStack.length > before.redoStack.length || state.undoStack.at(-1) === before.redoStack.at(-1)
    if (isTravel) session.setNotice(goneText(selection, instead, before.committed, state.committed))
  })
}

/** Whether a selection still means something. */
function isThere(selection: Selection, plan: Plan, { derived }: Pick<Stores, 'derived'>): boolean {
  switch (selection.kind) {
    case 'none':
      return true
    case 'record': {
      const { table, id } = selection
      // A crossing is found; a record of it is only what was chosen for it.
      const isFound = table === 'crossings' && derived.getState().derived.network.crossings.has(id)
      return isFound || recordFind<TableName>(plan, table, id) !== null
    }
    case 'corner':
      return recordFind(plan, 'tracks', selection.track)?.corners.some(({ id }) => id === selection.corner) === true
    case 'trackEnd': {
      const track = recordFind(plan, 'tracks', selection.track)
      return track !== null && track.end.kind !== 'closed'
    }
    case 'ringPoint': {
      const piece = recordFind(plan, 'benchworks', selection.benchwork)
      return (piece === null ? [] : [piece.outline, ...piece.holes])[selection.ring]?.[selection.index] !== undefined
    }
    case 'several':
      return selection.members.every(({ table, id }) => recordFind<TableName>(plan, table, id) !== null)
  }
}

/** What is left of it: the whole of a part, the others of several, or what it hung on, as far as that is there. */
function standIn(selection: Selection, before: Plan, after: Plan): Selection {
  const members = selectionMembers(selection)
  const left = members.filter(({ table, id }) => recordFind<TableName>(after, table, id) !== null)
  if (left.length > 0) return selectionOfMembers(left)
  const [first] = members
  let host = first === undefined ? null : hostOf(before, first.table, first.id)
  const gone = new Set<string>()
  while (host !== null && recordFind<TableName>(after, host.table, host.id) === null) {
    // A track may start from a turnout of its own.
    const key = `${host.table} ${host.id}`
    host = gone.has(key) ? null : hostOf(before, host.table, host.id)
    gone.add(key)
  }
  return host === null ? { kind: 'none' } : { kind: 'record', ...host }
}

interface Host {
  readonly table: TableName
  readonly id: Id
}

/** What a record hangs on; null: it lies by itself. */
function hostOf(plan: Plan, table: TableName, id: Id): Host | null {
  switch (table) {
    case 'tracks': {
      const track = recordFind(plan, 'tracks', id)
      const leg = [track?.start, track?.end].find((end) => end?.kind === 'leg')
      return leg?.kind === 'leg' ? { table: 'turnouts', id: leg.turnout } : null
    }
    case 'turnouts':
    case 'portals':
    case 'railJoints': {
      const track = recordFind<'turnouts' | 'portals' | 'railJoints'>(plan, table, id)?.track
      return track === undefined ? null : { table: 'tracks', id: track }
    }
    case 'makers': {
      const track = recordFind(plan, 'makers', id)?.numbers.track
      return track === undefined ? null : { table: 'tracks', id: track }
    }
    case 'openings': {
      const wall = recordFind(plan, 'openings', id)?.wall
      return wall === undefined ? null : { table: 'walls', id: wall }
    }
    default:
      return null
  }
}

function goneText(was: Selection, instead: Selection, before: Plan, after: Plan): string {
  const [gone] = selectionMembers(was).filter(({ table, id }) => recordFind<TableName>(after, table, id) === null)
  const what =
    was.kind === 'several'
      ? 'Some of what was selected'
      : gone === undefined
        ? was.kind === 'corner'
          ? 'The corner'
          : 'The point'
        : gone.table === 'crossings'
          ? 'The crossing'
          : upperFirst(recordName(before, gone.table, gone.id))
  const [one] = selectionMembers(instead)
  const now =
    one === undefined
      ? 'Nothing is selected now.'
      : instead.kind === 'several'
        ? 'The others stay selected.'
        : `Selected is ${tableWord(one.table)} ${recordName(after, one.table, one.id)}.`
  return `${what} is no longer there. ${now}`
}
