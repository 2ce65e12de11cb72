import type { ReactNode } from 'react'
import { makerOf } from '../../core/plan/index.ts'
import type { Id } from '../../core/plan/types.ts'
import { usePlan, useStores } from '../context.ts'
import { planEdit } from '../planEdit.ts'

/** In the particulars of a made track or turnout: whose it is, and how to get at it by hand. Nothing for what was drawn by hand. */
export function MadeBy({ table, id }: { readonly table: 'tracks' | 'turnouts'; readonly id: Id }): ReactNode {
  const maker = usePlan((state) => makerOf(state.plan, table, id))
  const stores = useStores()
  if (maker === null) return null
  return (
    <p className="lead made-by">
      Made by{' '}
      <button
        type="button"
        className="word"
        onClick={() => stores.session.getState().select({ kind: 'record', table: 'makers', id: maker.id })}
      >
        {maker.name}
      </button>
      . Change its numbers there, or{' '}
      <button type="button" className="word" onClick={() => planEdit(stores, { kind: 'maker.takeApart', id: maker.id })}>
        take it apart
      </button>{' '}
      to edit this by hand.
    </p>
  )
}
