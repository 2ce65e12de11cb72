import type { ReactNode } from 'react'
import type { Id } from '../../core/plan/types.ts'
import { recordName } from '../../words/names.ts'
import { usePlan, useStores } from '../context.ts'

/** Leads to the track that a line goes on into, or that lies beside it. */
export function MetTrackWord({ track }: { readonly track: Id }): ReactNode {
  const stores = useStores()
  const name = usePlan(({ plan }) => recordName(plan, 'tracks', track))
  return (
    <button
      type="button"
      className="word"
      aria-label={`${name}: go there`}
      onClick={() => stores.session.getState().select({ kind: 'record', table: 'tracks', id: track })}
    >
      go there
    </button>
  )
}
