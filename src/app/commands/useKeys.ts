import { useEffect } from 'react'
import type { StoreApi } from 'zustand/vanilla'
import { useStores } from '../context.ts'
import { useDeskStore } from '../desk.ts'
import type { DeskState } from '../desk.ts'
import { planBoxNow } from '../planBox.ts'
import { viewportFit } from '../viewportShow.ts'
import { runningKey } from '../running/runningActs.ts'
import { actionOfKeys, isGivenUp, keysOfPress } from './keyMap.ts'

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

/** The keys of the desk. What the canvas or a field has used already is left alone. */
export function useKeys(): void {
  const stores = useStores()
  const desk = useDeskStore()
  useEffect(() => {
    function onKeyDown(event: KeyboardEvent): void {
      if (event.defaultPrevented || event.isComposing || desk.getState().dialog !== null) return
      const key = event.key.length === 1 ? event.key.toLowerCase() : event.key
      if (event.ctrlKey || event.metaKey) {
        if (event.altKey) return
        const { undo, redo } = stores.plan.getState()
        if (key === 'z' && !isHalfTyped(event.target)) used(event, event.shiftKey ? redo : undo)
        else if (key === 'y' && !isHalfTyped(event.target)) used(event, redo)
        else if (key === 'k') used(event, () => desk.getState().set({ dialog: 'finder' }))
        else if (key === 'a' && !isTyping(event.target)) used(event, () => void severalActs().then((acts) => acts.stageSelect(stores)))
        else if (key === 'd' && !isTyping(event.target))
          used(event, () => void severalActs().then((acts) => acts.selectedCopyBeside(stores)))
        else if (key === 's') used(event, () => void planFiles().then(({ planSave }) => planSave(stores)))
        else if (key === 'o') used(event, () => void planFiles().then(({ planChoose }) => planChoose(stores, desk)))
        // The page itself is no drawing; lists and sheets of the table are printed as they lie there.
        else if (key === 'p' && document.querySelector('.table .canvas') !== null)
          used(event, () => void import('../print/planPrint.ts').then(({ planPrint }) => planPrint(stores)))
        return
      }
      if (isTyping(event.target) || isAmongWords(event.target) || event.altKey) return
      if (key === '/') used(event, () => desk.getState().set({ dialog: 'finder' }))
      else if (runningKey(key, stores, desk)) event.preventDefault()
      else if (key === 'Delete' || key === 'Backspace')
        used(event, () => void removing().then(({ selectionRemove }) => selectionRemove(stores)))
      else if (key === 'Home') {
        const box = planBoxNow(stores)
        if (box !== null) used(event, () => viewportFit(stores, box))
      } else if (key === 'Escape') {
        const session = stores.session.getState()
        if (desk.getState().isSightOpen) used(event, () => desk.getState().set({ isSightOpen: false }))
        else if (desk.getState().makerDraft !== null) used(event, () => desk.getState().set({ makerDraft: null }))
        else if (session.tool !== 'select') used(event, () => session.setTool('select'))
        else if (desk.getState().lineAct !== null) used(event, () => desk.getState().set({ lineAct: null, trial: null }))
        else if (session.selection.kind !== 'none') used(event, () => session.select({ kind: 'none' }))
        else if (session.notice !== null) used(event, () => session.setNotice(null))
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
