import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Id, Vehicle } from '../../core/plan/types.ts'
import { usePlan } from '../context.ts'
import { LengthField, NameField } from '../fields/fields.tsx'
import { FactRow } from '../fields/ValueField.tsx'
import { useKeepInPlan } from '../planEdit.ts'
import { numberText } from '../../words/measure.ts'
import { Fields, ParticularsHead, RemoveAct } from './parts.tsx'

export function VehicleParticulars({ id }: { readonly id: Id }): ReactNode {
  const car = usePlan((state) => state.plan.vehicles[id])
  const ratio = usePlan((state) => state.plan.railway.ratio)
  const users = usePlan((state) => Object.values(state.plan.lineClasses).filter((lineClass) => lineClass.clearanceCar === id).length)
  const keep = useKeepInPlan()
  if (car === undefined) return <p className="lead">This car is no longer there.</p>
  const set = (change: Partial<Omit<Vehicle, 'id'>>): PlanCommand => ({ kind: 'vehicle.set', id, change })
  const fullFeet = (mm: number): string => `${numberText((mm * ratio) / 304.8, 1)} ft full size`
  return (
    <>
      <ParticularsHead title={car.name} sub="Car, measured on the model" />
      <Fields>
        <NameField label="Name" value={car.name} keep={keep((name) => set({ name }))} />
        <LengthField
          label="Body length"
          value={car.bodyLengthMm}
          origin={fullFeet(car.bodyLengthMm)}
          keep={keep((bodyLengthMm) => set({ bodyLengthMm }))}
        />
        <LengthField
          label="Body width"
          value={car.bodyWidthMm}
          origin={fullFeet(car.bodyWidthMm)}
          keep={keep((bodyWidthMm) => set({ bodyWidthMm }))}
        />
        <LengthField
          label="Truck centres"
          value={car.truckCentresMm}
          origin={fullFeet(car.truckCentresMm)}
          keep={keep((truckCentresMm) => set({ truckCentresMm }))}
        />
        <LengthField
          label="Truck wheelbase"
          range="zeroUp"
          value={car.truckWheelbaseMm}
          origin={fullFeet(car.truckWheelbaseMm)}
          keep={keep((truckWheelbaseMm) => set({ truckWheelbaseMm }))}
        />
        <FactRow label="Asked by" value={users === 0 ? 'no line class' : `${users} line ${users === 1 ? 'class' : 'classes'}`} />
      </Fields>
      <div className="acts is-column">
        <RemoveAct table="vehicles" id={id} />
      </div>
    </>
  )
}
