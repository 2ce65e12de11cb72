import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Id, Material } from '../../core/plan/types.ts'
import { lengthText } from '../../words/measure.ts'
import { usePlan, usePrefs } from '../context.ts'
import { NameField } from '../fields/fields.tsx'
import { PercentField } from '../fields/layingFields.tsx'
import { FactRow } from '../fields/ValueField.tsx'
import { Fields, ParticularsHead } from '../particulars/parts.tsx'
import { RemoveAct } from '../particulars/recordParts.tsx'
import { useKeepInPlan } from '../planEdit.ts'

/** A strip of half an inch, to show what a strain comes to. */
const shownMm = 12.7

/** What roadbed is made of, and how far it bends. */
export function MaterialParticulars({ id }: { readonly id: Id }): ReactNode {
  const material = usePlan((state) => state.plan.materials[id])
  const prefs = usePrefs((state) => state)
  const keep = useKeepInPlan()
  if (material === undefined) return <p className="lead">This material is no longer on the list.</p>
  const set = (change: Partial<Omit<Material, 'id'>>): PlanCommand => ({ kind: 'material.set', id, change })
  return (
    <>
      <ParticularsHead title={material.name} sub="Material of roadbed" />
      <Fields>
        <NameField label="Name" value={material.name} keep={keep((name) => set({ name }))} />
        <PercentField
          label="Bends to a strain of"
          decimals={2}
          isMore
          value={material.strainLimit}
          origin="common practice"
          keep={keep((strainLimit) => set({ strainLimit }))}
        />
        <FactRow
          label={`A strip of ${lengthText(shownMm, prefs)}`}
          value={lengthText(shownMm / (2 * material.strainLimit), prefs)}
          origin="least radius, w / 2R"
        />
      </Fields>
      <p className="soft small">
        Bend a strip of your own round a pencilled arc until it tears or stays bent, and type the strain just short of it: half its width by
        the radius.
      </p>
      <div className="acts is-column">
        <RemoveAct table="materials" id={id} />
      </div>
    </>
  )
}
