import type { ReactNode } from 'react'
import { boxOfPoints } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import './bench.css'

/** Benchwork as it comes out, as it will lie in the plan; its legs have their letters. */
export function BenchPicture({
  outline,
  back,
  letters,
}: {
  readonly outline: readonly Point[]
  readonly back: readonly Point[]
  readonly letters: readonly string[]
}): ReactNode {
  const box = boxOfPoints([...outline, ...back])
  if (box === null) return null
  const size = Math.max(box.maxX - box.minX, box.maxY - box.minY, 1)
  const edge = size * 0.26
  const view = [box.minX - edge, -box.maxY - edge, box.maxX - box.minX + 2 * edge, box.maxY - box.minY + 2 * edge]
  const line = (points: readonly Point[]): string => points.map(({ x, y }) => `${x},${-y}`).join(' ')
  return (
    <svg className="bench-picture" viewBox={view.join(' ')} role="img" aria-label={`Legs ${letters.join(', ')} along the back`}>
      <polygon points={line(outline)} vectorEffect="non-scaling-stroke" />
      <polyline points={line(back)} vectorEffect="non-scaling-stroke" />
      {back.slice(1).map((b, i) => {
        const a = back[i] ?? b
        const long = Math.hypot(b.x - a.x, b.y - a.y) || 1
        // Behind the back, on its right.
        const [x, y] = [(a.x + b.x) / 2 + ((b.y - a.y) / long) * edge * 0.5, (a.y + b.y) / 2 - ((b.x - a.x) / long) * edge * 0.5]
        return (
          <text key={letters[i]} x={x} y={-y} fontSize={size * 0.2} textAnchor="middle" dominantBaseline="central">
            {letters[i]}
          </text>
        )
      })}
    </svg>
  )
}
