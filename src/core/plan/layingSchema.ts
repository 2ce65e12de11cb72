import * as v from 'valibot'
import { above, count, flag, idSchema, length, lengthOrZero, notBelow, part, partOrZero, stationAnywhere, text } from './schemaParts.ts'

// What the document holds of stock and of how track is laid; see laying.ts.

const code = above('a rail code above 0, at most 10000', 1e4)

export const railSize = v.looseObject({ code, headMm: part, footMm: part })
export const tieSize = v.looseObject({ lengthMm: part, widthMm: part, thicknessMm: part })

const stripsText = "a whole number of strips from 1 to 40, or 'fit'"
export const roadbed = v.looseObject(
  {
    material: idSchema,
    thicknessMm: part,
    topWidthMm: part,
    shoulderRun: notBelow('a run of 0 to 10 for each unit of height', 10),
    strips: v.union([v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(40)), v.literal('fit')], stripsText),
  },
  'a roadbed',
)

export const materialEntries = { id: idSchema, name: text, strainLimit: above('a strain above 0, at most 1', 1) }

const supplies = ['spikes', 'joiners', 'insulatedJoiners', 'shimTape'] as const

export const stockEntries = {
  id: idSchema,
  name: text,
  of: v.variant(
    'kind',
    [
      v.looseObject({ kind: v.literal('rail'), code, lengthMm: length }),
      v.looseObject({ kind: v.literal('roadbed'), material: idSchema, thicknessMm: part, widthMm: length, lengthMm: length }),
      v.looseObject({ kind: v.picklist(['tie', 'board']), widthMm: part, thicknessMm: part, lengthMm: length }),
      v.looseObject({ kind: v.literal('supply'), what: v.picklist(supplies, supplies.map((what) => `'${what}'`).join(', ')) }),
    ],
    "stock of kind 'rail', 'roadbed', 'tie', 'board' or 'supply'",
  ),
  onHand: count(0),
  canBuy: flag,
  packOf: count(1),
  packPrice: v.nullable(notBelow('a price of 0 to 1000000, or null', 1e6)),
}

const everyNth = count(1)
const humidity = notBelow('a relative humidity of 0 to 1', 1)
const celsiusText = 'a temperature of -60 to 100 degrees Celsius'
const celsius = v.pipe(v.number(celsiusText), v.minValue(-60, celsiusText), v.maxValue(100, celsiusText))
const hours = v.nullable(above('hours above 0, at most 10000, or null', 1e4))

export const layingRules = v.looseObject(
  {
    joints: v.looseObject({
      curveEndMm: lengthOrZero,
      pointsMm: lengthOrZero,
      frogMm: lengthOrZero,
      guardMm: lengthOrZero,
      gapMm: lengthOrZero,
      throwBayMm: lengthOrZero,
      staggerMm: lengthOrZero,
      leastPieceMm: lengthOrZero,
    }),
    cutting: v.looseObject({
      kerfMm: partOrZero,
      leastOffcutMm: lengthOrZero,
      jointAllowanceMm: partOrZero,
      roadbedStaggerMm: lengthOrZero,
    }),
    climate: v.looseObject({
      laidC: celsius,
      coldestC: celsius,
      hottestC: celsius,
      laidHumidity: humidity,
      driestHumidity: humidity,
      dampestHumidity: humidity,
      railPerK: notBelow('a growth of 0 to 0.001 by kelvin', 1e-3),
      benchPerHumidity: notBelow('a growth of 0 to 0.1 from dry to soaked air', 0.1),
    }),
    spiking: v.looseObject({ firstEvery: everyNth, tangentEvery: everyNth, curveEvery: everyNth, turnoutEvery: everyNth }),
    rates: v.looseObject({
      plainMmPerHour: v.nullable(above('a length by the hour above 0, at most 1000000 mm, or null', 1e6)),
      turnoutHours: hours,
      crossingHours: hours,
    }),
    roadbedRamp: above('a ramp above 0, at most 1 (rise over run)', 1),
    shimMm: part,
  },
  'the rules of laying',
)

export const railJointEntries = {
  id: idSchema,
  track: idSchema,
  rail: v.picklist(['left', 'right'], "'left' or 'right'"),
  stationMm: stationAnywhere,
}

const mark = 'the mark of a piece, at most 200 characters'
export const tickEntries = {
  id: idSchema,
  list: v.picklist(['rail', 'roadbed', 'tie'], "'rail', 'roadbed' or 'tie'"),
  piece: v.pipe(v.string(mark), v.minLength(1, mark), v.maxLength(200, mark)),
  done: v.picklist(['cut', 'laid'], "'cut' or 'laid'"),
}
