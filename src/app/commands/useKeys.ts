import { useEffect } from 'react'
import type { StoreApi } from 'zustand/vanilla'
import { useStores } from '../context.ts'
import type { Stores } from '../context.ts'
import { useDeskStore } from '../desk.ts'
import type { DeskState } from '../desk.ts'
import { undoAct } from '../undoNow.ts'
import { planBoxNow } from '../planBox.ts'
import { viewportFit } from '../viewportShow.ts'
import { runningKey } from '../running/runningActs.ts'
import { actionOfKeys, isGivenUp, keysOfPress, usualActionOf } from './keyMap.ts'

// Not at hand before it is asked for.
const planFiles = (): Promise<typeof import('../file/planFile.ts')> => import('../file/planFile.ts')
const removing = (): Promise<typeof import('./selectionRemove.ts')> => import('./selectionRemove.ts')
const severalActs = (): Promise<typeof import('../several/severalActs.ts')> => import('../several/severalActs.ts')
const allActions = (): Promise<typeof import('./actions.ts')> => import('./actions.ts')

function isTyping(target: EventTarget | null): boolean {
  return target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement
}

/** An open menu or sheet goes through its lines by their letters. */
function isAmongWords(target: EventTarget | null): boolean {
  return target instanceof Element && target.closest('[role="menu"], [role="listbox"], [role="dialog"]') !== null
}

/** A field with something half typed: its keys are its own. */
function isHalfTyped(target: EventTarget | null): boolean {
  return target instanceof HTMLInputElement && target.dataset['draft'] === 'true'
}

/** What is typed before the finder has come is typed into it: nothing else may take it. */
function typedAhead(event: KeyboardEvent, desk: StoreApi<DeskState>): void {
  if (event.isComposing || event.ctrlKey || event.metaKey || event.altKey || event.key === 'Tab') return
  const { finderText, set } = desk.getState()
  if (event.key.length === 1) set({ finderText: finderText + event.key })
  else if (event.key === 'Backspace') set({ finderText: finderText.slice(0, -1) })
  else if (event.key === 'Escape') set({ dialog: null, finderText: '' })
  event.stopPropagation()
  event.preventDefault()
}

type Desk = StoreApi<DeskState>

/** What is done now; null: nothing, and the browser has the key. */
type Deed = (stores: Stores, desk: Desk) => (() => unknown) | null

/** What the usual keys do, by the id of the action: at once, without the list of all that can be done. */
const deeds: { readonly [action: string]: Deed } = {
  undo: undoAct,
  redo: (stores) => stores.plan.getState().redo,
  finder: (_stores, desk) => () => desk.getState().set({ dialog: 'finder' }),
  'choose-stage': (stores) => () => severalActs().then((acts) => acts.stageSelect(stores)),
  copy: (stores) => () => severalActs().then((acts) => acts.selectedCopyBeside(stores)),
  save: (stores) => () => planFiles().then(({ planSave }) => planSave(stores)),
  open: (stores, desk) => () => planFiles().then(({ planChoose }) => planChoose(stores, desk)),
  // The page itself is no drawing; lists and sheets of the table are printed as they lie there.
  'print-plan': (stores) =>
    document.querySelector('.table .canvas') === null
      ? null
      : () => import('../print/planPrint.ts').then(({ planPrint }) => planPrint(stores)),
  remove: (stores) => () => removing().then(({ selectionRemove }) => selectionRemove(stores)),
  whole: (stores) => {
    const box = planBoxNow(stores)
    return box === null ? null : () => viewportFit(stores, box)
  },
}

/** Keys with Ctrl that a field has a use of its own for. */
const fieldsOwn: { readonly [action: string]: (target: EventTarget | null) => boolean } = {
  undo: isHalfTyped,
  redo: isHalfTyped,
  'choose-stage': isTyping,
  copy: isTyping,
}

/** What Escape gives up, the nearest to the hand first; null: there is nothing. */
function givenUp(stores: Stores, desk: Desk): (() => void) | null {
  const { makerDraft, lineAct, set } = desk.getState()
  const session = stores.session.getState()
  if (makerDraft !== null) return () => set({ makerDraft: null })
  if (session.tool !== 'select') return () => session.setTool('select')
  if (lineAct !== null) return () => set({ lineAct: null, trial: null })
  if (session.selection.kind !== 'none') return () => session.select({ kind: 'none' })
  return session.notice === null ? null : () => session.setNotice(null)
}

/** The keys of the desk. What the canvas or a field has used already is left alone. */
export function useKeys(): void {
  const stores = useStores()
  const desk = useDeskStore()
  useEffect(() => {
    function deedOf(event: KeyboardEvent, isBare: boolean): (() => unknown) | null {
      if (isBare && event.key === 'Escape') return givenUp(stores, desk)
      const action = isBare && event.key === 'Backspace' ? 'remove' : usualActionOf(event, stores.prefs.getState().keys)
      return action === null || fieldsOwn[action]?.(event.target) === true ? null : (deeds[action]?.(stores, desk) ?? null)
    }
    function onKeyDown(event: KeyboardEvent): void {
      if (event.defaultPrevented || event.isComposing || desk.getState().dialog !== null) return
      const isBare = !event.ctrlKey && !event.metaKey && !event.altKey
      if (isBare && (isTyping(event.target) || isAmongWords(event.target))) return
      if (isBare && runningKey(event, stores, desk)) event.preventDefault()
      else {
        const deed = deedOf(event, isBare)
        if (deed !== null) used(event, deed)
      }
    }
    /** Before the canvas hears it: keys of one's own, and usual ones that have been given up for them. */
    function onOwnKeyDown(event: KeyboardEvent): void {
      if (desk.getState().dialog === 'finder' && !isAmongWords(event.target)) return typedAhead(event, desk)
      const own = stores.prefs.getState().keys
      const keys = event.isComposing || desk.getState().dialog !== null ? null : keysOfPress(event)
      if (keys === null || isHalfTyped(event.target)) return
      const isHeld = event.ctrlKey || event.metaKey
      const isOthers = isTyping(event.target) || isAmongWords(event.target) || stores.session.getState().tool !== 'select'
      if (!isHeld && isOthers) return
      const id = actionOfKeys(keys, own)
      if (id !== null && own[id] !== undefined) {
        event.stopPropagation()
        used(event, () =>
          allActions().then(({ actionsNow }) => {
            const action = actionsNow(stores, desk).find((one) => one.id === id)
            if (action?.isPossible === true) action.run()
          }),
        )
      } else if (isGivenUp(keys, own)) event.stopPropagation()
    }
    window.addEventListener('keydown', onOwnKeyDown, true)
    window.addEventListener('keydown', onKeyDown)
    return () => {
      window.removeEventListener('keydown', onOwnKeyDown, true)
      window.removeEventListener('keydown', onKeyDown)
    }
  }, [stores, desk])
}

function used(event: KeyboardEvent, run: () => unknown): void {
  event.preventDefault()
  run()
}
