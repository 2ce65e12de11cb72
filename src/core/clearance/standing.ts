import { boxesOverlap, boxGrow, pathBox, pathBoxKept, pathPoseAt } from '../geom/index.ts'
import type { Box, Point } from '../geom/types.ts'
import { endMet, legGuests } from '../network/index.ts'
import type { EndMet } from '../network/index.ts'
import type { Network, NetworkTrack } from '../network/types.ts'
import type { Id, LineClass, TrackEndName, Vehicle } from '../plan/types.ts'
import type { RigidBody } from '../vehicles/index.ts'
import { bandKept, bandKeepCreate } from './bandKeep.ts'
import type { BandKeep } from './bandKeep.ts'
import { trackGap } from './between.ts'
import { classCars, classVehicles } from './classCars.ts'
import { sweptMost } from './swept.ts'
import type { Meeting, Span, SweptTrack } from './types.ts'

/** What ends a stretch on which cars can stand: an end of the track, or of the record that it runs on into; or a fouling point of what meets it there. */
export type StandingBound =
  | { readonly kind: 'end'; readonly record?: Id }
  | { readonly kind: 'track'; readonly record: Id }
  | { readonly kind: 'turnout'; readonly record: Id }

/** A stretch of a track between fouling points: what stands on it is in nobody's way. On a loop it may run over station zero, past its length. */
export interface Standing extends Span {
  readonly track: Id
  readonly from: StandingBound
  readonly to: StandingBound
  /** Where the line goes on under another name: so much more of the stretch lies beyond the track's own ends, mm. */
  readonly onward?: { readonly beforeMm: number; readonly afterMm: number }
}

/** Where cars on a track come into the way of another. */
export interface FoulingPoint extends Point {
  readonly track: Id
  readonly stationMm: number
  readonly bound: StandingBound
}

/** Stations of bands lie so far apart, mm: edges leave their chords by 0.03 mm on the sharpest curves. */
const bandStepMm = 10
/** Stretches shorter than this are no room, mm: nothing stands on them. */
const leastRoomMm = 1
/** Of the length that a cut of cars takes when pushed together, what is left between them when they stand: a twentieth. [COMMON-PRACTICE] */
const slack = 1 / 20

/** What was found of the bands on tracks and of their meetings, so that after an edit only what it touched is found again. */
export interface StandingKeep {
  readonly bands: BandKeep
  readonly boxes: WeakMap<SweptTrack, Box>
  readonly meetings: WeakMap<SweptTrack, WeakMap<SweptTrack, MeetingsKept>>
  readonly bodies: Map<Id, { readonly cars: readonly (Vehicle | number)[]; readonly made: readonly RigidBody[] }>
}

interface MeetingsKept {
  readonly limitMm: number
  readonly gaugeMm: number
  readonly found: readonly Meeting[]
}

export function standingKeepCreate(): StandingKeep {
  return { bands: bandKeepCreate(), boxes: new WeakMap(), meetings: new WeakMap(), bodies: new Map() }
}

/** A function that tells where cars can stand on a track of a network, as standingFound does. */
export function standingCreate(network: Network): (track: Id) => readonly Standing[] {
  const keep = standingKeepCreate()
  return (track) => {
    const work = standingFound(network, track, keep)
    for (;;) {
      const step = work.next()
      if (step.done === true) return step.value
    }
  }
}

/**
 * Where cars can stand on a track, found a little between two pauses. What was kept of another network serves as far as it is the same.
 *
 * Units:      mm along the track.
 * Exactness:  fouling points to a step of the bands, 10 mm, on the side that is free; those of bare legs as the turnout tells them.
 * Outcome:    nothing for a track that is not solved.
 */
export function* standingFound(network: Network, track: Id, keep: StandingKeep): Generator<undefined, readonly Standing[]> {
  const rooms = yield* roomsOf(network, track, keep)
  const [first, last] = [rooms[0], rooms.at(-1)]
  if (first === undefined || last === undefined) return rooms
  const before = first.from.kind === 'end' ? yield* roomBeyond(network, track, 'start', new Set([track]), keep) : null
  const after = last.to.kind === 'end' ? yield* roomBeyond(network, track, 'end', new Set([track]), keep) : null
  if (before === null && after === null) return rooms
  return rooms.map((room) => {
    const ahead = room === first ? before : null
    const behind = room === last ? after : null
    if (ahead === null && behind === null) return room
    const onward = { beforeMm: ahead?.lengthMm ?? 0, afterMm: behind?.lengthMm ?? 0 }
    return { ...room, from: ahead?.bound ?? room.from, to: behind?.bound ?? room.to, onward }
  })
}

interface Beyond {
  readonly lengthMm: number
  readonly bound: StandingBound
}

/** The room behind a joint at an end of a track, from joint to joint as far as it goes; null: no line goes on there. */
function* roomBeyond(
  network: Network,
  track: Id,
  end: TrackEndName,
  seen: ReadonlySet<Id>,
  keep: StandingKeep,
): Generator<undefined, Beyond | null> {
  const own = network.tracks.get(track)
  const met = own === undefined ? null : endMet(network.tracks.values(), own, end)
  const other = met === null ? undefined : network.tracks.get(met.track)
  if (met === null || !other?.alignment.ok || seen.has(met.track)) return null
  const rooms = yield* roomsOf(network, met.track, keep)
  const isStart = met.end === 'start'
  const room = isStart ? rooms[0] : rooms.at(-1)
  // Nothing can stand there at all: what is in the way is in the way at the joint.
  if (room === undefined) return { lengthMm: 0, bound: { kind: 'end' } }
  const [near, far] = isStart ? [room.from, room.to] : [room.to, room.from]
  if (near.kind !== 'end') return { lengthMm: 0, bound: near }
  const lengthMm = room.toMm - room.fromMm
  if (far.kind !== 'end') return { lengthMm, bound: far }
  const next = yield* roomBeyond(network, met.track, isStart ? 'end' : 'start', new Set([...seen, met.track]), keep)
  return next === null ? { lengthMm, bound: { kind: 'end', record: met.track } } : { lengthMm: lengthMm + next.lengthMm, bound: next.bound }
}

/** The rooms of one track by itself, from its start to its end. */
function* roomsOf(network: Network, track: Id, keep: StandingKeep): Generator<undefined, readonly Standing[]> {
  const solved = network.tracks.get(track)
  const mine = yield* bandOf(network, track, keep)
  if (!solved?.alignment.ok || mine === null) return []
  const joints = [endMet(network.tracks.values(), solved, 'start'), endMet(network.tracks.values(), solved, 'end')] as const
  const { runningClearanceMm: limitMm, gaugeMm } = solved.railway
  const near = boxGrow(boxOf(mine, keep), limitMm)
  const reachOf = outermostCreate(network, keep)
  const taken: Taken[] = []
  for (const [other, line] of network.tracks) {
    if (other === track || isFarFrom(near, line, reachOf)) continue
    const theirs = yield* bandOf(network, other, keep)
    if (theirs === null || !boxesOverlap(near, boxOf(theirs, keep))) continue
    // A meeting ends at the last stations of the band that foul; a step farther is free for certain.
    for (const { fromMm, toMm } of meetingsOf(mine, theirs, limitMm, gaugeMm, keep).filter(
      (meeting) => !isAtJoint(meeting, other, joints, mine),
    ))
      taken.push({ fromMm: fromMm - bandStepMm, toMm: toMm + bandStepMm, bound: { kind: 'track', record: other } })
    yield undefined
  }
  return roomBetween(track, [...taken, ...bareLegs(network, solved)], solved.alignment.path.lengthMm, solved.alignment.isClosed)
}

/** Cars do not foul what they run on into: a meeting with it that reaches the joint is none. */
function isAtJoint(
  { fromMm, toMm }: Span,
  other: Id,
  [start, end]: readonly [EndMet | null, EndMet | null],
  { line }: SweptTrack,
): boolean {
  const lengthMm = line.endMm - line.startMm
  return (start?.track === other && fromMm <= bandStepMm) || (end?.track === other && toMm >= lengthMm - bandStepMm)
}

/**
 * Told without a band, which is dear: no car is farther from its line than it is long, and beyond the ends of a track that hangs on no
 * turnout its line runs on for no more than another length.
 */
function isFarFrom(near: Box, line: NetworkTrack, reachOf: (line: NetworkTrack) => number): boolean {
  const { track, alignment } = line
  if (!alignment.ok || track.start.kind === 'leg' || track.end.kind === 'leg') return false
  return !boxesOverlap(near, boxGrow(pathBoxKept(alignment.path), reachOf(line)))
}

/** How far from the line of a track nothing of its cars is for certain, mm: told once a class, for thousands of tracks of it are asked about. */
function outermostCreate({ vehicles }: Network, keep: StandingKeep): (line: NetworkTrack) => number {
  const known = new Map<LineClass, number>()
  return (line) => {
    const before = known.get(line.lineClass)
    if (before !== undefined) return before
    const lengths = bodiesOf(line, vehicles, keep).map(({ ribs }) => {
      const along = ribs.map(({ xMm }) => xMm)
      return Math.max(...along) - Math.min(...along) + Math.max(...ribs.map(({ halfWidthMm }) => halfWidthMm))
    })
    const reachMm = 3 * Math.max(...lengths)
    known.set(line.lineClass, reachMm)
    return reachMm
  }
}

function* bandOf(network: Network, track: Id, keep: StandingKeep): Generator<undefined, SweptTrack | null> {
  const solved = network.tracks.get(track)
  if (solved === undefined) return null
  return yield* bandKept(network, track, bodiesOf(solved, network.vehicles, keep), bandStepMm, keep.bands)
}

function boxOf(swept: SweptTrack, { boxes }: StandingKeep): Box {
  const before = boxes.get(swept)
  if (before !== undefined) return before
  const made = pathBox(swept.line.path, sweptMost(swept))
  boxes.set(swept, made)
  return made
}

function meetingsOf(
  mine: SweptTrack,
  theirs: SweptTrack,
  limitMm: number,
  gaugeMm: number,
  { meetings }: StandingKeep,
): readonly Meeting[] {
  const ofMine = meetings.get(mine) ?? new WeakMap<SweptTrack, MeetingsKept>()
  meetings.set(mine, ofMine)
  const before = ofMine.get(theirs)
  if (before?.limitMm === limitMm && before.gaugeMm === gaugeMm) return before.found
  const found = trackGap(mine, theirs, { limitMm, gaugeMm, withinMm: limitMm }).meetings
  ofMine.set(theirs, { limitMm, gaugeMm, found })
  return found
}

/** Where stretches to stand on end at something else than the track's own end, in the plan. */
export function foulingPoints(network: Network, standings: readonly Standing[]): readonly FoulingPoint[] {
  return standings.flatMap(({ track, fromMm, toMm, from, to, onward }) => {
    const alignment = network.tracks.get(track)?.alignment
    if (!alignment?.ok) return []
    const { path } = alignment
    // One beyond the track's end is told of the track on which it lies.
    const at = (stationMm: number, bound: StandingBound, overMm: number): readonly FoulingPoint[] => {
      if (bound.kind === 'end' || overMm > 0) return []
      const onceMm = stationMm > path.lengthMm ? stationMm - path.lengthMm : stationMm
      const { x, y } = pathPoseAt(path, onceMm)
      return [{ track, stationMm: onceMm, bound, x, y }]
    }
    return [...at(fromMm, from, onward?.beforeMm ?? 0), ...at(toMm, to, onward?.afterMm ?? 0)]
  })
}

/** How long a stretch is, with what lies beyond the ends of its track, mm. */
export function standingLength({ fromMm, toMm, onward }: Pick<Standing, 'fromMm' | 'toMm' | 'onward'>): number {
  return toMm - fromMm + (onward?.beforeMm ?? 0) + (onward?.afterMm ?? 0)
}

/** How many cars of a length over couplers can stand on so much room, a twentieth of slack between them. */
export function carsOnRoom(lengthMm: number, overCouplersMm: number): number {
  return overCouplersMm > 0 ? Math.max(0, Math.floor(lengthMm / (overCouplersMm * (1 + slack)))) : 0
}

interface Taken extends Span {
  readonly bound: StandingBound
}

/** A leg on which no track hangs takes its host as far as its own fouling point. */
function bareLegs(network: Network, { track }: NetworkTrack): readonly Taken[] {
  const guestOf = legGuests(network)
  return (network.turnoutsOn.get(track.id) ?? []).flatMap(({ turnout, result }): readonly Taken[] => {
    if (!result.ok || result.legs.every(({ leg }) => guestOf(turnout.id, leg)?.alignment.ok === true)) return []
    const { leadMm, foulingMm } = result.geometry
    const [fromMm, toMm] =
      turnout.facing === 'rising'
        ? [turnout.stationMm, turnout.stationMm + leadMm + foulingMm]
        : [turnout.stationMm - leadMm - foulingMm, turnout.stationMm]
    return [{ fromMm, toMm, bound: { kind: 'turnout', record: turnout.id } }]
  })
}

function roomBetween(track: Id, taken: readonly Taken[], lengthMm: number, isClosed: boolean): readonly Standing[] {
  const pieces = (isClosed ? taken.flatMap((one) => roundLoop(one, lengthMm)) : taken).toSorted((a, b) => a.fromMm - b.fromMm)
  const rooms: Standing[] = []
  let fromMm = 0
  let from: StandingBound = { kind: 'end' }
  for (const piece of pieces) {
    if (piece.fromMm > fromMm) rooms.push({ track, fromMm, toMm: Math.min(piece.fromMm, lengthMm), from, to: piece.bound })
    if (piece.toMm <= fromMm) continue
    fromMm = piece.toMm
    from = piece.bound
  }
  if (fromMm < lengthMm) rooms.push({ track, fromMm, toMm: lengthMm, from, to: { kind: 'end' } })
  return (isClosed ? joinedOverZero(rooms, lengthMm) : rooms).filter(({ fromMm: a, toMm: b }) => b - a > leastRoomMm)
}

function roundLoop(taken: Taken, lengthMm: number): readonly Taken[] {
  const { bound } = taken
  if (taken.toMm - taken.fromMm >= lengthMm) return [{ fromMm: 0, toMm: lengthMm, bound }]
  const fromMm = ((taken.fromMm % lengthMm) + lengthMm) % lengthMm
  const toMm = fromMm + taken.toMm - taken.fromMm
  if (toMm <= lengthMm) return [{ fromMm, toMm, bound }]
  return [
    { fromMm, toMm: lengthMm, bound },
    { fromMm: 0, toMm: toMm - lengthMm, bound },
  ]
}

/** A loop has no end: the last room goes on in the first one. */
function joinedOverZero(rooms: readonly Standing[], lengthMm: number): readonly Standing[] {
  const [first, last] = [rooms[0], rooms.at(-1)]
  if (first === undefined || last === undefined || first === last || first.from.kind !== 'end' || last.to.kind !== 'end') return rooms
  return [...rooms.slice(1, -1), { ...last, toMm: lengthMm + first.toMm, to: first.to }]
}

/** The worst cars of a track's class, either way round; the same object while they are the same cars. */
function bodiesOf({ lineClass, railway }: NetworkTrack, vehicles: Network['vehicles'], { bodies }: StandingKeep): readonly RigidBody[] {
  const own = classVehicles(lineClass, { vehicles })
  const cars = [...own, lineClass.trackCentresMm, railway.runningClearanceMm]
  const before = bodies.get(lineClass.id)
  if (before !== undefined && before.cars.length === cars.length && before.cars.every((car, i) => car === cars[i])) return before.made
  const known = classCars(own).bodies
  const made = known.length > 0 ? known : [unknownBody(lineClass, railway.runningClearanceMm)]
  bodies.set(lineClass.id, { cars, made })
  return made
}

/** Where no car is known, half of the track centres stands for what runs there. */
function unknownBody({ trackCentresMm }: LineClass, clearanceMm: number): RigidBody {
  const halfWidthMm = Math.max(0, (trackCentresMm - clearanceMm) / 2)
  return {
    front: { xMm: 1, wheelbaseMm: 0 },
    rear: { xMm: -1, wheelbaseMm: 0 },
    ribs: [
      { xMm: -1, halfWidthMm },
      { xMm: 1, halfWidthMm },
    ],
  }
}
