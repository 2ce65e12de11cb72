import type { Point } from '../../core/geom/types.ts'
import type { Track } from '../../core/plan/types.ts'
import { cornerPutIn } from '../../tools/index.ts'
import type { Stores } from '../context.ts'
import { cornerRoomText } from '../canvas/hintWords.ts'
import { planEdit } from '../planEdit.ts'

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
  const session = stores.session.getState()
  if (solved === undefined) return
  const { command, corner, room, isLonger } = cornerPutIn(stores.plan.getState().plan, solved, index, [from, to], null)
  if (planEdit(stores, command).problem !== null) return
  session.select({ kind: 'corner', track: track.id, corner })
  session.setNotice(cornerRoomText(room, isLonger, stores.prefs.getState()))
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
