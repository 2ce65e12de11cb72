import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Crossing, Id } from '../../core/plan/types.ts'
import { usePlan, useStores } from '../context.ts'
import { NameField } from '../fields/fields.tsx'
import { ChoiceField } from '../fields/ValueField.tsx'
import { planEdit, useKeepInPlan } from '../planEdit.ts'
import { Fields, FindingsOf, ParticularsHead, RemoveAct } from './parts.tsx'

/** What the builder chose for a place where two tracks cross. */
export function CrossingParticulars({ id }: { readonly id: Id }): ReactNode {
  const crossing = usePlan((state) => state.plan.crossings[id])
  if (crossing === undefined) return <p className="lead">This crossing is no longer there.</p>
  return (
    <>
      <ParticularsHead title={crossing.name} sub="Crossing" />
      <FindingsOf table="crossings" id={id} />
      <ChoiceFields crossing={crossing} />
      <div className="acts is-column">
        <RemoveAct table="crossings" id={id} />
      </div>
    </>
  )
}

function ChoiceFields({ crossing }: { readonly crossing: Crossing }): ReactNode {
  const stores = useStores()
  const keep = useKeepInPlan()
  const set = (change: Partial<Omit<Crossing, 'id'>>): PlanCommand => ({ kind: 'crossing.set', id: crossing.id, change })
  return (
    <Fields>
      <NameField label="Name" value={crossing.name} keep={keep((name) => set({ name }))} />
      <ChoiceField
        label="Slips"
        value={crossing.slip}
        choices={[
          { value: 'none', text: 'none' },
          { value: 'single-left', text: 'left' },
          { value: 'single-right', text: 'right' },
          { value: 'double', text: 'both' },
        ]}
        onChoose={(slip) => planEdit(stores, set({ slip }))}
      />
      <ChoiceField
        label="Elbow frogs"
        value={crossing.build.elbow}
        choices={[
          { value: 'fixed', text: 'fixed' },
          { value: 'movable', text: 'movable' },
        ]}
        onChoose={(elbow) => planEdit(stores, set({ build: { ...crossing.build, elbow } }))}
      />
    </Fields>
  )
}
