import type { CarFrame, DriverFrame, Vehicle, VehicleFrame } from '../../plan/types.ts'
import { scaleToModel } from '../../units/index.ts'
import type { RigidBody } from '../sweep/types.ts'
import type { CarShape } from '../types.ts'
import { carRows } from './cars.data.ts'
import { engineRows } from './engines.data.ts'
import type { VehicleRow } from './types.ts'

/** Every kind of car and engine that is described here: cars, then engines. */
export const vehicleRows: readonly VehicleRow[] = [...carRows, ...engineRows]

/** The row of a key; null when there is none. */
export function vehicleByKey(key: string): VehicleRow | null {
  return vehicleRows.find((row) => row.key === key.toLowerCase()) ?? null
}

/**
 * The rigid bodies of a vehicle on the model, front first: one for a car; frame and tender for a steam engine; both engines, the
 * rear one with the boiler on it, and tender for an articulated one. Each stands on the line for itself.
 *
 * Units:      rows in mm at full size; ratio prototype over model, above 0; bodies in mm on the model.
 * Exactness:  as the row. Play of axles and of trucks in the track is not counted.
 * Source:     derived.
 */
export function vehicleBodies(row: Pick<VehicleRow, 'frames'>, ratio: number): readonly RigidBody[] {
  const model = (mm: number): number => scaleToModel(mm, ratio)
  return row.frames.map((frame) => (frame.kind === 'car' ? carBody(frame, model) : driverBody(frame, model)))
}

/** The rigid bodies of a vehicle of the plan, whose sizes are those of the model. */
export function vehicleBodiesOf({ frames }: Pick<Vehicle, 'frames'>): readonly RigidBody[] {
  return vehicleBodies({ frames }, 1)
}

/** The longest frame of a vehicle as a car: as long and wide as it is, on its outermost pivots or drivers. */
export function vehicleCarShape({ frames }: Pick<Vehicle, 'frames'>): CarShape {
  const shapes = frames.map(frameShape)
  const none: CarShape = { bodyLengthMm: 0, bodyWidthMm: 0, truckCentresMm: 0, truckWheelbaseMm: 0 }
  return shapes.reduce((most, shape) => (shape.bodyLengthMm > most.bodyLengthMm ? shape : most), shapes[0] ?? none)
}

function frameShape(frame: VehicleFrame): CarShape {
  if (frame.kind === 'car') {
    const { lengthMm, widthMm, truckCentresMm, truckWheelbaseMm } = frame
    return { bodyLengthMm: lengthMm, bodyWidthMm: widthMm, truckCentresMm, truckWheelbaseMm }
  }
  const { wheelbaseMm, widths } = frame
  const ahead = widths.map(({ aheadMm }) => aheadMm)
  return {
    bodyLengthMm: Math.max(...ahead) - Math.min(...ahead),
    bodyWidthMm: Math.max(...widths.map(({ widthMm }) => widthMm)),
    truckCentresMm: wheelbaseMm,
    truckWheelbaseMm: 0,
  }
}

/** A kind of car or engine as a vehicle of the plan, at the model's size to 0.01 mm. What a model weighs is for its builder to say. */
export function vehicleOfRow(row: VehicleRow, ratio: number): Omit<Vehicle, 'id'> {
  const model = (mm: number): number => Math.round(scaleToModel(mm, ratio) * 100) / 100
  return {
    name: row.name,
    wheels: row.wheels,
    overCouplersMm: model(row.overCouplersMm),
    heightMm: model(row.heightMm),
    weightG: 0,
    couplerSwingRad: row.couplerSwingRad,
    frames: row.frames.map((frame) => frameScaled(frame, model)),
  }
}

/** A frame with each of its lengths changed. */
export function frameScaled(frame: VehicleFrame, model: (mm: number) => number): VehicleFrame {
  if (frame.kind === 'drivers') {
    const widths = frame.widths.map(({ aheadMm, widthMm }) => ({ aheadMm: model(aheadMm), widthMm: model(widthMm) }))
    return { ...frame, wheelbaseMm: model(frame.wheelbaseMm), widths }
  }
  const { taper } = frame
  return {
    ...frame,
    lengthMm: model(frame.lengthMm),
    widthMm: model(frame.widthMm),
    truckCentresMm: model(frame.truckCentresMm),
    truckWheelbaseMm: model(frame.truckWheelbaseMm),
    taper: taper === null ? null : { endWidthMm: model(taper.endWidthMm), lengthMm: model(taper.lengthMm) },
  }
}

function carBody(frame: CarFrame, model: (mm: number) => number): RigidBody {
  const { lengthMm, widthMm, truckCentresMm, taper } = frame
  const half = model(lengthMm) / 2
  const rib = (x: number, width: number) => ({ xMm: x, halfWidthMm: model(width) / 2 })
  const full = taper === null ? half : half - model(taper.lengthMm)
  const ends = (side: 1 | -1) => (taper === null ? [] : [rib(side * half, taper.endWidthMm)])
  return {
    front: { xMm: model(truckCentresMm) / 2, wheelbaseMm: model(frame.truckWheelbaseMm) },
    rear: { xMm: -model(truckCentresMm) / 2, wheelbaseMm: model(frame.truckWheelbaseMm) },
    ribs: [...ends(-1), rib(-full, widthMm), rib(full, widthMm), ...ends(1)],
  }
}

/** The middle of the body is the middle of its drivers. */
function driverBody({ wheelbaseMm, widths }: DriverFrame, model: (mm: number) => number): RigidBody {
  const half = model(wheelbaseMm) / 2
  return {
    front: { xMm: half, wheelbaseMm: 0 },
    rear: { xMm: -half, wheelbaseMm: 0 },
    ribs: widths
      .toSorted((a, b) => a.aheadMm - b.aheadMm)
      .map(({ aheadMm, widthMm }) => ({ xMm: model(aheadMm) - half, halfWidthMm: model(widthMm) / 2 })),
  }
}

/** The same body run the other way round. */
export function bodyTurned({ front, rear, ribs }: RigidBody): RigidBody {
  const turned = <R extends { readonly xMm: number }>(place: R): R => ({ ...place, xMm: 0 - place.xMm })
  return { front: turned(rear), rear: turned(front), ribs: ribs.toReversed().map(turned) }
}

/** Bodies as they are and turned round, for what may head either way; a body that is the same both ways only once. */
export function bodiesBothWays(bodies: readonly RigidBody[]): readonly RigidBody[] {
  return bodies.flatMap((body) => {
    const turned = bodyTurned(body)
    return isSame(body, turned) ? [body] : [body, turned]
  })
}

function isSame(a: RigidBody, b: RigidBody): boolean {
  const numbers = ({ front, rear, ribs }: RigidBody): readonly number[] =>
    [front, rear].flatMap(({ xMm, wheelbaseMm }) => [xMm, wheelbaseMm]).concat(ribs.flatMap(({ xMm, halfWidthMm }) => [xMm, halfWidthMm]))
  const [mine, other] = [numbers(a), numbers(b)]
  return mine.length === other.length && mine.every((value, i) => value === other[i])
}
