import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Id, Vehicle } from '../../core/plan/types.ts'
import { usePlan } from '../context.ts'
import { AngleField, LengthField, NameField, NumberField } from '../fields/fields.tsx'
import { FrameFields } from './FrameFields.tsx'
import { FactRow } from '../fields/ValueField.tsx'
import { useKeepInPlan } from '../planEdit.ts'
import { numberText } from '../../words/measure.ts'
import { Fields, ParticularsHead, RemoveAct } from './parts.tsx'

export function VehicleParticulars({ id }: { readonly id: Id }): ReactNode {
  const car = usePlan((state) => state.plan.vehicles[id])
  const ratio = usePlan((state) => state.plan.railway.ratio)
  const users = usePlan((state) => Object.values(state.plan.lineClasses).filter((lineClass) => lineClass.cars.includes(id)).length)
  const keep = useKeepInPlan()
  if (car === undefined) return <p className="lead">This car is no longer there.</p>
  const set = (change: Partial<Omit<Vehicle, 'id'>>): PlanCommand => ({ kind: 'vehicle.set', id, change })
  const fullFeet = (mm: number): string => `${numberText((mm * ratio) / 304.8, 1)} ft full size`
  return (
    <>
      <ParticularsHead title={car.name} sub={`${car.wheels === null ? 'Car or engine' : `Engine, ${car.wheels}`}, measured on the model`} />
      <Fields>
        <NameField label="Name" value={car.name} keep={keep((name) => set({ name }))} />
        <LengthField
          label="Over couplers"
          value={car.overCouplersMm}
          origin={fullFeet(car.overCouplersMm)}
          keep={keep((overCouplersMm) => set({ overCouplersMm }))}
        />
        <LengthField
          label="Height"
          range="zeroUp"
          value={car.heightMm}
          origin={fullFeet(car.heightMm)}
          keep={keep((heightMm) => set({ heightMm }))}
        />
        <NumberField
          label="Weight"
          value={car.weightG}
          decimals={1}
          min={0}
          stepBy={5}
          origin={car.weightG === 0 ? 'g, not weighed yet' : 'g'}
          keep={keep((weightG) => set({ weightG }))}
        />
        <AngleField
          label="Coupler swing"
          value={car.couplerSwingRad}
          origin="to each side"
          keep={keep((couplerSwingRad) => set({ couplerSwingRad }))}
        />
        <FactRow label="Asked by" value={users === 0 ? 'no line class' : `${users} line ${users === 1 ? 'class' : 'classes'}`} />
      </Fields>
      {car.frames.map((frame, i) => (
        <FrameFields
          // Frames have no names; their order is what they are.
          key={`${frame.kind} ${i}`}
          title={car.frames.length === 1 ? 'Body' : `Frame ${i + 1}, from the front`}
          frame={frame}
          full={fullFeet}
          keep={keep}
          set={(next) => set({ frames: car.frames.with(i, next) })}
        />
      ))}
      <div className="acts is-column">
        <RemoveAct table="vehicles" id={id} />
      </div>
    </>
  )
}
