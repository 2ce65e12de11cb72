import type { Migration, OldPlan } from '../migrate.ts'
import { isTable, recordsOf } from './fields.ts'
import type { Fields } from './fields.ts'

/**
 * Version 4 knows cars and engines frame by frame, several of them for a class, what stands in the room beside benchwork, and findings
 * that the builder silenced. Before, a car was one body on two trucks, and a class had one car.
 */
export const migration003: Migration = {
  from: 3,
  // What other programs had put under these names stays in its place, for the reader to say what is wrong with it.
  migrate: (plan) => {
    const mm = modelLength(plan)
    return {
      openings: {},
      hatches: {},
      joists: {},
      portals: {},
      silences: {},
      ...plan,
      ...recordsOf(plan, 'lineClasses', lineClass),
      ...recordsOf(plan, 'vehicles', (record) => vehicle(record, mm)),
      ...(isTable(plan['railway']) ? { railway: { reachMm, aisleMm, hatchMm, ...plan['railway'] } } : {}),
    }
  },
}

// What a railway of now begins with as well: common practice, no source. A hand is as long beside every scale.
const reachMm = 762
const aisleMm = 609.6
const hatchMm = 508

/** Beyond the body at both ends together, and height, as a boxcar has them; from memory. Feet at full size. */
const couplersFt = 2.8
const heightFt = 15
/** From memory; body-mounted knuckle couplers. */
const couplerSwingRad = 0.2269

function lineClass({ clearanceCar, ...rest }: Fields): Fields {
  const cars = typeof clearanceCar === 'string' ? [clearanceCar] : []
  return { cars, minCurveMm: 0, widening: [], rules: {}, ...rest }
}

function vehicle(record: Fields, mm: (feet: number) => number): Fields {
  const { bodyLengthMm, bodyWidthMm, truckCentresMm, truckWheelbaseMm, ...rest } = record
  if (bodyLengthMm === undefined) return record
  const frame = {
    kind: 'car',
    lengthMm: bodyLengthMm,
    widthMm: bodyWidthMm ?? null,
    truckCentresMm: truckCentresMm ?? null,
    truckWheelbaseMm: truckWheelbaseMm ?? null,
    taper: null,
  }
  const overCouplersMm = typeof bodyLengthMm === 'number' ? bodyLengthMm + mm(couplersFt) : bodyLengthMm
  return { wheels: null, overCouplersMm, heightMm: mm(heightFt), weightG: 0, couplerSwingRad, frames: [frame], ...rest }
}

/** From feet at full size to the model, to 0.01 mm; of a railway without a scale as of HO. */
function modelLength({ railway }: OldPlan): (feet: number) => number {
  const asked = isTable(railway) ? railway['ratio'] : undefined
  const ratio = typeof asked === 'number' && asked > 0 ? asked : 87.1
  return (feet) => Math.round((feet * 304.8 * 100) / ratio) / 100
}
