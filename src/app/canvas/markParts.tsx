import type { ReactNode } from 'react'
import type { Point } from '../../core/geom/types.ts'
import { screenOfPlan, type ScreenPoint, type View } from './viewport.ts'

/** A point that can be taken hold of. */
export function Knob({
  at,
  view,
  kind,
  isChosen,
}: {
  readonly at: Point
  readonly view: View
  readonly kind: 'pi' | 'end' | 'corner'
  readonly isChosen: boolean
}): ReactNode {
  const { left, top } = screenOfPlan(view, at)
  const size = isChosen ? 6.5 : 5
  if (kind === 'corner') {
    return (
      <rect
        className={isChosen ? 'knob is-chosen' : 'knob'}
        x={left - size + 1}
        y={top - size + 1}
        width={2 * size - 2}
        height={2 * size - 2}
      />
    )
  }
  return <circle className={isChosen ? 'knob is-chosen' : 'knob'} data-kind={kind} cx={left} cy={top} r={size} />
}

/** Words on the plan, with paper behind them so that lines do not cut through. */
export function Label({
  at,
  children,
  anchor = 'start',
  tone = 'ink',
}: {
  readonly at: ScreenPoint
  readonly children: ReactNode
  readonly anchor?: 'start' | 'middle' | 'end'
  readonly tone?: 'ink' | 'soft' | 'hand'
}): ReactNode {
  return (
    <text className="label" data-tone={tone} x={at.left} y={at.top} textAnchor={anchor}>
      {children}
    </text>
  )
}

/** True when a place is on the canvas or near it: nothing is drawn for what cannot be seen. */
export function isShown({ left, top }: ScreenPoint, { size }: View): boolean {
  return left > -200 && top > -200 && left < size.width + 200 && top < size.height + 200
}
