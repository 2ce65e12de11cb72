import type { ReactNode } from 'react'
import { readingMeasure } from '../../core/readings/index.ts'
import type { Guide, Id } from '../../core/plan/types.ts'
import { measuredText, readingWords } from '../../words/readingText.ts'
import { useDerived, usePlan, usePrefs } from '../context.ts'
import { AngleField, LengthField, NameField } from '../fields/fields.tsx'
import { Fields, ParticularsHead } from '../particulars/parts.tsx'
import { RemoveAct } from '../particulars/recordParts.tsx'
import { useKeepInPlan } from '../planEdit.ts'

export function GuideParticulars({ id }: { readonly id: Id }): ReactNode {
  const guide = usePlan((state) => state.plan.guides[id])
  const keep = useKeepInPlan()
  if (guide === undefined) return <p className="lead">This guide is no longer there.</p>
  const set = (change: Partial<Omit<Guide, 'id'>>) => ({ kind: 'guide.set', id, change }) as const
  return (
    <>
      <ParticularsHead title={guide.name} sub="A line to draw by: what is set or dragged near it is drawn to it" />
      <Fields>
        <NameField label="Name" value={guide.name} keep={keep((name) => set({ name }))} />
        <LengthField
          label="Through, right"
          kind="room"
          range="any"
          value={guide.at.x}
          keep={keep((x) => set({ at: { x, y: guide.at.y } }))}
        />
        <LengthField label="Through, up" kind="room" range="any" value={guide.at.y} keep={keep((y) => set({ at: { x: guide.at.x, y } }))} />
        <AngleField label="Angle" value={guide.angleRad} origin="from the right" keep={keep((angleRad) => set({ angleRad }))} />
      </Fields>
      <div className="acts">
        <RemoveAct table="guides" id={id} />
      </div>
    </>
  )
}

export function ReadingParticulars({ id }: { readonly id: Id }): ReactNode {
  const reading = usePlan((state) => state.plan.readings[id])
  const network = useDerived((state) => state.derived.network)
  const prefs = usePrefs((state) => state)
  const keep = useKeepInPlan()
  if (reading === undefined) return <p className="lead">This measurement is no longer there.</p>
  const { word, about } = readingWords[reading.of.kind]
  return (
    <>
      <ParticularsHead title={measuredText(readingMeasure(reading.of, network), prefs)} sub={`${word}, pinned to the plan`} />
      <p className="lead">{about} It follows the plan.</p>
      <Fields>
        <NameField label="Name" value={reading.name} keep={keep((name) => ({ kind: 'reading.set', id, change: { name } }) as const)} />
      </Fields>
      <div className="acts">
        <RemoveAct table="readings" id={id} />
      </div>
    </>
  )
}
