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
      <div className="acts">
        <Act onClick={() => keep(set).commit({ ...frame, widths: withPlace(frame.widths) })}>Add a place</Act>
        {frame.widths.length > leastPlaces ? (
          <Act onClick={() => keep(set).commit({ ...frame, widths: frame.widths.slice(0, -2).concat(frame.widths.slice(-1)) })}>
            Take out {placeName(frame.widths.length - 2, frame.widths.length)}
          </Act>
        ) : null}
      </div>
    </Fields>
  )
}

/** A frame has two ends. */
const leastPlaces = 2

type Places = Extract<VehicleFrame, { kind: 'drivers' }>['widths']

/** One more place halfway between the foremost two, of the width that the frame has there: the engine is as it was until it is changed. */
function withPlace(widths: Places): Places {
  const [behind, front] = [widths.at(-2), widths.at(-1)]
  if (behind === undefined || front === undefined) return widths
  const middle = { aheadMm: (behind.aheadMm + front.aheadMm) / 2, widthMm: (behind.widthMm + front.widthMm) / 2 }
  return [...widths.slice(0, -1), middle, front]
}

/** Places along an engine's frame from its rear end; each lies so far ahead of the last driver. */
function placeName(index: number, count: number): string {
  if (index === 0) return 'Rear'
  return index === count - 1 ? 'Front' : `Place ${index + 1}`
}
