import type { KeyboardEvent, PointerEvent, ReactNode, RefObject } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Track } from '../../core/plan/types.ts'
import { editLabel } from '../../words/editLabel.ts'
import { usePrefs, useSession, useStores } from '../context.ts'
import { keepInPlan } from '../planEdit.ts'
import { lengthStep, lengthText, turnText } from '../../words/measure.ts'
import type { MeasurePrefs } from '../../words/measure.ts'
import { cornerName } from '../../words/names.ts'
import type { CornerShape } from './chartModel.ts'
import type { ChartScale } from './ChartRows.tsx'

/** Radii under the hand land on marks that are easy to say: quarter inches, or 5 mm. */
function radiusRounded(mm: number, prefs: MeasurePrefs): number {
  const step = prefs.units === 'metric' ? 5 : 25.4 / 4
  return Math.max(step, Math.round(mm / step) * step)
}

/** Flatter than this no drag makes a curve; beyond it the shape is too low to take hold of. 12 m. */
const flattestMm = 12000

/** One curve of the chart: click selects its corner, its top dragged (or the arrows) changes the radius. */
export function CurveShape(props: {
  readonly shape: CornerShape
  readonly track: Track
  readonly scale: ChartScale
  readonly svg: RefObject<SVGSVGElement | null>
  readonly axisY: number
  readonly d: string
}): ReactNode {
  const { shape, track, scale, svg, axisY, d } = props
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const { place, index, curvature } = shape
  const isSelected = useSession(
    ({ selection }) => selection.kind === 'corner' && selection.track === track.id && selection.corner === place.cornerId,
  )
  const { radiusMm, arcs } = place.solution
  const radius = track.corners[index]?.radius
  // Only one radius can be pulled: of several the particulars tell which.
  const canPull = radius !== 'easement-only' && typeof radius !== 'object'
  const select = (): void => stores.session.getState().select({ kind: 'corner', track: track.id, corner: place.cornerId })
  const toCommand = (radius: number): PlanCommand => ({ kind: 'corner.set', track: track.id, corner: place.cornerId, change: { radius } })
  const keep = keepInPlan(stores, toCommand)

  function pull(event: PointerEvent<SVGPathElement>): void {
    const store = stores.plan.getState()
    if (store.transaction === null || !event.currentTarget.hasPointerCapture(event.pointerId)) return
    const top = svg.current?.getBoundingClientRect().top ?? 0
    // Only the side of the axis that the curve is on: which way it turns is the PIs' to say.
    const pulled = Math.max(1 / flattestMm, scale.curvatureAt(event.clientY - top) * Math.sign(curvature))
    store.replace(toCommand(radiusRounded(1 / pulled, prefs)))
  }

  function onKeyDown(event: KeyboardEvent<SVGGElement>): void {
    if (event.key === 'Enter' || event.key === ' ') {
      event.preventDefault()
      select()
    }
    if ((event.key === 'ArrowUp' || event.key === 'ArrowDown') && canPull) {
      event.preventDefault()
      const next = lengthStep(radiusMm, event.key === 'ArrowUp' ? 1 : -1, prefs)
      if (next > 0) keep.nudge?.(next)
    }
  }

  const left = scale.x(place.scMm)
  const right = Math.max(scale.x(place.csMm), left + 1)
  const top = scale.y(curvature)
  const label = arcs.map((arc) => lengthText(arc.radiusMm, prefs)).join(', ')
  const isNarrow = scale.x(place.stMm) - scale.x(place.tsMm) < 34
  return (
    <g
      role="button"
      tabIndex={0}
      className={`curve-shape${shape.isOver ? ' is-over' : ''}${isSelected ? ' is-selected' : ''}`}
      aria-label={`${cornerName(track, index)}: radius ${label}, ${turnText(place.solution.deflectionRad)}${shape.isOver ? ', under the class limit' : ''}.${canPull ? ' Up and down change the radius.' : ''}`}
      onClick={select}
      onKeyDown={onKeyDown}
      onKeyUp={() => keep.settle?.()}
    >
      <title>{`${cornerName(track, index)}, R ${label}`}</title>
      <path className="shape" d={d} />
      {canPull ? (
        <path
          className="handle"
          d={`M${left} ${top}H${right}`}
          onPointerDown={(event) => {
            select()
            event.currentTarget.setPointerCapture(event.pointerId)
            stores.plan.getState().begin(editLabel(toCommand(radiusMm), stores.plan.getState().plan))
          }}
          onPointerMove={pull}
          onPointerUp={() => stores.plan.getState().commit()}
          onPointerCancel={() => stores.plan.getState().cancel()}
        />
      ) : null}
      <text
        className="radius"
        x={(scale.x(place.tsMm) + scale.x(place.stMm)) / 2}
        y={isNarrow ? top + (curvature > 0 ? -4 : 13) : (axisY + top) / 2 + 5}
      >
        {label}
      </text>
      {isSelected ? <EasementMarks shape={shape} scale={scale} axisY={axisY} /> : null}
    </g>
  )
}

/** TS SC CS ST of the selected curve, on the far side of the axis; marks closer than their letters are joined. */
function EasementMarks({
  shape,
  scale,
  axisY,
}: {
  readonly shape: CornerShape
  readonly scale: ChartScale
  readonly axisY: number
}): ReactNode {
  const { place, curvature } = shape
  const hasEasements = place.solution.easementInMm > 0 || place.solution.easementOutMm > 0
  const joins = place.joins.flatMap(({ fromMm, toMm }) =>
    toMm > fromMm
      ? [
          { name: 'CS', stationMm: fromMm },
          { name: 'SC', stationMm: toMm },
        ]
      : [{ name: 'CC', stationMm: fromMm }],
  )
  const marks = hasEasements
    ? [
        { name: 'TS', stationMm: place.tsMm },
        { name: 'SC', stationMm: place.scMm },
        ...joins,
        { name: 'CS', stationMm: place.csMm },
        { name: 'ST', stationMm: place.stMm },
      ]
    : [{ name: 'PC', stationMm: place.tsMm }, ...joins, { name: 'PT', stationMm: place.stMm }]
  const away = curvature > 0 ? 1 : -1
  return (
    <g className="easement-marks">
      {marks.map(({ name, stationMm }, index) => (
        <g key={index}>
          <path d={`M${scale.x(stationMm)} ${axisY}v${away * 6}`} />
          <text x={scale.x(stationMm)} y={axisY + (away > 0 ? 18 : -10)}>
            {name}
          </text>
        </g>
      ))}
    </g>
  )
}
