import { useLayoutEffect, useRef } from 'react'
import type { KeyboardEvent, ReactNode } from 'react'

interface TypedFieldProps {
  readonly label: string
  readonly text: string
  /** What was entered was not taken. */
  readonly isRefused?: boolean
  readonly onText: (text: string) => void
  readonly onEnter: () => void
  /** Escape, or one Backspace too many. */
  readonly onLeave: (by: 'Escape' | 'Backspace') => void
  readonly onBlur: () => void
}

/** The field beside the pointer that a typed digit opens. */
export function TypedField({ label, text, isRefused = false, onText, onEnter, onLeave, onBlur }: TypedFieldProps): ReactNode {
  const field = useRef<HTMLInputElement>(null)
  useLayoutEffect(() => {
    const input = field.current
    input?.focus({ preventScroll: true })
    // What opened the field is its first character: typing goes on behind it.
    input?.setSelectionRange(input.value.length, input.value.length)
  }, [])

  function onKeyDown(event: KeyboardEvent): void {
    if (event.key === 'Enter') onEnter()
    else if (event.key === 'Escape') onLeave('Escape')
    else if (event.key === 'Backspace' && text === '') onLeave('Backspace')
    else return
    event.preventDefault()
    event.stopPropagation()
  }

  return (
    <label className="entry">
      <span>{label}</span>
      <input
        ref={field}
        value={text}
        size={14}
        autoComplete="off"
        spellCheck={false}
        data-draft="true"
        aria-invalid={isRefused}
        onChange={(event) => onText(event.target.value)}
        onKeyDown={onKeyDown}
        onBlur={onBlur}
      />
    </label>
  )
}
