import { pointDistance } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import { keptFor, makerHosts, makerOf, recordFind } from '../plan/index.ts'
import type { Id, Maker, Plan, Reading, Table, TableName, Track, Turnout } from '../plan/types.ts'

/** A record of a stretch. */
export interface Member {
  readonly table: TableName
  readonly id: Id
}

/** Why what was chosen cannot be moved as one. */
export type StretchProblem =
  | { readonly kind: 'nothing' }
  /** The track hangs on a turnout that is not among what was chosen. */
  | { readonly kind: 'tied'; readonly track: Id; readonly turnout: Id }
  /** It stands on a record that is not among what was chosen, and only goes where that goes. */
  | { readonly kind: 'alone'; readonly table: TableName; readonly id: Id; readonly on: { readonly table: TableName; readonly id: Id } }
  /** It is no thing that lies in the plan, or none that can be turned and mirrored. */
  | { readonly kind: 'notMovable'; readonly table: TableName; readonly id: Id }

/** Tables whose records lie in the plan by themselves. */
const placed = ['walls', 'obstacles', 'benchworks', 'hatches', 'joists', 'tracks', 'guides', 'readings'] as const
export type PlacedTable = (typeof placed)[number]

const isPlaced = (table: TableName): table is PlacedTable => placed.some((one) => one === table)

/** What was measured on a track is where the track is; what was measured between places lies by itself. */
const isOnTrack = (plan: Plan, { table, id }: Member): boolean => table === 'readings' && readingTracks(plan.readings[id]).length > 0

function readingTracks(reading: Reading | undefined): readonly Id[] {
  switch (reading?.of.kind) {
    case 'along':
    case 'radius':
      return [reading.of.track]
    case 'centres':
      return [reading.of.track, reading.of.other]
    default:
      return []
  }
}

/** The places that a reading was taken between; none: it was taken on tracks. */
export function readingPlaces({ of }: Reading): readonly Point[] {
  switch (of.kind) {
    case 'distance':
      return [of.from, of.to]
    case 'angle':
      return [of.at, of.from, of.to]
    default:
      return []
  }
}

/** Less than any hand sees, mm: a place that was taken on a point or a line is on it to the last digits. */
const onMm = 0.01

/**
 * Readings all of whose places are on what was chosen, or on what goes with it: they are meant to go along.
 *
 * offTrackMm: how far a point is from the line of a track, mm.
 */
export function readingsAlong(plan: Plan, chosen: readonly Member[], offTrackMm: (track: Id, point: Point) => number): readonly Member[] {
  const readings = Object.values(plan.readings).filter((reading) => readingPlaces(reading).length > 0)
  const found = readings.length === 0 ? null : stretchOf(plan, chosen)
  if (found?.ok !== true) return []
  const points = stretchPoints(plan, found.stretch.members)
  const isOn = (place: Point): boolean =>
    points.some((point) => pointDistance(point, place) <= onMm) ||
    [...found.stretch.tracks].some((track) => offTrackMm(track, place) <= onMm)
  return readings.filter((reading) => readingPlaces(reading).every(isOn)).map(({ id }) => ({ table: 'readings', id }))
}

/** What moves as one: what lies in the plan by itself, and what of it stands on its tracks. */
export interface Stretch {
  readonly members: readonly { readonly table: PlacedTable; readonly id: Id }[]
  readonly tracks: ReadonlySet<Id>
  /** Makers all of whose hosts are among the tracks: what they made goes with them. */
  readonly makers: readonly Maker[]
}

/** The stretch of what was chosen, with all that hangs on its turnouts alone. */
export function stretchOf(
  plan: Plan,
  chosen: readonly Member[],
): { readonly ok: true; readonly stretch: Stretch } | { readonly ok: false; readonly problem: StretchProblem } {
  const there = chosen.filter(({ table, id }) => recordFind<TableName>(plan, table, id) !== null)
  const tracks = withHanging(plan, new Set(there.filter(({ table }) => table === 'tracks').map(({ id }) => id)))
  const others = there.flatMap(({ table, id }) =>
    isPlaced(table) && table !== 'tracks' && !isOnTrack(plan, { table, id }) ? [{ table, id }] : [],
  )
  const members = [...others, ...[...tracks].map((id) => ({ table: 'tracks', id }) as const)]
  const problem = members.length === 0 && there.length === 0 ? ({ kind: 'nothing' } as const) : (problemOf(plan, there, tracks) ?? null)
  if (problem !== null) return { ok: false, problem }
  return { ok: true, stretch: { members, tracks, makers: makersOn(plan, tracks) } }
}

/** All that a track is joined to by turnouts and makers, up and down. */
export function stretchConnected(plan: Plan, track: Id): readonly Member[] {
  const links = linksOf(plan)
  const found = new Set([track])
  // A set grows while it is walked.
  for (const one of found) for (const other of links.get(one) ?? []) found.add(other)
  return [...found].map((id) => ({ table: 'tracks', id }))
}

function linksOf(plan: Plan): ReadonlyMap<Id, readonly Id[]> {
  const links = new Map<Id, Id[]>()
  const link = (a: Id, b: Id): void => {
    for (const [from, to] of [
      [a, b],
      [b, a],
    ] as const)
      links.set(from, [...(links.get(from) ?? []), to])
  }
  for (const track of Object.values(plan.tracks)) for (const turnout of legTurnouts(plan, track)) link(track.id, turnout.track)
  for (const { numbers, made } of Object.values(plan.makers)) {
    const [first, ...rest] = [...makerHosts(numbers), ...made.tracks]
    for (const other of rest) if (first !== undefined) link(first, other)
  }
  return links
}

/** Points that a stretch lies by, for a pivot and a frame around it. */
export function stretchPoints(plan: Plan, members: readonly Member[]): readonly Point[] {
  return members.flatMap(({ table, id }): readonly Point[] => {
    switch (table) {
      case 'tracks': {
        const track = recordFind(plan, 'tracks', id)
        if (track === null) return []
        return [track.start, ...track.corners, track.end].flatMap((place) => ('x' in place ? [{ x: place.x, y: place.y }] : []))
      }
      case 'walls':
        return recordFind(plan, 'walls', id)?.points ?? []
      case 'obstacles':
      case 'hatches':
      case 'benchworks':
        return recordFind(plan, table, id)?.outline ?? []
      case 'joists': {
        const joist = recordFind(plan, 'joists', id)
        return joist === null ? [] : [joist.from, joist.to]
      }
      case 'guides': {
        const guide = recordFind(plan, 'guides', id)
        return guide === null ? [] : [guide.at]
      }
      case 'readings': {
        const reading = recordFind(plan, 'readings', id)
        return reading === null ? [] : readingPlaces(reading)
      }
      default:
        return []
    }
  })
}

function legTurnouts(plan: Plan, { start, end }: Track): readonly Turnout[] {
  return [start, end].flatMap((place) => {
    const turnout = place.kind === 'leg' ? recordFind(plan, 'turnouts', place.turnout) : null
    return turnout === null ? [] : [turnout]
  })
}

/** The tracks with those that hang on nothing but their turnouts, and those on theirs; and all that their makers made. */
function withHanging(plan: Plan, chosen: ReadonlySet<Id>): ReadonlySet<Id> {
  const tracks = new Set(chosen)
  for (let before = -1; before !== tracks.size; ) {
    before = tracks.size
    for (const track of tracksOnLegs(plan.tracks)) {
      const hosts = legTurnouts(plan, track).map((turnout) => turnout.track)
      if (hosts.length > 0 && hosts.every((host) => tracks.has(host))) tracks.add(track.id)
    }
    for (const maker of makersOn(plan, tracks)) for (const made of maker.made.tracks) tracks.add(made)
  }
  return tracks
}

/** Tracks that begin or end at a leg: each step of a drag asks for them again, of the same plan. */
const tracksOnLegs = keptFor((tracks: Table<Track>) =>
  Object.values(tracks).filter(({ start, end }) => start.kind === 'leg' || end.kind === 'leg'),
)

function makersOn(plan: Plan, tracks: ReadonlySet<Id>): readonly Maker[] {
  return Object.values(plan.makers).filter(({ numbers }) => makerHosts(numbers).every((host) => tracks.has(host)))
}

function problemOf(plan: Plan, chosen: readonly Member[], tracks: ReadonlySet<Id>): StretchProblem | null {
  for (const id of tracks) {
    const maker = makerOf(plan, 'tracks', id)
    const host = maker === null ? undefined : makerHosts(maker.numbers).find((one) => !tracks.has(one))
    if (host !== undefined) return { kind: 'alone', table: 'tracks', id, on: { table: 'tracks', id: host } }
    const track = recordFind(plan, 'tracks', id)
    const away = track === null ? undefined : legTurnouts(plan, track).find((turnout) => !tracks.has(turnout.track))
    if (away !== undefined) return { kind: 'tied', track: id, turnout: away.id }
  }
  const isChosen = (table: TableName, id: Id): boolean =>
    table === 'tracks' ? tracks.has(id) : chosen.some((one) => one.table === table && one.id === id)
  for (const { table, id } of chosen) {
    if (isPlaced(table) && !isOnTrack(plan, { table, id })) continue
    const on = standsOn(plan, table, id)
    if (on.length === 0) return { kind: 'notMovable', table, id }
    const away = on.find((host) => !isChosen(host.table, host.id))
    if (away !== undefined) return { kind: 'alone', table, id, on: away }
  }
  return null
}

/** What a record goes with; none: it lies nowhere. */
function standsOn(plan: Plan, table: TableName, id: Id): readonly Member[] {
  const onTracks = (ids: readonly Id[]): readonly Member[] => ids.map((track) => ({ table: 'tracks', id: track }))
  switch (table) {
    case 'turnouts':
    case 'portals':
    case 'railJoints': {
      const record = recordFind(plan, table, id)
      return record === null ? [] : onTracks([record.track])
    }
    case 'crossings': {
      const crossing = recordFind(plan, 'crossings', id)
      return crossing === null ? [] : onTracks([crossing.track, crossing.other])
    }
    case 'makers': {
      const maker = recordFind(plan, 'makers', id)
      return maker === null ? [] : onTracks(makerHosts(maker.numbers))
    }
    case 'readings':
      return onTracks(readingTracks(plan.readings[id]))
    case 'openings': {
      const opening = recordFind(plan, 'openings', id)
      return opening === null ? [] : [{ table: 'walls', id: opening.wall }]
    }
    default:
      return []
  }
}
