import type { Modifiers, ToolHost } from '../../tools/index.ts'
import { escapeTaken } from '../escapeTaken.ts'
import { planOfScreen, wheelWish, type ScreenPoint, type View } from './viewport.ts'

/*
 * From raw pointers, fingers and wheel to what they mean: pushing and zooming the drawing, or the tool. Pointer moves come
 * faster than frames; they are gathered and done once a frame.
 */

export interface GestureTarget {
  view(): View
  /** Pushes the drawing as a picture while the gesture lasts. */
  panTo(right: number, down: number): void
  panEnd(): void
  zoomAt(place: ScreenPoint, factor: number): void
  pinch(from: readonly [ScreenPoint, ScreenPoint], to: readonly [ScreenPoint, ScreenPoint]): void
  pointerAt(place: ScreenPoint | null): void
  /** What can be done is asked for at a place: by the right button, or by a press that stays. Null: by a key, so without a place. */
  menuAt(place: ScreenPoint | null): void
  host(): ToolHost
  /** Fingers reach wider than pointers. */
  reachSet(reach: number): void
}

type Mode =
  | { readonly kind: 'none' }
  /** Pressed where the tool does not drag: a click is the tool's, a drag pushes the drawing. */
  | { readonly kind: 'pressed'; readonly from: ScreenPoint }
  | { readonly kind: 'tool' }
  | { readonly kind: 'pan'; readonly from: ScreenPoint }
  /** What the press was for has come, or was given up; nothing more does until it ends. */
  | { readonly kind: 'held' }
  | { readonly kind: 'pinch'; readonly places: readonly [ScreenPoint, ScreenPoint] }

/** A press wanders less than this before it is a push, px. */
const slopPx = 4
/** A finger or a pen that stays for this long asks what can be done there; it trembles less than so much, px. */
const holdMs = 500
const holdSlopPx = 10
/** A finger means anything within this many times a pointer's reach. */
const fingerReach = 2.2
/** A trackpad's push is over when it has been still this long. */
const wheelRestMs = 140

/** Listens on the canvas; the function that comes back stops it. */
export function gesturesAttach(element: HTMLElement, target: GestureTarget): () => void {
  let mode: Mode = { kind: 'none' }
  let isSpaceHeld = false
  let frame = 0
  let waiting: (() => void) | null = null
  let wheelPan: { right: number; down: number; timer: ReturnType<typeof setTimeout> } | null = null
  let zoomFactor = 1
  let hold: { readonly at: ScreenPoint; readonly timer: ReturnType<typeof setTimeout> } | null = null
  const fingers = new Map<number, ScreenPoint>()

  /** As long as something is held by the hand, Escape gives it up, wherever the keys go. */
  let escape: (() => void) | null = null
  function modeSet(next: Mode): void {
    mode = next
    const isHeld = next.kind === 'tool' || next.kind === 'pressed' || next.kind === 'pan'
    if (isHeld) escape ??= escapeTaken(escaped)
    else {
      escape?.()
      escape = null
    }
  }
  function escaped(): void {
    holdEnd()
    waiting = null
    if (mode.kind === 'pan') {
      // The drawing goes back to where it lay; what a tool has begun stays.
      target.panTo(0, 0)
      target.panEnd()
    } else target.host().send({ kind: 'cancel' })
    modeSet({ kind: 'held' })
  }

  function placeOf(event: MouseEvent): ScreenPoint {
    const rect = element.getBoundingClientRect()
    return { left: event.clientX - rect.left, top: event.clientY - rect.top }
  }

  function modifiersOf(event: MouseEvent): Modifiers {
    return { shift: event.shiftKey, alt: event.altKey, ctrl: event.ctrlKey || event.metaKey }
  }

  /** Only the last job of a frame is done; jobs of one gesture replace each other. */
  function soon(job: () => void): void {
    waiting = job
    if (frame === 0) frame = requestAnimationFrame(flush)
  }
  function flush(): void {
    if (frame !== 0) cancelAnimationFrame(frame)
    frame = 0
    const job = waiting
    waiting = null
    job?.()
  }

  function toolSend(kind: 'pointerDown' | 'pointerMove' | 'pointerUp' | 'doubleClick', event: MouseEvent, place = placeOf(event)): void {
    target.host().send({ kind, at: planOfScreen(target.view(), place), modifiers: modifiersOf(event) })
  }

  function twoFingers(): readonly [ScreenPoint, ScreenPoint] | null {
    const [a, b] = fingers.values()
    return a !== undefined && b !== undefined ? [a, b] : null
  }

  function holdBegin(at: ScreenPoint): void {
    holdEnd()
    hold = { at, timer: setTimeout(() => holdDone(at), holdMs) }
  }
  function holdEnd(): void {
    if (hold !== null) clearTimeout(hold.timer)
    hold = null
  }
  function holdDone(at: ScreenPoint): void {
    giveUp()
    modeSet({ kind: 'held' })
    target.menuAt(at)
  }

  /** Ends whatever is under way without finishing it. */
  function giveUp(): void {
    holdEnd()
    flush()
    if (mode.kind === 'tool' || mode.kind === 'pressed') target.host().send({ kind: 'pointerLeave' })
    else if (mode.kind === 'pan') target.panEnd()
    modeSet({ kind: 'none' })
  }

  /** Marks and fields over the canvas handle their own pointers. */
  function isOthers(event: Event): boolean {
    return event.target instanceof Element && event.target.closest('[data-own-pointer]') !== null
  }

  function onPointerDown(event: PointerEvent): void {
    if (isOthers(event)) return
    wheelRest()
    const place = placeOf(event)
    const isTouch = event.pointerType === 'touch'
    target.reachSet(isTouch ? fingerReach : 1)
    target.pointerAt(place)
    if (isTouch) {
      fingers.set(event.pointerId, place)
      const pair = twoFingers()
      if (pair !== null) {
        // The second finger says that the first one meant nothing by itself.
        giveUp()
        modeSet({ kind: 'pinch', places: pair })
        return
      }
    }
    if (mode.kind !== 'none') return
    capture(event)
    if (event.button === 1 || (event.button === 0 && isSpaceHeld)) {
      event.preventDefault()
      modeSet({ kind: 'pan', from: place })
      return
    }
    if (event.button !== 0) return
    const isTools = target.host().takesDrag(planOfScreen(target.view(), place), modifiersOf(event))
    modeSet(isTools ? { kind: 'tool' } : { kind: 'pressed', from: place })
    toolSend('pointerDown', event)
    if (event.pointerType === 'touch' || event.pointerType === 'pen') holdBegin(place)
  }

  function onPointerMove(event: PointerEvent): void {
    const place = placeOf(event)
    if (event.pointerType === 'touch') {
      if (!fingers.has(event.pointerId)) return
      fingers.set(event.pointerId, place)
    }
    if (hold !== null && Math.hypot(place.left - hold.at.left, place.top - hold.at.top) > holdSlopPx) holdEnd()
    switch (mode.kind) {
      case 'held':
        return
      case 'none':
        if (event.pointerType === 'touch' || isOthers(event)) return
        soon(() => {
          target.pointerAt(place)
          toolSend('pointerMove', event, place)
        })
        return
      case 'pressed':
        if (Math.hypot(place.left - mode.from.left, place.top - mode.from.top) < slopPx) return
        holdEnd()
        target.host().send({ kind: 'pointerLeave' })
        modeSet({ kind: 'pan', from: mode.from })
        panFrom(mode.from, place)
        return
      case 'tool':
        soon(() => {
          target.pointerAt(place)
          toolSend('pointerMove', event, place)
        })
        return
      case 'pan':
        panFrom(mode.from, place)
        return
      case 'pinch': {
        const before = mode.places
        soon(() => {
          const now = twoFingers()
          if (now === null || mode.kind !== 'pinch') return
          target.pinch(before, now)
          modeSet({ kind: 'pinch', places: now })
        })
      }
    }
  }

  function panFrom(from: ScreenPoint, to: ScreenPoint): void {
    soon(() => target.panTo(to.left - from.left, to.top - from.top))
  }

  function onPointerUp(event: PointerEvent): void {
    fingers.delete(event.pointerId)
    holdEnd()
    flush()
    switch (mode.kind) {
      case 'none':
        return
      case 'held':
        modeSet({ kind: 'none' })
        return
      case 'tool':
      case 'pressed':
        modeSet({ kind: 'none' })
        toolSend('pointerUp', event)
        return
      case 'pan':
        modeSet({ kind: 'none' })
        target.panEnd()
        return
      case 'pinch':
        // The finger that stays does not begin to draw.
        if (fingers.size === 0) modeSet({ kind: 'none' })
    }
  }

  function onPointerCancel(event: PointerEvent): void {
    fingers.delete(event.pointerId)
    if (mode.kind === 'pinch') modeSet({ kind: 'none' })
    else giveUp()
  }

  /** The browser has given the pointer to something else; after a release nothing is held any more. */
  function onCaptureLost(): void {
    if (mode.kind === 'tool' || mode.kind === 'pressed' || mode.kind === 'pan') giveUp()
  }

  function onPointerLeave(event: PointerEvent): void {
    if (mode.kind !== 'none' || event.pointerType === 'touch') return
    flush()
    target.pointerAt(null)
    target.host().send({ kind: 'pointerLeave' })
  }

  /** Words and fields over the canvas have the browser's own menu; at a mark, as beside it, stands what can be done there. */
  function isWords(event: Event): boolean {
    return isOthers(event) && !(event.target instanceof SVGElement)
  }

  function onContextMenu(event: MouseEvent): void {
    if (isWords(event)) return
    event.preventDefault()
    if (mode.kind === 'held') return
    const by = 'pointerType' in event ? event.pointerType : null
    // Some browsers have waited for the press that stays themselves.
    if (by === 'touch' || by === 'pen') holdDone(placeOf(event))
    else {
      giveUp()
      // The key for it comes without a button.
      target.menuAt(event.button === 2 || event.ctrlKey ? placeOf(event) : null)
    }
  }

  function onDoubleClick(event: MouseEvent): void {
    if (!isOthers(event)) toolSend('doubleClick', event)
  }

  function onWheel(event: WheelEvent): void {
    if (isOthers(event)) return
    event.preventDefault()
    if (mode.kind === 'pan' || mode.kind === 'pinch') return
    const wish = wheelWish(event)
    if (wish.kind === 'zoom') {
      wheelRest()
      const place = placeOf(event)
      // A pinch comes in steps faster than frames.
      zoomFactor *= wish.factor
      soon(() => {
        target.zoomAt(place, zoomFactor)
        zoomFactor = 1
      })
      return
    }
    if (wheelPan !== null) clearTimeout(wheelPan.timer)
    const right = (wheelPan?.right ?? 0) + wish.right
    const down = (wheelPan?.down ?? 0) + wish.down
    wheelPan = { right, down, timer: setTimeout(wheelRest, wheelRestMs) }
    target.panTo(right, down)
  }

  function wheelRest(): void {
    if (wheelPan === null) return
    clearTimeout(wheelPan.timer)
    wheelPan = null
    target.panEnd()
  }

  function onKey(event: KeyboardEvent): void {
    if (event.key !== ' ' || isOthers(event)) return
    // Space holds the sheet; it must not scroll the page or press a button of the canvas.
    if (document.activeElement === element) event.preventDefault()
    isSpaceHeld = event.type === 'keydown' && document.activeElement === element
    element.toggleAttribute('data-space', isSpaceHeld)
  }

  function capture(event: PointerEvent): void {
    // Not in every place that runs a DOM; without it a drag ends at the edge of the canvas.
    if ('setPointerCapture' in element) element.setPointerCapture(event.pointerId)
  }

  const listen: readonly (readonly [string, (event: never) => void, AddEventListenerOptions?])[] = [
    ['pointerdown', onPointerDown],
    ['pointermove', onPointerMove],
    ['pointerup', onPointerUp],
    ['pointercancel', onPointerCancel],
    ['lostpointercapture', onCaptureLost],
    ['pointerleave', onPointerLeave],
    ['contextmenu', onContextMenu],
    ['dblclick', onDoubleClick],
    ['wheel', onWheel, { passive: false }],
  ]
  for (const [name, run, options] of listen) element.addEventListener(name, run as EventListener, options)
  window.addEventListener('keydown', onKey)
  window.addEventListener('keyup', onKey)
  window.addEventListener('blur', giveUp)

  return () => {
    giveUp()
    wheelRest()
    for (const [name, run] of listen) element.removeEventListener(name, run as EventListener)
    window.removeEventListener('keydown', onKey)
    window.removeEventListener('keyup', onKey)
    window.removeEventListener('blur', giveUp)
  }
}
