import { useId, useLayoutEffect, useRef, useState } from 'react'
import type { ReactNode } from 'react'
import { silenceOf } from '../../core/checks/index.ts'
import type { Finding } from '../../core/checks/types.ts'
import { useStores } from '../context.ts'
import { Act } from '../particulars/acts.tsx'
import { planEdit } from '../planEdit.ts'

/** Silences a finding at this place. The reason stays with it: in a year nobody remembers why. */
export function SilenceForm({ finding, onShut }: { readonly finding: Finding; readonly onShut: () => void }): ReactNode {
  const stores = useStores()
  const [reason, setReason] = useState('')
  const [isAsked, setAsked] = useState(false)
  const [field, hint] = [useId(), useId()]
  const input = useRef<HTMLInputElement>(null)
  // It is opened to be typed into.
  useLayoutEffect(() => input.current?.focus(), [])
  const isEmpty = reason.trim() === ''
  return (
    <form
      className="finding-panel"
      onSubmit={(event) => {
        event.preventDefault()
        setAsked(true)
        if (!isEmpty && planEdit(stores, { kind: 'silence.add', record: silenceOf(finding, reason.trim()) }).problem === null) onShut()
      }}
    >
      <label className="small" htmlFor={field}>
        Why it may stay
      </label>
      <input
        id={field}
        className="finding-reason"
        ref={input}
        autoComplete="off"
        value={reason}
        aria-describedby={hint}
        aria-invalid={isAsked && isEmpty}
        onChange={(event) => setReason(event.currentTarget.value)}
        onKeyDown={(event) => (event.key === 'Escape' ? onShut() : undefined)}
      />
      <p className="soft small" id={hint}>
        {isAsked && isEmpty
          ? 'A few words are needed; the report lists them.'
          : 'From then on it is silenced: not counted here, kept in the plan with its reason, and listed in the report.'}
      </p>
      <div className="acts">
        <button type="submit" className="act is-main">
          Silence it here
        </button>
        <Act onClick={onShut}>Leave</Act>
      </div>
    </form>
  )
}
