import { planRecords } from './planRows.ts'
import { recordFind, tableNames } from './tables.ts'
import type { AnyRecord, Id, Maker, MakerNumbers, Plan, PlanTables, ReadingOf, TableName, Track, TurnoutLeg } from './types.ts'

/** What is wrong between records although each is right by itself. `where` is a dotted path in the document. */
export type ReferenceProblem =
  /** A record is filed under another id than its own. */
  | { readonly kind: 'idMismatch'; readonly where: string; readonly id: Id; readonly expected: Id }
  | { readonly kind: 'missingRecord'; readonly where: string; readonly table: TableName; readonly id: Id }
  | { readonly kind: 'cornerTwice'; readonly where: string; readonly id: Id }
  /** A leg holds one track; `by` is the track that has it. */
  | { readonly kind: 'legTaken'; readonly where: string; readonly turnout: Id; readonly by: Id }
  /** A loop returns to its own start, so that start cannot be a leg. */
  | { readonly kind: 'loopStart'; readonly where: string }
  /** A record is made by one maker; `by` is another one that says it made it too. */
  | { readonly kind: 'madeTwice'; readonly where: string; readonly table: 'tracks' | 'turnouts'; readonly id: Id; readonly by: Id }
  /** A maker that stands on what it made itself. */
  | { readonly kind: 'makerOnOwn'; readonly where: string; readonly id: Id }

/**
 * The first broken reference of a whole document whose records are valid one by one; null when there is none.
 * Exactness: complete; cost grows with the size of the plan.
 */
export function referenceProblemFind(plan: Plan): ReferenceProblem | null {
  const holders = legHolders(plan)
  const legs = (): LegHolders => holders
  for (const table of tableNames) {
    for (const [id, record] of Object.entries<AnyRecord>(plan[table])) {
      if (record.id !== id) return { kind: 'idMismatch', where: `${table}.${id}.id`, id: record.id, expected: id }
      const problem = recordReferenceProblem(plan, table, record, legs)
      if (problem !== null) return problem
    }
  }
  return null
}

/**
 * The first broken reference out of one record; used after an edit, which can break those of the edited record only. No record refers to
 * another of its own table, so that the plan may be the one before the record was put into it.
 * legs: of the plan with the record; asked for only where the record needs it.
 */
export function recordReferenceProblem(plan: Plan, table: TableName, record: AnyRecord, legs: () => LegHolders): ReferenceProblem | null {
  const base = `${table}.${record.id}`
  const refers = (key: string, to: TableName, id: Id): ReferenceProblem | null =>
    recordFind(plan, to, id) === null ? { kind: 'missingRecord', where: `${base}.${key}`, table: to, id } : null
  if (isOf('lineClasses', table, record))
    return (
      record.cars.map((car, i) => refers(`cars.${i}`, 'vehicles', car)).find((problem) => problem !== null) ??
      (record.roadbed === null ? null : refers('roadbed.material', 'materials', record.roadbed.material))
    )
  if (isOf('stocks', table, record)) return record.of.kind === 'roadbed' ? refers('of.material', 'materials', record.of.material) : null
  if (isOf('railJoints', table, record)) return refers('track', 'tracks', record.track)
  if (isOf('readings', table, record))
    return (
      readingTracks(record.of)
        .map(([key, track]) => refers(`of.${key}`, 'tracks', track))
        .find((problem) => problem !== null) ?? null
    )
  if (isOf('openings', table, record)) return refers('wall', 'walls', record.wall)
  if (isOf('portals', table, record)) return refers('track', 'tracks', record.track)
  if (isOf('turnouts', table, record)) return refers('track', 'tracks', record.track)
  if (isOf('crossings', table, record)) return refers('track', 'tracks', record.track) ?? refers('other', 'tracks', record.other)
  if (isOf('makers', table, record)) return makerProblem(plan, record, base, refers)
  if (!isOf('tracks', table, record)) return null
  return (
    refers('lineClass', 'lineClasses', record.lineClass) ??
    trackEndProblem(record, 'start', base, legs, refers) ??
    trackEndProblem(record, 'end', base, legs, refers) ??
    trackSelfProblem(record, base)
  )
}

/** Tracks that a measurement was taken on, by the field that names them. */
export function readingTracks(of: ReadingOf): readonly (readonly [key: 'track' | 'other', track: Id])[] {
  switch (of.kind) {
    case 'distance':
    case 'angle':
      return []
    case 'along':
    case 'radius':
      return [['track', of.track]]
    case 'centres':
      return [
        ['track', of.track],
        ['other', of.other],
      ]
  }
}

/** Tracks that a maker stands on. */
export function makerHosts(numbers: MakerNumbers): readonly Id[] {
  return 'otherTrack' in numbers ? [numbers.track, numbers.otherTrack] : [numbers.track]
}

/** The maker that made a track or turnout; null: drawn by hand. */
export function makerOf(plan: Plan, table: 'tracks' | 'turnouts', id: Id): Maker | null {
  return Object.values(plan.makers).find((maker) => maker.made[table].includes(id)) ?? null
}

function makerProblem(
  plan: Plan,
  maker: Maker,
  base: string,
  refers: (key: string, to: TableName, id: Id) => ReferenceProblem | null,
): ReferenceProblem | null {
  const { numbers, made } = maker
  const missing = refers('lineClass', 'lineClasses', maker.lineClass) ?? refers('numbers.track', 'tracks', numbers.track)
  if (missing !== null) return missing
  if ('otherTrack' in numbers) {
    const other = refers('numbers.otherTrack', 'tracks', numbers.otherTrack)
    if (other !== null) return other
  }
  const own = makerHosts(numbers).find((id) => made.tracks.includes(id))
  if (own !== undefined) return { kind: 'makerOnOwn', where: `${base}.numbers`, id: own }
  for (const table of ['tracks', 'turnouts'] as const) {
    for (const [index, id] of made[table].entries()) {
      const where = `made.${table}.${index}`
      const gone = refers(where, table, id)
      if (gone !== null) return gone
      const isTwice = made[table].indexOf(id) !== index
      const other = Object.values(plan.makers).find((one) => one.id !== maker.id && one.made[table].includes(id))
      if (isTwice || other !== undefined) return { kind: 'madeTwice', where: `${base}.${where}`, table, id, by: other?.id ?? maker.id }
    }
  }
  return null
}

/** An end of a track that hangs on a leg. */
export interface LegHolder {
  readonly track: Id
  readonly end: 'start' | 'end'
  readonly leg: TurnoutLeg
}

/** Tracks by the turnout at whose legs they start or end, in order of tracks. */
export type LegHolders = ReadonlyMap<Id, readonly LegHolder[]>

/** Which tracks start or end at the legs of which turnout. */
export function legHolders(plan: Plan): LegHolders {
  const holders = new Map<Id, LegHolder[]>()
  for (const track of planRecords(plan, 'tracks')) {
    for (const end of ['start', 'end'] as const) {
      const place = track[end]
      if (place.kind !== 'leg') continue
      const list = holders.get(place.turnout)
      const holder: LegHolder = { track: track.id, end, leg: place.leg }
      if (list === undefined) holders.set(place.turnout, [holder])
      else list.push(holder)
    }
  }
  return holders
}

function trackEndProblem(
  track: Track,
  end: 'start' | 'end',
  base: string,
  legs: () => LegHolders,
  refers: (key: string, to: TableName, id: Id) => ReferenceProblem | null,
): ReferenceProblem | null {
  const place = track[end]
  if (place.kind !== 'leg') return null
  const missing = refers(`${end}.turnout`, 'turnouts', place.turnout)
  if (missing !== null) return missing
  const isOther = (holder: LegHolder): boolean => holder.leg === place.leg && (holder.track !== track.id || holder.end !== end)
  const other = legs().get(place.turnout)?.find(isOther)
  return other === undefined ? null : { kind: 'legTaken', where: `${base}.${end}`, turnout: place.turnout, by: other.track }
}

function trackSelfProblem(track: Track, base: string): ReferenceProblem | null {
  if (track.end.kind === 'closed' && track.start.kind === 'leg') return { kind: 'loopStart', where: `${base}.start` }
  const seen = new Set<Id>()
  for (const [index, corner] of track.corners.entries()) {
    if (seen.has(corner.id)) return { kind: 'cornerTwice', where: `${base}.corners.${index}.id`, id: corner.id }
    seen.add(corner.id)
  }
  return null
}

/** Ties a record to the table that it came from. */
function isOf<T extends TableName>(name: T, table: TableName, record: AnyRecord): record is PlanTables[T] {
  return name === table && record.id !== undefined
}
