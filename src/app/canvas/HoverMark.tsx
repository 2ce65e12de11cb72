import type { ReactNode } from 'react'
import { pathPoseAt, poseOffset } from '../../core/geom/index.ts'
import { useDerived, useSession } from '../context.ts'
import { useView } from './canvasContext.ts'
import { screenOfPlan } from './viewport.ts'

/** The place on the plan that the track chart points at, or the pointer itself: one cursor through both. */
export function HoverMark(): ReactNode {
  const hover = useSession((session) => session.hover)
  const alignment = useDerived((state) => (hover === null ? undefined : state.derived.network.tracks.get(hover.track)?.alignment))
  const view = useView()
  if (hover === null || alignment?.ok !== true) return null
  const { path } = alignment
  const pose = pathPoseAt(path, Math.min(Math.max(hover.stationMm, 0), path.lengthMm))
  const mm = 1 / view.pxPerMm
  const [a, b] = [screenOfPlan(view, poseOffset(pose, 12 * mm)), screenOfPlan(view, poseOffset(pose, -12 * mm))]
  return <path className="hover-mark" d={`M${a.left} ${a.top}L${b.left} ${b.top}`} />
}
