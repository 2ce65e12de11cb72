import { dataEqual } from '../plan/data.ts'
import { makerOf } from '../plan/references.ts'
import { recordFind } from '../plan/tables.ts'
import type { Id, Maker, Plan } from '../plan/types.ts'
import type { EditProblem, PlanCommand, RecordChange } from './types.ts'

/** What of a made turnout stays the builder's: what it is called and how it is built. The maker follows the build. */
const freeTurnoutKeys: readonly string[] = ['name', 'build']
const freeTrackKeys: readonly string[] = ['name']

/** Why a command may not touch a record: a maker decides what it would change. Null: it may. */
export function madeProblem(plan: Plan, command: PlanCommand): EditProblem | null {
  const held = (table: 'tracks' | 'turnouts', id: Id): EditProblem | null => {
    const maker = makerOf(plan, table, id)
    return maker === null ? null : { kind: 'madeBy', table, id, maker: maker.id }
  }
  const isFree = (change: object, keys: readonly string[]): boolean => Object.keys(change).every((key) => keys.includes(key))
  switch (command.kind) {
    case 'track.set':
      return isFree(command.change, freeTrackKeys) ? null : held('tracks', command.id)
    case 'track.setStart':
    case 'track.setEnd':
      return held('tracks', command.id)
    case 'corner.insert':
    case 'corner.set':
    case 'corner.remove':
      return held('tracks', command.track)
    case 'turnout.set':
      return isFree(command.change, freeTurnoutKeys) ? null : held('turnouts', command.id)
    case 'remove':
      return command.table === 'tracks' || command.table === 'turnouts' ? held(command.table, command.id) : null
    default:
      return null
  }
}

/**
 * The changes that write a maker with all it makes; an id that something else has is a problem. Records that it made before and does not
 * make any more go.
 */
export function makerChanges(
  plan: Plan,
  command: Extract<PlanCommand, { kind: 'maker.write' }>,
  id: Id,
): { readonly ok: true; readonly changes: readonly RecordChange[] } | { readonly ok: false; readonly problem: EditProblem } {
  const before = recordFind(plan, 'makers', id)
  const made = { tracks: command.tracks.map((track) => track.id), turnouts: command.turnouts.map((turnout) => turnout.id) }
  const maker: Maker = { ...before, ...command.record, id, made }
  const changes: RecordChange[] = []
  for (const table of ['turnouts', 'tracks'] as const) {
    const mine = before?.made[table] ?? []
    for (const record of command[table]) {
      const old = recordFind<typeof table>(plan, table, record.id)
      if (old !== null && !mine.includes(record.id)) return { ok: false, problem: { kind: 'idTaken', table, id: record.id } }
      changes.push({ table, id: record.id, before: old, after: record })
    }
    for (const gone of mine.filter((one) => !made[table].includes(one))) {
      changes.push({ table, id: gone, before: recordFind<typeof table>(plan, table, gone), after: null })
    }
  }
  changes.push({ table: 'makers', id, before, after: maker })
  return { ok: true, changes: changes.filter((change) => !dataEqual(change.before, change.after)) }
}
