import { angleWrap, boxGrow, boxRow, boxRowMeets, boxRowSet, pathBoxKept, pathIntersections, pathPoseAt } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import { RowMap, Values } from '../plan/index.ts'
import type { Crossing, Facing, Id, Railway, Table } from '../plan/types.ts'
import type { CrossingResult } from '../turnout/crossing/types.ts'
import { crossingSolve, leastCrossingRad } from '../turnout/index.ts'
import { crossingRequest } from './crossingRequest.ts'
import { localLine, localLineEquals, localPath } from './localLine.ts'
import type { LocalLine, SolvedAlignment } from './localLine.ts'
import type { Stretch } from './placement.ts'
import { lineThroughLegs } from './joins.ts'
import type { NetworkCrossing, NetworkTrack, NetworkTurnout } from './types.ts'

/** Centrelines nearer than this meet. */
const meetingToleranceMm = 1e-6

/** A line that ends on another does not cross it. */
const endSlackMm = 1e-3

const grain = 1e-9

/** How far a crossing looks along its tracks, in frog numbers times what stands across them; five times what a straight one takes. */
const lookTimes = 5.2
const mostNumber = 20

/** A place where two tracks cross, before anything was chosen for it. */
interface Meeting {
  readonly stationMm: number
  readonly otherStationMm: number
  /** From the direction of the first to that of the other, both along their stations. */
  readonly turnRad: number
}

interface Place {
  readonly pair: Pair
  readonly meeting: Meeting
  readonly key: string
  readonly record: Crossing | null
}

type Line = NetworkTrack & { readonly alignment: SolvedAlignment }

/** The lines of all tracks, each in the place of its track; null: it is not solved, or climbs over others. */
type Lines = Values<Line | null>

interface Pair {
  /** Places of the two in the list of lines. */
  readonly at: readonly [number, number]
  readonly track: NetworkTrack
  readonly other: NetworkTrack
  readonly meetings: readonly Meeting[]
}

/** What was looked at last. */
interface Looked {
  readonly tracks: Values<NetworkTrack>
  readonly climbing: ReadonlySet<Id>
  readonly lines: Lines
  readonly pairs: readonly Pair[]
}

/** Where lines stand that are there still, and the places of those that are not. */
interface Still {
  readonly placeNow: (place: number) => number | undefined
  readonly changed: ReadonlySet<number>
}

/** What a crossing was solved from. */
interface CrossingEntry {
  readonly record: Crossing | null
  readonly railway: Railway
  readonly tieSpacingMm: number
  readonly line: LocalLine
  readonly otherLine: LocalLine
  readonly angleRad: number
  readonly value: NetworkCrossing
}

/** climbing: tracks of which it is known that they pass over others. */
export type CrossingsOf = (
  tracks: ReadonlyMap<Id, NetworkTrack>,
  turnouts: ReadonlyMap<Id, NetworkTurnout>,
  records: Table<Crossing>,
  climbing: ReadonlySet<Id>,
) => ReadonlyMap<string, NetworkCrossing>

/**
 * A function from tracks to their crossings that remembers where lines met and what was solved there: only pairs with a line that
 * changed are looked at again, and only crossings whose tracks bend, meet or are built otherwise are solved again.
 */
export function crossingsCreateDeriver(): CrossingsOf {
  let entries: ReadonlyMap<string, CrossingEntry> = new Map()
  let before: Looked = { tracks: Values.of([]), climbing: new Set(), lines: Values.of([]), pairs: [] }
  let boxes = boxRow(0)

  const boxSet = (place: number, line: Line | null): void =>
    boxRowSet(boxes, place, line === null ? null : boxGrow(pathBoxKept(line.alignment.path), meetingToleranceMm))
  /** In every step of a drag only the lines of tracks that changed in their place are looked at. */
  const linesOf = (tracks: Values<NetworkTrack>, climbing: ReadonlySet<Id>): { readonly lines: Lines; readonly still: Still } => {
    const lineOf = (track: NetworkTrack | undefined): Line | null =>
      track?.alignment.ok === true && !climbing.has(track.track.id) ? (track as Line) : null
    const places = hasSame(before.climbing, climbing) ? Values.changed(before.tracks, tracks) : null
    if (places !== null && places.length * 4 <= tracks.length) {
      const changed = new Set<number>()
      const fresh = places.map((place) => [place, lineOf(tracks.at(place))] as const)
      for (const [place, line] of fresh) {
        if (line?.alignment === before.lines.at(place)?.alignment) continue
        boxSet(place, line)
        changed.add(place)
      }
      return { lines: before.lines.with(fresh), still: { placeNow: (place) => (changed.has(place) ? undefined : place), changed } }
    }
    const lines = Values.of(tracks.list().map(lineOf))
    boxes = boxRow(lines.length)
    lines.forEach((line, place) => boxSet(place, line))
    return { lines, still: linesStill(before.lines, lines) }
  }
  const pairOf = (lines: Lines, i: number, j: number): readonly Pair[] => {
    const [one, other] = [lines.at(i), lines.at(j)]
    if (!one || !other || !boxRowMeets(boxes, i, j)) return []
    const meetings = meetingsFind(one.alignment, other.alignment)
    return meetings.length === 0 ? [] : [{ at: [i, j], track: one, other, meetings }]
  }
  /** Of lines that stand where they stood only those that changed are laid beside all others. */
  const pairsOf = (lines: Lines, { placeNow, changed }: Still): readonly Pair[] => {
    const kept = before.pairs.flatMap(({ at, meetings }): readonly Pair[] => {
      const [i, j] = [placeNow(at[0]), placeNow(at[1])]
      const [one, other] = [lines.at(i ?? -1), lines.at(j ?? -1)]
      if (i === undefined || j === undefined || !one || !other) return []
      // The order of the tracks is told by that of the lines: two that changed places are looked at anew.
      return i < j ? [{ at: [i, j], track: one, other, meetings }] : pairOf(lines, j, i)
    })
    const fresh: Pair[] = []
    const areAll = changed.size === lines.length
    for (const i of changed) {
      for (let j = areAll ? i + 1 : 0; j < lines.length; j++) {
        if (j !== i && boxRowMeets(boxes, i, j) && !(j < i && changed.has(j))) fresh.push(...pairOf(lines, Math.min(i, j), Math.max(i, j)))
      }
    }
    return fresh.length === 0 ? kept : [...kept, ...fresh].sort((a, b) => a.at[0] - b.at[0] || a.at[1] - b.at[1])
  }

  return (tracks, turnouts, records, climbing) => {
    const list = RowMap.rowsOf(tracks)?.values ?? Values.of([...tracks.values()])
    const { lines, still } = linesOf(list, climbing)
    const pairs = pairsOf(lines, still)
    before = { tracks: list, climbing, lines, pairs }
    const next = new Map<string, CrossingEntry>()
    for (const place of placesNamed(pairs, records)) {
      const entry = crossingEntry(place, turnouts, entries.get(place.record?.id ?? place.key))
      if (entry !== null) next.set(entry.value.id, entry)
    }
    entries = next
    return new Map([...next].map(([id, { value }]) => [id, value]))
  }
}

const hasSame = (a: ReadonlySet<Id>, b: ReadonlySet<Id>): boolean => a.size === b.size && [...a].every((id) => b.has(id))

/** For lists of unlike tracks, and for many changes. */
function linesStill(before: Lines, now: Lines): Still {
  const placeOf = new Map<SolvedAlignment | undefined, number>(now.list().map((line, place) => [line?.alignment, place]))
  placeOf.delete(undefined)
  const known = new Set(before.list().map((line) => line?.alignment))
  return {
    placeNow: (place) => placeOf.get(before.at(place)?.alignment),
    changed: new Set(now.list().flatMap((line, place) => (line && known.has(line.alignment) ? [] : [place]))),
  }
}

function meetingsFind(a: SolvedAlignment, b: SolvedAlignment): readonly Meeting[] {
  return pathIntersections(a.path, b.path, meetingToleranceMm)
    .map(({ stationA, stationB, angleRad }) => ({
      stationMm: onGrain(stationA),
      otherStationMm: onGrain(stationB),
      turnRad: onGrain(angleRad),
    }))
    .filter(
      ({ stationMm, otherStationMm, turnRad }) =>
        crossingAngle(turnRad) >= leastCrossingRad && isWithin(a, stationMm) && isWithin(b, otherStationMm),
    )
}

/** Stations and angles are kept to a billionth of a mm and rad: what a change elsewhere adds by rounding alone is no change here. */
const onGrain = (value: number): number => Math.round(value / grain) * grain

const crossingAngle = (turnRad: number): number => Math.min(Math.abs(turnRad), Math.PI - Math.abs(turnRad))

function isWithin({ path, isClosed }: SolvedAlignment, stationMm: number): boolean {
  return isClosed || (stationMm > endSlackMm && path.lengthMm - stationMm > endSlackMm)
}

/** Every meeting with the record that is meant for it: of the meetings of its two tracks the nearest that is still free. */
function placesNamed(pairs: readonly Pair[], records: Table<Crossing>): readonly Place[] {
  const places = pairs.flatMap((pair) =>
    pair.meetings.map((meeting, i) => ({ pair, meeting, key: `${pair.track.track.id}:${pair.other.track.id}:${i + 1}` })),
  )
  const named = new Map<string, Crossing>()
  for (const record of Object.values(records)) {
    let nearest: { readonly key: string; readonly offMm: number } | null = null
    for (const { pair, meeting, key } of places) {
      const offMm = named.has(key) ? null : stationsOff(pair, meeting, record)
      if (offMm !== null && (nearest === null || offMm < nearest.offMm)) nearest = { key, offMm }
    }
    if (nearest !== null) named.set(nearest.key, record)
  }
  return places.map((place) => ({ ...place, record: named.get(place.key) ?? null }))
}

/** How far a meeting lies from the stations of a record; null: it is one of other tracks. */
function stationsOff({ track, other }: Pair, { stationMm, otherStationMm }: Meeting, record: Crossing): number | null {
  if (record.track === track.track.id && record.other === other.track.id) {
    return Math.abs(record.stationMm - stationMm) + Math.abs(record.otherStationMm - otherStationMm)
  }
  if (record.track === other.track.id && record.other === track.track.id) {
    return Math.abs(record.stationMm - otherStationMm) + Math.abs(record.otherStationMm - stationMm)
  }
  return null
}

function crossingEntry(
  { pair, meeting, key, record }: Place,
  turnouts: ReadonlyMap<Id, NetworkTurnout>,
  before: CrossingEntry | undefined,
): CrossingEntry | null {
  const isSwapped = record !== null && record.track === pair.other.track.id
  const [track, other] = isSwapped ? [pair.other, pair.track] : [pair.track, pair.other]
  const [stationMm, otherStationMm] = isSwapped ? [meeting.otherStationMm, meeting.stationMm] : [meeting.stationMm, meeting.otherStationMm]
  if (!track.alignment.ok || !other.alignment.ok) return null
  const { x, y, headingRad } = pathPoseAt(track.alignment.path, stationMm)
  const turnRad = angleWrap(isSwapped ? -meeting.turnRad : meeting.turnRad)
  const isOtherReversed = Math.abs(turnRad) > Math.PI / 2
  const angleRad = isOtherReversed ? angleWrap(turnRad + Math.PI) : turnRad

  const { railway } = track
  const number = Math.min(mostNumber, 1 / (2 * Math.tan(Math.abs(angleRad) / 2)))
  const lookMm = lookTimes * Math.max(1, number) * (railway.gaugeMm + 4 * (railway.flangewayMm + 2 * railway.railHeadMm))
  const reach = { aheadMm: lookMm, behindMm: lookMm }
  const lineOf = (one: NetworkTrack, alignment: SolvedAlignment, at: number, facing: Facing): LocalLine => {
    const through = record === null || record.slip === 'none' ? lineThroughLegs(one.track, alignment, turnouts, railway) : null
    return through === null ? localLine(alignment, at, facing, reach) : localLine(through.line, at + through.beforeMm, facing, reach)
  }
  const line = lineOf(track, track.alignment, stationMm, 'rising')
  const otherLine = lineOf(other, other.alignment, otherStationMm, isOtherReversed ? 'falling' : 'rising')
  const tieSpacingMm = Math.min(track.lineClass.tieSpacingMm, other.lineClass.tieSpacingMm)
  const isSolvedAlike =
    before !== undefined &&
    before.record === record &&
    before.railway === railway &&
    before.tieSpacingMm === tieSpacingMm &&
    before.angleRad === angleRad &&
    localLineEquals(before.line, line) &&
    localLineEquals(before.otherLine, otherLine)
  const result: CrossingResult = isSolvedAlike
    ? before.value.result
    : crossingSolve(
        crossingRequest(
          railway,
          tieSpacingMm,
          record,
          { path: localPath(line), atMm: line.atMm },
          { path: localPath(otherLine, angleRad), atMm: otherLine.atMm },
        ),
      )
  const value: NetworkCrossing = {
    id: record?.id ?? key,
    record,
    track: track.track.id,
    other: other.track.id,
    stationMm,
    otherStationMm,
    isOtherReversed,
    pose: { x, y, headingRad },
    result,
  }
  const isSame = before !== undefined && crossingEquals(before.value, value)
  return { record, railway, tieSpacingMm, line, otherLine, angleRad, value: isSame ? before.value : value }
}

function crossingEquals(a: NetworkCrossing, b: NetworkCrossing): boolean {
  const poseEquals = (p: Pose, q: Pose): boolean => p.x === q.x && p.y === q.y && p.headingRad === q.headingRad
  return (
    a.id === b.id &&
    a.record === b.record &&
    a.track === b.track &&
    a.other === b.other &&
    a.stationMm === b.stationMm &&
    a.otherStationMm === b.otherStationMm &&
    a.isOtherReversed === b.isOtherReversed &&
    a.result === b.result &&
    poseEquals(a.pose, b.pose)
  )
}

/** A crossing's station on a track that takes part in it. */
export function crossingStationOn(crossing: NetworkCrossing, track: Id): number {
  return crossing.track === track ? crossing.stationMm : crossing.otherStationMm
}

/** Stretch of the stations of one of its tracks between two distances from the crossing, which count as its own frame has them. */
export function crossingStretch(crossing: NetworkCrossing, track: Id, fromMm: number, toMm: number): Stretch {
  const stationMm = crossingStationOn(crossing, track)
  return track === crossing.other && crossing.isOtherReversed
    ? { fromMm: stationMm - toMm, toMm: stationMm - fromMm }
    : { fromMm: stationMm + fromMm, toMm: stationMm + toMm }
}

/** What a crossing takes of one of its tracks; null: it cannot be built. */
export function crossingTaken(crossing: NetworkCrossing, track: Id): Stretch | null {
  if (!crossing.result.ok) return null
  const { first, second } = crossing.result.crossing.extents
  const { fromMm, toMm } = track === crossing.track ? first : second
  return crossingStretch(crossing, track, fromMm, toMm)
}

/** Lists that did not change stay the same object. */
export function crossingsByTrack(
  crossings: ReadonlyMap<string, NetworkCrossing>,
  before: ReadonlyMap<string, readonly NetworkCrossing[]> | undefined,
): ReadonlyMap<string, readonly NetworkCrossing[]> {
  const byTrack = new Map<string, NetworkCrossing[]>()
  for (const crossing of crossings.values()) {
    for (const track of [crossing.track, crossing.other]) {
      const list = byTrack.get(track)
      if (list) list.push(crossing)
      else byTrack.set(track, [crossing])
    }
  }
  const kept = new Map<string, readonly NetworkCrossing[]>()
  for (const [track, list] of byTrack) {
    list.sort((a, b) => crossingStationOn(a, track) - crossingStationOn(b, track) || (a.id < b.id ? -1 : 1))
    const old = before?.get(track)
    kept.set(track, old && old.length === list.length && old.every((value, i) => value === list[i]) ? old : list)
  }
  return kept
}
