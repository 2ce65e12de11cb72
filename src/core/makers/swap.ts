import { poseReverse, poseToLocal, poseToPlan } from '../geom/index.ts'
import type { Point, Pose } from '../geom/types.ts'
import type { PlanCommand } from '../edit/types.ts'
import type { Network } from '../network/types.ts'
import { makerOf, recordFind } from '../plan/index.ts'
import type { Facing, Hand, Id, Plan, Track } from '../plan/types.ts'
import { handOpposite } from './site.ts'

/** What a turnout is turned to. */
export interface TurnoutSwap {
  readonly hand?: Hand
  readonly facing?: Facing
}

/**
 * A turnout turned to the other hand, or to face the other way, with all that hangs on its legs: mirrored about its track at the points, or turned
 * half round about them. A track that hangs elsewhere too, that is closed, or that a maker made stays where it is, and so does what hangs on it.
 *
 * Outcome:  one command. A turnout without a place is turned alone. Never throws.
 */
export function turnoutSwap(plan: Plan, network: Network, id: Id, change: TurnoutSwap): PlanCommand {
  const turn: PlanCommand = { kind: 'turnout.set', id, change }
  const turnout = recordFind(plan, 'turnouts', id)
  const result = network.turnouts.get(id)?.result
  if (turnout === null || result === undefined || result.pose === null) return turn
  const isMirrored = change.hand !== undefined && change.hand !== turnout.hand
  const isTurned = change.facing !== undefined && change.facing !== turnout.facing && turnout.kind.kind !== 'wye'
  if (!isMirrored && !isTurned) return turn
  const { tracks, turnouts } = hanging(plan, id)
  const moved = placeMover(result.pose, isMirrored, isTurned)
  const hands = isMirrored
    ? turnouts.map((one): PlanCommand => ({ kind: 'turnout.set', id: one.id, change: { hand: handOpposite(one.hand) } }))
    : []
  return { kind: 'group', label: 'Turn turnout', commands: [turn, ...tracks.flatMap((track) => trackMoved(track, moved)), ...hands] }
}

function placeMover(pose: Pose, isMirrored: boolean, isTurned: boolean): (at: Point) => Point {
  const after = isTurned ? poseReverse(pose) : pose
  return (at) => {
    const { x, y } = poseToLocal(pose, at)
    return poseToPlan(after, { x, y: isMirrored ? -y : y })
  }
}

function trackMoved({ id, start, corners, end }: Track, moved: (at: Point) => Point): readonly PlanCommand[] {
  return [
    ...(start.kind === 'free' ? [{ kind: 'track.setStart', id, start: { kind: 'free', ...moved(start) } } as const] : []),
    ...corners.map((corner) => ({ kind: 'corner.set', track: id, corner: corner.id, change: moved(corner) }) as const),
    ...(end.kind === 'free' ? [{ kind: 'track.setEnd', id, end: { kind: 'free', ...moved(end) } } as const] : []),
  ]
}

/** Tracks that hang on the legs of a turnout and nowhere else, the turnouts on them, and what hangs on those. */
function hanging(plan: Plan, root: Id): { readonly tracks: readonly Track[]; readonly turnouts: readonly Plan['turnouts'][Id][] } {
  const holders = new Set([root])
  const host = recordFind(plan, 'turnouts', root)?.track
  const found = new Map<Id, Track>()
  for (let before = -1; before < found.size; ) {
    before = found.size
    for (const track of Object.values(plan.tracks)) {
      const ends = [track.start, track.end]
      const legs = ends.filter((end) => end.kind === 'leg' && holders.has(end.turnout))
      if (found.has(track.id) || legs.length === 0 || legs.length + ends.filter(({ kind }) => kind === 'free').length < 2) continue
      if (track.id === host || makerOf(plan, 'tracks', track.id) !== null) continue
      found.set(track.id, track)
      for (const one of Object.values(plan.turnouts)) if (one.track === track.id) holders.add(one.id)
    }
  }
  holders.delete(root)
  return { tracks: [...found.values()], turnouts: [...holders].flatMap((id) => recordFind(plan, 'turnouts', id) ?? []) }
}
