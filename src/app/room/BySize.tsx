import { useCallback, useEffect, useLayoutEffect, useRef } from 'react'
import type { ReactNode } from 'react'
import { useStores } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import type { DeskState } from '../desk.ts'

/**
 * Something made by its sizes: a button, and the form that it opens. One is open at a time; Escape shuts it, and so does whatever else
 * is begun.
 */
export function BySize({
  form,
  word,
  label,
  children,
}: {
  readonly form: NonNullable<DeskState['bySize']>
  readonly word: string
  readonly label: string
  readonly children: (shut: () => void) => ReactNode
}): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const isOpen = useDesk((state) => state.bySize === form)
  const place = useRef<HTMLElement>(null)
  const opener = useRef<HTMLButtonElement>(null)
  const wasOpen = useRef(false)
  const shut = useCallback(() => desk.getState().set({ bySize: null, benchHeld: null }), [desk])
  useEffect(() => {
    if (!isOpen) return undefined
    const stopTools = stores.session.subscribe(({ tool, stage }, before) => {
      if (tool !== 'select' || stage !== before.stage) shut()
    })
    const stopDialogs = desk.subscribe(({ dialog, bySize }) => {
      if (dialog !== null && bySize === form) shut()
    })
    const onKey = (event: KeyboardEvent): void => {
      if (event.key !== 'Escape' || event.defaultPrevented) return
      event.preventDefault()
      shut()
    }
    window.addEventListener('keydown', onKey)
    return () => {
      stopTools()
      stopDialogs()
      window.removeEventListener('keydown', onKey)
    }
  }, [isOpen, form, stores, desk, shut])
  useLayoutEffect(() => {
    // The button that was pressed is gone: the hand goes on at the first size, and from there comes back to the button.
    if (isOpen) {
      place.current?.querySelector<HTMLElement>('input, select')?.focus({ preventScroll: true })
      // All of the form, from its top where it is longer than the column.
      place.current?.scrollIntoView?.({ block: 'start' })
    } else if (wasOpen.current && document.activeElement === document.body) opener.current?.focus()
    wasOpen.current = isOpen
  }, [isOpen])

  if (isOpen)
    return (
      <section className="by-size" ref={place} aria-label={label}>
        {children(shut)}
      </section>
    )
  return (
    <button
      type="button"
      className="act"
      ref={opener}
      onClick={() => {
        stores.session.getState().setTool('select')
        desk.getState().set({ bySize: form })
      }}
    >
      {word}
    </button>
  )
}
