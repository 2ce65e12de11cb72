import * as v from 'valibot'

// What the fields of the document are made of. Every message is the completion of "expected ...".

/** Nothing in a plan lies or measures more than this, mm: a kilometre of model. It keeps squares and products of lengths exact enough. */
export const lengthLimitMm = 1e6

export const above = (expected: string, limit: number) => v.pipe(v.number(expected), v.gtValue(0, expected), v.maxValue(limit, expected))
export const notBelow = (expected: string, limit: number) =>
  v.pipe(v.number(expected), v.minValue(0, expected), v.maxValue(limit, expected))

/** No gauge, rail, tie or part of a turnout measures more than this, mm: full size, with its ties of two or three metres, lies inside. */
const partLimitMm = 1e4

export const length = above('a length above 0, at most 1000000 mm', lengthLimitMm)
export const lengthOrZero = notBelow('a length of 0 to 1000000 mm', lengthLimitMm)
export const part = above('a length above 0, at most 10000 mm', partLimitMm)
export const partOrZero = notBelow('a length of 0 to 10000 mm', partLimitMm)
const coordinateText = 'a number from -1000000 to 1000000 (mm)'
const range = (expected: string) => v.pipe(v.number(expected), v.minValue(-lengthLimitMm, expected), v.maxValue(lengthLimitMm, expected))
export const coordinate = range(coordinateText)
/** A station of a track whose stationing goes on beyond its ends. */
export const stationAnywhere = range('a station of -1000000 to 1000000 mm')
export const pointEntries = { x: coordinate, y: coordinate }
export const pointSchema = v.looseObject(pointEntries, 'a point {x, y}')
export const frogNumber = above('a frog number above 0, at most 1000', 1000)
const textText = 'a text of at most 200 characters'
export const text = v.pipe(v.string(textText), v.maxLength(200, textText))
export const flag = v.boolean('true or false')

/** Words that every object answers to; as ids they would find something where there is no record. */
const reservedIds = [
  'constructor',
  'hasOwnProperty',
  'isPrototypeOf',
  'propertyIsEnumerable',
  'prototype',
  'toLocaleString',
  'toString',
  'valueOf',
]
const idText = 'an id: a letter, then letters, digits, - or _, at most 64 in all, and no reserved word'
export const idSchema = v.pipe(
  v.string(idText),
  v.regex(new RegExp(`^(?!(?:${reservedIds.join('|')})$)[A-Za-z][A-Za-z0-9_-]{0,63}$`), idText),
)

/** A whole number of pieces or of ties. */
export const count = (least: number) => {
  const expected = `a whole number of ${least} to 100000`
  return v.pipe(v.number(expected), v.integer(expected), v.minValue(least, expected), v.maxValue(1e5, expected))
}

export const classText = "or 'class'"

export const side = v.picklist(['left', 'right'], "'left' or 'right'")
export const facing = v.picklist(['rising', 'falling'], "'rising' or 'falling'")
