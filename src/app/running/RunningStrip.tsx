import { useEffect, useId, useLayoutEffect, useRef, useState } from 'react'
import type { KeyboardEvent, ReactNode } from 'react'
import type { RoutePoints } from '../../core/network/index.ts'
import { pushStep } from '../../tools/push/push.ts'
import type { PushMove } from '../../tools/push/push.ts'
import { angleText, lengthText } from '../../words/measure.ts'
import { recordName } from '../../words/names.ts'
import { linedText, routeEndText, tightestText } from '../../words/runningText.ts'
import { useDerivedAtRest } from '../atRest.ts'
import { useView } from '../canvas/canvasContext.ts'
import { screenOfPlan } from '../canvas/viewport.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import type { BandsShown, Push } from '../desk.ts'
import type { CarChoice } from './cars.ts'
import { bandsToggle, pushToggle } from './runningActs.ts'
import { stripEdge } from './stripEdge.ts'
import type { StripEdge } from './stripEdge.ts'
import { trainStation } from './trainView.ts'
import type { TrainView } from './trainView.ts'
import { useCarChoices } from './useCars.ts'
import { useTrain } from './useRunning.ts'
import { worstSwing } from './worstSwing.ts'
import './running.css'

/** More cars than this are a long train on any model railway. */
const mostCars = 40
/** Points nearer than this to the train are offered to be thrown, mm. */
const pointsWithinMm = 1500
const mostPoints = 4

/** What is chosen for swept bands and for the train in hand, along the lower edge of the plan. */
export default function RunningStrip({ onShut }: { readonly onShut: () => void }): ReactNode {
  const bands = useDesk((desk) => desk.bands)
  const push = useDesk((desk) => desk.push)
  const strips = useRef<HTMLDivElement>(null)
  const edge = useEdge(strips)
  return (
    <div ref={strips} className={`running-strips is-${edge}`} data-own-pointer="">
      {push === null ? null : <PushStrip push={push} onShut={onShut} />}
      {bands === null ? null : <BandsStrip bands={bands} onShut={onShut} />}
    </div>
  )
}

/** From the edges of the plan to the choices, px; as running.css has them. */
const insets = { lowPx: 38, highPx: 26 }

/** The edge where the choices cover nothing of the train in hand. */
function useEdge(strips: { readonly current: HTMLDivElement | null }): StripEdge {
  const [edge, setEdge] = useState<StripEdge>('low')
  const [heightPx, setHeightPx] = useState(0)
  useEffect(() => {
    const element = strips.current
    if (element === null || typeof ResizeObserver === 'undefined') return undefined
    const observer = new ResizeObserver(() => setHeightPx(element.offsetHeight))
    observer.observe(element)
    return () => observer.disconnect()
  }, [strips])
  const view = useView()
  const tops = (useTrain()?.view?.outlines ?? []).flat().map((point) => screenOfPlan(view, point).top)
  const train = { topPx: Math.min(...tops), bottomPx: Math.max(...tops) }
  // A train that is out of sight is covered by nothing.
  const isInSight = tops.length > 0 && train.bottomPx >= 0 && train.topPx <= view.size.height
  const next = isInSight ? stripEdge(edge, train, { heightPx, ...insets }, view.size.height) : edge
  if (next !== edge) setEdge(next)
  return next
}

/** Frames after which a sheet that was shut has given the focus back to where it was. */
const framesToWait = 3

/** A train taken in hand is pushed with the keys at once, also when it was found in a sheet. */
function useFocusAtOnce(handle: { readonly current: HTMLDivElement | null }): void {
  useLayoutEffect(() => {
    const take = (): void => handle.current?.focus({ preventScroll: true })
    let frame = 0
    const takeAfter = (frames: number): void => {
      frame = requestAnimationFrame(() => {
        const isElsewhere = handle.current?.closest('.running-strips')?.contains(document.activeElement) === false
        if (frames > 0) takeAfter(frames - 1)
        else if (isElsewhere) take()
      })
    }
    take()
    takeAfter(framesToWait)
    return () => cancelAnimationFrame(frame)
  }, [handle])
}

function CarOptions({ choices }: { readonly choices: readonly CarChoice[] }): ReactNode {
  const option = ({ key, name }: CarChoice): ReactNode => (
    <option key={key} value={key}>
      {name}
    </option>
  )
  const own = choices.filter(({ isOfPlan }) => isOfPlan)
  return (
    <>
      {own.length === 0 ? null : <optgroup label="Of this railway">{own.map(option)}</optgroup>}
      <optgroup label="Kinds">{choices.filter(({ isOfPlan }) => !isOfPlan).map(option)}</optgroup>
    </>
  )
}

function BandsStrip({ bands, onShut }: { readonly bands: BandsShown; readonly onShut: () => void }): ReactNode {
  const desk = useDeskStore()
  const choices = useCarChoices()
  const isFound = useDesk((state) => state.clearances !== null)
  const limitMm = usePlan((state) => state.plan.railway.runningClearanceMm)
  const prefs = usePrefs((state) => state)
  const set = (change: Partial<BandsShown>): void => desk.getState().set({ bands: { ...bands, ...change } })
  return (
    <div className="tool-strip running-strip" role="group" aria-label="Swept bands">
      <label>
        <span>Swept by</span>
        <select value={bands.cars ?? ''} onChange={(event) => set({ cars: event.target.value === '' ? null : event.target.value })}>
          <option value="">The worst cars of each class</option>
          <CarOptions choices={choices} />
        </select>
      </label>
      <label>
        <span>on</span>
        <select value={bands.isAll ? 'all' : 'one'} onChange={(event) => set({ isAll: event.target.value === 'all' })}>
          <option value="one">the track in question</option>
          <option value="all">all tracks</option>
        </select>
      </label>
      <span>{isFound ? `Marked where less than ${lengthText(limitMm, prefs)} is free` : 'Being found …'}</span>
      <button
        type="button"
        onClick={() => {
          bandsToggle(desk)
          onShut()
        }}
      >
        Put away
      </button>
    </div>
  )
}

function PushStrip({ push, onShut }: { readonly push: Push; readonly onShut: () => void }): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const { network } = useDerivedAtRest()
  const choices = useCarChoices()
  const inHand = useTrain()
  const handle = useRef<HTMLDivElement>(null)
  useFocusAtOnce(handle)

  const change = (next: Partial<Push>): void => desk.getState().set({ push: { ...push, ...next, isPlaced: false } })
  function move(one: PushMove): void {
    const now = desk.getState().push
    if (now !== null && inHand !== null) desk.getState().set({ push: { ...now, train: pushStep(network, inHand.cars, now.train, one) } })
  }
  function onKeyDown(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey) return
    const next = inHand?.view === null || inHand === null ? undefined : pointsNear(inHand.view)[0]
    const one =
      moveOfKey(event.key, event.shiftKey) ??
      (event.key.toLowerCase() === 't' && next !== undefined ? { kind: 'throw' as const, turnout: next.turnout } : null)
    if (one === null) return
    event.preventDefault()
    event.stopPropagation()
    move(one)
  }

  const view = inHand?.view ?? null
  const at = view === null ? null : trainStation(network, view.on)
  return (
    <div className="tool-strip running-strip" role="group" aria-label="Train in hand">
      <label>
        <span>Led by</span>
        <select
          value={inHand?.chosen.lead?.key ?? ''}
          onChange={(event) => change({ lead: event.target.value === '' ? null : event.target.value })}
        >
          <option value="">Nothing</option>
          <CarOptions choices={choices} />
        </select>
      </label>
      <label>
        <span>Car</span>
        <select value={inHand?.chosen.car.key ?? ''} onChange={(event) => change({ car: event.target.value })}>
          <CarOptions choices={choices} />
        </select>
      </label>
      <CountField key={push.count} count={push.count} onCount={(count) => change({ count })} />
      <PushHandle handle={handle} at={at} onKeyDown={onKeyDown} />
      <button type="button" onClick={() => move({ kind: 'by', mm: -stepLargeMm })}>
        Push back
      </button>
      <button type="button" onClick={() => move({ kind: 'by', mm: stepLargeMm })}>
        Push on
      </button>
      {view === null
        ? null
        : pointsNear(view).map((points) => <PointsButton key={`${points.turnout} ${points.atMm}`} points={points} onThrow={move} />)}
      <button
        type="button"
        onClick={() => {
          pushToggle(stores, desk)
          onShut()
        }}
      >
        Put away
      </button>
      <Readings push={push} view={view} train={inHand?.chosen.all ?? []} />
    </div>
  )
}

/** How many are coupled; a wrong entry stays to be mended, with the reason beside it. */
function CountField({ count, onCount }: { readonly count: number; readonly onCount: (count: number) => void }): ReactNode {
  const [wrong, setWrong] = useState<string | null>(null)
  const wrongId = useId()
  function take(text: string): void {
    const entered = /^\d+$/.test(text.trim()) ? Number(text) : Number.NaN
    const isGood = entered >= 1 && entered <= mostCars
    setWrong(isGood ? null : `“${text.trim()}” is no count of cars; 1 to ${mostCars} would be.`)
    if (isGood && entered !== count) onCount(entered)
  }
  return (
    <>
      <label>
        <span>Coupled</span>
        <input
          type="text"
          inputMode="numeric"
          size={2}
          defaultValue={count}
          aria-invalid={wrong !== null}
          aria-describedby={wrong === null ? undefined : wrongId}
          onBlur={(event) => take(event.currentTarget.value)}
          onKeyDown={(event) => {
            if (event.key === 'Enter') event.currentTarget.blur()
          }}
        />
      </label>
      {wrong === null ? null : (
        <strong id={wrongId} role="alert" className="is-over">
          {wrong}
        </strong>
      )}
    </>
  )
}

const stepSmallMm = 5
const stepLargeMm = 50

function moveOfKey(key: string, isShift: boolean): PushMove | null {
  const mm = isShift ? stepLargeMm : stepSmallMm
  switch (key) {
    case 'ArrowRight':
    case 'ArrowUp':
      return { kind: 'by', mm }
    case 'ArrowLeft':
    case 'ArrowDown':
      return { kind: 'by', mm: -mm }
    case 'PageUp':
      return { kind: 'by', mm: stepLargeMm * 4 }
    case 'PageDown':
      return { kind: 'by', mm: -stepLargeMm * 4 }
    case 'Home':
      return { kind: 'toEnd', way: 'behind' }
    case 'End':
      return { kind: 'toEnd', way: 'ahead' }
    default:
      return null
  }
}

function PushHandle({
  handle,
  at,
  onKeyDown,
}: {
  readonly handle: { current: HTMLDivElement | null }
  readonly at: { readonly track: string; readonly stationMm: number } | null
  readonly onKeyDown: (event: KeyboardEvent) => void
}): ReactNode {
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const lengthMm = useDerivedAtRest().network.tracks.get(at?.track ?? '')?.alignment
  const place = at === null ? 'nowhere' : `${recordName(plan, 'tracks', at.track)}, ${lengthText(Math.max(0, at.stationMm), prefs, 'room')}`
  return (
    <div
      ref={handle}
      className="push-handle"
      role="slider"
      tabIndex={0}
      aria-label="Push along the line"
      aria-valuemin={0}
      aria-valuemax={lengthMm?.ok === true ? Math.round(lengthMm.path.lengthMm) : 0}
      aria-valuenow={Math.round(Math.max(0, at?.stationMm ?? 0))}
      aria-valuetext={place}
      title="Arrow keys push, with Shift farther; Home and End to the ends; T throws the nearest points"
      onKeyDown={onKeyDown}
    >
      {place}
    </div>
  )
}

/** Points that the train comes to, the nearest first, whichever way. */
function pointsNear({ on: { route, headMm, tailMm } }: TrainView): readonly RoutePoints[] {
  const away = ({ atMm }: RoutePoints): number => Math.max(0, atMm - headMm, tailMm - atMm)
  const seen = new Set<string>()
  return route.points
    .filter((points) => points.choices.length > 1 && (points.isFacing ? points.atMm > headMm : points.atMm < tailMm))
    .filter((points) => away(points) < pointsWithinMm && !seen.has(points.turnout) && seen.add(points.turnout).size > 0)
    .toSorted((a, b) => away(a) - away(b))
    .slice(0, mostPoints)
}

function PointsButton({ points, onThrow }: { readonly points: RoutePoints; readonly onThrow: (move: PushMove) => void }): ReactNode {
  const plan = usePlan((state) => state.plan)
  const name = recordName(plan, 'turnouts', points.turnout)
  return (
    <button type="button" className="points" onClick={() => onThrow({ kind: 'throw', turnout: points.turnout })}>
      {name}: {linedText(points.lined)}
    </button>
  )
}

/** Tightest gap, farthest swing, and why it goes no farther. */
function Readings({
  push,
  view,
  train,
}: {
  readonly push: Push
  readonly view: TrainView | null
  readonly train: readonly CarChoice[]
}): ReactNode {
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const isFound = useDesk((state) => state.clearances !== null)
  const { stop } = push.train
  const tightest = view?.tightest ?? null
  const swing = worstSwing(view?.couplers ?? [], train)
  const isTight = tightest !== null && tightest.gapMm < plan.railway.runningClearanceMm
  return (
    <p className="readings">
      {view !== null && !view.on.stance.ok ? <strong>The train cannot stand here.</strong> : null}
      {!isFound ? (
        <span>Gaps are being found …</span>
      ) : tightest === null ? (
        <span>Nothing is near.</span>
      ) : (
        <span className={isTight ? 'is-over' : undefined}>
          {tightestText(tightest, plan, prefs)}
          {isTight ? `; ${lengthText(plan.railway.runningClearanceMm, prefs)} is asked` : ''}
        </span>
      )}
      {swing === null ? null : (
        <span className={swing.rad > swing.mostRad ? 'is-over' : undefined}>
          Couplers swing {angleText(swing.rad)}
          {swing.rad > swing.mostRad ? `: farther than the ${angleText(swing.mostRad)} they can` : ` of ${angleText(swing.mostRad)}`}
        </span>
      )}
      <span role="status">{stop === null ? '' : stopText(stop, plan)}</span>
    </p>
  )
}

function stopText(stop: NonNullable<Push['train']['stop']>, plan: Parameters<typeof routeEndText>[1]): string {
  switch (stop.kind) {
    case 'end':
      return routeEndText(stop.end, plan)
    case 'curve':
      return 'The curve here is too sharp for it, or there is no room for the whole train.'
    case 'occupied':
      return `The train stands on ${recordName(plan, 'turnouts', stop.turnout)}: its points cannot be thrown.`
  }
}
