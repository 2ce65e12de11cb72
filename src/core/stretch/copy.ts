import type { PlanCommand } from '../edit/types.ts'
import type { Point, Pose } from '../geom/types.ts'
import { planNextId, recordFind } from '../plan/index.ts'
import type { AnyRecord, Id, MakerNumbers, Plan, TableName, Track, TrackEnd, TurnoutLeg } from '../plan/types.ts'
import { stretchOf, type Member } from './members.ts'
import { openingBackwards, slipMirrored, handOther, wallBackwards } from './mirrored.ts'
import { makerMoved, trackMoved, turnoutMoved, type StretchResult } from './move.ts'
import { motionPoint, type Motion } from './motion.ts'
import { benchworkMoved, guideMoved, joistMoved, outlineMoved, readingMoved } from './placed.ts'

/**
 * The commands that lay a second one of what was chosen, moved as `stretchMove` would.
 *
 * Units:   poseOf gives the pose of a leg, mm and rad; null: it is not solved.
 * Outcome: `members` are the new records. Names go on counting. A track that hangs on a turnout which is not among what was chosen begins
 *          (ends) free in the place of that leg's image. What was silenced, ticked, measured or locked stays with the first one.
 */
export function stretchCopy(
  plan: Plan,
  chosen: readonly Member[],
  motion: Motion,
  poseOf: (turnout: Id, leg: TurnoutLeg) => Pose | null,
): StretchResult {
  const freed = legsFreed(plan, chosen, poseOf)
  const found = stretchOf(freed, chosen)
  if (!found.ok) return found
  const { members, tracks, makers } = found.stretch
  const ids = idsCounting(plan)
  const made = new Set(makers.flatMap((maker) => maker.made.tracks))
  const madeTurnouts = new Set(makers.flatMap((maker) => maker.made.turnouts))
  const newTrack = new Map([...tracks].map((id) => [id, ids('tracks')]))
  const turnouts = Object.values(plan.turnouts).filter((turnout) => tracks.has(turnout.track))
  const newTurnout = new Map(turnouts.map(({ id }) => [id, ids('turnouts')]))
  const trackId = (id: Id): Id => newTrack.get(id) ?? id
  const names = namesCounting(plan)

  const trackCopy = (id: Id): readonly Track[] => {
    const track = recordFind(freed, 'tracks', id)
    if (track === null) return []
    const legCopy = <E extends Track['start'] | TrackEnd>(end: E): E =>
      end.kind === 'leg' ? { ...end, turnout: newTurnout.get(end.turnout) ?? end.turnout } : end
    const { start, end, ...moved } = trackMoved(track, motion)
    return [{ ...moved, id: trackId(id), name: names('tracks', track.name), start: legCopy(start), end: legCopy(end) }]
  }
  const turnoutCopies = turnouts.map((turnout) => ({
    isMade: madeTurnouts.has(turnout.id),
    from: turnout.id,
    record: {
      ...turnoutMoved(turnout, motion),
      id: newTurnout.get(turnout.id) ?? turnout.id,
      name: names('turnouts', turnout.name),
      track: trackId(turnout.track),
    },
  }))
  const copies = [...tracks].filter((id) => !made.has(id)).flatMap(trackCopy)

  const commands: PlanCommand[] = [
    ...copies.map((record): PlanCommand => ({ kind: 'track.add', record: endsHeld(record) })),
    ...turnoutCopies.filter(({ isMade }) => !isMade).map(({ record }): PlanCommand => ({ kind: 'turnout.add', record })),
    ...makers.map((maker): PlanCommand => {
      const { made: parts, id: _, ...record } = makerMoved(maker, motion)
      const makes = (id: Id): boolean => parts.turnouts.includes(id)
      return {
        kind: 'maker.write',
        record: { ...record, id: ids('makers'), name: names('makers', maker.name), numbers: hostsCopied(record.numbers, trackId) },
        tracks: parts.tracks.flatMap(trackCopy),
        turnouts: turnoutCopies.filter(({ from }) => makes(from)).map((copy) => copy.record),
      }
    }),
    // Only now all turnouts are there that tracks hang on.
    ...copies.flatMap(({ id, start, end }): readonly PlanCommand[] => [
      ...(start.kind === 'leg' ? [{ kind: 'track.setStart', id, start } as const] : []),
      ...(end.kind === 'leg' ? [{ kind: 'track.setEnd', id, end } as const] : []),
    ]),
    ...standingCopies(plan, tracks, trackId, motion, ids, names),
  ]
  const placed = members.filter(({ table }) => table !== 'tracks')
  const others = placed.map((member) => placedCopy(plan, member, motion, ids, names))
  return {
    ok: true,
    commands: [...commands, ...others.flatMap((copy) => copy.commands)],
    members: [...[...tracks].map((id): Member => ({ table: 'tracks', id: trackId(id) })), ...others.flatMap((copy) => copy.members)],
  }
}

type NextId = (table: TableName) => Id
type NextName = (table: TableName, name: string) => string

/** Ids of a plan, each given out once. */
function idsCounting(plan: Plan): NextId {
  let at = plan
  return (table) => {
    const id = planNextId(at, table)
    at = { ...at, [table]: { ...at[table], [id]: { id } } }
    return id
  }
}

/** The name that follows: "Spur 2" after "Spur", and so on until none has it. */
function namesCounting(plan: Plan): NextName {
  const given = new Map<TableName, Set<string>>()
  return (table, name) => {
    const known = given.get(table) ?? new Set(Object.values<AnyRecord>(plan[table]).map((record) => ('name' in record ? record.name : '')))
    given.set(table, known)
    const [, word = name, digits] = /^(.*?)\s*(\d{1,6})?$/.exec(name) ?? []
    for (let number = Number(digits ?? 1) + 1; ; number++) {
      const next = word === '' ? `${number}` : `${word} ${number}`
      if (known.has(next)) continue
      known.add(next)
      return next
    }
  }
}

/** The plan with chosen tracks set free of turnouts that are not on a chosen track, where these have their legs. */
function legsFreed(plan: Plan, chosen: readonly Member[], poseOf: (turnout: Id, leg: TurnoutLeg) => Pose | null): Plan {
  const found = stretchOf(plan, chosen)
  if (found.ok || found.problem.kind !== 'tied') return plan
  const track = recordFind(plan, 'tracks', found.problem.track)
  if (track === null) return plan
  const { turnout } = found.problem
  const free = <E extends Track['start'] | TrackEnd>(end: E, stub: Point): E | Track['start'] => {
    if (end.kind !== 'leg' || end.turnout !== turnout) return end
    const { x, y } = poseOf(end.turnout, end.leg) ?? stub
    return { kind: 'free', x, y }
  }
  const changed: Track = {
    ...track,
    start: free(track.start, stubOf(track.corners[0], track.end)),
    end: free(track.end, stubOf(track.corners.at(-1), track.start)),
  }
  // As often as there are such tracks.
  return legsFreed({ ...plan, tracks: { ...plan.tracks, [track.id]: changed } }, chosen, poseOf)
}

/** Where an end goes whose leg nobody can place: a hand's breadth beside what comes next. */
function stubOf(corner: Point | undefined, far: TrackEnd): Point {
  const next = corner ?? (far.kind === 'free' ? far : { x: 0, y: 0 })
  return { x: next.x - 100, y: next.y }
}

/** A track to be added before its turnouts are there: its legs follow. */
function endsHeld(track: Track): Track {
  const start = track.start.kind === 'leg' ? { kind: 'free' as const, ...stubOf(track.corners[0], track.end) } : track.start
  const end = track.end.kind === 'leg' ? { kind: 'free' as const, ...stubOf(track.corners.at(-1), track.start) } : track.end
  return { ...track, start, end }
}

function hostsCopied(numbers: MakerNumbers, trackId: (id: Id) => Id): MakerNumbers {
  const host = { track: trackId(numbers.track) }
  return 'otherTrack' in numbers ? { ...numbers, ...host, otherTrack: trackId(numbers.otherTrack) } : { ...numbers, ...host }
}

/** Choices for crossings, portals and joints on the copied tracks. */
function standingCopies(
  plan: Plan,
  tracks: ReadonlySet<Id>,
  trackId: (id: Id) => Id,
  { isMirrored }: Motion,
  ids: NextId,
  names: NextName,
): readonly PlanCommand[] {
  const on = <R extends { readonly track: Id }>(records: { readonly [id: Id]: R }): readonly R[] =>
    Object.values(records).filter(({ track }) => tracks.has(track))
  return [
    ...on(plan.crossings)
      .filter(({ other }) => tracks.has(other))
      .map((crossing): PlanCommand => {
        const slip = isMirrored ? slipMirrored(crossing) : crossing.slip
        const to = { track: trackId(crossing.track), other: trackId(crossing.other) }
        return { kind: 'crossing.add', record: { ...crossing, ...to, id: ids('crossings'), name: names('crossings', crossing.name), slip } }
      }),
    ...on(plan.portals).map((portal): PlanCommand => {
      const sides = isMirrored ? { leftMm: portal.rightMm, rightMm: portal.leftMm } : {}
      const record = { ...portal, ...sides, track: trackId(portal.track), id: ids('portals'), name: names('portals', portal.name) }
      return { kind: 'portal.add', record }
    }),
    ...on(plan.railJoints).map((joint): PlanCommand => {
      const rail = isMirrored ? handOther(joint.rail) : joint.rail
      return { kind: 'railJoint.add', record: { ...joint, rail, track: trackId(joint.track), id: ids('railJoints') } }
    }),
  ]
}

interface Copied {
  readonly commands: readonly PlanCommand[]
  readonly members: readonly Member[]
}

function placedCopy(plan: Plan, { table, id: from }: Member, motion: Motion, ids: NextId, names: NextName): Copied {
  const id = ids(table)
  const members: readonly Member[] = [{ table, id }]
  const none: Copied = { commands: [], members: [] }
  switch (table) {
    case 'walls': {
      const wall = recordFind(plan, 'walls', from)
      if (wall === null) return none
      const points = wall.points.map((point) => motionPoint(motion, point))
      const copy = { ...wall, id, name: names(table, wall.name), points: motion.isMirrored ? wallBackwards(points, wall.isClosed) : points }
      const openings = Object.values(plan.openings).filter((opening) => opening.wall === from)
      return {
        commands: [
          { kind: 'wall.add', record: copy },
          ...openings.map((opening): PlanCommand => {
            const turned = motion.isMirrored ? openingBackwards(opening, wall) : {}
            const record = { ...opening, ...turned, wall: id, id: ids('openings'), name: names('openings', opening.name) }
            return { kind: 'opening.add', record }
          }),
        ],
        members,
      }
    }
    case 'obstacles': {
      const record = recordFind(plan, 'obstacles', from)
      if (record === null) return none
      const copy = { ...record, id, name: names(table, record.name), ...outlineMoved(record, motion) }
      return { commands: [{ kind: 'obstacle.add', record: copy }], members }
    }
    case 'hatches': {
      const record = recordFind(plan, 'hatches', from)
      if (record === null) return none
      const copy = { ...record, id, name: names(table, record.name), ...outlineMoved(record, motion) }
      return { commands: [{ kind: 'hatch.add', record: copy }], members }
    }
    case 'benchworks': {
      const record = recordFind(plan, 'benchworks', from)
      if (record === null) return none
      const copy = { ...record, id, name: names(table, record.name), ...benchworkMoved(record, motion) }
      return { commands: [{ kind: 'benchwork.add', record: copy }], members }
    }
    case 'joists': {
      const record = recordFind(plan, 'joists', from)
      if (record === null) return none
      const copy = { ...record, id, name: names(table, record.name), ...joistMoved(record, motion) }
      return { commands: [{ kind: 'joist.add', record: copy }], members }
    }
    case 'guides': {
      const record = recordFind(plan, 'guides', from)
      if (record === null) return none
      const copy = { ...record, id, name: names(table, record.name), ...guideMoved(record, motion) }
      return { commands: [{ kind: 'guide.add', record: copy }], members }
    }
    case 'readings': {
      const record = recordFind(plan, 'readings', from)
      if (record === null) return none
      return {
        commands: [{ kind: 'reading.add', record: { ...record, id, name: names(table, record.name), ...readingMoved(record, motion) } }],
        members,
      }
    }
    default:
      return none
  }
}
