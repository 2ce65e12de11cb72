import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Vehicle } from '../../core/plan/types.ts'
import { fullSizeText } from '../../words/measure.ts'
import { usePrefs } from '../context.ts'
import { AngleField, LengthField, NameField, NumberField } from '../fields/fields.tsx'
import { FrameFields } from '../particulars/FrameFields.tsx'
import { Fields } from '../particulars/parts.tsx'
import type { useKeepInPlan } from '../planEdit.ts'

export interface VehicleFieldsProps {
  readonly car: Omit<Vehicle, 'id'>
  readonly ratio: number
  readonly keep: ReturnType<typeof useKeepInPlan>
  readonly set: (change: Partial<Omit<Vehicle, 'id'>>) => PlanCommand
  /** Facts beneath the sizes of the whole. */
  readonly children?: ReactNode
}

/** All sizes of a car or engine, in the plan or not yet. */
export function VehicleFields({ car, ratio, keep, set, children }: VehicleFieldsProps): ReactNode {
  const prefs = usePrefs((state) => state)
  const full = (mm: number): string => fullSizeText(mm * ratio, prefs)
  return (
    <>
      <Fields>
        <NameField label="Name" value={car.name} keep={keep((name) => set({ name }))} />
        {car.wheels === null ? null : <NameField label="Wheels" value={car.wheels} keep={keep((wheels) => set({ wheels }))} />}
        <LengthField
          label="Over couplers"
          value={car.overCouplersMm}
          origin={full(car.overCouplersMm)}
          keep={keep((overCouplersMm) => set({ overCouplersMm }))}
        />
        <LengthField
          label="Height"
          range="zeroUp"
          value={car.heightMm}
          origin={full(car.heightMm)}
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
        {children}
      </Fields>
      {car.frames.map((frame, i) => (
        <FrameFields
          // Frames have no names; their order is what they are.
          key={`${frame.kind} ${i}`}
          title={car.frames.length === 1 ? 'Body' : `Frame ${i + 1}, from the front`}
          frame={frame}
          full={full}
          keep={keep}
          set={(next) => set({ frames: car.frames.with(i, next) })}
        />
      ))}
    </>
  )
}
