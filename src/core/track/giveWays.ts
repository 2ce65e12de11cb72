import { boxesOverlap, boxGrow, boxOfPoints } from '../geom/index.ts'
import type { Box, Point } from '../geom/types.ts'
import { climbingTracks } from '../network/index.ts'
import type { Stretch } from '../network/index.ts'
import type { Network, NetworkCrossing } from '../network/types.ts'
import { late } from '../plan/index.ts'
import type { Id, TrackEnd, TrackStart } from '../plan/types.ts'
import { MM_PER_INCH } from '../units/index.ts'
import { goneForget } from './goneForget.ts'
import { shortTies } from './shortTies.ts'
import { tiesGiveWay } from './giveWay.ts'
import { crossingTies } from './plain.ts'
import type { PlainRequest } from './plain.ts'
import { tiesShared } from './sharedTies.ts'
import type { SharedWork } from './sharedTies.ts'
import { tieHold } from './tieCut.ts'
import type { CrossingTrack, PlainTrack, Tie, TurnoutTrack, WorkTrack } from './types.ts'

/** Something with ties that were laid once and stay as they are. */
type Laid = { readonly ties: readonly Tie[] }

interface Given {
  readonly value: PlainTrack
  readonly others: readonly Laid[]
  /** Tracks that it crosses. */
  readonly crossed: readonly Laid[]
  readonly given: PlainTrack
}

/** The box of all ties; kept, for what is laid is never changed. Not part of any result. */
const boxes = new WeakMap<Laid, { readonly box: Box | null }>()

function boxOf(laid: Laid): Box | null {
  const before = boxes.get(laid)
  if (before) return before.box
  const longestMm = Math.max(0, ...laid.ties.map(({ lengthMm, widthMm }) => lengthMm + widthMm))
  const centres = boxOfPoints(laid.ties.map(({ centre }) => centre))
  const box = centres === null ? null : boxGrow(centres, longestMm / 2)
  boxes.set(laid, { box })
  return box
}

interface Boxed {
  readonly laid: Laid
  readonly box: Box
}

/** What has ties, with the box of them. */
function boxed(all: readonly Laid[]): readonly Boxed[] {
  return all.flatMap((laid) => {
    const box = boxOf(laid)
    return box === null ? [] : [{ laid, box }]
  })
}

type Works = { readonly turnouts: ReadonlyMap<Id, TurnoutTrack>; readonly crossings: ReadonlyMap<Id, CrossingTrack> }

/** Ties of special work come in steps of 6 in full size. Common practice, no source. */
const stepInches = 6

/**
 * A function that joins the long ties of turnouts and crossings that lie on each other. Works whose boxes meet go together; what neither of them changed stays
 * the same object.
 */
export function shareCreate(): (network: Network, works: Works) => Works {
  let before: readonly { readonly members: readonly WorkTrack[]; readonly shared: readonly WorkTrack[] }[] = []

  return (network, { turnouts, crossings }) => {
    const climbing = climbingTracks(network.plan)
    const stepMm = (stepInches * MM_PER_INCH) / network.plan.railway.ratio
    const all: readonly WorkTrack[] = [
      ...[...turnouts].flatMap(([id, work]) => (climbing.has(network.turnouts.get(id)?.turnout.track ?? '') ? [] : [work])),
      ...crossings.values(),
    ]
    const groups = groupsOf(all).filter((members) => members.length > 1)
    before = groups.map((members) => {
      const old = before.find((group) => group.members.length === members.length && group.members.every((one, i) => one === members[i]))
      if (old) return old
      const ties = tiesShared(
        members.map((work) => ({ ties: work.ties, host: 'turnoutId' in work ? hostOfTies(network, work as TurnoutTrack) : null })),
        stepMm,
      )
      return { members, shared: members.map((work, i) => (ties[i] === work.ties ? work : { ...work, ties: ties[i] ?? work.ties })) }
    })
    const changed = new Map(before.flatMap(({ members, shared }) => members.map((work, i) => [work, shared[i] ?? work] as const)))
    return changed.size === 0 ? { turnouts, crossings } : { turnouts: replaced(turnouts, changed), crossings: replaced(crossings, changed) }
  }
}

/** The track that a turnout stands on, as its head blocks hold it. */
function hostOfTies({ turnouts, tracks }: Network, { turnoutId }: TurnoutTrack): SharedWork['host'] {
  const host = tracks.get(turnouts.get(turnoutId)?.turnout.track ?? '')
  return host?.alignment.ok === true ? { path: host.alignment.path, holdMm: tieHold(host.railway) } : null
}

/** What was joined keeps all else of its work, so that it is of the same kind. */
function replaced<T extends WorkTrack>(works: ReadonlyMap<Id, T>, changed: ReadonlyMap<WorkTrack, WorkTrack>): ReadonlyMap<Id, T> {
  return new Map([...works].map(([id, work]) => [id, (changed.get(work) as T | undefined) ?? work]))
}

/** Works whose boxes meet, one with the other or through others, in the order of the works. */
function groupsOf(works: readonly WorkTrack[]): readonly (readonly WorkTrack[])[] {
  const group = works.map((_, i) => i)
  const rootOf = (i: number): number => {
    const up = group[i] ?? i
    return up === i ? i : rootOf(up)
  }
  works.forEach((work, i) => {
    const box = boxOf(work)
    for (let j = 0; j < i; j++) {
      const other = works[j]
      const theirs = other === undefined ? null : boxOf(other)
      if (box !== null && theirs !== null && boxesOverlap(box, theirs))
        group[Math.max(rootOf(i), rootOf(j))] = Math.min(rootOf(i), rootOf(j))
    }
  })
  const members = new Map<number, WorkTrack[]>()
  works.forEach((work, i) => members.set(rootOf(i), [...(members.get(rootOf(i)) ?? []), work]))
  return [...members.values()]
}

/** Plain tracks by id as they are laid, before their ties give way. */
export type PlainOf = (id: Id) => { readonly request: PlainRequest; readonly value: PlainTrack } | undefined

/**
 * A function from what is laid to plain tracks whose ties give way: to the ties of all special work, and to those of tracks earlier in the plan with which
 * they share a turnout. What neither it nor anything near it changed stays the same object. Tracks of a helix and what stands on them lie at heights
 * of their own and give way to nothing. Each is laid when it is asked for.
 */
export function giveWayCreate(): (
  network: Network,
  plainOf: PlainOf,
  turnouts: ReadonlyMap<Id, TurnoutTrack>,
  crossings: ReadonlyMap<Id, CrossingTrack>,
) => (id: Id) => PlainTrack | undefined {
  const known = new Map<Id, Given>()

  return (network, plainOf, turnouts, crossings) => {
    const climbing = climbingTracks(network.plan)
    goneForget(known, network)
    const worksOf = late((): readonly Boxed[] =>
      boxed([
        ...[...turnouts].flatMap(([id, laid]) => (climbing.has(network.turnouts.get(id)?.turnout.track ?? '') ? [] : [laid])),
        ...crossings.values(),
      ]),
    )
    const meetingsOf = late(() => tracksThatMeet(network))
    const orderOf = late(() => new Map([...network.tracks.keys()].map((id, i) => [id, i])))
    const isEarlier = (one: Id, other: Id): boolean => (orderOf().get(one) ?? 0) < (orderOf().get(other) ?? 0)

    const givenOf = (id: Id): PlainTrack | undefined => {
      const plain = plainOf(id)
      if (plain === undefined) return undefined
      const { request, value } = plain
      const others: Laid[] = []
      const isAlone = (network.turnouts.size === 0 && crossings.size === 0) || climbing.has(id)
      const box = isAlone ? null : boxOf(value)
      if (box !== null) {
        const earlier = meetingsOf()(id).flatMap((other) => (isEarlier(other, id) ? (givenOf(other) ?? []) : []))
        for (const near of [worksOf(), boxed(earlier)])
          for (const { laid, box: theirs } of near) if (boxesOverlap(box, theirs)) others.push(laid)
      }
      const crossed = request.crossings.flatMap(({ track, other }) => {
        const theirs = track === id ? other : track
        return (isEarlier(theirs, id) ? givenOf(theirs) : plainOf(theirs)?.value) ?? []
      })
      const old = known.get(id)
      if (old?.value === value && isSame(old.others, others) && isSame(old.crossed, crossed)) return old.given
      const given = trackGiven(request, value, others, crossed)
      known.set(id, { value, others, crossed, given })
      return given
    }
    return givenOf
  }
}

/** The others that a track meets at turnouts: hosts of those at its ends, what hangs on those that it carries, and what else hangs on its hosts. */
function tracksThatMeet({ tracks, turnouts }: Network): (id: Id) => readonly Id[] {
  const hosts = new Map<Id, readonly Id[]>()
  const guests = new Map<Id, Id[]>()
  for (const [id, { track }] of tracks) {
    const own = [track.start, track.end].flatMap((end: TrackStart | TrackEnd) =>
      end.kind === 'leg' ? (turnouts.get(end.turnout)?.turnout.track ?? []) : [],
    )
    hosts.set(id, own)
    for (const host of own) guests.set(host, [...(guests.get(host) ?? []), id])
  }
  return (id) => {
    const own = hosts.get(id) ?? []
    return [...new Set([...own, ...[id, ...own].flatMap((host) => guests.get(host) ?? [])])].filter((other) => other !== id)
  }
}

const isSame = (a: readonly Laid[], b: readonly Laid[]): boolean => a.length === b.length && a.every((one, i) => one === b[i])

function trackGiven({ track, crossings }: PlainRequest, value: PlainTrack, others: readonly Laid[], crossed: readonly Laid[]): PlainTrack {
  const { alignment, railway, lineClass } = track
  if (!alignment.ok || others.length === 0) return value
  const { path, isClosed } = alignment
  const spacingMm = lineClass.tieSpacingMm
  const theirs = others.flatMap((laid) => laid.ties)
  const given = tiesGiveWay(value.ties, theirs, { path, isClosed, railway, spacingMm })
  const short = crossings.flatMap((crossing) => {
    const taken = crossingTies(crossing, track.track.id, railway)
    if (taken === null) return []
    const stretch = { fromMm: taken.fromMm - 2 * spacingMm, toMm: taken.toMm + 2 * spacingMm }
    const there = [...given, ...theirs, ...crossed.flatMap(({ ties }) => ties)].filter(({ centre }) => isWithin(centre, crossing, stretch))
    return shortTies({ path, railway, spacingMm, stretch, ties: there })
  })
  if (given === value.ties && short.length === 0) return value
  return { ...value, ties: short.length === 0 ? given : [...given, ...short].toSorted((a, b) => a.stationMm - b.stationMm) }
}

/** Whether a tie lies so near to a crossing that it may hold a rail there. */
function isWithin({ x, y }: Point, { pose }: NetworkCrossing, { fromMm, toMm }: Stretch): boolean {
  return Math.hypot(x - pose.x, y - pose.y) < toMm - fromMm
}
