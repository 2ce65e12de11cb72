import type { ReactNode } from 'react'
import { SketchItems } from '../canvas/Sketch.tsx'
import { useView } from '../canvas/canvasContext.ts'
import { screenOfPlan } from '../canvas/viewport.ts'
import type { BenchGhost } from './benchGhost.ts'
import './bench.css'

/** Benchwork over the plan before it is added, and the corners of the room with their numbers. */
export default function BenchGhostMarks({ ghost }: { readonly ghost: BenchGhost }): ReactNode {
  const view = useView()
  return (
    <g className="bench-ghost">
      {ghost.outline.length === 0 ? null : (
        <SketchItems items={[{ kind: 'chain', points: ghost.outline, isClosed: true, role: 'outline' }]} />
      )}
      {ghost.legs.map(({ letter, at }) => {
        const { left, top } = screenOfPlan(view, at)
        return (
          <text key={letter} className="leg-letter" x={left} y={top} textAnchor="middle" dominantBaseline="central">
            {letter}
          </text>
        )
      })}
      {ghost.corners.map(({ number, at, isTaken, onTake }) => {
        const { left, top } = screenOfPlan(view, at)
        return (
          // The form has the same choice for the keyboard.
          // oxlint-disable-next-line jsx-a11y/click-events-have-key-events
          <g key={`${at.x} ${at.y}`} className="corner-number" data-own-pointer="" data-taken={isTaken ? '' : undefined} onClick={onTake}>
            <circle cx={left} cy={top} r={9} />
            <text x={left} y={top} textAnchor="middle" dominantBaseline="central">
              {number}
            </text>
          </g>
        )
      })}
    </g>
  )
}
