import type { KeyboardEvent } from 'react'
import type { StoreApi } from 'zustand/vanilla'
import type { ToolHost } from '../../tools/index.ts'
import type { Stores } from '../context.ts'
import type { LiveState } from './live.ts'
import { viewNow, viewPush, viewWhole, viewZoomAtMiddle } from './viewActs.ts'
import { planOfScreen } from './viewport.ts'

/** An arrow without a selection pushes the drawing this far, px. */
const pushPx = 60
const pushes: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [pushPx, 0],
  ArrowRight: [-pushPx, 0],
  ArrowUp: [0, pushPx],
  ArrowDown: [0, -pushPx],
}

type Key = Pick<KeyboardEvent, 'key' | 'shiftKey' | 'altKey' | 'ctrlKey' | 'metaKey'>

/** Does what a key means on the canvas; false when it means nothing here. */
export function canvasKey(event: Key, host: ToolHost, stores: Stores, live: StoreApi<LiveState>): boolean {
  if (event.ctrlKey || event.metaKey) return false
  const { key } = event
  // Where a measure can be typed, a digit begins it; elsewhere 0 shows the whole.
  const isWhole = key === '0' && stores.session.getState().tool === 'select' && stores.plan.getState().transaction === null
  if (!isWhole && host.entryKind() !== null && /^[0-9.<@#¼½¾⅛⅜⅝⅞]$/.test(key)) {
    host.entryOpen(key)
    return true
  }
  // An r begins a radius where one can be typed.
  const isRadius = (key === 'r' || key === 'R') && (host.entryKind() === 'pi' || host.entryKind() === 'piStep')
  if (isRadius && !event.altKey) {
    host.entryOpen('r')
    return true
  }
  const session = stores.session.getState()
  switch (key) {
    case '+':
    case '=':
      viewZoomAtMiddle(stores, live, 1.25)
      return true
    case '-':
    case '_':
      viewZoomAtMiddle(stores, live, 1 / 1.25)
      return true
    case '0':
      viewWhole(stores, live)
      return true
    case ' ':
      // With a tool in hand the middle of the canvas is where the keyboard points: arrows bring the plan under it.
      if (session.tool === 'select') return false
      middlePress(host, stores, live)
      return true
    case 'Escape':
      // Nothing to give up here: the key is the desk's.
      if (session.tool === 'select' && session.selection.kind === 'none' && stores.plan.getState().transaction === null) return false
      host.send({ kind: 'cancel' })
      return true
    case 'Enter':
      host.send({ kind: 'complete' })
      return true
  }
  const push = pushes[key]
  if (push !== undefined && (session.tool !== 'select' || session.selection.kind === 'none')) {
    viewPush(stores, live, push[0], push[1])
    return true
  }
  const isTools = push !== undefined || key === 'Delete' || key === 'Backspace' || /^[a-zA-Z]$/.test(key)
  if (!isTools) return false
  host.send({ kind: 'key', key, modifiers: { shift: event.shiftKey, alt: event.altKey } })
  return true
}

/** What a click in the middle of the canvas does. */
function middlePress(host: ToolHost, stores: Stores, live: StoreApi<LiveState>): void {
  const view = viewNow(stores, live)
  const middle = { left: view.size.width / 2, top: view.size.height / 2 }
  const at = planOfScreen(view, middle)
  const modifiers = { shift: false, alt: false, ctrl: false }
  live.setState({ pointer: middle })
  for (const kind of ['pointerMove', 'pointerDown', 'pointerUp'] as const) host.send({ kind, at, modifiers })
}
