import { useEffect, useLayoutEffect, useRef, useState } from 'react'
import type { KeyboardEvent, PointerEvent, ReactNode } from 'react'
import { createPortal, flushSync } from 'react-dom'
import { useStores } from '../context.ts'
import { handTaken } from '../escapeTaken.ts'
import { useChartHand } from './chartHand.ts'
import type { ChartPlace } from './chartScale.ts'
import type { Grip, OpenStepRef, Pulled } from './grip.ts'
import { stepOpen } from './stepOpen.ts'
import type { OpenStep } from './stepOpen.ts'

/** A press wanders less than this before it is a pull, px. */
const slopPx = 3

/** Steps of an arrow key, and of one with Shift or of the page keys. */
const fewSteps = 1
const manySteps = 10

/** A number as it was when it was taken hold of, and where. */
interface Held {
  readonly grip: Grip
  readonly from: ChartPlace
  readonly step: OpenStep | null
}

/**
 * A number that is pulled: by any pointer, by the arrow keys, or typed over when Enter or a digit asks for the field. Only what is chosen
 * shows its handles and has them among the stops of the Tab key; a pointer takes hold of any, and thereby chooses.
 */
export function Handle({
  grip,
  isChosen,
  children,
}: {
  readonly grip: Grip
  readonly isChosen: boolean
  readonly children: ReactNode
}): ReactNode {
  const stores = useStores()
  const { placeOf, say, over } = useChartHand()
  const held = useRef<Held | null>(null)
  const keyed = useRef<OpenStep | null>(null)
  const element = useRef<SVGGElement>(null)
  const [isTyping, setTyping] = useState(false)
  const [isFocused, setFocused] = useState(false)

  function attempt(step: OpenStep, pulled: Pulled, at: ChartPlace): void {
    const trouble = pulled.ok ? step.attempt(pulled.command) : pulled.words
    say({ at, words: trouble ?? pulled.words, isRefused: trouble !== null || (pulled.ok && pulled.isHeld) })
  }

  const letHand = useRef<(() => void) | null>(null)
  /** What is held is given back. */
  function handTake(): void {
    handLet()
    letHand.current = handTaken(() => endNow.current('giveUp'))
  }
  function handLet(): void {
    letHand.current?.()
    letHand.current = null
  }
  function end(how: 'keep' | 'giveUp'): void {
    handLet()
    const step = held.current?.step ?? keyed.current
    held.current = null
    keyed.current = null
    if (step !== null) step[how]()
    say(null)
  }
  const endNow = useRef(end)
  useEffect(() => {
    endNow.current = end
  })
  const { stationMm, subject } = grip
  useEffect(() => {
    if (isFocused) stores.session.getState().setHover({ track: subject.track, stationMm })
  }, [isFocused, subject.track, stationMm, stores])
  // What goes from the chart lets go of its step.
  useEffect(
    () => () => {
      if (held.current !== null || keyed.current !== null) endNow.current('giveUp')
    },
    [],
  )

  function onPointerDown(event: PointerEvent<SVGGElement>): void {
    if (event.button !== 0 || event.target instanceof HTMLElement) return
    if ('setPointerCapture' in event.currentTarget) event.currentTarget.setPointerCapture(event.pointerId)
    event.currentTarget.focus({ preventScroll: true })
    held.current = { grip, from: placeOf(event), step: null }
    handTake()
    grip.select()
  }
  function onPointerMove(event: PointerEvent<SVGGElement>): void {
    const now = held.current
    if (now === null) return
    const to = placeOf(event)
    const [right, down] = [to.x - now.from.x, to.y - now.from.y]
    if (now.step === null && Math.hypot(right, down) < slopPx) return
    const pulled = now.grip.pulled({ x: now.grip.at.x + right, y: now.grip.at.y + down }, event.altKey)
    if (now.step === null && !pulled.ok) {
      say({ at: to, words: pulled.words, isRefused: true })
      return
    }
    const step = now.step ?? (pulled.ok ? stepOpen(stores, now.grip.subject, pulled.command) : null)
    if (step === null) return
    held.current = { ...now, step }
    attempt(step, pulled, to)
  }

  function nudge(steps: number): void {
    const pulled = grip.stepped(steps)
    if (!pulled.ok) {
      say({ at: grip.at, words: pulled.words, isRefused: true })
      return
    }
    if (keyed.current === null) {
      keyed.current = stepOpen(stores, grip.subject, pulled.command)
      handTake()
    }
    attempt(keyed.current, pulled, grip.at)
  }

  function onKeyDown(event: KeyboardEvent<SVGGElement>): void {
    if (event.target !== event.currentTarget || event.ctrlKey || event.metaKey) return
    const steps = arrowSteps(event)
    if (steps !== null) nudge(steps)
    else if (event.key === 'Enter' || /^[\d.]$/.test(event.key)) {
      if (held.current !== null || keyed.current !== null) end('giveUp')
      // At once, so that the digit that asked for the field falls into it.
      flushSync(() => setTyping(true))
      if (event.key !== 'Enter') return
    } else return
    event.preventDefault()
  }

  /** Of held keys one step is made; what was refused stays to be read. */
  function settle(): void {
    if (keyed.current === null) return
    handLet()
    keyed.current.keep()
    keyed.current = null
  }

  function shut(): void {
    setTyping(false)
    element.current?.focus({ preventScroll: true })
  }

  const asSlider = {
    role: 'slider',
    tabIndex: 0,
    'aria-label': grip.label,
    'aria-orientation': grip.isUpright ? 'vertical' : 'horizontal',
    'aria-valuemin': 0,
    'aria-valuemax': Math.round(Math.max(grip.mostMm, grip.mm)),
    'aria-valuenow': Math.round(grip.mm),
    'aria-valuetext': grip.says,
  } as const
  return (
    <>
      <g
        ref={element}
        className={`chart-handle${isChosen ? ' is-chosen' : ''}${grip.isUpright ? ' is-upright' : ''}`}
        {...(isChosen ? asSlider : { 'aria-hidden': true, tabIndex: -1 })}
        onPointerDown={onPointerDown}
        onPointerMove={onPointerMove}
        onPointerUp={() => held.current !== null && end('keep')}
        onPointerCancel={() => held.current !== null && end('giveUp')}
        onLostPointerCapture={() => held.current !== null && end('giveUp')}
        onKeyDown={onKeyDown}
        onKeyUp={settle}
        onFocus={() => setFocused(true)}
        onBlur={() => {
          setFocused(false)
          stores.session.getState().setHover(null)
          settle()
          say(null)
        }}
      >
        {children}
      </g>
      {isTyping && over !== null
        ? createPortal(<Typed grip={grip} open={keyed} onShut={shut} onLeave={() => setTyping(false)} />, over)
        : null}
    </>
  )
}

function arrowSteps({ key, shiftKey }: KeyboardEvent): number | null {
  const many = shiftKey ? manySteps : fewSteps
  switch (key) {
    case 'ArrowUp':
    case 'ArrowRight':
      return many
    case 'ArrowDown':
    case 'ArrowLeft':
      return -many
    case 'PageUp':
      return manySteps
    case 'PageDown':
      return -manySteps
    default:
      return null
  }
}

/** Wide enough for a length and the words beside it, px. */
const typedPx = 310

/** The field of the particulars, where the handle is. */
function Typed({
  grip,
  open,
  onShut,
  onLeave,
}: {
  readonly grip: Grip
  readonly open: OpenStepRef
  readonly onShut: () => void
  readonly onLeave: () => void
}): ReactNode {
  const frame = useRef<HTMLDivElement>(null)
  useLayoutEffect(() => frame.current?.querySelector('input')?.focus({ preventScroll: true }), [])
  const { widthPx } = useChartHand()
  const left = Math.max(8, Math.min(grip.at.x - typedPx / 2, widthPx - typedPx - 8))
  // Below what is held, where it stands high; else above it.
  const isBelow = grip.at.y < 100
  const style = isBelow ? { left, top: grip.at.y + 16 } : { left, bottom: `calc(100% - ${grip.at.y - 16}px)` }
  return (
    // It only keeps what happens in the field from the chart behind it.
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-element-interactions
    <div
      ref={frame}
      className="chart-typed"
      style={style}
      role="group"
      aria-label={grip.label}
      onPointerDown={(event) => event.stopPropagation()}
      onPointerMove={(event) => event.stopPropagation()}
      onKeyUp={(event) => event.stopPropagation()}
      onKeyDown={(event) => {
        event.stopPropagation()
        if (event.key === 'Escape') onShut()
      }}
      onBlur={(event) => {
        const box = event.currentTarget
        if (box.contains(event.relatedTarget)) return
        // What was refused stays to be mended, with its reason; that is drawn when this event is over.
        setTimeout(() => box.querySelector('[aria-invalid="true"]') === null && onLeave())
      }}
    >
      {grip.field(onShut, open)}
    </div>
  )
}
