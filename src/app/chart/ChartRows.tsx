import { Suspense, lazy, useMemo, useRef, useState } from 'react'
import type { PointerEvent, ReactNode } from 'react'
import type { NetworkTrack, NetworkTurnout } from '../../core/network/types.ts'
import { useDerived, usePlan, usePrefs, useSession, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { findingShow } from '../findings.ts'
import { findingText } from '../../words/findingText.ts'
import { frogText, lengthText } from '../../words/measure.ts'
import { cornerShapes, curvatureProfile, curvatureReach, findingsOnTrack, tickStep } from './chartModel.ts'
import type { CurvaturePoint, SolvedAlignment } from './chartModel.ts'
import { CurveShape } from './CurveShape.tsx'

/** Rows of the chart, px from its top. The curve row has its axis in the middle of `curve`. */
const rows = { curveTop: 6, curveAxis: 62, curveFoot: 118, track: 164, foot: 196 } as const
const gutter = { left: 62, right: 22 } as const

/** The row of clearances, below the others while swept bands are shown. */
const traceHeight = 104
const TraceRow = lazy(() => import('../running/TraceRow.tsx'))

/** From station and curvature to px, and back. */
export interface ChartScale {
  readonly x: (stationMm: number) => number
  readonly y: (curvature: number) => number
  readonly stationAt: (x: number) => number
  readonly curvatureAt: (y: number) => number
}

export function chartScale(lengthMm: number, reach: number, width: number): ChartScale {
  const pxPerMm = Math.max(1, width - gutter.left - gutter.right) / Math.max(lengthMm, 1)
  const half = rows.curveAxis - rows.curveTop
  return {
    x: (stationMm) => gutter.left + stationMm * pxPerMm,
    y: (curvature) => rows.curveAxis - (curvature / reach) * half,
    stationAt: (x) => Math.min(lengthMm, Math.max(0, (x - gutter.left) / pxPerMm)),
    curvatureAt: (y) => ((rows.curveAxis - y) / half) * reach,
  }
}

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
  const reach = useHeldWhile(isMoving, curvatureReach(shapes, lineClass))
  const { lengthMm } = alignment.path
  const scale = useMemo(() => chartScale(lengthMm, reach, width), [lengthMm, reach, width])
  // Straight between its points, because curvature is: no library of curves need come before the first chart.
  const lineText = (places: readonly CurvaturePoint[]): string =>
    places.map(({ stationMm, curvature }) => `${scale.x(stationMm).toFixed(2)} ${scale.y(curvature).toFixed(2)}`).join('L')
  const limit = 1 / lineClass.minRadiusMm

  function point(event: PointerEvent<SVGSVGElement>): void {
    const left = svg.current?.getBoundingClientRect().left ?? 0
    stores.session.getState().setHover({ track: track.id, stationMm: scale.stationAt(event.clientX - left) })
  }

  return (
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
      {shapes.map((shape) => {
        const stretch = profile.filter((place) => place.stationMm >= shape.place.tsMm - 1e-6 && place.stationMm <= shape.place.stMm + 1e-6)
        const [from, to] = [stretch[0], stretch.at(-1)].map((place) => scale.x(place?.stationMm ?? 0).toFixed(2))
        return (
          <CurveShape
            key={shape.place.cornerId}
            shape={shape}
            track={track}
            scale={scale}
            svg={svg}
            axisY={rows.curveAxis}
            d={stretch.length === 0 ? '' : `M${from} ${rows.curveAxis}L${lineText(stretch)}L${to} ${rows.curveAxis}Z`}
          />
        )
      })}
      <path className="curvature" d={profile.length === 0 ? '' : `M${lineText(profile)}`} />
      <TrackRow trackId={track.id} lengthMm={lengthMm} scale={scale} width={width} />
      <FindingMarks trackId={track.id} scale={scale} />
      {isTraced ? (
        <Suspense fallback={null}>
          <TraceRow trackId={track.id} lengthMm={lengthMm} x={scale.x} top={rows.foot} height={traceHeight} />
        </Suspense>
      ) : null}
      <ChartCursor trackId={track.id} scale={scale} foot={isTraced ? height : rows.track + 8} />
    </svg>
  )
}

/** While a curve is dragged the row must not rescale beneath the hand. */
function useHeldWhile(isHeld: boolean, value: number): number {
  const [held, setHeld] = useState(value)
  if (!isHeld && held !== value) setHeld(value)
  return isHeld ? held : value
}

function TrackRow({
  trackId,
  lengthMm,
  scale,
  width,
}: {
  readonly trackId: string
  readonly lengthMm: number
  readonly scale: ChartScale
  readonly width: number
}): ReactNode {
  const prefs = usePrefs((state) => state)
  const turnouts = useDerived((state) => state.derived.network.turnoutsOn.get(trackId))
  const step = tickStep(scale.x(1) - scale.x(0), prefs.units)
  const ticks = Array.from({ length: Math.floor(lengthMm / step) + 1 }, (_, index) => index * step)
  return (
    <g className="track-row">
      <text className="row-name" x={12} y={rows.track + 4}>
        track
      </text>
      <path className="rail" d={`M${scale.x(0)} ${rows.track}H${Math.min(scale.x(lengthMm), width - gutter.right)}`} />
      {ticks.map((stationMm) => (
        <g key={stationMm}>
          <path className="tick" d={`M${scale.x(stationMm)} ${rows.track + 3}v5`} />
          <text className="tick-name" x={scale.x(stationMm)} y={rows.track + 21}>
            {stationMm === 0 ? '0' : lengthText(stationMm, prefs, 'room')}
          </text>
        </g>
      ))}
      {labelLanes(turnouts ?? [], scale).map(({ placed, lane }) => (
        <TurnoutMark key={placed.turnout.id} placed={placed} lane={lane} scale={scale} />
      ))}
    </g>
  )
}

/** Room that the name of a turnout takes along the chart, px. */
const labelPx = 58

/** Names of turnouts that stand close are lifted to the lane above, so that none covers another. */
function labelLanes(
  turnouts: readonly NetworkTurnout[],
  scale: ChartScale,
): readonly { readonly placed: NetworkTurnout; readonly lane: number }[] {
  const ends: number[] = []
  return turnouts.map((placed) => {
    const middle = scale.x(placed.turnout.stationMm) + (placed.turnout.facing === 'rising' ? 10 : -10)
    const free = ends.findIndex((end) => end <= middle - labelPx / 2)
    const lane = free < 0 ? ends.length : free
    ends[lane] = middle + labelPx / 2
    return { placed, lane }
  })
}

function TurnoutMark({
  placed,
  lane,
  scale,
}: {
  readonly placed: NetworkTurnout
  readonly lane: number
  readonly scale: ChartScale
}): ReactNode {
  const stores = useStores()
  const { turnout } = placed
  const isSelected = useSession(
    ({ selection }) => selection.kind === 'record' && selection.table === 'turnouts' && selection.id === turnout.id,
  )
  const x = scale.x(turnout.stationMm)
  const ahead = turnout.facing === 'rising' ? 1 : -1
  // The leg leaves to the left of the track (up) or to its right: the hand as seen along rising station.
  const isLeft = (turnout.hand === 'left') === (turnout.facing === 'rising')
  const rise = isLeft ? -10 : 10
  const select = (): void => stores.session.getState().select({ kind: 'record', table: 'turnouts', id: turnout.id })
  const mark = `${frogText(turnout.frog)} ${turnout.hand === 'left' ? 'L' : 'R'}`
  return (
    <g
      role="button"
      tabIndex={0}
      className={`turnout-mark${isSelected ? ' is-selected' : ''}${placed.result.ok ? '' : ' is-wrong'}`}
      aria-label={`${turnout.name}, ${mark}: ${turnout.hand} hand`}
      onClick={select}
      onKeyDown={(event) => {
        if (event.key === 'Enter' || event.key === ' ') {
          event.preventDefault()
          select()
        }
      }}
    >
      <rect className="hit" x={Math.min(x, x + ahead * 22) - 3} y={rows.track - 14} width={28} height={28} />
      <path d={`M${x} ${rows.track}l${ahead * 20} ${rise}`} />
      <circle cx={x} cy={rows.track} r={2.5} />
      <text x={x + ahead * 10} y={rows.track - 13 - lane * 12}>
        {mark}
      </text>
    </g>
  )
}

function FindingMarks({ trackId, scale }: { readonly trackId: string; readonly scale: ChartScale }): ReactNode {
  const stores = useStores()
  const findings = useDerived((state) => state.findings)
  const turnouts = useDerived((state) => state.derived.network.turnoutsOn.get(trackId))
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  return findingsOnTrack(findings, trackId, turnouts ?? []).map(({ finding, stationMm }) => {
    const words = findingText(finding, plan, prefs)
    const x = scale.x(stationMm)
    return (
      <g
        key={finding.id}
        role="button"
        tabIndex={0}
        className={`finding-mark is-${finding.severity}`}
        aria-label={`${words.title}: ${words.body}`}
        onClick={() => findingShow(stores, finding)}
        onKeyDown={(event) => {
          if (event.key === 'Enter' || event.key === ' ') {
            event.preventDefault()
            findingShow(stores, finding)
          }
        }}
      >
        <title>{`${words.title}. ${words.body}`}</title>
        <rect className="hit" x={x - 9} y={rows.curveAxis - 9} width={18} height={18} />
        <path d={`M${x} ${rows.curveAxis - 5}l5 5l-5 5l-5 -5Z`} />
      </g>
    )
  })
}

/** The one cursor of chart and canvas. It alone renders again while the pointer moves. */
function ChartCursor({ trackId, scale, foot }: { readonly trackId: string; readonly scale: ChartScale; readonly foot: number }): ReactNode {
  const hover = useSession((session) => session.hover)
  const prefs = usePrefs((state) => state)
  if (hover === null || hover.track !== trackId) return null
  const x = scale.x(hover.stationMm)
  return (
    <g className="chart-cursor" aria-hidden="true">
      <path d={`M${x} ${rows.curveTop}V${foot}`} />
      <text x={x + 5} y={rows.curveFoot - 1}>
        {lengthText(hover.stationMm, prefs, 'room')}
      </text>
    </g>
  )
}
