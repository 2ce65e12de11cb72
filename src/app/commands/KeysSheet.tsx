import { useState } from 'react'
import type { KeyboardEvent, ReactNode } from 'react'
import { Heading } from 'react-aria-components'
import { usePrefs, useStores } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import { Act } from '../particulars/acts.tsx'
import { actionsNow } from './actions.ts'
import type { Action } from './action.ts'
import { actionOfKeys, keysAsUsual, keysOfAction, keysOfPress } from './keyMap.ts'
import { keysReserved } from './keysReserved.ts'
import { Sheet } from './Sheet.tsx'
import './keys.css'

/** Every action with its keys. One is chosen, and the next keys that are pressed become its own. */
export default function KeysSheet(): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const setDesk = useDesk((state) => state.set)
  const own = usePrefs((prefs) => prefs.keys)
  const [actions] = useState(() => withKeysFirst(actionsNow(stores, desk).filter((action) => action.isRecord !== true)))
  const [wanted, setWanted] = useState('')
  const [waiting, setWaiting] = useState<string | null>(null)
  const [said, setSaid] = useState('')
  const wordsOf = (id: string): string => actions.find((action) => action.id === id)?.words ?? id
  const keep = (keys: typeof own): void => stores.prefs.getState().setPrefs({ keys })
  const shown = actions.filter((action) => isWanted(action, wanted))

  function onKeyDown(event: KeyboardEvent, id: string): void {
    if (waiting !== id || event.key === 'Tab') return
    event.preventDefault()
    event.stopPropagation()
    const keys = keysOfPress(event)
    if (keys === null) return
    const has = actionOfKeys(keys, own)
    if (keys === 'Escape') setSaid('Left as it was.')
    else if (has !== null && has !== id)
      return setSaid(`${keys} is for “${wordsOf(has)}”. Give that one other keys first, or press others.`)
    else {
      const reserved = keysReserved(keys)
      if (has === null && reserved !== null) return setSaid(reserved)
      if (has === null) keep({ ...own, [id]: keys })
      setSaid(`${keys} is now for “${wordsOf(id)}”.`)
    }
    setWaiting(null)
  }

  function asUsual(id: string): void {
    const answer = keysAsUsual(id, own)
    if ('takenBy' in answer) {
      setSaid(`${keysOfAction(id, {})} is for “${wordsOf(answer.takenBy)}” now. Give that one other keys first.`)
      return
    }
    keep(answer.own)
    const keys = keysOfAction(id, answer.own)
    setSaid(keys === undefined ? `“${wordsOf(id)}” has no keys.` : `${keys} is for “${wordsOf(id)}” again.`)
  }

  const shut = (): void => setDesk({ dialog: null })
  return (
    <Sheet onShut={shut}>
      <Heading slot="title">Keys</Heading>
      <p className="soft small">
        Choose an action and press the keys that shall do it. Single keys are heard while nothing is typed and no drawing tool is in hand.
      </p>
      <input
        type="search"
        className="finder-input"
        aria-label="Actions that have in their words"
        placeholder="Which action?"
        value={wanted}
        onChange={(event) => setWanted(event.target.value)}
      />
      <p role="status" className="small keys-said">
        {said}
      </p>
      {/* The list scrolls; who reads by scrolling must be able to stand in it. */}
      {/* oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex */}
      <ul className="keys" aria-label="Actions" tabIndex={0}>
        {shown.map(({ id, words }) => (
          <li key={id}>
            <button
              type="button"
              className="keys-of"
              aria-pressed={waiting === id}
              onClick={() => {
                setWaiting(id)
                setSaid(`Press the keys for “${words}”; Escape leaves it as it is.`)
              }}
              onKeyDown={(event) => onKeyDown(event, id)}
              onBlur={() => setWaiting(null)}
            >
              <span>{words}</span>
              {waiting === id ? <span className="soft small">press keys…</span> : <Caps keys={keysOfAction(id, own)} />}
            </button>
            {own[id] === undefined ? null : (
              <button type="button" className="word small" aria-label={`As usual: ${words}`} onClick={() => asUsual(id)}>
                As usual
              </button>
            )}
          </li>
        ))}
        {shown.length === 0 ? <li className="soft finder-none">Nothing is called that.</li> : null}
      </ul>
      <div className="acts">
        <Act onClick={shut}>Close</Act>
        <Act
          isDisabled={Object.keys(own).length === 0}
          onClick={() => {
            keep({})
            setSaid('All keys are as usual.')
          }}
        >
          All as usual
        </Act>
      </div>
    </Sheet>
  )
}

function Caps({ keys }: { readonly keys: string | undefined }): ReactNode {
  if (keys === undefined) return null
  return (
    <span className="caps">
      {keys.split(' ').map((cap) => (
        <kbd key={cap}>{cap}</kbd>
      ))}
    </span>
  )
}

function isWanted({ words, about, also, group }: Action, wanted: string): boolean {
  const text = `${words} ${about ?? ''} ${also ?? ''} ${group}`.toLowerCase()
  return wanted
    .toLowerCase()
    .split(/\s+/)
    .every((part) => text.includes(part))
}

function withKeysFirst(actions: readonly Action[]): readonly Action[] {
  return [...actions.filter(({ keys }) => keys !== undefined), ...actions.filter(({ keys }) => keys === undefined)]
}
