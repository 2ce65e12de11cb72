import type { PlanCommand } from '../edit/types.ts'
import { makerOf, recordFind } from '../plan/index.ts'
import type { Id, Maker, Plan, Track, TrackEnd, TrackStart, Turnout } from '../plan/types.ts'
import { stretchOf, type Member, type PlacedTable, type Stretch, type StretchProblem } from './members.ts'
import { handOther, makerMirrored, openingBackwards, slipMirrored, wallBackwards } from './mirrored.ts'
import { motionPoint, type Motion } from './motion.ts'
import { benchworkMoved, guideMoved, joistMoved, outlineMoved, readingMoved } from './placed.ts'

export type StretchResult =
  | { readonly ok: true; readonly commands: readonly PlanCommand[]; readonly members: readonly Member[] }
  | { readonly ok: false; readonly problem: StretchProblem }

/**
 * The commands that move, turn or mirror what was chosen as one rigid piece, with the turnouts on its tracks and the tracks that hang
 * on nothing else.
 *
 * Outcome: lengths, radii and stations stay; what is derived from the piece is its congruent image. In a mirror turnouts, slips, sides
 *          and hinges change hands. Or why it cannot be: something in it stands on what stays.
 * Exactness: a motion and its inverse give the plan back but for rounding.
 */
export function stretchMove(plan: Plan, chosen: readonly Member[], motion: Motion): StretchResult {
  const found = stretchOf(plan, chosen)
  if (!found.ok) return found
  const { stretch } = found
  const commands = [
    ...stretch.members.flatMap(({ table, id }) => placedMove(plan, table, id, motion)),
    ...(motion.isMirrored ? handsSwap(plan, stretch) : []),
    ...stretch.makers.map((maker) => makerMove(plan, maker, motion)),
  ]
  return { ok: true, commands, members: stretch.members }
}

function placedMove(plan: Plan, table: PlacedTable, id: Id, motion: Motion): readonly PlanCommand[] {
  switch (table) {
    case 'tracks': {
      const track = recordFind(plan, 'tracks', id)
      // What a maker made is written with its maker.
      return track === null || makerMoves(plan, track.id) ? [] : trackCommands(trackMoved(track, motion))
    }
    case 'walls': {
      const wall = recordFind(plan, 'walls', id)
      if (wall === null) return []
      const points = wall.points.map((point) => motionPoint(motion, point))
      if (!motion.isMirrored) return [{ kind: 'wall.set', id, change: { points } }]
      return [
        { kind: 'wall.set', id, change: { points: wallBackwards(points, wall.isClosed) } },
        ...Object.values(plan.openings)
          .filter((opening) => opening.wall === id)
          .map((opening): PlanCommand => ({ kind: 'opening.set', id: opening.id, change: openingBackwards(opening, wall) })),
      ]
    }
    case 'obstacles': {
      const record = recordFind(plan, 'obstacles', id)
      return record === null ? [] : [{ kind: 'obstacle.set', id, change: outlineMoved(record, motion) }]
    }
    case 'hatches': {
      const record = recordFind(plan, 'hatches', id)
      return record === null ? [] : [{ kind: 'hatch.set', id, change: outlineMoved(record, motion) }]
    }
    case 'benchworks': {
      const record = recordFind(plan, 'benchworks', id)
      return record === null ? [] : [{ kind: 'benchwork.set', id, change: benchworkMoved(record, motion) }]
    }
    case 'joists': {
      const record = recordFind(plan, 'joists', id)
      return record === null ? [] : [{ kind: 'joist.set', id, change: joistMoved(record, motion) }]
    }
    case 'guides': {
      const record = recordFind(plan, 'guides', id)
      return record === null ? [] : [{ kind: 'guide.set', id, change: guideMoved(record, motion) }]
    }
    case 'readings': {
      const record = recordFind(plan, 'readings', id)
      return record === null ? [] : [{ kind: 'reading.set', id, change: readingMoved(record, motion) }]
    }
  }
}

const makerMoves = (plan: Plan, track: Id): boolean => makerOf(plan, 'tracks', track) !== null

function trackCommands({ id, start, corners, end }: Track): readonly PlanCommand[] {
  return [
    ...(start.kind === 'free' ? [{ kind: 'track.setStart', id, start } as const] : []),
    ...corners.map((corner) => ({ kind: 'corner.set', track: id, corner: corner.id, change: { x: corner.x, y: corner.y } }) as const),
    ...(end.kind === 'free' ? [{ kind: 'track.setEnd', id, end } as const] : []),
  ]
}

/** A track as it lies after a motion; its legs are where their turnouts are. */
export function trackMoved(track: Track, motion: Motion): Track {
  const endMoved = <E extends TrackStart | TrackEnd>(end: E): E => (end.kind === 'free' ? { ...end, ...motionPoint(motion, end) } : end)
  return {
    ...track,
    start: endMoved(track.start),
    corners: track.corners.map((corner) => ({ ...corner, ...motionPoint(motion, corner) })),
    end: endMoved(track.end),
  }
}

export function turnoutMoved(turnout: Turnout, { isMirrored }: Motion): Turnout {
  return isMirrored ? { ...turnout, hand: handOther(turnout.hand) } : turnout
}

export function makerMoved(maker: Maker, { isMirrored }: Motion): Maker {
  return isMirrored ? { ...maker, numbers: makerMirrored(maker.numbers) } : maker
}

function makerMove(plan: Plan, maker: Maker, motion: Motion): PlanCommand {
  const { made, ...record } = makerMoved(maker, motion)
  return {
    kind: 'maker.write',
    record,
    tracks: made.tracks.flatMap((id) => some(recordFind(plan, 'tracks', id))).map((track) => trackMoved(track, motion)),
    turnouts: made.turnouts.flatMap((id) => some(recordFind(plan, 'turnouts', id))).map((turnout) => turnoutMoved(turnout, motion)),
  }
}

function some<T>(value: T | null): readonly T[] {
  return value === null ? [] : [value]
}

/** What stands on the tracks of a mirrored stretch and names a side. */
function handsSwap(plan: Plan, { tracks }: Stretch): readonly PlanCommand[] {
  const on = ({ track }: { readonly track: Id }): boolean => tracks.has(track)
  return [
    ...Object.values(plan.turnouts)
      .filter((turnout) => on(turnout) && makerOf(plan, 'turnouts', turnout.id) === null)
      .map(({ id, hand }): PlanCommand => ({ kind: 'turnout.set', id, change: { hand: handOther(hand) } })),
    ...Object.values(plan.crossings)
      .filter((crossing) => on(crossing) && tracks.has(crossing.other))
      .map((crossing): PlanCommand => ({ kind: 'crossing.set', id: crossing.id, change: { slip: slipMirrored(crossing) } })),
    ...Object.values(plan.portals)
      .filter(on)
      .map(({ id, leftMm, rightMm }): PlanCommand => ({ kind: 'portal.set', id, change: { leftMm: rightMm, rightMm: leftMm } })),
    ...Object.values(plan.railJoints)
      .filter(on)
      .map(({ id, rail }): PlanCommand => ({ kind: 'railJoint.set', id, change: { rail: handOther(rail) } })),
  ]
}
