import type { ReactNode } from 'react'
import type { Id } from '../../core/plan/types.ts'
import { usePrefs, useSession, useStores } from '../context.ts'
import { LettersOver } from '../fields/LettersOver.tsx'
import { useLeftBe } from '../findings/leftBe.ts'
import { lengthText, turnText } from '../../words/measure.ts'
import { cornerName } from '../../words/names.ts'
import type { CornerShape } from './chartModel.ts'
import { curveMarks, curvePlaces } from './chartModel.ts'
import { rows } from './chartScale.ts'
import type { ChartScale } from './chartScale.ts'
import { arcStations, easementGrip, radiusGrip } from './grips.tsx'
import type { CurveAt } from './grips.tsx'
import { Handle } from './Handle.tsx'
import { pressed } from './pressed.ts'

/** Half the width of a letter of a radius, on the safe side, px. */
const halfLetterPx = 3.5

/** Least width of what is pressed, px; half of it reaches beyond the axis, away from the top that is pulled. */
const leastPx = 24

/** One curve of the chart: pressing it selects its corner; its tops are its radii, its feet its easements. */
export function CurveShape({ curve, d }: { readonly curve: Omit<CurveAt, 'stores' | 'prefs'>; readonly d: string }): ReactNode {
  const { shape, track, scale } = curve
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const { place, index, curvature } = shape
  const leftBe = useLeftBe('minimum-radius', track.id, place.cornerId)
  const isOver = shape.isOver && leftBe === null
  const isSelected = useSession(
    ({ selection }) => selection.kind === 'corner' && selection.track === track.id && selection.corner === place.cornerId,
  )
  const select = (): void => stores.session.getState().select({ kind: 'corner', track: track.id, corner: place.cornerId })
  const { arcs } = place.solution
  const top = scale.topY(curvature)
  const isCut = Math.abs(curvature) > scale.reach
  const label = arcs.map((arc) => lengthText(arc.radiusMm, prefs)).join(', ')
  const [from, to] = [scale.x(place.tsMm), scale.x(place.stMm)]
  const quiet = shape.isOver && leftBe !== null ? `, left be: ${leftBe}` : ''
  // Where letters have no room beside each other, these are read here.
  const stations = curvePlaces(place)
    .map(([name, mm]) => `${name} ${lengthText(mm, prefs, 'room')}`)
    .join(' · ')
  const isNarrow = to - from < 34
  const middle = (from + to) / 2
  const half = Math.max(to - from, leastPx) / 2
  return (
    <>
      <g
        role="button"
        tabIndex={0}
        className={`curve-shape${isOver ? ' is-over' : ''}${isSelected ? ' is-selected' : ''}`}
        aria-label={`${cornerName(track, index)}: radius ${label}, ${turnText(place.solution.deflectionRad)}${shape.isOver ? ', under the class limit' : ''}${quiet}`}
        aria-pressed={isSelected}
        onClick={select}
        onKeyDown={pressed(select)}
      >
        <title>{`${cornerName(track, index)}, R ${label}${quiet} · ${stations}`}</title>
        <rect
          className="hit"
          x={middle - half}
          y={curvature > 0 ? top : rows.curveAxis - leastPx / 2}
          width={2 * half}
          height={Math.abs(rows.curveAxis - top) + leastPx / 2}
        />
        <path className="shape" d={d} />
        {isCut ? <CutMark middle={middle} half={Math.max(12, (to - from) / 2)} y={top + (curvature > 0 ? 7 : -7)} /> : null}
        <text
          className={isNarrow ? 'radius is-beside' : 'radius'}
          x={isNarrow && isCut ? middle + half + label.length * halfLetterPx : middle}
          y={isNarrow && !isCut ? top + (curvature > 0 ? -4 : 13) : (rows.curveAxis + top) / 2 + 5}
        >
          {label}
        </text>
      </g>
      {isSelected ? <CurveMarks shape={shape} scale={scale} /> : null}
      <CurveHandles curve={{ ...curve, stores, prefs }} isChosen={isSelected} />
    </>
  )
}

/** Across a curve that is sharper than the row reaches: it is not drawn to its height. */
function CutMark({ middle, half, y }: { readonly middle: number; readonly half: number; readonly y: number }): ReactNode {
  const teeth = Array.from({ length: Math.max(2, Math.round(half / 6)) }, (_, i) => (i % 2 === 0 ? 'l6 -4l6 4' : 'l6 4l6 -4'))
  const d = `M${middle - 6 * teeth.length} ${y}${teeth.join('')}`
  return (
    <g className="curve-cut" aria-hidden="true">
      <path className="curve-cut-ground" d={d} />
      <path d={d} transform="translate(0 -2)" />
      <path d={d} transform="translate(0 2)" />
    </g>
  )
}

function CurveHandles({ curve, isChosen }: { readonly curve: CurveAt; readonly isChosen: boolean }): ReactNode {
  const { shape, scale } = curve
  return (
    <>
      {shape.place.solution.arcs.map((_, arc) => {
        const grip = radiusGrip(curve, arc)
        if (grip === null) return null
        const [left, right] = arcStations(shape, arc).map((mm) => scale.x(mm)) as [number, number]
        return (
          <Handle key={arc} grip={grip} isChosen={isChosen}>
            <path className="pull-top" d={`M${left} ${grip.at.y}H${Math.max(right, left + 1)}`} />
            {isChosen ? <path className="pull" d={`M${grip.at.x - 9} ${grip.at.y}h18`} /> : null}
          </Handle>
        )
      })}
      {isChosen
        ? (['in', 'out'] as const).map((side) => {
            const grip = easementGrip(curve, side)
            return grip === null ? null : (
              <Handle key={side} grip={grip} isChosen>
                <circle className="pull-hit" cx={grip.at.x} cy={grip.at.y} r={12} />
                <circle className="pull-knob" cx={grip.at.x} cy={grip.at.y} r={4.5} />
              </Handle>
            )
          })
        : null}
    </>
  )
}

/** Where the letters of a curve's places stand. */
const markFoot = ({ curvature }: CornerShape): number => rows.curveAxis + (curvature > 0 ? 19 : -11)

/** What the letters of the selected curve stand for, over them. */
export function CurveLetters({
  shapes,
  track,
  scale,
}: {
  readonly shapes: readonly CornerShape[]
  readonly track: Id
  readonly scale: ChartScale
}): ReactNode {
  const corner = useSession(({ selection }) => (selection.kind === 'corner' && selection.track === track ? selection.corner : null))
  const shape = shapes.find(({ place }) => place.cornerId === corner)
  if (shape === undefined) return null
  const places = curveMarks(shape.place, scale.x).map(({ name, x }) => ({
    words: name,
    left: x,
    foot: markFoot(shape),
    anchor: 'middle' as const,
  }))
  return <LettersOver places={places} />
}

/** TS SC CS ST of the selected curve, on the far side of the axis. */
function CurveMarks({ shape, scale }: { readonly shape: CornerShape; readonly scale: ChartScale }): ReactNode {
  const away = shape.curvature > 0 ? 1 : -1
  const marks = curveMarks(shape.place, scale.x)
  return (
    <g className="easement-marks" aria-hidden="true">
      <path d={marks.flatMap(({ ticks }) => ticks.map((tick) => `M${tick} ${rows.curveAxis}v${away * 6}`)).join('')} />
      {marks.map(({ name, x }, index) => (
        <text key={index} x={x} y={markFoot(shape)}>
          {name}
        </text>
      ))}
    </g>
  )
}
