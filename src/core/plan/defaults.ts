import {
  gaugeByKey,
  lineClassesForGauge,
  lineClassInMetric,
  NARROW_BELOW_MM,
  railwayForGauge,
  railwayInMetric,
  standardMaterials,
  stocksForRailway,
} from '../standards/index.ts'
import type { LineClassKey, StandardLineClass } from '../standards/index.ts'
import { dataFreeze } from './data.ts'
import { idCompare, planVersion } from './tables.ts'
import type { CrossingBuild, Id, LineClass, Plan, Stock, Table, TurnoutKind, Vehicle } from './types.ts'

/** A turnout whose one diverging route leaves its host. */
export const plainKind: TurnoutKind = { kind: 'plain' }

/** A crossing that is built as standard practice has it. */
export const standardCrossingBuild: CrossingBuild = {
  elbow: 'fixed',
  pointThicknessMm: 'standard',
  heelSpreadMm: 'standard',
}

interface CarFt {
  readonly id: Id
  readonly name: string
  readonly body: number
  readonly width: number
  readonly centres: number
  readonly wheelbase: number
  readonly overCouplers: number
  readonly height: number
}

/** How far the coupler of a model swings to each side, 20 degrees: more than its prototype's 7 to 13. From memory. */
const COUPLER_SWING_RAD = 0.349

// Sizes of cars in feet, full size. Generic figures from memory, not measured from any one car: they are there to be replaced.
const carsFt: readonly CarFt[] = [
  {
    id: 'car-40ft-box',
    name: '40 ft boxcar',
    body: 41.7,
    width: 10.3,
    centres: 30.7,
    wheelbase: 5.5,
    overCouplers: 44.3,
    height: 15.1,
  },
  {
    id: 'car-50ft-box',
    name: '50 ft boxcar',
    body: 51.5,
    width: 10.3,
    centres: 40.8,
    wheelbase: 5.7,
    overCouplers: 55.3,
    height: 15.5,
  },
  { id: 'car-60ft-coach', name: '60 ft coach', body: 60, width: 10, centres: 42, wheelbase: 8, overCouplers: 63, height: 14 },
  {
    id: 'car-85ft-passenger',
    name: '85 ft passenger car',
    body: 85,
    width: 10,
    centres: 59.5,
    wheelbase: 8.5,
    overCouplers: 85,
    height: 13.5,
  },
  {
    id: 'car-4-axle-diesel',
    name: '4-axle diesel',
    body: 54,
    width: 10.3,
    centres: 31,
    wheelbase: 9,
    overCouplers: 56.2,
    height: 15,
  },
  {
    id: 'car-6-axle-diesel',
    name: '6-axle diesel',
    body: 68,
    width: 10.3,
    centres: 43,
    wheelbase: 13.6,
    overCouplers: 70.7,
    height: 15.4,
  },
]
const narrowCarsFt: readonly CarFt[] = [
  {
    id: 'car-30ft-box',
    name: '30 ft boxcar',
    body: 30,
    width: 7.5,
    centres: 20,
    wheelbase: 4.5,
    overCouplers: 32.5,
    height: 11,
  },
  {
    id: 'car-45ft-coach',
    name: '45 ft coach',
    body: 45,
    width: 8,
    centres: 31,
    wheelbase: 5.5,
    overCouplers: 47.5,
    height: 11.5,
  },
  { id: 'car-16ft-wagon', name: '16 ft wagon', body: 16, width: 6, centres: 9.5, wheelbase: 3, overCouplers: 17.5, height: 8 },
]

/**
 * Cars that usually run on each class, the longest first: a main must clear anything, a yard the freight. Common practice, no source. A class
 * of a new plan has the first one that its least radius will take: what asks for more would be told on every curve that the class allows.
 */
const carsOfClass: { readonly [K in LineClassKey]: readonly Id[] } = {
  main: ['car-85ft-passenger', 'car-60ft-coach', 'car-50ft-box', 'car-40ft-box'],
  branch: ['car-60ft-coach', 'car-50ft-box', 'car-40ft-box'],
  siding: ['car-85ft-passenger', 'car-60ft-coach', 'car-50ft-box', 'car-40ft-box'],
  yard: ['car-50ft-box', 'car-40ft-box'],
}
const narrowCarsOfClass: { readonly [K in LineClassKey]: readonly Id[] } = {
  main: ['car-45ft-coach', 'car-30ft-box', 'car-16ft-wagon'],
  branch: ['car-45ft-coach', 'car-30ft-box', 'car-16ft-wagon'],
  siding: ['car-45ft-coach', 'car-30ft-box', 'car-16ft-wagon'],
  yard: ['car-30ft-box', 'car-16ft-wagon'],
}

/** Where a printed radius takes none of them at that rule, the class asks a tenth or two of a length less. */
function withCars(lineClass: StandardLineClass, isNarrow: boolean, vehicles: readonly Vehicle[]): LineClass {
  const ids = (isNarrow ? narrowCarsOfClass : carsOfClass)[lineClass.id]
  const cars = ids.flatMap((id) => vehicles.filter((vehicle) => vehicle.id === id))
  const { curveCarLengths, minRadiusMm } = lineClass
  const car = cars.find(({ overCouplersMm }) => overCouplersMm * curveCarLengths <= minRadiusMm) ?? cars.at(-1)
  if (car === undefined) return { ...lineClass, cars: [] }
  const takenLengths = Math.floor((10 * minRadiusMm) / car.overCouplersMm) / 10
  return { ...lineClass, cars: [car.id], curveCarLengths: Math.min(curveCarLengths, takenLengths) }
}

/**
 * A new plan: a railway of the scale with its line classes and cars, and an empty room. Without a key: HO, standard gauge.
 * units: limits and what fits a person are round figures of that rule.
 *
 * Outcome: null for a key that the standards do not have.
 * Source:  limits and track as core/standards gives them; sizes of cars from memory.
 */
export function planEmpty(): Plan
export function planEmpty(scaleKey: string, units?: 'imperial' | 'metric'): Plan | null
export function planEmpty(scaleKey = 'HO', units: 'imperial' | 'metric' = 'imperial'): Plan | null {
  const row = gaugeByKey(scaleKey)
  if (row === null) return null
  const isNarrow = row.prototypeGaugeMm < NARROW_BELOW_MM
  const vehicles = (isNarrow ? narrowCarsFt : carsFt).map((car) => carAtRatio(car, row.ratio))
  const isMetric = units === 'metric'
  const standard = railwayForGauge(row)
  const railway = { ...(isMetric ? railwayInMetric(standard) : standard), title: 'Untitled railway' }
  const classes = lineClassesForGauge(row).map((lineClass) => (isMetric ? lineClassInMetric(lineClass) : lineClass))
  return dataFreeze({
    format: 'waybench-plan',
    version: planVersion,
    railway,
    materials: tableOf(standardMaterials),
    stocks: tableOf<Stock>(stocksForRailway(railway, units)),
    lineClasses: tableOf(classes.map((lineClass) => withCars(lineClass, isNarrow, vehicles))),
    vehicles: tableOf(vehicles),
    walls: {},
    obstacles: {},
    openings: {},
    benchworks: {},
    hatches: {},
    joists: {},
    tracks: {},
    turnouts: {},
    crossings: {},
    portals: {},
    railJoints: {},
    makers: {},
    silences: {},
    ticks: {},
    guides: {},
    readings: {},
    underlays: {},
    locks: {},
  })
}

/** Sizes in mm on the model, to 0.01 mm. */
function carAtRatio(car: CarFt, ratio: number): Vehicle {
  const mm = (feet: number): number => Math.round((feet * 304.8 * 100) / ratio) / 100
  return {
    id: car.id,
    name: car.name,
    wheels: null,
    overCouplersMm: mm(car.overCouplers),
    heightMm: mm(car.height),
    // What a model weighs is for its builder to say.
    weightG: 0,
    couplerSwingRad: COUPLER_SWING_RAD,
    frames: [
      {
        kind: 'car',
        lengthMm: mm(car.body),
        widthMm: mm(car.width),
        truckCentresMm: mm(car.centres),
        truckWheelbaseMm: mm(car.wheelbase),
        taper: null,
      },
    ],
  }
}

function tableOf<R extends { readonly id: Id }>(records: readonly R[]): Table<R> {
  return Object.fromEntries(records.toSorted((a, b) => idCompare(a.id, b.id)).map((record) => [record.id, record]))
}
