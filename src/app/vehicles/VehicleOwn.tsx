import { useState } from 'react'
import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Id, Vehicle } from '../../core/plan/types.ts'
import { swing, vehicleCarShape } from '../../core/vehicles/index.ts'
import { swingProblemText } from '../../words/swingText.ts'
import type { MeasurePrefs } from '../../words/measure.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { keepIn } from '../fields/keepIn.ts'
import type { Keep } from '../fields/ValueField.tsx'
import { planEdit } from '../planEdit.ts'
import { VehicleFields } from './VehicleFields.tsx'

type Draft = Omit<Vehicle, 'id'>

interface VehicleOwnProps {
  /** Typical sizes at the railway's scale. */
  readonly start: Draft
  readonly onAdded: (id: Id) => void
  readonly onLeave: () => void
}

/** A car or engine of one's own sizes: it comes into the plan when it has a name and can stand on its wheels. */
export function VehicleOwn({ start, onAdded, onLeave }: VehicleOwnProps): ReactNode {
  const stores = useStores()
  const ratio = usePlan((state) => state.plan.railway.ratio)
  const prefs = usePrefs((state) => state)
  const [draft, setDraft] = useState<Draft>({ ...start, name: '' })
  const [problem, setProblem] = useState<string | null>(null)
  const keep = <V,>(toCommand: (value: V) => PlanCommand): Keep<V> =>
    keepIn((value) => {
      const command = toCommand(value)
      if (command.kind === 'vehicle.set') setDraft((before) => ({ ...before, ...command.change }))
    })
  function add(): void {
    const taken = Object.values(stores.plan.getState().plan.vehicles).map(({ name }) => name)
    const wrong = draftProblem(draft, taken, prefs)
    setProblem(wrong)
    if (wrong !== null) return
    const done = planEdit(stores, { kind: 'vehicle.add', record: draft })
    if (done.added === null) setProblem(done.problem)
    else onAdded(done.added)
  }
  return (
    <>
      <VehicleFields car={draft} ratio={ratio} keep={keep} set={(change) => ({ kind: 'vehicle.set', id: '', change })} />
      {problem === null ? null : (
        <p className="lead" role="alert">
          {problem}
        </p>
      )}
      <div className="acts">
        <button type="button" className="act" onClick={add}>
          Add it
        </button>
        <button type="button" className="act" onClick={onLeave}>
          Leave it
        </button>
      </div>
    </>
  )
}

/** So wide a curve that only sizes that contradict each other can be at fault. */
const wideMm = 1e9

function draftProblem({ name, frames, overCouplersMm }: Draft, taken: readonly string[], prefs: MeasurePrefs): string | null {
  if (name === '') return 'It has no name yet. Type one, so that lists and findings can say which one it is.'
  if (taken.includes(name)) return `There is a ${name} already. Give this one another name.`
  for (const frame of frames) {
    const shape = vehicleCarShape({ frames: [frame] })
    const result = swing(wideMm, shape)
    if (!result.ok) return swingProblemText(result.problem, prefs)
    if (shape.bodyLengthMm > overCouplersMm)
      return 'A body is longer than the whole over its couplers. Make it shorter, or the whole longer.'
  }
  return null
}
