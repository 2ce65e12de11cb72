import { trackExtend } from '../../core/alignment/index.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import { pointLerp } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import { cornerNextId } from '../../core/plan/index.ts'
import type { Track } from '../../core/plan/types.ts'
import { editLabel } from '../../words/editLabel.ts'
import { angleText, lengthText } from '../../words/measure.ts'
import type { MeasurePrefs } from '../../words/measure.ts'
import type { Stores } from '../context.ts'
import { planEdit } from '../planEdit.ts'
import { cornerRoom } from './cornerRoom.ts'
import type { CornerRoom } from './cornerRoom.ts'

/** The traverse as it is drawn: start, PIs, end; a closed one returns to its first PI. */
function traversePoints(stores: Stores, track: Track): readonly Point[] {
  return stores.derived.getState().derived.network.tracks.get(track.id)?.alignment.polygon ?? []
}

/** Puts a new corner into a side, where a curve has room, and selects it; a short last side is taken on for it. Side i runs to corner i (see sideName). */
export function cornerAdd(stores: Stores, track: Track, index: number): void {
  const points = traversePoints(stores, track)
  // A closed polygon begins at PI 1, an open one at the start point.
  const before = track.end.kind === 'closed' ? index - 1 : index
  const from = points[before]
  const to = points[before + 1]
  if (from === undefined || to === undefined) {
    stores.session.getState().setNotice('This side has no two ends to put a corner between.')
    return
  }
  const solved = stores.derived.getState().derived.network.tracks.get(track.id)
  const { plan } = stores.plan.getState()
  const room = solved === undefined ? null : cornerRoom(solved, index, from, to)
  const longer = room === null || solved?.alignment.ok !== true ? null : room.longer
  const extended =
    longer === null || solved?.alignment.ok !== true
      ? null
      : trackExtend({ plan, track, lineClass: solved.lineClass, alignment: solved.alignment }, longer.end, longer.byMm)
  const id = cornerNextId(track.corners)
  const { x, y } = room?.at ?? pointLerp(from, to, 0.5)
  const corner = { id, x, y, radius: 'class', easementIn: 'class', easementOut: 'class' } as const
  const insert: PlanCommand = { kind: 'corner.insert', track: track.id, index, corner }
  const longerFirst = extended?.ok === true ? [extended.command] : []
  const command: PlanCommand =
    longerFirst.length === 0 ? insert : { kind: 'group', label: editLabel(insert, plan), commands: [...longerFirst, insert] }
  const session = stores.session.getState()
  if (planEdit(stores, command).problem !== null) return
  session.select({ kind: 'corner', track: track.id, corner: id })
  if (room !== null) session.setNotice(roomText(room, longerFirst.length > 0, stores.prefs.getState()))
}

/** What was done beyond the corner itself; null: nothing. */
function roomText({ turnRad, longer, isShort }: CornerRoom, isLonger: boolean, prefs: MeasurePrefs): string | null {
  const turn = `a turn of ${angleText(turnRad)} with the curve of its class`
  if (longer !== null && isLonger)
    return `The track was made ${lengthText(longer.byMm, prefs)} longer at its ${longer.end}: the new corner has room for ${turn}.`
  return longer !== null || isShort
    ? `This side is too short for ${turn}: give the new corner a smaller radius, or move its neighbours.`
    : null
}

/** The longest side of a track, where a new corner disturbs least. */
export function longestSide(stores: Stores, track: Track): number {
  const points = traversePoints(stores, track)
  const isClosed = track.end.kind === 'closed'
  let best = 0
  let length = -1
  for (let i = 0; i + 1 < points.length; i += 1) {
    const from = points[i]
    const to = points[i + 1]
    if (from === undefined || to === undefined) continue
    const long = Math.hypot(to.x - from.x, to.y - from.y)
    if (long > length) {
      length = long
      best = isClosed ? i + 1 : i
    }
  }
  return best
}
