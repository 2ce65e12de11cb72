import type { ReactNode } from 'react'
import { useEffect, useLayoutEffect, useRef } from 'react'
import { hideables, type Hideable } from '../../store/hidden.ts'
import { upperFirst } from '../../words/names.ts'
import { hiddenText, sightWords } from './sightWords.ts'
import { useSession, useStores } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import { escapeTaken } from '../escapeTaken.ts'
import { stageOrder } from '../stages/stageWords.ts'
import { sightToggle } from './sightActions.ts'
import './sight.css'

const stageOf: { readonly [K in Hideable]: (typeof stageOrder)[number]['name'] } = {
  room: 'room',
  benchwork: 'room',
  underlays: 'room',
  tracks: 'line',
  guides: 'line',
  readings: 'line',
  turnouts: 'turnouts',
  roadbed: 'roadbed',
  ties: 'track',
  cuts: 'track',
  findings: 'checks',
}

/** What is in sight on the canvas, by the stages that it belongs to; shut, no more than how much is hidden. */
export function Sight(): ReactNode {
  const isOpen = useDesk((desk) => desk.isSightOpen)
  const hidden = useSession((session) => session.hidden)
  const setHidden = useSession((session) => session.setHidden)
  return (
    <div className="sight" data-own-pointer="">
      {isOpen ? <SightList hidden={hidden} /> : null}
      {hidden.length === 0 ? null : (
        <p className="sight-told">
          <span role="status">{hiddenText(hidden.length)}</span>
          <button type="button" className="word" aria-label="Show what is hidden" onClick={() => setHidden([])}>
            Show
          </button>
        </p>
      )}
    </div>
  )
}

function SightList({ hidden }: { readonly hidden: readonly Hideable[] }): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const list = useRef<HTMLDivElement>(null)
  useLayoutEffect(() => list.current?.querySelector('input')?.focus({ preventScroll: true }), [])
  useEffect(() => {
    const shut = (): void => desk.getState().set({ isSightOpen: false })
    const stopKeys = escapeTaken(() => listShut(desk, list.current))
    // It lies over the plan: it makes way for a tool, and a sheet of words has the Escape key for itself.
    const stopTools = stores.session.subscribe(({ tool }, before) => {
      if (tool !== before.tool && tool !== 'select') shut()
    })
    const stopDialogs = desk.subscribe(({ dialog }) => {
      if (dialog !== null) shut()
    })
    return () => {
      stopKeys()
      stopTools()
      stopDialogs()
    }
  }, [stores, desk])

  return (
    <div ref={list} className="sight-list" role="group" aria-label="In sight">
      {stageOrder.map(({ name, word }) => {
        const kinds = hideables.filter((kind) => stageOf[kind] === name)
        return kinds.length === 0 ? null : (
          <fieldset key={name}>
            <legend>{word}</legend>
            {kinds.map((kind) => (
              <label key={kind}>
                <input type="checkbox" checked={!hidden.includes(kind)} onChange={() => sightToggle(stores, kind)} />
                <span>{upperFirst(sightWords[kind])}</span>
              </label>
            ))}
          </fieldset>
        )
      })}
      <p className="soft small">Hidden on the canvas only: checks and sheets have it all.</p>
      <button type="button" className="word" onClick={() => listShut(desk, list.current)}>
        Close
      </button>
    </div>
  )
}

/** Keys that were in it go on at the plan. */
function listShut(desk: ReturnType<typeof useDeskStore>, list: HTMLElement | null): void {
  const hadFocus = list?.contains(document.activeElement) === true
  desk.getState().set({ isSightOpen: false })
  if (hadFocus) document.querySelector<HTMLElement>('.canvas')?.focus({ preventScroll: true })
}
