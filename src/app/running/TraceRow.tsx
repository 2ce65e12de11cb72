import { area, line } from 'd3-shape'
import type { ReactNode } from 'react'
import { tightPlaces } from '../../core/clearance/index.ts'
import type { TracePlace } from '../../core/clearance/index.ts'
import { lengthText } from '../../words/measure.ts'
import { tightestText } from '../../words/runningText.ts'
import { usePlan, usePrefs } from '../context.ts'
import { useDesk } from '../desk.ts'
import './running.css'

interface TraceRowProps {
  readonly trackId: string
  readonly lengthMm: number
  readonly x: (stationMm: number) => number
  readonly top: number
  readonly height: number
}

type Side = 'left' | 'right'
const sides: readonly (readonly [Side, 1 | -1])[] = [
  ['left', -1],
  ['right', 1],
]

/** Of every station of a track: how far what runs reaches to both sides, what has to be free beyond, and what is. */
export default function TraceRow({ trackId, lengthMm, x, top, height }: TraceRowProps): ReactNode {
  const clearances = useDesk((desk) => desk.clearances)
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const axis = top + height / 2
  const half = height / 2 - 6
  const trace = (clearances?.traces.get(trackId) ?? []).filter(({ stationMm }) => stationMm >= 0 && stationMm <= lengthMm)
  const names = (
    <>
      <text className="row-name" x={12} y={axis + 4}>
        room
      </text>
      <text className="side-name" x={56} y={top + 14}>
        left
      </text>
      <text className="side-name" x={56} y={top + height - 7}>
        right
      </text>
    </>
  )
  if (clearances === null || trace.length === 0)
    return (
      <g className="trace-row">
        {names}
        <text className="row-name" x={x(0)} y={axis + 4}>
          {clearances === null ? 'What is free beside this track is being found …' : 'No car is known that runs here.'}
        </text>
      </g>
    )
  const { limitMm } = clearances
  const mostMm = Math.max(...trace.map(({ leftMm, rightMm }) => Math.max(leftMm, rightMm))) + 3 * limitMm
  const y = (mm: number, sign: 1 | -1): number => axis + (sign * half * Math.min(mm, mostMm)) / mostMm
  const reachOf = (place: TracePlace, side: Side): number => (side === 'left' ? place.leftMm : place.rightMm)
  const freeOf = (place: TracePlace, side: Side): number => {
    const gap = place[side]
    return gap === null ? mostMm : reachOf(place, side) + gap.gapMm
  }
  const band = area<TracePlace>()
    .x(({ stationMm }) => x(stationMm))
    .y0((place) => y(place.leftMm, -1))
    .y1((place) => y(place.rightMm, 1))
  const edge = (sign: 1 | -1, mm: (place: TracePlace) => number): string =>
    line<TracePlace>()
      .x(({ stationMm }) => x(stationMm))
      .y((place) => y(mm(place), sign))(trace) ?? ''
  const missing = (side: Side, sign: 1 | -1): string =>
    area<TracePlace>()
      .defined((place) => (place[side]?.gapMm ?? limitMm) < limitMm)
      .x(({ stationMm }) => x(stationMm))
      .y0((place) => y(freeOf(place, side), sign))
      .y1((place) => y(reachOf(place, side) + limitMm, sign))(trace) ?? ''
  return (
    <g className="trace-row">
      {names}
      <path className="axis" d={`M${x(0)} ${axis}H${x(lengthMm)}`} />
      <path className="reach" d={band(trace) ?? ''} />
      {sides.map(([side, sign]) => (
        <g key={side}>
          <path className="wanted" d={edge(sign, (place) => reachOf(place, side) + limitMm)} />
          <path className="missing" d={missing(side, sign)} />
          <path className="free" d={edge(sign, (place) => freeOf(place, side))} />
        </g>
      ))}
      {tightPlaces(clearances, trackId, () => false)
        .filter(({ stationMm }) => stationMm >= 0 && stationMm <= lengthMm)
        .map(({ side, stationMm, gap }) => (
          <text key={`${side} ${stationMm}`} className="tight" x={x(stationMm)} y={side === 'left' ? top + 12 : top + height - 4}>
            <title>{`To the ${side}: ${tightestText(gap, plan, prefs)}; ${lengthText(limitMm, prefs)} is wanted`}</title>
            {gap.gapMm > 0 ? lengthText(gap.gapMm, prefs) : `−${lengthText(-gap.gapMm, prefs)}`}
          </text>
        ))}
    </g>
  )
}
