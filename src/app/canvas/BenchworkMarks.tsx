import type { ReactNode } from 'react'
import { pointDistance } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { Benchwork } from '../../core/plan/types.ts'
import { benchworkRings } from '../../tools/index.ts'
import { usePrefs } from '../context.ts'
import { lengthText, type MeasurePrefs } from '../../words/measure.ts'
import { isShown, Knob, Label } from './markParts.tsx'
import { pathTransform, polylineText } from './svgPath.ts'
import { screenOfPlan, type View } from './viewport.ts'

interface Props {
  readonly benchwork: Benchwork
  readonly ring: number | null
  readonly index: number | null
  readonly view: View
}

/** The selected benchwork: its corners, and the length of every side that has room for it. */
export function BenchworkMarks({ benchwork, ring, index, view }: Props): ReactNode {
  const prefs = usePrefs((state) => state)
  return (
    <g className="benchwork-marks">
      {benchworkRings(benchwork).map(([number, points]) => (
        <g key={number}>
          <path className="chosen-edge" transform={pathTransform(view)} d={polylineText(points, true)} />
          {points.map((to, i) => (
            <SideLength
              key={i}
              from={points.at(i - 1) ?? to}
              to={to}
              view={view}
              prefs={prefs}
              isOut={number < 0}
              middle={middleOf(points)}
            />
          ))}
          {points.map((at, i) => (
            <Knob key={i} at={at} view={view} kind="corner" isChosen={number === ring && i === index} />
          ))}
        </g>
      ))}
    </g>
  )
}

function middleOf(points: readonly Point[]): Point {
  const count = Math.max(points.length, 1)
  return { x: points.reduce((sum, { x }) => sum + x, 0) / count, y: points.reduce((sum, { y }) => sum + y, 0) / count }
}

interface SideProps {
  readonly from: Point
  readonly to: Point
  readonly view: View
  readonly prefs: MeasurePrefs
  /** The words stand outside of an outline, inside of a hole's ring. */
  readonly isOut: boolean
  readonly middle: Point
}

/** A side's length, written along it. */
export function SideLength({ from, to, view, prefs, isOut, middle }: SideProps): ReactNode {
  const length = pointDistance(from, to)
  if (length * view.pxPerMm < 58) return null
  const [a, b] = [screenOfPlan(view, from), screenOfPlan(view, to)]
  const at = { left: (a.left + b.left) / 2, top: (a.top + b.top) / 2 }
  if (!isShown(at, view)) return null
  const centre = screenOfPlan(view, middle)
  const [nx, ny] = [-(b.top - a.top), b.left - a.left]
  const size = Math.hypot(nx, ny)
  const away = ((at.left - centre.left) * nx + (at.top - centre.top) * ny >= 0 ? 1 : -1) * (isOut ? 1 : -1)
  const degrees = (Math.atan2(b.top - a.top, b.left - a.left) * 180) / Math.PI
  // Words are read from below or from the right, never upside down.
  const upright = degrees > 90 || degrees <= -90 ? degrees + 180 : degrees
  const place = { left: at.left + (nx / size) * away * 13, top: at.top + (ny / size) * away * 13 }
  return (
    <g transform={`rotate(${upright} ${place.left} ${place.top})`}>
      <Label at={{ left: place.left, top: place.top + 4 }} anchor="middle" tone="ink">
        {lengthText(length, prefs, 'room')}
      </Label>
    </g>
  )
}
