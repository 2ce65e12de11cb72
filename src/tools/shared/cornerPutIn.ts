import { trackExtend } from '../../core/alignment/index.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Point } from '../../core/geom/types.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import { cornerNextId } from '../../core/plan/index.ts'
import type { Id, Plan } from '../../core/plan/types.ts'
import { editLabel } from '../../words/editLabel.ts'
import { cornerRoom } from './cornerRoom.ts'
import type { CornerRoom } from './cornerRoom.ts'

/** A corner put into a side, as one step; a short last side is taken on for it. */
export interface CornerPutIn {
  readonly command: PlanCommand
  readonly corner: Id
  readonly room: CornerRoom
  /** The track is made longer, as its room says. */
  readonly isLonger: boolean
}

/** The corner between two points of the traverse, at the place that is wished if one is. Side i runs to corner i. */
export function cornerPutIn(
  plan: Plan,
  solved: NetworkTrack,
  index: number,
  side: readonly [Point, Point],
  wished: Point | null,
): CornerPutIn {
  const { track, lineClass, alignment } = solved
  const room = cornerRoom(solved, index, ...side, wished)
  const { longer } = room
  const extended = longer === null || !alignment.ok ? null : trackExtend({ plan, track, lineClass, alignment }, longer.end, longer.byMm)
  const id = cornerNextId(track.corners)
  const { x, y } = room.at
  const corner = { id, x, y, radius: 'class', easementIn: 'class', easementOut: 'class' } as const
  const insert: PlanCommand = { kind: 'corner.insert', track: track.id, index, corner }
  if (extended?.ok !== true) return { command: insert, corner: id, room, isLonger: false }
  const command: PlanCommand = { kind: 'group', label: editLabel(insert, plan), commands: [extended.command, insert] }
  return { command, corner: id, room, isLonger: true }
}
