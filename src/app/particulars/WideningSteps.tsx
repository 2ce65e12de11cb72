import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { LineClass, WideningStep } from '../../core/plan/types.ts'
import { usePlan, useStores } from '../context.ts'
import { LengthField } from '../fields/fields.tsx'
import { planEdit } from '../planEdit.ts'
import type { useKeepInPlan } from '../planEdit.ts'
import { Act, Fields } from './parts.tsx'

/** A first step: a fiftieth of the gauge, below the least radius of the class; to be changed. Common practice, no source. */
const firstShare = 1 / 50

/** By how much the gauge of a diverging route is widened where it is sharp. */
export function WideningSteps({
  lineClass,
  keep,
  set,
}: {
  readonly lineClass: LineClass
  readonly keep: ReturnType<typeof useKeepInPlan>
  readonly set: (widening: readonly WideningStep[]) => PlanCommand
}): ReactNode {
  const stores = useStores()
  const gaugeMm = usePlan((state) => state.plan.railway.gaugeMm)
  const { widening, minRadiusMm } = lineClass
  const last = widening.at(-1)
  return (
    <>
      {widening.map((step, i) => (
        <Fields
          // Steps have no names; their order is what they are.
          key={`step ${i}`}
          title={widening.length === 1 ? 'Gauge widening' : `Gauge widening, step ${i + 1}`}
        >
          <LengthField
            label="Below radius"
            value={step.belowRadiusMm}
            keep={keep((belowRadiusMm) => set(widening.with(i, { ...step, belowRadiusMm })))}
          />
          <LengthField label="Wider by" kind="fine" value={step.byMm} keep={keep((byMm) => set(widening.with(i, { ...step, byMm })))} />
        </Fields>
      ))}
      <div className="acts">
        <Act
          onClick={() => {
            const next =
              last === undefined
                ? { belowRadiusMm: minRadiusMm, byMm: gaugeMm * firstShare }
                : { ...last, belowRadiusMm: last.belowRadiusMm * 0.8 }
            planEdit(stores, set([...widening, next]))
          }}
        >
          {last === undefined ? 'Widen the gauge of sharp turnouts' : 'A further step'}
        </Act>
        {last === undefined ? null : <Act onClick={() => planEdit(stores, set(widening.slice(0, -1)))}>Take the last step out</Act>}
      </div>
    </>
  )
}
