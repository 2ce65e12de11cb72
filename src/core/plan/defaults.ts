import { dataFreeze } from './data.ts'
import { planVersion } from './tables.ts'
import type { Id, LineClass, Plan, Railway, Table, Vehicle } from './types.ts'

const ratioHO = 87.1

/** Standard gauge HO. Gauge, check gauge and flangeway: [NMRA-S-3.2-2010] targets; rail: [NMRA-RP-15.1] code 83; the rest is common practice. */
const railwayHO: Railway = {
  title: 'Untitled railway',
  scaleKey: 'HO',
  ratio: ratioHO,
  gaugeMm: 16.54,
  flangewayMm: 1.22,
  checkGaugeMm: 15.42,
  railCode: 83,
  railHeadMm: 1.02,
  railFootMm: 2.03,
  frogDefinition: 'isosceles',
  tieLengthMm: 29.75,
  tieWidthMm: 2.62,
  edgeMarginMm: 50.8,
  runningClearanceMm: 6.35,
  foulingMm: 45.49,
}

/** Sizes of cars in feet, full size; generic figures from memory, not measured from any one car. */
const carsFt = [
  { id: 'car-40ft-box', name: '40 ft boxcar', body: 41.7, width: 10.3, centres: 30.7, wheelbase: 5.5 },
  { id: 'car-50ft-box', name: '50 ft boxcar', body: 51.5, width: 10.3, centres: 40.8, wheelbase: 5.7 },
  { id: 'car-60ft-coach', name: '60 ft coach', body: 60, width: 10, centres: 42, wheelbase: 8 },
  { id: 'car-85ft-passenger', name: '85 ft passenger car', body: 85, width: 10, centres: 59.5, wheelbase: 8.5 },
  { id: 'car-4-axle-diesel', name: '4-axle diesel', body: 54, width: 10.3, centres: 31, wheelbase: 9 },
  { id: 'car-6-axle-diesel', name: '6-axle diesel', body: 68, width: 10.3, centres: 43, wheelbase: 13.6 },
] as const

const classesHO: readonly LineClass[] = [
  {
    id: 'class-main',
    name: 'Main',
    minRadiusMm: 762,
    usualRadiusMm: 914.4,
    easement: { kind: 'length', lengthMm: 304.8 },
    minFrog: 6,
    usualFrog: 6,
    trackCentresMm: 52.39,
    tieSpacingMm: 6.12,
    maxGrade: 0.02,
    clearanceCar: 'car-85ft-passenger',
  },
  {
    id: 'class-branch',
    name: 'Branch',
    minRadiusMm: 609.6,
    usualRadiusMm: 685.8,
    easement: { kind: 'length', lengthMm: 228.6 },
    minFrog: 5,
    usualFrog: 5,
    trackCentresMm: 52.39,
    tieSpacingMm: 6.71,
    maxGrade: 0.03,
    clearanceCar: 'car-60ft-coach',
  },
  {
    id: 'class-siding',
    name: 'Siding',
    minRadiusMm: 609.6,
    usualRadiusMm: 762,
    easement: { kind: 'length', lengthMm: 228.6 },
    minFrog: 6,
    usualFrog: 6,
    trackCentresMm: 52.39,
    tieSpacingMm: 6.71,
    maxGrade: 0.02,
    clearanceCar: 'car-85ft-passenger',
  },
  {
    id: 'class-yard',
    name: 'Yard',
    minRadiusMm: 609.6,
    usualRadiusMm: 609.6,
    easement: { kind: 'none' },
    minFrog: 5,
    usualFrog: 5,
    trackCentresMm: 50.8,
    tieSpacingMm: 7.32,
    maxGrade: 0.005,
    clearanceCar: 'car-50ft-box',
  },
]

/**
 * A new plan: a railway of the scale with its line classes and cars, and an empty room.
 *
 * Source: limits as the standards table gives them; car sizes from memory.
 */
export function planEmpty(): Plan {
  return dataFreeze({
    format: 'waybench-plan',
    version: planVersion,
    railway: railwayHO,
    lineClasses: tableOf(classesHO),
    vehicles: tableOf(vehiclesForRatio(ratioHO)),
    walls: {},
    obstacles: {},
    benchworks: {},
    tracks: {},
    turnouts: {},
  })
}

/** The usual cars at a scale. Sizes in mm on the model to 0.01 mm; full-size figures from memory. */
export function vehiclesForRatio(ratio: number): readonly Vehicle[] {
  const mm = (feet: number): number => Math.round((feet * 304.8 * 100) / ratio) / 100
  return carsFt.map((car) => ({
    id: car.id,
    name: car.name,
    bodyLengthMm: mm(car.body),
    bodyWidthMm: mm(car.width),
    truckCentresMm: mm(car.centres),
    truckWheelbaseMm: mm(car.wheelbase),
  }))
}

function tableOf<R extends { readonly id: Id }>(records: readonly R[]): Table<R> {
  return Object.fromEntries(records.map((record) => [record.id, record]))
}
