import type { Point, Pose } from '../geom/types.ts'
import { legHolders, makerHosts, makerOf } from '../plan/references.ts'
import { recordFind } from '../plan/tables.ts'
import type { FreeEnd, Id, Plan, TableName, Track, TurnoutLeg } from '../plan/types.ts'
import { commandApply } from './commandApply.ts'
import { patchApply } from './patch.ts'
import type { PlanCommand } from './types.ts'

/** Length of side that a track gets at an end set free when nobody knows where its leg was, mm. Long enough to be seen and grasped. */
const stubMm = 100

/**
 * The command that removes a record in one step of the person: what hangs on it is first set free where it lies now.
 *
 * Units:   poses in mm and rad; poseOf gives the pose of a leg, heading away from the frog, or null when it is not solved.
 * Outcome: a track that ran from a leg begins at a free point in the leg's place, and its first PI stays where the leg's tangent had carried
 *          it: the line keeps its shape. Without a pose it begins a short way before its first PI.
 *          Makers that stand on a removed track go with it, with all they made.
 *          Classes that used a removed car do without it. A line class with tracks on it is not set free: which class they should
 *          take is the builder's to say, so editApply answers `inUse`.
 */
export function editRemoveCommand(
  plan: Plan,
  table: TableName,
  id: Id,
  poseOf: (turnout: Id, leg: TurnoutLeg) => Pose | null,
): PlanCommand {
  const remove: PlanCommand = { kind: 'remove', table, id }
  // What a maker made goes by the maker's own going: editApply then says whose it is.
  if ((table === 'tracks' || table === 'turnouts') && makerOf(plan, table, id) !== null) return remove
  const before = freeingCommands(plan, table, id, poseOf, new Set())
  return before.length === 0 ? remove : { kind: 'group', label: null, commands: [...before, remove] }
}

/** The command that removes several records in one step, each as `editRemoveCommand` would; what goes with another is not named twice. */
export function editRemoveAllCommand(
  plan: Plan,
  records: readonly { readonly table: TableName; readonly id: Id }[],
  poseOf: (turnout: Id, leg: TurnoutLeg) => Pose | null,
): PlanCommand {
  let at = plan
  const commands: PlanCommand[] = []
  for (const { table, id } of records) {
    if (recordFind<TableName>(at, table, id) === null) continue
    const command = editRemoveCommand(at, table, id, poseOf)
    commands.push(command)
    const result = commandApply(at, command)
    // What is refused is refused again when the whole is done, and says why.
    if (result.ok) at = patchApply(at, result.patch)
  }
  return { kind: 'group', label: 'Remove what was chosen', commands }
}

/** Commands that set free what hangs on a record; `leaving`: tracks that go too and need no freeing. */
function freeingCommands(
  plan: Plan,
  table: TableName,
  id: Id,
  poseOf: (turnout: Id, leg: TurnoutLeg) => Pose | null,
  leaving: ReadonlySet<Id>,
): readonly PlanCommand[] {
  switch (table) {
    case 'vehicles':
      return Object.values(plan.lineClasses)
        .filter((lineClass) => lineClass.cars.includes(id))
        .map((lineClass) => ({ kind: 'lineClass.set', id: lineClass.id, change: { cars: lineClass.cars.filter((car) => car !== id) } }))
    case 'turnouts':
      return legFree(plan, id, leaving, poseOf)
    case 'tracks':
      return tracksFreed(plan, [id], [], poseOf, new Set([...leaving, id]))
    case 'makers': {
      const made = recordFind(plan, 'makers', id)?.made ?? { tracks: [], turnouts: [] }
      return tracksFreed(plan, made.tracks, made.turnouts, poseOf, new Set([...leaving, id, ...made.tracks]))
    }
    case 'lineClasses':
    case 'materials':
    case 'stocks':
    case 'railJoints':
    case 'ticks':
    case 'guides':
    case 'readings':
    case 'underlays':
    case 'locks':
    case 'crossings':
    case 'walls':
    case 'obstacles':
    case 'openings':
    case 'benchworks':
    case 'hatches':
    case 'joists':
    case 'portals':
    case 'silences':
      return []
  }
}

/** What must happen before tracks and turnouts go: makers that stand on them go first, and what hangs on their turnouts is freed. */
function tracksFreed(
  plan: Plan,
  tracks: readonly Id[],
  turnouts: readonly Id[],
  poseOf: (turnout: Id, leg: TurnoutLeg) => Pose | null,
  leaving: ReadonlySet<Id>,
): readonly PlanCommand[] {
  const makers = Object.values(plan.makers).filter(
    (maker) => !leaving.has(maker.id) && makerHosts(maker.numbers).some((host) => tracks.includes(host)),
  )
  const gone = new Set([...leaving, ...makers.flatMap((maker) => [maker.id, ...maker.made.tracks])])
  const first = makers.flatMap((maker): readonly PlanCommand[] => [
    ...freeingCommands(plan, 'makers', maker.id, poseOf, gone),
    { kind: 'remove', table: 'makers', id: maker.id },
  ])
  const madeAway = new Set(makers.flatMap((maker) => maker.made.turnouts))
  const free = Object.values(plan.turnouts)
    .filter((turnout) => (tracks.includes(turnout.track) || turnouts.includes(turnout.id)) && !madeAway.has(turnout.id))
    .flatMap((turnout) => legFree(plan, turnout.id, gone, poseOf))
  return [...first, ...free]
}

function legFree(
  plan: Plan,
  turnout: Id,
  leaving: ReadonlySet<Id>,
  poseOf: (turnout: Id, leg: TurnoutLeg) => Pose | null,
): readonly PlanCommand[] {
  return (legHolders(plan).get(turnout) ?? []).flatMap((holder) => {
    const track = recordFind(plan, 'tracks', holder.track)
    return track === null || leaving.has(track.id) || makerOf(plan, 'tracks', track.id) !== null
      ? []
      : endFree(track, holder.end, poseOf(turnout, holder.leg))
  })
}

function endFree(track: Track, end: 'start' | 'end', pose: Pose | null): readonly PlanCommand[] {
  const at = pose ?? stubPoint(track, end)
  const free: FreeEnd = { kind: 'free', x: at.x, y: at.y }
  const commands: PlanCommand[] = [
    end === 'start' ? { kind: 'track.setStart', id: track.id, start: free } : { kind: 'track.setEnd', id: track.id, end: free },
  ]
  if (pose === null) return commands
  const corner = track.corners.at(end === 'start' ? 0 : -1)
  const far = end === 'start' ? track.end : track.start
  if (corner !== undefined) {
    const on = tangentPoint(pose, corner)
    if (on !== null) commands.push({ kind: 'corner.set', track: track.id, corner: corner.id, change: on })
  } else if (far.kind === 'free') {
    const on = tangentPoint(pose, far)
    const set: FreeEnd = { kind: 'free', ...(on ?? { x: far.x, y: far.y }) }
    commands.push(end === 'start' ? { kind: 'track.setEnd', id: track.id, end: set } : { kind: 'track.setStart', id: track.id, start: set })
  }
  return commands
}

/** Foot of a point on the tangent ahead of a pose; null when it lies behind. */
function tangentPoint(pose: Pose, point: Point): Point | null {
  const ux = Math.cos(pose.headingRad)
  const uy = Math.sin(pose.headingRad)
  const ahead = (point.x - pose.x) * ux + (point.y - pose.y) * uy
  return ahead > 0 ? { x: pose.x + ahead * ux, y: pose.y + ahead * uy } : null
}

/** A point one stub before the track's first known point (after its last one), in line with what follows. */
function stubPoint(track: Track, end: 'start' | 'end'): Point {
  const far = end === 'start' ? track.end : track.start
  const points: readonly Point[] = [
    ...(end === 'start' ? track.corners : track.corners.toReversed()),
    ...(far.kind === 'free' ? [far] : []),
  ]
  const [near, next] = points
  if (near === undefined) return end === 'start' ? { x: 0, y: 0 } : { x: stubMm, y: 0 }
  const length = next === undefined ? 0 : Math.hypot(near.x - next.x, near.y - next.y)
  if (next === undefined || length === 0) return { x: near.x - stubMm, y: near.y }
  return { x: near.x + ((near.x - next.x) * stubMm) / length, y: near.y + ((near.y - next.y) * stubMm) / length }
}
