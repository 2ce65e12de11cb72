import type { ReactNode } from 'react'
import { boxOfPoints } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'

/** A room as it comes out, its sides numbered. */
export function RoomPicture({ points }: { readonly points: readonly Point[] }): ReactNode {
  const box = boxOfPoints(points)
  if (box === null) return <div className="room-picture" />
  const size = Math.max(box.maxX - box.minX, box.maxY - box.minY, 1)
  const edge = size * 0.12
  const view = [box.minX - edge, -box.maxY - edge, box.maxX - box.minX + 2 * edge, box.maxY - box.minY + 2 * edge]
  return (
    <svg className="room-picture" viewBox={view.join(' ')} role="img" aria-label={`A room of ${points.length} sides`}>
      <polygon points={points.map(({ x, y }) => `${x},${-y}`).join(' ')} vectorEffect="non-scaling-stroke" />
      {points.map((a, i) => {
        const b = points[(i + 1) % points.length] ?? a
        const long = Math.hypot(b.x - a.x, b.y - a.y) || 1
        // On the left of the way, within the room.
        const [x, y] = [(a.x + b.x) / 2 - ((b.y - a.y) / long) * edge * 0.5, (a.y + b.y) / 2 + ((b.x - a.x) / long) * edge * 0.5]
        return (
          <text key={i} x={x} y={-y} fontSize={size * 0.06} textAnchor="middle" dominantBaseline="central">
            {i + 1}
          </text>
        )
      })}
      <circle cx={points[0]?.x} cy={-(points[0]?.y ?? 0)} r={size * 0.015} />
    </svg>
  )
}
