import { memo, useEffect, useId, useMemo, useRef, useState } from 'react'
import type { KeyboardEvent, ReactNode } from 'react'
import { useStores } from '../context.ts'
import { ShortForms } from './ShortForms.tsx'

/** What came of reading an entry: a value, or what is wrong with it in words. */
export type Read<V> = { readonly ok: true; readonly value: V } | { readonly ok: false; readonly message: string }

/** Takes a value into the plan (or wherever it lives); returns what is wrong in words, or null when it is done. */
export interface Keep<V> {
  commit(value: V): string | null
  /** One step of a held arrow key. Without it every step is a commit of its own. */
  nudge?(value: V): string | null
  /** The arrow key is up: the steps since then become one. */
  settle?(): void
}

export interface ValueFieldProps<V> {
  readonly label: string
  readonly value: V
  readonly show: (value: V) => string
  readonly read: (text: string) => Read<V>
  readonly keep: Keep<V>
  /** The value one arrow step up or down; absent: arrows move the cursor only. */
  readonly step?: (value: V, direction: 1 | -1) => V
  /** At the far right: where the value comes from, or what it must keep to. */
  readonly origin?: ReactNode
  /** A stronger sign that the value breaks its limit; the words stand in `origin`. */
  readonly isOver?: boolean
  readonly hideLabel?: boolean
  /** Enter has ended the entry well: what was opened for it can be shut. */
  readonly onDone?: () => void
}

/** What is typed over a shown value, until it is taken or given up. */
interface Draft {
  readonly over: string
  readonly text: string
  readonly wrong: string | null
}

/**
 * One editable value. Enter or leaving the field commits, Escape restores, arrows nudge. A wrong entry stays to be
 * mended, with the reason beneath it, and the plan keeps the old value; Escape, undo and leaving the panel give it up.
 */
export function ValueField<V>(props: ValueFieldProps<V>): ReactNode {
  const { label, value, show, read, keep, step } = props
  const id = useId()
  const shown = show(value)
  const [entered, setEntered] = useState<Draft | null>(null)
  const nudging = useRef(false)
  // When another value arrives (undo, a drag, another record), what was half typed no longer means anything.
  const draft = entered !== null && entered.over === shown ? entered : null
  const wrong = draft?.wrong ?? null

  function restore(): void {
    setEntered(null)
  }
  useRefusedGivenUp(wrong !== null, restore)

  /** False when what stands in the field is refused. */
  function commit(): boolean {
    if (draft === null) return true
    const entry = draft.text.trim() === shown.trim() ? null : read(draft.text)
    const problem = entry === null ? null : entry.ok ? keep.commit(entry.value) : entry.message
    if (problem === null) restore()
    else setEntered({ ...draft, wrong: problem })
    return problem === null
  }

  function nudge(direction: 1 | -1): void {
    if (step === undefined) return
    const typed = draft === null ? null : read(draft.text)
    const from = typed !== null && typed.ok ? typed.value : value
    const problem = (keep.nudge ?? keep.commit)(step(from, direction))
    nudging.current ||= problem === null
    setEntered(problem === null ? null : { over: shown, text: shown, wrong: problem })
  }

  function settle(): void {
    if (!nudging.current) return
    nudging.current = false
    keep.settle?.()
  }

  function onKeyDown(event: KeyboardEvent<HTMLInputElement>): void {
    if (event.key === 'Enter') {
      if (commit()) props.onDone?.()
    } else if (draft !== null && (event.key === 'Escape' || (wrong !== null && isUndo(event)))) {
      // Used up here: the desk must not also drop the selection, or take back a step.
      event.preventDefault()
      event.stopPropagation()
      restore()
    } else if (step !== undefined && (event.key === 'ArrowUp' || event.key === 'ArrowDown')) {
      event.preventDefault()
      nudge(event.key === 'ArrowUp' ? 1 : -1)
    }
  }

  return (
    <div className={`field${wrong === null ? '' : ' is-wrong'}${props.isOver === true ? ' is-over' : ''}`}>
      <label className={props.hideLabel === true ? 'visually-hidden' : 'field-label'} htmlFor={id}>
        {label}
      </label>
      <input
        id={id}
        className="field-value"
        type="text"
        autoComplete="off"
        spellCheck={false}
        value={draft?.text ?? shown}
        data-draft={draft !== null}
        aria-invalid={wrong !== null}
        aria-describedby={`${wrong === null ? '' : `${id}-wrong `}${id}-origin`}
        onChange={(event) => setEntered({ over: shown, text: event.currentTarget.value, wrong: null })}
        onFocus={(event) => event.currentTarget.select()}
        onBlur={() => {
          settle()
          commit()
        }}
        onKeyDown={onKeyDown}
        onKeyUp={settle}
      />
      <span className="field-origin" id={`${id}-origin`}>
        {props.origin}
      </span>
      {wrong === null ? null : (
        <p className="field-wrong" id={`${id}-wrong`} role="alert">
          {wrong} <span className="soft">Still {shown === '' ? 'empty' : shown}.</span>
        </p>
      )}
    </div>
  )
}

function isUndo(event: KeyboardEvent): boolean {
  return (event.ctrlKey || event.metaKey) && !event.shiftKey && event.key.toLowerCase() === 'z'
}

/** What was refused is given up by Escape wherever the focus is, by undo and redo, and when another stage or thing comes to hand. */
function useRefusedGivenUp(isRefused: boolean, giveUp: () => void): void {
  const stores = useStores()
  const act = useRef(giveUp)
  useEffect(() => {
    act.current = giveUp
  })
  useEffect(() => {
    if (!isRefused) return undefined
    const onKey = (event: globalThis.KeyboardEvent): void => {
      if (event.key === 'Escape') act.current()
    }
    const stopPlan = stores.plan.subscribe(({ redoStack }, before) => {
      if (redoStack.length !== before.redoStack.length) act.current()
    })
    const stopSession = stores.session.subscribe(({ stage, selection }, before) => {
      if (stage !== before.stage || selection !== before.selection) act.current()
    })
    window.addEventListener('keydown', onKey)
    return () => {
      stopPlan()
      stopSession()
      window.removeEventListener('keydown', onKey)
    }
  }, [isRefused, stores])
}

/** A value that is computed, not typed: same place and type as a field, so that a column reads as one table. In a drag most stay as they are. */
export const FactRow = memo(function FactRow(props: {
  readonly label: string
  readonly value: ReactNode
  readonly origin?: ReactNode
  readonly isOver?: boolean
}): ReactNode {
  const { label, value, origin } = props
  const name = useMemo(
    () => (
      <span className="field-label">
        <ShortForms text={label} />
      </span>
    ),
    [label],
  )
  const aside = useMemo(() => <span className="field-origin">{origin}</span>, [origin])
  return (
    <div className={`field is-fact${props.isOver === true ? ' is-over' : ''}`}>
      {name}
      <span className="field-value">{value}</span>
      {aside}
    </div>
  )
})

/** One of a few, by the browser's own list: it works by touch, keyboard and screen reader without help. */
export function ChoiceField<C extends string>(props: {
  readonly label: string
  readonly value: C
  /** Neighbours of one group stand under its name; of a long list one finds the group first. */
  readonly choices: readonly { readonly value: C; readonly text: string; readonly group?: string }[]
  readonly onChoose: (value: C) => void
  readonly origin?: ReactNode
}): ReactNode {
  const id = useId()
  return (
    <div className="field">
      <label className="field-label" htmlFor={id}>
        {props.label}
      </label>
      <select
        id={id}
        className="field-value"
        value={props.value}
        onChange={(event) => {
          const chosen = props.choices.find((choice) => choice.value === event.currentTarget.value)
          if (chosen !== undefined) props.onChoose(chosen.value)
        }}
      >
        {grouped(props.choices).map(({ group, choices }) => {
          const options = choices.map((choice) => (
            <option key={choice.value} value={choice.value}>
              {choice.text}
            </option>
          ))
          return group === undefined ? (
            options
          ) : (
            <optgroup key={`of ${group}`} label={group}>
              {options}
            </optgroup>
          )
        })}
      </select>
      <span className="field-origin">{props.origin}</span>
    </div>
  )
}

/** Runs of neighbours of one group; what has none stands alone. */
function grouped<G extends { readonly group?: string }>(
  choices: readonly G[],
): readonly { readonly group: string | undefined; readonly choices: readonly G[] }[] {
  const runs: { group: string | undefined; choices: G[] }[] = []
  for (const choice of choices) {
    const last = runs.at(-1)
    if (last !== undefined && last.group === choice.group) last.choices.push(choice)
    else runs.push({ group: choice.group, choices: [choice] })
  }
  return runs
}
