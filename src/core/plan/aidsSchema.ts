import * as v from 'valibot'
import { above, coordinate, flag, idSchema, pointSchema, text } from './schemaParts.ts'

export const guideEntries = { id: idSchema, name: text, at: pointSchema, angleRad: coordinate }

export const readingEntries = {
  id: idSchema,
  name: text,
  of: v.variant(
    'kind',
    [
      v.looseObject({ kind: v.literal('distance'), from: pointSchema, to: pointSchema }),
      v.looseObject({ kind: v.literal('angle'), at: pointSchema, from: pointSchema, to: pointSchema }),
      v.looseObject({ kind: v.literal('along'), track: idSchema, fromMm: coordinate, toMm: coordinate }),
      v.looseObject({ kind: v.literal('radius'), track: idSchema, stationMm: coordinate }),
      v.looseObject({ kind: v.literal('centres'), track: idSchema, stationMm: coordinate, other: idSchema }),
    ],
    "a reading of kind 'distance', 'angle', 'along', 'radius' or 'centres'",
  ),
}

const pictureText = 'the SHA-256 of a picture: 64 hexadecimal digits'
const dataText = 'a picture as a data URL, or null'
const placesText = 'two or four places of the picture {px, at}'
const pixelsText = 'a whole number of pixels, 1 to 100000'
const pixels = v.pipe(v.number(pixelsText), v.integer(pixelsText), v.minValue(1, pixelsText), v.maxValue(1e5, pixelsText))

const placesOf = (count: 2 | 4) =>
  v.pipe(
    v.array(v.looseObject({ px: pointSchema, at: pointSchema }, 'a place {px, at}'), placesText),
    v.minLength(count, placesText),
    v.maxLength(count, placesText),
  )

export const underlayEntries = {
  id: idSchema,
  name: text,
  picture: v.pipe(v.string(pictureText), v.regex(/^[0-9a-f]{64}$/, pictureText)),
  widthPx: pixels,
  heightPx: pixels,
  data: v.nullable(v.pipe(v.string(dataText), v.regex(/^data:image\/(?:png|jpeg|webp);base64,[0-9A-Za-z+/]+=*$/, dataText))),
  places: v.union([placesOf(2), placesOf(4)], placesText),
  opacity: above('an opacity above 0, at most 1', 1),
  isShown: flag,
}

export const lockEntries = { id: idSchema, table: text, record: idSchema }
