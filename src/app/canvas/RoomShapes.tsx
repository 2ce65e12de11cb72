import { memo } from 'react'
import type { ReactNode } from 'react'
import type { Id } from '../../core/plan/types.ts'
import { usePlan } from '../context.ts'
import { polylineText } from './svgPath.ts'
import { wallOutline } from './wallOutline.ts'

/** A piece of benchwork: its top with the holes left open. */
export const BenchworkShape = memo(function BenchworkShape({ id }: { readonly id: Id }): ReactNode {
  const benchwork = usePlan((state) => state.plan.benchworks[id])
  if (benchwork === undefined) return null
  const rings = [benchwork.outline, ...benchwork.holes].map((ring) => polylineText(ring, true)).join('')
  return <path className="benchwork" d={rings} />
})

/** A wall: its face as measured, its thickness behind it. */
export const WallShape = memo(function WallShape({ id }: { readonly id: Id }): ReactNode {
  const wall = usePlan((state) => state.plan.walls[id])
  if (wall === undefined) return null
  return (
    <g className="wall">
      <path
        className="body"
        d={wallOutline(wall.points, wall.thicknessMm, wall.isClosed)
          .map((ring) => polylineText(ring, true))
          .join('')}
      />
      <path className="face" d={polylineText(wall.points, wall.isClosed)} />
    </g>
  )
})

/** A post, a chimney: nothing may enter, so it is crossed out as on a building plan. */
export const ObstacleShape = memo(function ObstacleShape({ id }: { readonly id: Id }): ReactNode {
  const obstacle = usePlan((state) => state.plan.obstacles[id])
  if (obstacle === undefined) return null
  const { outline } = obstacle
  const half = Math.floor(outline.length / 2)
  const crosses = outline.slice(0, half).map((from, i) => polylineText([from, outline[i + half] ?? from], false))
  return (
    <g className="obstacle">
      <path className="body" d={polylineText(outline, true)} />
      <path className="cross" d={crosses.join('')} />
    </g>
  )
})
