import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Id, Vehicle } from '../../core/plan/types.ts'
import { usePlan } from '../context.ts'
import { FactRow } from '../fields/ValueField.tsx'
import { useKeepInPlan } from '../planEdit.ts'
import { VehicleFields } from '../vehicles/VehicleFields.tsx'
import { ParticularsHead } from './parts.tsx'
import { RemoveAct } from './recordParts.tsx'

export function VehicleParticulars({ id }: { readonly id: Id }): ReactNode {
  const car = usePlan((state) => state.plan.vehicles[id])
  const ratio = usePlan((state) => state.plan.railway.ratio)
  const users = usePlan((state) => Object.values(state.plan.lineClasses).filter((lineClass) => lineClass.cars.includes(id)).length)
  const keep = useKeepInPlan()
  if (car === undefined) return <p className="lead">This car is no longer there.</p>
  const set = (change: Partial<Omit<Vehicle, 'id'>>): PlanCommand => ({ kind: 'vehicle.set', id, change })
  return (
    <>
      <ParticularsHead title={car.name} sub={`${car.wheels === null ? 'Car or engine' : `Engine, ${car.wheels}`}, measured on the model`} />
      <VehicleFields car={car} ratio={ratio} keep={keep} set={set}>
        <FactRow label="Asked by" value={users === 0 ? 'no line class' : `${users} line ${users === 1 ? 'class' : 'classes'}`} />
      </VehicleFields>
      <div className="acts is-column">
        <RemoveAct table="vehicles" id={id} />
      </div>
    </>
  )
}
