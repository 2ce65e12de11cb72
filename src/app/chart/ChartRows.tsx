import { Suspense, lazy, memo, useMemo, useRef, useState } from 'react'
import type { PointerEvent, ReactNode } from 'react'
import type { NetworkTrack } from '../../core/network/types.ts'
import { useDerived, usePlan, usePrefs, useSession, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { findingShow } from '../findings.ts'
import { findingText } from '../../words/findingText.ts'
import { lengthText } from '../../words/measure.ts'
import { cornerShapes, curvatureProfile, curvatureReach, findingsOnTrack, withinReach } from './chartModel.ts'
import type { CurvaturePoint, SolvedAlignment } from './chartModel.ts'
import { ChartHandContext } from './chartHand.ts'
import type { ChartHand, ChartNote } from './chartHand.ts'
import { chartScale, gutter, lanesOf, rows } from './chartScale.ts'
import type { ChartPlace, ChartScale } from './chartScale.ts'
import { CurveLetters, CurveShape } from './CurveShape.tsx'
import { pressed } from './pressed.ts'
import { TrackRow } from './TrackRow.tsx'

/** The row of clearances, below the others while swept bands are shown. */
const traceHeight = 104
const TraceRow = lazy(() => import('../running/TraceRow.tsx'))

export function ChartRows({
  solved,
  alignment,
  width,
}: {
  readonly solved: NetworkTrack
  readonly alignment: SolvedAlignment
  readonly width: number
}): ReactNode {
  const { track, lineClass } = solved
  const stores = useStores()
  const isMoving = usePlan((state) => state.transaction !== null)
  const svg = useRef<SVGSVGElement>(null)
  const isTraced = useDesk((desk) => desk.bands !== null)
  const height = rows.foot + (isTraced ? traceHeight : 0)
  const shapes = useMemo(() => cornerShapes(alignment.corners, lineClass), [alignment, lineClass])
  const profile = useMemo(() => curvatureProfile(alignment.path), [alignment])
  const { lengthMm } = alignment.path
  const reach = useHeldWhile(isMoving, curvatureReach(shapes, lineClass))
  const shownMm = useHeldWhile(isMoving, lengthMm)
  const scale = useMemo(() => chartScale(shownMm, reach, width), [shownMm, reach, width])
  const [over, setOver] = useState<HTMLElement | null>(null)
  const [note, say] = useState<ChartNote | null>(null)
  const hand = useMemo((): ChartHand => ({ placeOf: (at) => placeIn(svg.current, at), say, over, widthPx: width }), [over, width])
  // Straight between its points, because curvature is: no library of curves need come before the first chart.
  const lineText = (places: readonly CurvaturePoint[]): string =>
    withinReach(places, scale.reach)
      .map(({ stationMm, curvature }) => `${scale.x(stationMm).toFixed(2)} ${scale.y(curvature).toFixed(2)}`)
      .join('L')

  function point(event: PointerEvent<SVGSVGElement>): void {
    const stationMm = Math.min(lengthMm, Math.max(0, scale.stationAt(placeIn(svg.current, event).x)))
    stores.session.getState().setHover({ track: track.id, stationMm })
  }

  return (
    <ChartHandContext value={hand}>
      <div className="chart-sheet" style={{ width }}>
        <svg
          ref={svg}
          className="chart-rows"
          width={width}
          height={height}
          viewBox={`0 0 ${width} ${height}`}
          role="group"
          aria-label="Curves and turnouts by station"
          onPointerMove={point}
          onPointerLeave={() => stores.session.getState().setHover(null)}
        >
          <Ground width={width} height={height} limit={1 / lineClass.minRadiusMm} scale={scale} />
          {shapes.map((shape) => {
            const stretch = profile.filter(
              (place) => place.stationMm >= shape.place.tsMm - 1e-6 && place.stationMm <= shape.place.stMm + 1e-6,
            )
            const [from, to] = [stretch[0], stretch.at(-1)].map((place) => scale.x(place?.stationMm ?? 0).toFixed(2))
            return (
              <CurveShape
                key={shape.place.cornerId}
                curve={{ shape, track, lineClass, scale }}
                d={stretch.length === 0 ? '' : `M${from} ${rows.curveAxis}L${lineText(stretch)}L${to} ${rows.curveAxis}Z`}
              />
            )
          })}
          <path className="curvature" d={profile.length === 0 ? '' : `M${lineText(profile)}`} />
          <TrackRow host={solved} lengthMm={lengthMm} scale={scale} width={width} />
          <FindingMarks trackId={track.id} scale={scale} />
          {isTraced ? (
            <Suspense fallback={null}>
              <TraceRow trackId={track.id} lengthMm={lengthMm} x={scale.x} top={rows.foot} height={traceHeight} />
            </Suspense>
          ) : null}
          <ChartCursor trackId={track.id} scale={scale} foot={isTraced ? height : rows.track + 8} width={width} />
        </svg>
        <CurveLetters shapes={shapes} track={track.id} scale={scale} />
        <div className="chart-over" ref={setOver}>
          <Note note={note} width={width} />
        </div>
      </div>
    </ChartHandContext>
  )
}

/** What the lines are drawn over: the same for all of a drag. */
const Ground = memo(function Ground({
  width,
  height,
  limit,
  scale,
}: {
  readonly width: number
  readonly height: number
  /** The sharpest curvature of the class, 1/mm. */
  readonly limit: number
  readonly scale: ChartScale
}): ReactNode {
  return (
    <>
      <rect className="still" width={width} height={height} />
      <defs>
        <pattern id="chart-over" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect width="6" height="6" className="over-ground" />
          <path d="M0 0V6" className="over-hatch" />
        </pattern>
      </defs>
      <text className="row-name" x={12} y={rows.curveAxis + 4}>
        curve
      </text>
      <text className="side-name" x={gutter.left - 6} y={rows.curveTop + 10}>
        left
      </text>
      <text className="side-name" x={gutter.left - 6} y={rows.curveFoot - 3}>
        right
      </text>
      {[limit, -limit].map((curvature) => (
        <path key={curvature} className="class-limit" d={`M${gutter.left} ${scale.y(curvature)}H${width - gutter.right}`} />
      ))}
      <path className="axis" d={`M${gutter.left} ${rows.curveAxis}H${width - gutter.right}`} />
      <text className="row-name" x={12} y={rows.track + 4}>
        track
      </text>
    </>
  )
})

function placeIn(svg: SVGSVGElement | null, at: { readonly clientX: number; readonly clientY: number }): ChartPlace {
  const box = svg?.getBoundingClientRect()
  return { x: at.clientX - (box?.left ?? 0), y: at.clientY - (box?.top ?? 0) }
}

/** Wide enough for the sentences that stand here, px. */
const notePx = 240

/** What the hand holds, beside it; what cannot be is also spoken. */
function Note({ note, width }: { readonly note: ChartNote | null; readonly width: number }): ReactNode {
  const left = Math.max(8, Math.min((note?.at.x ?? 0) + 16, width - notePx))
  const top = Math.max(4, Math.min((note?.at.y ?? 0) + 14, rows.foot - 48))
  return (
    <>
      {note === null ? null : (
        <p className={`chart-note${note.isRefused ? ' is-refused' : ''}`} style={{ left, top, maxWidth: notePx }} aria-hidden="true">
          {note.words}
        </p>
      )}
      <p className="visually-hidden" role="status">
        {note?.isRefused === true ? note.words : ''}
      </p>
    </>
  )
}

/** While a curve is dragged the row must not rescale beneath the hand. */
function useHeldWhile(isHeld: boolean, value: number): number {
  const [held, setHeld] = useState(value)
  if (!isHeld && held !== value) setHeld(value)
  return isHeld ? held : value
}

/** Room that the mark of a finding takes, px. */
const findingPx = 14

function FindingMarks({ trackId, scale }: { readonly trackId: string; readonly scale: ChartScale }): ReactNode {
  const stores = useStores()
  const findings = useDerived((state) => state.findings)
  const turnouts = useDerived((state) => state.derived.network.turnoutsOn.get(trackId))
  const joints = usePlan((state) => state.plan.railJoints)
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const placed = findingsOnTrack(findings, trackId, turnouts ?? [], joints)
  return lanesOf(placed, ({ stationMm }) => scale.x(stationMm), findingPx).map(({ item: { finding, stationMm }, lane }) => {
    const words = findingText(finding, plan, prefs)
    const x = scale.x(stationMm)
    const y = rows.curveAxis + laneOffset(lane)
    const show = (): void => findingShow(stores, finding)
    return (
      <g
        key={finding.id}
        role="button"
        tabIndex={0}
        className={`finding-mark is-${finding.severity}`}
        aria-label={`${words.title}: ${words.body}`}
        onClick={show}
        onKeyDown={pressed(show)}
      >
        <title>{`${words.title}. ${words.body}`}</title>
        <rect className="hit" x={x - 12} y={y - 12} width={24} height={24} />
        <path d={`M${x} ${y - 5}l5 5l-5 5l-5 -5Z`} />
      </g>
    )
  })
}

/** Findings of one place stand over and under the axis by turns. */
function laneOffset(lane: number): number {
  return findingPx * Math.ceil(lane / 2) * (lane % 2 === 1 ? 1 : -1) + 0
}

/** Width of a letter beside the cursor, on the safe side, px. */
const cursorLetterPx = 5.6

/** The one cursor of chart and canvas. It alone renders again while the pointer moves. */
function ChartCursor({
  trackId,
  scale,
  foot,
  width,
}: {
  readonly trackId: string
  readonly scale: ChartScale
  readonly foot: number
  readonly width: number
}): ReactNode {
  const hover = useSession((session) => session.hover)
  const prefs = usePrefs((state) => state)
  if (hover === null || hover.track !== trackId) return null
  const x = scale.x(hover.stationMm)
  const words = lengthText(hover.stationMm, prefs, 'room')
  const wide = words.length * cursorLetterPx + 4
  // On the other side where the edge would cut it; on ground of its own, for the line of the limit runs here too.
  const left = x + 4 + wide > width ? x - 4 - wide : x + 4
  return (
    <g className="chart-cursor" aria-hidden="true">
      <path d={`M${x} ${rows.curveTop}V${foot}`} />
      <rect x={left} y={rows.curveFoot - 12} width={wide} height={15} />
      <text x={left + 2} y={rows.curveFoot - 1}>
        {words}
      </text>
    </g>
  )
}
