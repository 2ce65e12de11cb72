import { boxGrow, pathStretchesWithin } from '../../core/geom/index.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { Id } from '../../core/plan/types.ts'
import { usePlan, useSession } from '../context.ts'
import { useLive } from './canvasContext.ts'
import type { LineStretch } from './svgPath.ts'
import { viewBoxInPlan } from './viewport.ts'

/** Paper about the view that is drawn too: rounding of what is seen must not show, px. */
const beyondPx = 8

/**
 * While a track is moved by the hand it is drawn anew in every step: only where it can be seen. Null: all of it, which is drawn once and
 * then lies there however the plan is pushed.
 */
export function usePartShown(id: Id, track: NetworkTrack | undefined): readonly LineStretch[] | null {
  const isMoved = usePlan(
    ({ plan, transaction }) => transaction !== null && recordFind(plan, 'tracks', id) !== recordFind(transaction.base, 'tracks', id),
  )
  const viewport = useSession((session) => (isMoved ? session.viewport : null))
  const size = useLive((live) => (isMoved ? live.size : null))
  if (viewport === null || size === null || track === undefined || !track.alignment.ok) return null
  const { railway, alignment } = track
  const box = boxGrow(viewBoxInPlan({ ...viewport, size }), beyondPx / viewport.pxPerMm)
  return pathStretchesWithin(
    alignment.path,
    box,
    Math.max(railway.tieLengthMm, railway.gaugeMm + railway.railFootMm) / 2 + railway.tieWidthMm,
  )
}
