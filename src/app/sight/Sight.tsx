import type { KeyboardEvent, ReactNode } from 'react'
import { useLayoutEffect, useRef } from 'react'
import { hideables, type Hideable } from '../../store/hidden.ts'
import { upperFirst } from '../../words/names.ts'
import { hiddenText, sightWords } from './sightWords.ts'
import { useSession, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
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
  const setDesk = useDesk((desk) => desk.set)
  const list = useRef<HTMLDivElement>(null)
  useLayoutEffect(() => list.current?.querySelector('input')?.focus({ preventScroll: true }), [])

  function shut(): void {
    setDesk({ isSightOpen: false })
    document.querySelector<HTMLElement>('.canvas')?.focus({ preventScroll: true })
  }
  function onKeyDown(event: KeyboardEvent): void {
    if (event.key !== 'Escape') return
    event.preventDefault()
    event.stopPropagation()
    shut()
  }

  return (
    // Escape shuts it from wherever in it the focus is.
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-element-interactions
    <div ref={list} className="sight-list" role="group" aria-label="In sight" onKeyDown={onKeyDown}>
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
      <button type="button" className="word" onClick={shut}>
        Close
      </button>
    </div>
  )
}
