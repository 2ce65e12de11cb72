import { useEffect, useRef } from 'react'
import type { PointerEvent, ReactNode } from 'react'
import { sweepBand } from '../../core/vehicles/index.ts'
import { tightPlaces } from '../../core/clearance/index.ts'
import type { Clearances, SweptTrack } from '../../core/clearance/index.ts'
import type { Point } from '../../core/geom/types.ts'
import { gripOf, pushStep } from '../../tools/push/push.ts'
import { gapText } from '../../words/runningText.ts'
import { useDerivedAtRest } from '../atRest.ts'
import { useView } from '../canvas/canvasContext.ts'
import { Label, isShown } from '../canvas/markParts.tsx'
import { pathTransform, polylineText } from '../canvas/svgPath.ts'
import { planOfScreen, screenOfPlan } from '../canvas/viewport.ts'
import type { View } from '../canvas/viewport.ts'
import { usePlan, usePrefs } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import { handTaken } from '../escapeTaken.ts'
import { useTrackInQuestion } from './useTrackInQuestion.ts'
import { useClearancesFound, useTrain, useTrainPut } from './useRunning.ts'
import './running.css'

/** What runs on the tracks, over the plan: swept bands with their tightest places, and the train in hand. */
export default function RunningMarks(): ReactNode {
  useClearancesFound()
  useTrainPut()
  return (
    <g className="running">
      <Bands />
      <Train />
    </g>
  )
}

function Bands(): ReactNode {
  const bands = useDesk((desk) => desk.bands)
  const clearances = useDesk((desk) => desk.clearances)
  // While a track is dragged its band is of where it was.
  const isMoving = usePlan((state) => state.transaction !== null)
  const track = useTrackInQuestion()
  const view = useView()
  if (bands === null || clearances === null || isMoving) return null
  const shown = bands.isAll ? [...clearances.swept.keys()] : track === null ? [] : [track]
  return (
    <g className="bands">
      <g transform={pathTransform(view)}>
        {shown.map((id) => {
          const swept = clearances.swept.get(id)
          return swept === undefined ? null : <path key={id} className="swept-band" data-track={id} d={bandText(swept)} />
        })}
      </g>
      <TightMarks clearances={clearances} shown={shown} view={view} />
    </g>
  )
}

const texts = new WeakMap<SweptTrack, string>()

function bandText(swept: SweptTrack): string {
  const known = texts.get(swept)
  if (known !== undefined) return known
  const text = sweepBand(swept.band)
    .map((ring) => polylineText(ring, true))
    .join('')
  texts.set(swept, text)
  return text
}

function TightMarks({
  clearances,
  shown,
  view,
}: {
  readonly clearances: Clearances
  readonly shown: readonly string[]
  readonly view: View
}): ReactNode {
  return shown.flatMap((id, index) =>
    // What two shown tracks do to each other is told once, of the first.
    tightPlaces(clearances, id, (other) => shown.slice(0, index).includes(other)).map(({ stationMm, side, gap }) => (
      <GapMark key={`${id} ${side} ${stationMm}`} from={gap.from} to={gap.to} gapMm={gap.gapMm} isTight view={view} />
    )),
  )
}

/** A line across a gap with its number. */
function GapMark({
  from,
  to,
  gapMm,
  isTight,
  view,
}: {
  readonly from: Point
  readonly to: Point
  readonly gapMm: number
  readonly isTight: boolean
  readonly view: View
}): ReactNode {
  const prefs = usePrefs((state) => state)
  const [a, b] = [screenOfPlan(view, from), screenOfPlan(view, to)]
  if (!isShown(a, view)) return null
  const middle = { left: (a.left + b.left) / 2 + 9, top: (a.top + b.top) / 2 - 7 }
  return (
    <g className={isTight ? 'gap-mark is-tight' : 'gap-mark'}>
      <path d={`M${a.left} ${a.top}L${b.left} ${b.top}`} />
      <circle cx={a.left} cy={a.top} r={2.5} />
      <circle cx={b.left} cy={b.top} r={2.5} />
      <Label at={middle} tone={isTight ? 'hand' : 'ink'}>
        {gapText(gapMm, prefs)}
      </Label>
    </g>
  )
}

function Train(): ReactNode {
  const desk = useDeskStore()
  const { network } = useDerivedAtRest()
  const limitMm = usePlan((state) => state.plan.railway.runningClearanceMm)
  const train = useTrain()
  const view = useView()
  const grip = useRef<number | null>(null)
  const pointer = useRef<{ frame: number; at: Point } | null>(null)
  const letHand = useRef<(() => void) | null>(null)
  useEffect(
    () => () => {
      cancelAnimationFrame(pointer.current?.frame ?? 0)
      letHand.current?.()
    },
    [],
  )
  if (train === null || train.view === null) return null
  const { on, outlines, axles, couplers, tightest } = train.view

  function placeOf(event: PointerEvent<SVGGElement>): Point {
    const rect = event.currentTarget.ownerSVGElement?.getBoundingClientRect()
    return planOfScreen(view, { left: event.clientX - (rect?.left ?? 0), top: event.clientY - (rect?.top ?? 0) })
  }
  function onPointerDown(event: PointerEvent<SVGGElement>): void {
    if (event.button !== 0) return
    grip.current = gripOf(on, placeOf(event))
    const { push: before } = desk.getState()
    letHand.current = handTaken(() => {
      grip.current = null
      drop()
      // It stands where it stood.
      desk.getState().set({ push: before })
    })
    if ('setPointerCapture' in event.currentTarget) event.currentTarget.setPointerCapture(event.pointerId)
  }
  // Pointers move faster than frames: only the last place of each frame counts.
  function onPointerMove(event: PointerEvent<SVGGElement>): void {
    if (grip.current === null) return
    const at = placeOf(event)
    if (pointer.current === null) pointer.current = { frame: requestAnimationFrame(follow), at }
    else pointer.current.at = at
  }
  function follow(): void {
    const { push, set } = desk.getState()
    const at = pointer.current?.at
    pointer.current = null
    if (grip.current === null || at === undefined || push === null || train === null) return
    set({ push: { ...push, train: pushStep(network, train.cars, push.train, { kind: 'drag', gripMm: grip.current, at }) } })
  }
  function drop(): void {
    if (pointer.current !== null) {
      cancelAnimationFrame(pointer.current.frame)
      follow()
    }
    grip.current = null
    letHand.current?.()
  }

  return (
    <g className="train">
      <g
        className="cars"
        data-own-pointer=""
        transform={pathTransform(view)}
        // The keys stay with what pushes.
        onMouseDown={(event) => event.preventDefault()}
        onPointerDown={onPointerDown}
        onPointerMove={onPointerMove}
        onPointerUp={drop}
        onPointerCancel={drop}
      >
        {axles.map(([a, b], i) => (
          <path key={i} className="axle" d={polylineText([a, b], false)} />
        ))}
        {outlines.map((outline, i) => (
          <path key={i} className="body" d={polylineText(outline, true)} />
        ))}
        {couplers.map(({ car, aheadPin, behindPin }) => (
          <path key={car} className="coupler" d={polylineText([aheadPin, behindPin], false)} />
        ))}
      </g>
      {tightest === null ? null : (
        <GapMark from={tightest.from} to={tightest.to} gapMm={tightest.gapMm} isTight={tightest.gapMm < limitMm} view={view} />
      )}
    </g>
  )
}
