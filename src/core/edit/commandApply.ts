import { dataEqual, dataFreeze } from '../plan/data.ts'
import { legHolders, makerHosts, readingTracks, recordReferenceProblem } from '../plan/references.ts'
import type { ReferenceProblem } from '../plan/references.ts'
import { cornerNextId, planNextId, recordFind } from '../plan/tables.ts'
import type { AnyRecord, Corner, Id, Plan, PlanTables, Table, TableName } from '../plan/types.ts'
import { lockedProblem } from './locks.ts'
import { madeProblem, makerChanges } from './makers.ts'
import { patchApply, patchEmpty, patchSquash } from './patch.ts'
import { ringChange } from './rings.ts'
import type { EditProblem, EditResult, PlanCommand, PlanPatch, RecordChange } from './types.ts'

/** `editApply` for a command that this program made itself: its values are taken as they are. */
export function commandApply(plan: Plan, command: PlanCommand): EditResult {
  const made = madeProblem(plan, command)
  if (made !== null) return refuse(made)
  const result = commandDone(plan, command)
  // A group is looked at command by command: it may take a lock away before it changes what was locked.
  const locked = result.ok && command.kind !== 'group' ? lockedProblem(plan, result.patch) : null
  return locked === null ? result : refuse(locked)
}

function commandDone(plan: Plan, command: PlanCommand): EditResult {
  switch (command.kind) {
    case 'railway.set':
      return railwaySet(plan, command.change)
    case 'lineClass.add':
      return recordAdd(plan, 'lineClasses', command.record)
    case 'lineClass.set':
      return recordSet(plan, 'lineClasses', command.id, command.change)
    case 'vehicle.add':
      return recordAdd(plan, 'vehicles', command.record)
    case 'vehicle.set':
      return recordSet(plan, 'vehicles', command.id, command.change)
    case 'wall.add':
      return recordAdd(plan, 'walls', command.record)
    case 'wall.set':
      return recordSet(plan, 'walls', command.id, command.change)
    case 'obstacle.add':
      return recordAdd(plan, 'obstacles', command.record)
    case 'obstacle.set':
      return recordSet(plan, 'obstacles', command.id, command.change)
    case 'benchwork.add':
      return recordAdd(plan, 'benchworks', command.record)
    case 'benchwork.set':
      return recordSet(plan, 'benchworks', command.id, command.change)
    case 'benchwork.movePoint':
    case 'benchwork.insertPoint':
    case 'benchwork.removePoint':
    case 'benchwork.addHole':
    case 'benchwork.removeHole': {
      const benchwork = recordFind(plan, 'benchworks', command.id)
      if (benchwork === null) return notFound('benchworks', command.id)
      const result = ringChange(benchwork, command)
      return result.ok ? recordSet(plan, 'benchworks', command.id, result.change) : refuse(result.problem)
    }
    case 'opening.add':
      return recordAdd(plan, 'openings', command.record)
    case 'opening.set':
      return recordSet(plan, 'openings', command.id, command.change)
    case 'hatch.add':
      return recordAdd(plan, 'hatches', command.record)
    case 'hatch.set':
      return recordSet(plan, 'hatches', command.id, command.change)
    case 'joist.add':
      return recordAdd(plan, 'joists', command.record)
    case 'joist.set':
      return recordSet(plan, 'joists', command.id, command.change)
    case 'portal.add':
      return recordAdd(plan, 'portals', command.record)
    case 'portal.set':
      return recordSet(plan, 'portals', command.id, command.change)
    case 'material.add':
      return recordAdd(plan, 'materials', command.record)
    case 'material.set':
      return recordSet(plan, 'materials', command.id, command.change)
    case 'stock.add':
      return recordAdd(plan, 'stocks', command.record)
    case 'stock.set':
      return recordSet(plan, 'stocks', command.id, command.change)
    case 'railJoint.add':
      return recordAdd(plan, 'railJoints', command.record)
    case 'railJoint.set':
      return recordSet(plan, 'railJoints', command.id, command.change)
    case 'tick.add':
      return recordAdd(plan, 'ticks', command.record)
    case 'tick.set':
      return recordSet(plan, 'ticks', command.id, command.change)
    case 'guide.add':
      return recordAdd(plan, 'guides', command.record)
    case 'guide.set':
      return recordSet(plan, 'guides', command.id, command.change)
    case 'reading.add':
      return recordAdd(plan, 'readings', command.record)
    case 'reading.set':
      return recordSet(plan, 'readings', command.id, command.change)
    case 'underlay.add':
      return recordAdd(plan, 'underlays', command.record)
    case 'underlay.set':
      return recordSet(plan, 'underlays', command.id, command.change)
    case 'lock.add':
      return recordAdd(plan, 'locks', command.record)
    case 'silence.add':
      return recordAdd(plan, 'silences', command.record)
    case 'silence.set':
      return recordSet(plan, 'silences', command.id, command.change)
    case 'track.add':
      return recordAdd(plan, 'tracks', command.record)
    case 'track.set':
      return recordSet(plan, 'tracks', command.id, command.change)
    case 'track.setStart':
      return recordSet(plan, 'tracks', command.id, { start: command.start })
    case 'track.setEnd':
      return recordSet(plan, 'tracks', command.id, { end: command.end })
    case 'corner.insert':
      return cornerInsert(plan, command)
    case 'corner.set':
      return cornersSet(plan, command.track, command.corner, (corner) => [{ ...corner, ...command.change }])
    case 'corner.remove':
      return cornersSet(plan, command.track, command.corner, () => [])
    case 'turnout.add':
      return recordAdd(plan, 'turnouts', command.record)
    case 'turnout.set':
      return recordSet(plan, 'turnouts', command.id, command.change)
    case 'crossing.add':
      return recordAdd(plan, 'crossings', command.record)
    case 'crossing.set':
      return recordSet(plan, 'crossings', command.id, command.change)
    case 'maker.write':
      return makerWrite(plan, command)
    case 'maker.set':
      return recordSet(plan, 'makers', command.id, command.change)
    case 'maker.takeApart': {
      const maker = recordFind(plan, 'makers', command.id)
      if (maker === null) return notFound('makers', command.id)
      return done(changeOne({ table: 'makers', id: maker.id, before: maker, after: null }))
    }
    case 'remove':
      return recordRemove(plan, command.table, command.id)
    case 'group':
      return groupApply(plan, command.commands)
  }
}

const refuse = (problem: EditProblem): EditResult => ({ ok: false, problem })
const notFound = (table: TableName, id: Id): EditResult => refuse({ kind: 'notFound', table, id })
const done = (patch: PlanPatch, added: Id | null = null): EditResult => ({ ok: true, patch: dataFreeze(patch), added })
const changeOne = (change: RecordChange): PlanPatch => ({ railway: null, records: [change] })

function railwaySet(plan: Plan, change: Partial<Plan['railway']>): EditResult {
  const after = { ...plan.railway, ...change }
  return done(dataEqual(plan.railway, after) ? patchEmpty : { railway: { before: plan.railway, after }, records: [] })
}

function recordAdd<T extends TableName>(plan: Plan, table: T, record: Omit<PlanTables[T], 'id'> & { readonly id?: Id }): EditResult {
  const id = record.id ?? planNextId(plan, table)
  if (recordFind(plan, table, id) !== null) return refuse({ kind: 'idTaken', table, id })
  return recordPut(plan, table, null, { ...record, id } as unknown as PlanTables[T])
}

function recordSet<T extends TableName>(plan: Plan, table: T, id: Id, change: Partial<PlanTables[T]>): EditResult {
  const before = recordFind(plan, table, id)
  return before === null ? notFound(table, id) : recordPut(plan, table, before, { ...before, ...change })
}

/** The change of one record, once all that it refers to is there. */
function recordPut(plan: Plan, table: TableName, before: AnyRecord | null, after: AnyRecord): EditResult {
  if (dataEqual(before, after)) return done(patchEmpty)
  const patch = changeOne({ table, id: after.id, before, after })
  const broken = recordReferenceProblem(plan, table, after, () => legHolders(patchApply(plan, patch)))
  if (broken !== null) return refuse(referenceRefusal(broken))
  return done(patch, before === null ? after.id : null)
}

function referenceRefusal(broken: ReferenceProblem): EditProblem {
  switch (broken.kind) {
    case 'missingRecord':
      return { kind: 'notFound', table: broken.table, id: broken.id }
    case 'legTaken':
      return { kind: 'inUse', table: 'turnouts', id: broken.turnout, by: broken.by }
    case 'idMismatch':
      return { kind: 'badValue', where: broken.where, value: broken.id, expected: broken.expected }
    case 'cornerTwice':
      return { kind: 'badValue', where: broken.where, value: broken.id, expected: 'an id that no other corner of the track has' }
    case 'loopStart':
      return { kind: 'badValue', where: broken.where, value: 'leg', expected: 'a free start for a loop' }
    case 'madeTwice':
      return { kind: 'madeBy', table: broken.table, id: broken.id, maker: broken.by }
    case 'makerOnOwn':
      return { kind: 'badValue', where: broken.where, value: broken.id, expected: 'a track that the maker did not make itself' }
  }
}

function cornerInsert(plan: Plan, command: Extract<PlanCommand, { kind: 'corner.insert' }>): EditResult {
  const track = recordFind(plan, 'tracks', command.track)
  if (track === null) return notFound('tracks', command.track)
  const { corners } = track
  if (command.index > corners.length) {
    return refuse({ kind: 'badValue', where: 'index', value: command.index, expected: `a whole number of 0 to ${corners.length}` })
  }
  const corner: Corner = { ...command.corner, id: command.corner.id ?? cornerNextId(corners) }
  const result = recordSet(plan, 'tracks', track.id, { corners: corners.toSpliced(command.index, 0, corner) })
  return result.ok ? done(result.patch, corner.id) : result
}

function cornersSet(plan: Plan, trackId: Id, cornerId: Id, change: (corner: Corner) => readonly Corner[]): EditResult {
  const track = recordFind(plan, 'tracks', trackId)
  if (track === null) return notFound('tracks', trackId)
  if (!track.corners.some((corner) => corner.id === cornerId)) {
    return refuse({ kind: 'badValue', where: 'corner', value: cornerId, expected: `a corner of ${trackId}` })
  }
  return recordSet(plan, 'tracks', trackId, {
    corners: track.corners.flatMap((corner) => (corner.id === cornerId ? change(corner) : [corner])),
  })
}

/** A maker with all it makes, as one change; what it leaves must not be in use. */
function makerWrite(plan: Plan, command: Extract<PlanCommand, { kind: 'maker.write' }>): EditResult {
  const id = command.record.id ?? planNextId(plan, 'makers')
  const written = makerChanges(plan, command, id)
  if (!written.ok) return refuse(written.problem)
  if (written.changes.length === 0) return done(patchEmpty)
  const gone = written.changes.filter(({ after }) => after === null)
  const changes = [...written.changes, ...goneWith(plan, gone)]
  const after = patchApply(plan, { railway: null, records: changes })
  for (const change of changes) {
    if (change.after === null) {
      const by = userFind(after, change.table, change.id, new Set())
      if (by !== null) return refuse({ kind: 'inUse', table: change.table, id: change.id, by })
      continue
    }
    const broken = recordReferenceProblem(after, change.table, change.after, () => legHolders(after))
    if (broken !== null) return refuse(referenceRefusal(broken))
  }
  return done({ railway: null, records: changes }, recordFind(plan, 'makers', id) === null ? id : null)
}

function recordRemove(plan: Plan, table: TableName, id: Id): EditResult {
  const record = recordFind<TableName>(plan, table, id)
  if (record === null) return notFound(table, id)
  const removed: RecordChange[] = [{ table, id, before: record, after: null }]
  const made = table === 'makers' ? recordFind(plan, 'makers', id)?.made : undefined
  const tracks = table === 'tracks' ? [id] : (made?.tracks ?? [])
  const turnouts = Object.values(plan.turnouts).filter(({ track, id: one }) => tracks.includes(track) || made?.turnouts.includes(one))
  for (const turnout of turnouts) removed.push({ table: 'turnouts', id: turnout.id, before: turnout, after: null })
  for (const track of made?.tracks ?? [])
    removed.push({ table: 'tracks', id: track, before: recordFind(plan, 'tracks', track), after: null })
  removed.push(...goneWith(plan, removed))
  const leaving = new Set(removed.map((change) => change.id))
  const by = removed.map((change) => userFind(plan, change.table, change.id, leaving)).find((user) => user !== null)
  return by === undefined ? done({ railway: null, records: removed }) : refuse({ kind: 'inUse', table, id, by })
}

/** What means nothing without the records that go: choices for crossings of tracks, portals and joints, doors of walls, and all that was silenced. */
function goneWith(plan: Plan, changes: readonly RecordChange[]): readonly RecordChange[] {
  const goes = (table: TableName, id: Id): boolean => changes.some((change) => change.table === table && change.id === id)
  const gone: RecordChange[] = []
  const take = <T extends 'crossings' | 'portals' | 'railJoints' | 'openings' | 'silences' | 'readings' | 'locks'>(
    table: T,
    isGone: (record: PlanTables[T]) => boolean,
  ): void => {
    for (const record of Object.values(plan[table] as Table<PlanTables[T]>))
      if (!goes(table, record.id) && isGone(record)) gone.push({ table, id: record.id, before: record, after: null })
  }
  take('crossings', ({ track, other }) => goes('tracks', track) || goes('tracks', other))
  take('portals', ({ track }) => goes('tracks', track))
  take('railJoints', ({ track }) => goes('tracks', track))
  take('openings', ({ wall }) => goes('walls', wall))
  take('readings', ({ of }) => readingTracks(of).some(([, track]) => goes('tracks', track)))
  take('silences', ({ table, record }) => [...changes, ...gone].some((change) => change.table === table && change.id === record))
  take('locks', ({ table, record }) => [...changes, ...gone].some((change) => change.table === table && change.id === record))
  return gone
}

/** A record that refers to this one and stays when `leaving` go. */
function userFind(plan: Plan, table: TableName, id: Id, leaving: ReadonlySet<Id>): Id | null {
  const stays = (user: { readonly id: Id }): boolean => !leaving.has(user.id)
  switch (table) {
    case 'lineClasses':
      return [...Object.values(plan.tracks), ...Object.values(plan.makers)].find((user) => user.lineClass === id)?.id ?? null
    case 'vehicles':
      return Object.values(plan.lineClasses).find((lineClass) => lineClass.cars.includes(id))?.id ?? null
    case 'turnouts':
      return (
        legHolders(plan)
          .get(id)
          ?.find((holder) => !leaving.has(holder.track))?.track ??
        Object.values(plan.makers).find((maker) => maker.made.turnouts.includes(id) && stays(maker))?.id ??
        null
      )
    case 'tracks':
      return (
        Object.values(plan.makers).find((maker) => makerHosts(maker.numbers).includes(id) && stays(maker))?.id ??
        Object.values(plan.turnouts).find((turnout) => turnout.track === id && stays(turnout))?.id ??
        null
      )
    case 'materials':
      return (
        Object.values(plan.lineClasses).find((lineClass) => lineClass.roadbed?.material === id)?.id ??
        Object.values(plan.stocks).find(({ of, ...stock }) => of.kind === 'roadbed' && of.material === id && stays(stock))?.id ??
        null
      )
    case 'stocks':
    case 'railJoints':
    case 'ticks':
    case 'guides':
    case 'readings':
    case 'underlays':
    case 'locks':
    case 'walls':
    case 'obstacles':
    case 'openings':
    case 'benchworks':
    case 'hatches':
    case 'joists':
    case 'crossings':
    case 'portals':
    case 'makers':
    case 'silences':
      return null
  }
}

function groupApply(plan: Plan, commands: readonly PlanCommand[]): EditResult {
  let at = plan
  let patch = patchEmpty
  let added: Id | null = null
  for (const [index, command] of commands.entries()) {
    const result = commandApply(at, command)
    if (!result.ok)
      return result.problem.kind === 'badValue' ? refuse({ ...result.problem, where: `commands.${index}.${result.problem.where}` }) : result
    at = patchApply(at, result.patch)
    patch = patchSquash(patch, result.patch)
    added = result.added ?? added
  }
  return done(patch, added)
}
