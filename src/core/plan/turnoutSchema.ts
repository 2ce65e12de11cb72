import * as v from 'valibot'
import { coordinate, facing, frogNumber, idSchema, lengthOrZero, part, side, text } from './schemaParts.ts'

const standardText = "or 'standard'"
const partLength = v.union([part, v.literal('standard')], `a length above 0 mm, ${standardText}`)
const pointThickness = v.union([lengthOrZero, v.literal('standard')], `a length of 0 mm or more, ${standardText}`)
const nthText = 'a whole number of 1 to 1000, or null'
const nth = v.pipe(v.number(nthText), v.integer(nthText), v.minValue(1, nthText), v.maxValue(1000, nthText))
const tiesSchema = v.looseObject(
  {
    lay: v.picklist(['square', 'fanned'], "'square' or 'fanned'"),
    spacing: v.picklist(['even', 'close'], "'even' or 'close'"),
    board: v.nullable(
      v.looseObject(
        {
          every: v.nullable(nth),
          at: v.array(v.picklist(['tips', 'heel', 'toe', 'frog', 'gaps'], "'tips', 'heel', 'toe', 'frog' or 'gaps'"), 'a list of places'),
        },
        'a pattern of PC-board ties',
      ),
    ),
  },
  'a choice of ties',
)
const buildSchema = v.looseObject(
  {
    points: v.picklist(['straight', 'curved'], "'straight' or 'curved'"),
    pointLengthMm: partLength,
    pointThicknessMm: pointThickness,
    heelSpreadMm: partLength,
    toeLengthMm: partLength,
    heelLengthMm: partLength,
    ties: v.exactOptional(tiesSchema),
  },
  'the build of a turnout',
)

const shareText = 'a share between 0 and 1'
const turnoutKind = v.variant(
  'kind',
  [
    v.looseObject({ kind: v.literal('plain') }),
    v.looseObject({
      kind: v.literal('wye'),
      share: v.pipe(v.number(shareText), v.gtValue(0, shareText), v.ltValue(1, shareText)),
    }),
    v.looseObject({ kind: v.literal('three-way'), secondFrog: frogNumber, secondAfterMm: lengthOrZero }),
    v.looseObject({ kind: v.literal('stub') }),
  ],
  "a turnout of kind 'plain', 'wye', 'three-way' or 'stub'",
)

export const turnoutEntries = {
  id: idSchema,
  name: text,
  kind: turnoutKind,
  track: idSchema,
  stationMm: coordinate,
  facing,
  hand: side,
  frog: frogNumber,
  build: buildSchema,
}

export const crossingEntries = {
  id: idSchema,
  name: text,
  track: idSchema,
  other: idSchema,
  stationMm: coordinate,
  otherStationMm: coordinate,
  slip: v.picklist(['none', 'single-left', 'single-right', 'double'], "'none', 'single-left', 'single-right' or 'double'"),
  build: v.looseObject(
    {
      elbow: v.picklist(['fixed', 'movable'], "'fixed' or 'movable'"),
      pointThicknessMm: pointThickness,
      heelSpreadMm: partLength,
    },
    'the build of a crossing',
  ),
}
