import { trackTraverse, traverseSolve } from '../alignment/index.ts'
import type { LegPoseOf } from '../alignment/index.ts'
import type { Alignment } from '../alignment/types.ts'
import type { Pose } from '../geom/types.ts'
import { keysOf, placesChanged, planRows, railwayOfClass, recordFind, RowMap, rowsWith, Values } from '../plan/index.ts'
import type { Id, LineClass, Plan, Railway, Track, Turnout } from '../plan/types.ts'
import { trackOrder } from './circular.ts'
import { climbingTracks } from './climbing.ts'
import { mapKept } from './mapKept.ts'
import { crossingsByTrack, crossingsCreateDeriver } from './crossings.ts'
import type { CrossingsOf } from './crossings.ts'
import { joinsCreate } from './joins.ts'
import type { JoinsOf } from './joins.ts'
import { legPose } from './placement.ts'
import { turnoutResult, turnoutSolveOn } from './turnoutSet.ts'
import type { SolvedTurnout } from './turnoutSet.ts'
import type { Network, NetworkTrack, NetworkTurnout } from './types.ts'

/** What a track was solved from, beside its own record. */
interface TrackEntry {
  readonly startLeg: Pose | null
  readonly endLeg: Pose | null
  readonly through: string
  readonly value: NetworkTrack
}

/** What a turnout was solved and set from. */
interface TurnoutEntry {
  readonly turnout: Turnout
  readonly host: NetworkTrack | null
  readonly railway: Railway
  readonly tieSpacingMm: number | null
  readonly solved: SolvedTurnout | null
  readonly value: NetworkTurnout
}

/**
 * A function from plan to network that remembers what it solved.
 *
 * Records are compared by identity, poses of legs by value: a track is solved anew when its record, its class, the
 * railway or a leg it hangs on has changed, and all that did not change is the same object as before. What comes back
 * depends on the plan alone, never on the plans before it (tests/laws/pipeline).
 *
 * Outcome:  every track and turnout of the plan, solved or with its problem. Left out is a track whose line class is not
 *           in the plan, which no document that was read or edited holds; its turnouts have no host.
 * Throws:   never.
 */
export function networkCreateDeriver(): (plan: Plan) => Network {
  let tracks = new Map<Id, TrackEntry>()
  let turnouts: ReadonlyMap<Id, TurnoutEntry> = new Map()
  const crossingsOf = crossingsCreateDeriver()
  const joinsOf = joinsCreate()
  let last: Network | null = null

  return (plan) => {
    if (last?.plan === plan) return last
    const alone = last === null ? null : changedAlone(last, plan)
    if (last !== null && alone !== null) {
      last = networkWithAlone(last, plan, alone, tracks, turnouts, { crossingsOf, joinsOf })
      return last
    }
    const nextTracks = new Map<Id, TrackEntry>()
    const nextTurnouts = new Map<Id, TurnoutEntry>()
    const { ordered, circular } = trackOrder(plan)
    const byHost = turnoutsByHost(plan)
    const legPoseOf: LegPoseOf = (turnout, leg) => {
      const result = nextTurnouts.get(turnout)?.value.result
      return result ? legPose(result, leg) : null
    }
    for (const track of ordered) {
      const known = tracks.get(track.id)
      const lineClass = recordFind(plan, 'lineClasses', track.lineClass)
      if (lineClass) {
        const railway = railwayOfClass(plan.railway, lineClass)
        nextTracks.set(track.id, trackEntry(track, lineClass, railway, legPoseOf, circular.get(track.id) ?? null, known))
      }
      const host = nextTracks.get(track.id)?.value ?? null
      for (const turnout of byHost.get(track.id) ?? []) {
        nextTurnouts.set(turnout.id, turnoutEntry(turnout, host, host?.railway ?? plan.railway, turnouts.get(turnout.id)))
      }
    }
    for (const turnout of Object.values(plan.turnouts)) {
      if (!nextTurnouts.has(turnout.id)) nextTurnouts.set(turnout.id, turnoutEntry(turnout, null, plan.railway, turnouts.get(turnout.id)))
    }
    tracks = nextTracks
    turnouts = nextTurnouts
    last = networkGather(plan, nextTracks, nextTurnouts, byHost, { crossingsOf, joinsOf }, last)
    return last
  }
}

/** Tracks that changed, by their place in the plan. */
type Alone = ReadonlyMap<number, Track>

/**
 * In every step of a drag: tracks that hang on no leg and carry no turnout, when nothing else changed of what a network is made of. They
 * are solved and set in the place of what they were, and no other is looked at. Null: there is more to it.
 */
function changedAlone(last: Network, plan: Plan): Alone | null {
  const before = last.plan
  if (before.railway !== plan.railway || before.lineClasses !== plan.lineClasses || before.turnouts !== plan.turnouts) return null
  if (before.crossings !== plan.crossings || before.makers !== plan.makers) return null
  const [was, is] = [planRows(before, 'tracks'), planRows(plan, 'tracks')]
  const places = last.tracks.size === is.values.length ? placesChanged(was, is) : null
  if (places === null) return null
  const alone = new Map<number, Track>()
  for (const place of places) {
    const [old, track] = [was.values.at(place), is.values.at(place)]
    if (old === undefined || track === undefined || hangs(old) || hangs(track) || !recordFind(plan, 'lineClasses', track.lineClass))
      return null
    if (last.turnoutsOn.has(track.id)) return null
    alone.set(place, track)
  }
  return alone
}

const hangs = ({ start, end }: Track): boolean => start.kind === 'leg' || end.kind === 'leg'

/** Turnout records by host track, by rising station. */
function turnoutsByHost(plan: Plan): Map<Id, Turnout[]> {
  const byHost = new Map<Id, Turnout[]>()
  for (const turnout of Object.values(plan.turnouts)) {
    const list = byHost.get(turnout.track)
    if (list) list.push(turnout)
    else byHost.set(turnout.track, [turnout])
  }
  for (const list of byHost.values()) list.sort((a, b) => a.stationMm - b.stationMm || (a.id < b.id ? -1 : 1))
  return byHost
}

function trackEntry(
  track: Track,
  lineClass: LineClass,
  railway: Railway,
  legPoseOf: LegPoseOf,
  circular: readonly Id[] | null,
  before: TrackEntry | undefined,
): TrackEntry {
  const legOf = (end: Track['start'] | Track['end']): Pose | null => (end.kind === 'leg' ? legPoseOf(end.turnout, end.leg) : null)
  const startLeg = circular ? null : legOf(track.start)
  const endLeg = circular ? null : legOf(track.end)
  const through = circular ? JSON.stringify(circular) : ''
  const isSame =
    before !== undefined &&
    before.value.track === track &&
    before.value.lineClass === lineClass &&
    before.value.railway === railway &&
    before.through === through &&
    poseEquals(before.startLeg, startLeg) &&
    poseEquals(before.endLeg, endLeg)
  if (isSame) return before
  const alignment = trackAlignmentOr(track, lineClass, circular ? () => null : legPoseOf, circular)
  return { startLeg, endLeg, through, value: { track, lineClass, railway, alignment } }
}

function trackAlignmentOr(track: Track, lineClass: LineClass, legPoseOf: LegPoseOf, circular: readonly Id[] | null): Alignment {
  const resolved = trackTraverse(track, lineClass, legPoseOf)
  if (circular) {
    return { ok: false, problems: [{ kind: 'circular', through: circular }], polygon: resolved.ok ? [] : resolved.polygon, pieces: [] }
  }
  return resolved.ok ? traverseSolve(resolved.traverse) : { ok: false, problems: resolved.problems, polygon: resolved.polygon, pieces: [] }
}

function turnoutEntry(turnout: Turnout, host: NetworkTrack | null, railway: Railway, before: TurnoutEntry | undefined): TurnoutEntry {
  const tieSpacingMm = host?.lineClass.tieSpacingMm ?? null
  const isBuiltAlike =
    before !== undefined &&
    before.railway === railway &&
    before.tieSpacingMm === tieSpacingMm &&
    before.turnout.build === turnout.build &&
    before.turnout.frog === turnout.frog &&
    before.turnout.hand === turnout.hand &&
    before.turnout.kind === turnout.kind
  if (isBuiltAlike && before.turnout === turnout && before.host === host) return before
  const solved = host && turnoutSolveOn(turnout, host, isBuiltAlike ? before.solved : null)
  const result = turnoutResult(turnout, solved, host)
  const lineClass = host?.lineClass ?? null
  const isSame =
    before !== undefined && before.turnout === turnout && before.value.lineClass === lineClass && resultEquals(before.value.result, result)
  return { turnout, host, railway, tieSpacingMm, solved, value: isSame ? before.value : { turnout, lineClass, result } }
}

interface Finders {
  readonly crossingsOf: CrossingsOf
  readonly joinsOf: JoinsOf
}

/** The network with other tracks in some places; entries: told what those were solved from. */
function networkWithAlone(
  before: Network,
  plan: Plan,
  alone: Alone,
  entries: Map<Id, TrackEntry>,
  turnouts: ReadonlyMap<Id, TurnoutEntry>,
  finders: Finders,
): Network {
  const changed: (readonly [number, NetworkTrack])[] = []
  for (const [place, track] of alone) {
    const lineClass = recordFind(plan, 'lineClasses', track.lineClass)
    if (lineClass === null) continue
    const entry = trackEntry(track, lineClass, railwayOfClass(plan.railway, lineClass), () => null, null, entries.get(track.id))
    entries.set(track.id, entry)
    changed.push([place, entry.value])
  }
  if (changed.length === 0) return { ...before, plan, vehicles: plan.vehicles }
  const { keys } = planRows(plan, 'tracks')
  const rows = { keys, values: RowMap.rowsOf(before.tracks)?.values ?? Values.of([...before.tracks.values()]) }
  const tracks = new RowMap(rowsWith(rows, changed))
  return networkJoined(plan, tracks, turnouts, finders, before)
}

/** The network of what was solved, in the plan's own order. */
function networkGather(
  plan: Plan,
  tracks: ReadonlyMap<Id, TrackEntry>,
  turnouts: ReadonlyMap<Id, TurnoutEntry>,
  byHost: ReadonlyMap<Id, readonly Turnout[]>,
  finders: Finders,
  before: Network | null,
): Network {
  const { keys } = planRows(plan, 'tracks')
  const solved = keys.ids.flatMap((id) => tracks.get(id)?.value ?? [])
  const areAll = solved.length === keys.ids.length
  const values = new RowMap({ keys: areAll ? keys : keysOf(solved.map(({ track }) => track.id)), values: Values.of(solved) })
  const kept = mapKept(before?.tracks, values)
  return networkJoined(plan, kept, turnouts, finders, before, byHost)
}

/** Crossings found and works that reach into each other joined; lists and maps that did not change stay the same object. */
function networkJoined(
  plan: Plan,
  tracks: ReadonlyMap<Id, NetworkTrack>,
  turnouts: ReadonlyMap<Id, TurnoutEntry>,
  { crossingsOf, joinsOf }: Finders,
  before: Network | null,
  byHost: ReadonlyMap<Id, readonly Turnout[]> = turnoutsByHost(plan),
): Network {
  const turnoutValues = new Map<Id, NetworkTurnout>()
  for (const id of Object.keys(plan.turnouts)) {
    const turnout = turnouts.get(id)?.value
    if (turnout) turnoutValues.set(id, turnout)
  }
  const joined = joinsOf(tracks, turnoutValues, crossingsOf(tracks, turnoutValues, plan.crossings, climbingTracks(plan)))
  const crossings = mapKept(before?.crossings, joined.crossings)
  const turnoutLists = new Map<Id, readonly NetworkTurnout[]>()
  for (const id of byHost.size === 0 ? [] : planRows(plan, 'tracks').keys.ids) {
    const list = byHost.get(id)?.flatMap((record) => joined.turnouts.get(record.id) ?? [])
    if (!list) continue
    const old = before?.turnoutsOn.get(id)
    turnoutLists.set(id, old && old.length === list.length && old.every((value, i) => value === list[i]) ? old : list)
  }
  return {
    plan,
    vehicles: plan.vehicles,
    tracks,
    crossings,
    crossingsOn: before?.crossings === crossings ? before.crossingsOn : crossingsByTrack(crossings, before?.crossingsOn),
    turnouts: mapKept(before?.turnouts, joined.turnouts),
    turnoutsOn: mapKept(before?.turnoutsOn, turnoutLists),
  }
}

function poseEquals(a: Pose | null, b: Pose | null): boolean {
  return a === b || (a !== null && b !== null && a.x === b.x && a.y === b.y && a.headingRad === b.headingRad)
}

/** Whether setting a turnout came out as before: same geometry, same place, same problem. */
function resultEquals(a: NetworkTurnout['result'], b: NetworkTurnout['result']): boolean {
  if (a.geometry !== b.geometry || !poseEquals(a.pose, b.pose)) return false
  if (a.ok || b.ok) return a.ok && b.ok
  return JSON.stringify(a.problem) === JSON.stringify(b.problem)
}
