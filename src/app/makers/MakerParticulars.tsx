import type { ReactNode } from 'react'
import type { Id } from '../../core/plan/types.ts'
import { usePlan, useStores } from '../context.ts'
import { NameField } from '../fields/fields.tsx'
import { Act, Fields, ParticularsHead, RemoveAct } from '../particulars/parts.tsx'
import { planEdit, useKeepInPlan } from '../planEdit.ts'

export function MakerParticulars({ id }: { readonly id: Id }): ReactNode {
  const maker = usePlan((state) => state.plan.makers[id])
  const stores = useStores()
  const keep = useKeepInPlan()
  if (maker === undefined) return <p className="lead">This maker is no longer there.</p>
  return (
    <>
      <ParticularsHead title={maker.name} sub={`Made ${maker.made.tracks.length} tracks and ${maker.made.turnouts.length} turnouts`} />
      <Fields>
        <NameField label="Name" value={maker.name} keep={keep((name) => ({ kind: 'maker.set', id, change: { name } }))} />
      </Fields>
      <div className="acts is-column">
        <Act onClick={() => planEdit(stores, { kind: 'maker.takeApart', id })}>Take it apart to edit by hand</Act>
        <RemoveAct table="makers" id={id} />
      </div>
    </>
  )
}
