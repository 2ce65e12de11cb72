import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { VehicleFrame } from '../../core/plan/types.ts'
import { LengthField } from '../fields/fields.tsx'
import type { useKeepInPlan } from '../planEdit.ts'
import { Act, Fields } from './parts.tsx'

/** A first taper, as of a long coach: a tenth narrower over a fifteenth of the length; to be changed. From memory. */
const taperShare = 0.9
const taperPart = 15

/** Sizes of one frame of a vehicle: a body on its trucks, or an engine's frame on its drivers. */
export function FrameFields({
  title,
  frame,
  full,
  keep,
  set,
}: {
  readonly title: string
  readonly frame: VehicleFrame
  /** A length of the model told at full size. */
  readonly full: (mm: number) => string
  readonly keep: ReturnType<typeof useKeepInPlan>
  readonly set: (frame: VehicleFrame) => PlanCommand
}): ReactNode {
  const size = (label: string, value: number, to: (mm: number) => VehicleFrame, range?: 'zeroUp' | 'any'): ReactNode => (
    <LengthField
      key={label}
      label={label}
      value={value}
      origin={full(value)}
      keep={keep((mm: number) => set(to(mm)))}
      {...(range === undefined ? {} : { range })}
    />
  )
  if (frame.kind === 'car') {
    return (
      <Fields title={title}>
        {size('Body length', frame.lengthMm, (lengthMm) => ({ ...frame, lengthMm }))}
        {size('Body width', frame.widthMm, (widthMm) => ({ ...frame, widthMm }))}
        {size('Truck centres', frame.truckCentresMm, (truckCentresMm) => ({ ...frame, truckCentresMm }))}
        {size('Truck wheelbase', frame.truckWheelbaseMm, (truckWheelbaseMm) => ({ ...frame, truckWheelbaseMm }), 'zeroUp')}
        {frame.taper === null ? (
          <Act
            onClick={() =>
              keep(set).commit({ ...frame, taper: { endWidthMm: frame.widthMm * taperShare, lengthMm: frame.lengthMm / taperPart } })
            }
          >
            Taper the ends
          </Act>
        ) : (
          <>
            {size('Width at the ends', frame.taper.endWidthMm, (endWidthMm) => ({
              ...frame,
              taper: { endWidthMm, lengthMm: frame.taper?.lengthMm ?? endWidthMm },
            }))}
            {size('Ends taper over', frame.taper.lengthMm, (lengthMm) => ({
              ...frame,
              taper: { lengthMm, endWidthMm: frame.taper?.endWidthMm ?? frame.widthMm },
            }))}
          </>
        )}
      </Fields>
    )
  }
  return (
    <Fields title={title}>
      {size('Driver wheelbase', frame.wheelbaseMm, (wheelbaseMm) => ({ ...frame, wheelbaseMm }))}
      {frame.widths.map((place, i) => {
        const name = placeName(i, frame.widths.length)
        const to = (change: Partial<typeof place>): VehicleFrame => ({ ...frame, widths: frame.widths.with(i, { ...place, ...change }) })
        return [
          size(`${name}, width`, place.widthMm, (widthMm) => to({ widthMm })),
          size(`${name} lies ahead`, place.aheadMm, (aheadMm) => to({ aheadMm }), 'any'),
        ]
      })}
    </Fields>
  )
}

/** Places along an engine's frame from its rear end; each lies so far ahead of the last driver. */
function placeName(index: number, count: number): string {
  if (index === 0) return 'Rear'
  return index === count - 1 ? 'Front' : `Place ${index + 1}`
}
