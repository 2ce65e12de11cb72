import type { ReactNode } from 'react'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { useEngine } from '../engine.ts'
import { SaveActs } from '../file/SaveActs.tsx'
import { Act } from '../particulars/acts.tsx'
import { planEdit } from '../planEdit.ts'
import './laying.css'
import type { ListsNow } from './useLists.ts'

/** A figure by its word; proof: how good it is known to be. */
export interface Sum {
  readonly word: string
  readonly figure: string
  readonly proof?: string
}

/** What it comes to. */
export function Sums({ sums }: { readonly sums: readonly Sum[] }): ReactNode {
  return (
    <dl className="laying-sums">
      {sums.map(({ word, figure, proof }) => [
        <dt key={word}>{word}</dt>,
        <dd key={`${word} figure`}>{figure}</dd>,
        proof === undefined ? null : (
          <dd key={`${word} proof`} className="is-proof">
            {proof}
          </dd>
        ),
      ])}
    </dl>
  )
}

/** Between the plan and the lists. */
export function ListsSwitch(): ReactNode {
  const isLists = useDesk((desk) => desk.layingShows === 'lists')
  const setDesk = useDesk((desk) => desk.set)
  return (
    <div className="acts">
      <Act isMain={!isLists} onClick={() => setDesk({ layingShows: isLists ? 'plan' : 'lists', drawer: null })}>
        {isLists ? 'Back to the plan' : 'Show the lists'}
      </Act>
    </div>
  )
}

/** What hinders the lists. */
export function ListProblems({ texts }: { readonly texts: readonly string[] }): ReactNode {
  if (texts.length === 0) return null
  return (
    <ul className="problems">
      {texts.map((text) => (
        <li key={text}>{text}</li>
      ))}
    </ul>
  )
}

/** Pieces that were cut for a plan that has become another. */
export function IdleTicks({ lists }: { readonly lists: ListsNow }): ReactNode {
  const stores = useStores()
  const { idle } = lists.ticks
  if (idle.length === 0) return null
  return (
    <div className="problems">
      <p>
        {idle.length === 1 ? 'One piece is' : `${idle.length} pieces are`} ticked off and on no list any more: what was cut fits another
        plan. Look whether it will do as it is, or keep it with the offcuts.
      </p>
      <Act onClick={() => idle.forEach(({ id }) => planEdit(stores, { kind: 'remove', table: 'ticks', id }))}>
        {idle.length === 1 ? 'Take its tick away' : 'Take their ticks away'}
      </Act>
    </div>
  )
}

/** All lists to take to the bench or to a spreadsheet. Not while they are of an older plan. */
export function SaveLists({ lists }: { readonly lists: ListsNow }): ReactNode {
  const engine = useEngine()
  const prefs = usePrefs((state) => state)
  const isOld = usePlan((state) => state.committed !== lists.plan)
  return (
    <SaveActs
      what="Lists"
      working="Writing the lists"
      isHeld={isOld}
      save={async (kind) => (await import('./listsSave.ts')).listsSave(kind, lists, engine, prefs)}
    />
  )
}
