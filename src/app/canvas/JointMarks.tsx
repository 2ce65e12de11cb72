import { useEffect, useMemo, useRef, useState } from 'react'
import type { PointerEvent, ReactNode } from 'react'
import { createPortal } from 'react-dom'
import { pathPoseAt, pointDistance, poseOffset } from '../../core/geom/index.ts'
import type { Point, Pose } from '../../core/geom/types.ts'
import type { Id } from '../../core/plan/types.ts'
import { linePoseAt } from '../../core/rails/index.ts'
import type { RailJoint, RailWork } from '../../core/rails/types.ts'
import { lengthParse } from '../../core/units/index.ts'
import { wholeStepMm } from '../../tools/index.ts'
import { jointAtStation, jointCommand, jointHold, jointReach, jointTrial } from '../../tools/joints/jointDrag.ts'
import type { JointHold, JointTrial } from '../../tools/joints/jointDrag.ts'
import { entryProblemText } from '../../words/entryText.ts'
import { jointBeyondText, jointText, jointTrialText } from '../../words/jointText.ts'
import { recordName } from '../../words/names.ts'
import { useDerived, usePlan, usePrefs, useSession, useStores } from '../context.ts'
import { handTaken } from '../escapeTaken.ts'
import { planEdit } from '../planEdit.ts'
import { useView } from './canvasContext.ts'
import { JointZones } from './JointZones.tsx'
import { isShown, Label } from './markParts.tsx'
import { TypedField } from './TypedField.tsx'
import { planOfScreen, screenOfPlan } from './viewport.ts'
import type { ScreenPoint, View } from './viewport.ts'

interface Shown {
  readonly key: string
  readonly joint: RailJoint
  readonly pose: Pose
}

/** A joint in the hand. trial: where it would stand; null: it has not been moved yet. */
interface Held {
  readonly hold: JointHold
  readonly key: string
  readonly from: Point
  readonly trial: JointTrial | null
  /** The track whose stations it counts by until it has been moved. */
  readonly track: Id
  /** A station that is being typed; null: the pointer leads. */
  readonly typed: string | null
}

/** A press wanders less than this before it is a drag, px. */
const slopPx = 4

/** Every joint across its rail: two bars part for a slip joint, one bar through a lozenge for a soldered one, a ring about the builder's own. */
export function JointMarks({ rails }: { readonly rails: RailWork }): ReactNode {
  const stores = useStores()
  const view = useView()
  const prefs = usePrefs((state) => state)
  const isHand = useSession((session) => session.tool === 'select')
  const chosen = useSession(({ selection }) => (selection.kind === 'record' && selection.table === 'railJoints' ? selection.id : null))
  const [held, setHeld] = useState<Held | null>(null)
  const [over, setOver] = useState<string | null>(null)
  const waiting = useRef<{ frame: number; at: Point; isFree: boolean } | null>(null)
  const shown = useMemo((): readonly Shown[] => {
    const lines = new Map(rails.lines.map((line) => [line.run, line]))
    return rails.joints.flatMap((joint) => {
      const line = lines.get(joint.run)
      return line === undefined ? [] : [{ key: `${joint.run} ${joint.atMm.toFixed(3)}`, joint, pose: linePoseAt(line, joint.atMm) }]
    })
  }, [rails])

  function letGo(): void {
    cancelAnimationFrame(waiting.current?.frame ?? 0)
    waiting.current = null
    setHeld(null)
  }
  useEffect(() => {
    // The joint goes back to where it was.
    return held === null ? undefined : handTaken(letGo)
  }, [held])
  const isLed = held !== null && held.typed === null
  useEffect(() => {
    if (!isLed) return undefined
    const onKey = (event: KeyboardEvent): void => {
      if (!/^[0-9.¼½¾⅛⅜⅝⅞]$/.test(event.key) || event.ctrlKey || event.metaKey || event.altKey) return
      event.preventDefault()
      event.stopPropagation()
      setHeld((now) => (now === null ? null : { ...now, typed: event.key }))
    }
    window.addEventListener('keydown', onKey, true)
    return () => window.removeEventListener('keydown', onKey, true)
  }, [isLed])
  useEffect(() => () => cancelAnimationFrame(waiting.current?.frame ?? 0), [])

  function placeOf(event: PointerEvent<SVGGElement>): Point {
    const rect = event.currentTarget.ownerSVGElement?.getBoundingClientRect()
    return planOfScreen(view, { left: event.clientX - (rect?.left ?? 0), top: event.clientY - (rect?.top ?? 0) })
  }
  function onDown(event: PointerEvent<SVGGElement>, { joint, key }: Shown): void {
    if (event.button !== 0 || !isHand) return
    const hold = jointHold(rails, joint)
    if (hold === null) return
    if ('setPointerCapture' in event.currentTarget) event.currentTarget.setPointerCapture(event.pointerId)
    setHeld({ hold, key, from: placeOf(event), trial: null, track: joint.place.track, typed: null })
  }
  // Pointers move faster than frames: only the last place of each frame counts.
  function onMove(event: PointerEvent<SVGGElement>): void {
    if (held === null || held.typed !== null) return
    const at = placeOf(event)
    if (held.trial === null && pointDistance(at, held.from) * view.pxPerMm < slopPx) return
    const isFree = event.altKey
    if (waiting.current === null) waiting.current = { frame: requestAnimationFrame(follow), at, isFree }
    else waiting.current = { ...waiting.current, at, isFree }
  }
  function follow(): void {
    const last = waiting.current
    waiting.current = null
    if (last === null) return
    setHeld((now) => (now === null || now.typed !== null ? now : { ...now, trial: trialOf(now.hold, last.at, last.isFree) ?? now.trial }))
  }
  function trialOf(hold: JointHold, at: Point, isFree: boolean): JointTrial | null {
    const step = isFree ? null : wholeStepMm(view.pxPerMm, prefs.units)
    return jointTrial(hold, at, stores.plan.getState().plan, stores.derived.getState().derived.network, step)
  }
  function onUp(event: PointerEvent<SVGGElement>): void {
    // The hand lets go while a station is typed: Enter ends it.
    if (held === null || held.typed !== null) return
    put(held.hold.own, held.trial === null ? null : (trialOf(held.hold, placeOf(event), event.altKey) ?? held.trial))
  }
  function put(own: Id | null, trial: JointTrial | null): void {
    letGo()
    const added = trial === null ? null : planEdit(stores, jointCommand(own, trial.place)).added
    const id = own ?? added
    if (id !== null) stores.session.getState().select({ kind: 'record', table: 'railJoints', id })
  }

  /** What is typed, as far as it is a station of the rail that is held. */
  function typedTrial({ hold, trial, track, typed }: Held): { readonly trial: JointTrial } | { readonly wrong: string } {
    const station = lengthParse(typed ?? '', { bare: prefs.units === 'imperial' ? 'in' : 'mm' })
    if (!station.ok) return { wrong: entryProblemText(station.problem) }
    const on = trial?.place.track ?? track
    const { network } = stores.derived.getState().derived
    const there = jointAtStation(hold, on, station.mm, stores.plan.getState().plan, network)
    return there === null ? { wrong: jointBeyondText(station.mm, name(on), jointReach(hold, on), prefs) } : { trial: there }
  }

  const name = (track: string): string => recordName(stores.plan.getState().plan, 'tracks', track)
  const pointed = held === null ? shown.find(({ key }) => key === over) : undefined
  const typing = held === null || held.typed === null ? null : typedTrial(held)
  const trialNow = (typing !== null && 'trial' in typing ? typing.trial : held?.trial) ?? null
  const words =
    trialNow !== null
      ? { at: screenOfPlan(view, trialNow.pose), text: jointTrialText(trialNow, name, prefs), isHeld: true }
      : pointed === undefined
        ? null
        : { at: screenOfPlan(view, pointed.pose), text: jointText(pointed.joint, prefs), isHeld: false }
  return (
    <g className="joint-marks" data-idle={isHand ? undefined : ''}>
      {held === null || trialNow === null ? null : <JointZones line={held.hold.line} view={view} />}
      {shown.map((one) => {
        const { key, joint, pose } = one
        const isHeld = held?.key === key
        const trial = isHeld ? trialNow : null
        const at = screenOfPlan(view, trial?.pose ?? pose)
        if (!isHeld && !isShown(at, view)) return null
        return (
          <g
            key={key}
            className="joint-mark"
            data-kind={joint.kind}
            data-own={joint.isOwn === null && trial === null ? undefined : ''}
            data-chosen={joint.isOwn !== null && joint.isOwn === chosen ? '' : undefined}
            data-against={trial !== null && (trial.rules.length > 0 || trial.tooNear !== null) ? '' : undefined}
            data-own-pointer=""
            onPointerDown={(event) => onDown(event, one)}
            onPointerMove={onMove}
            onPointerUp={onUp}
            onPointerCancel={letGo}
            // The hand may let go while a station is typed.
            onLostPointerCapture={() => (isLed ? letGo() : undefined)}
            onPointerEnter={() => setOver(key)}
            onPointerLeave={() => setOver((now) => (now === key ? null : now))}
          >
            <JointSign kind={joint.kind} isOwn={joint.isOwn !== null || trial !== null} pose={trial?.pose ?? pose} view={view} />
            <circle className="joint-grip" cx={at.left} cy={at.top} r={10} />
          </g>
        )
      })}
      <Waiting rails={rails} view={view} />
      {held === null || held.typed === null || typing === null ? null : (
        <StationField
          text={held.typed}
          at={screenOfPlan(view, trialNow?.pose ?? held.from)}
          wrong={'wrong' in typing ? typing.wrong : null}
          onText={(typed) => setHeld({ ...held, typed })}
          onEnter={() => ('trial' in typing ? put(held.hold.own, typing.trial) : undefined)}
          onLeave={letGo}
        />
      )}
      {/* Above every mark. */}
      {words === null ? null : (
        <Label at={{ left: words.at.left + 14, top: words.at.top - 12 }} tone={words.isHeld ? 'hand' : 'ink'}>
          {words.text}
        </Label>
      )}
    </g>
  )
}

/** The field for a station, over the canvas that the joint is on. */
function StationField(props: {
  readonly text: string
  readonly at: ScreenPoint
  readonly wrong: string | null
  readonly onText: (text: string) => void
  readonly onEnter: () => void
  readonly onLeave: () => void
}): ReactNode {
  const { text, at, wrong, onText, onEnter, onLeave } = props
  // A joint is only held where there is a canvas.
  const canvas = document.querySelector<HTMLElement>('.canvas')
  useEffect(() => () => canvas?.focus({ preventScroll: true }), [canvas])
  if (canvas === null) return null
  return createPortal(
    <div className="at-pointer" style={{ left: Math.max(8, at.left + 18), top: Math.max(8, at.top + 18) }} data-own-pointer="">
      <TypedField
        label="Station"
        text={text}
        isRefused={wrong !== null}
        onText={onText}
        onEnter={onEnter}
        onLeave={onLeave}
        onBlur={onLeave}
      />
      <p role="status" className={wrong === null ? 'visually-hidden' : 'pointer-hint'}>
        {wrong}
      </p>
    </div>,
    canvas,
  )
}

/** Bars across a rail, px from its middle. */
const reachPx = 7

function JointSign({
  kind,
  isOwn,
  pose,
  view,
}: {
  readonly kind: RailJoint['kind']
  readonly isOwn: boolean
  readonly pose: Pose
  readonly view: View
}): ReactNode {
  const at = screenOfPlan(view, pose)
  const turn = (-pose.headingRad * 180) / Math.PI
  const bars = kind === 'slip' ? `M-2.2 ${-reachPx}V${reachPx}M2.2 ${-reachPx}V${reachPx}` : `M0 ${-reachPx}V${reachPx}`
  return (
    <g transform={`translate(${at.left} ${at.top}) rotate(${turn})`}>
      <path className="joint-bar" d={bars} />
      {kind === 'solder' ? <path className="joint-lozenge" d="M-4 0L0 -4L4 0L0 4Z" /> : null}
      {isOwn ? <circle className="joint-ring" r={10} /> : null}
    </g>
  )
}

/** The builder's own joints that the lists do not know yet: rings where they will be. */
function Waiting({ rails, view }: { readonly rails: RailWork; readonly view: View }): ReactNode {
  const joints = usePlan((state) => state.plan.railJoints)
  const network = useDerived((state) => state.derived.network)
  return Object.values(joints).map(({ id, track, rail, stationMm }) => {
    const isKnown = rails.joints.some(({ isOwn, place }) => isOwn === id && Math.abs(place.stationMm - stationMm) < 0.5)
    const on = network.tracks.get(track)
    if (isKnown || on?.alignment.ok !== true || stationMm < 0 || stationMm > on.alignment.path.lengthMm) return null
    const half = (rail === 'left' ? 1 : -1) * (on.railway.gaugeMm / 2)
    const at = screenOfPlan(view, poseOffset(pathPoseAt(on.alignment.path, stationMm), half))
    return isShown(at, view) ? <circle key={id} className="joint-ring is-waiting" cx={at.left} cy={at.top} r={10} /> : null
  })
}
