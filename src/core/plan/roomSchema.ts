import * as v from 'valibot'
import { coordinate, flag, idSchema, length, lengthOrZero, pointSchema, side, text } from './schemaParts.ts'

const ringText = 'a ring of three or more points'
export const ringSchema = v.pipe(v.array(pointSchema, ringText), v.minLength(3, ringText))

const wallText = 'a line of two or more points'
export const wallEntries = {
  id: idSchema,
  name: text,
  points: v.pipe(v.array(pointSchema, wallText), v.minLength(2, wallText)),
  thicknessMm: lengthOrZero,
  isClosed: flag,
}

export const obstacleEntries = { id: idSchema, name: text, outline: ringSchema, undersideMm: lengthOrZero }

export const benchworkEntries = {
  id: idSchema,
  name: text,
  outline: ringSchema,
  holes: v.array(ringSchema, 'a list of rings'),
  heightMm: lengthOrZero,
}

export const openingEntries = {
  id: idSchema,
  name: text,
  wall: idSchema,
  fromMm: lengthOrZero,
  widthMm: length,
  leaf: v.nullable(v.looseObject({ hinge: v.picklist(['from', 'to'], "'from' or 'to'"), side }, 'the leaf of a door {hinge, side}')),
  sillMm: v.nullable(lengthOrZero),
}

export const hatchEntries = { id: idSchema, name: text, outline: ringSchema }

export const joistEntries = { id: idSchema, name: text, from: pointSchema, to: pointSchema, widthMm: length }

export const portalEntries = {
  id: idSchema,
  name: text,
  track: idSchema,
  stationMm: coordinate,
  lengthMm: length,
  leftMm: lengthOrZero,
  rightMm: lengthOrZero,
  heightMm: lengthOrZero,
}
