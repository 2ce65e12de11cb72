import * as v from 'valibot'
import { ringSchema } from '../plan/roomSchema.ts'
import { cornerEntries, railwayEntries, recordEntries, trackEndSchema, trackStartSchema } from '../plan/schema.ts'
import { idSchema, pointSchema } from '../plan/schemaParts.ts'
import { tableNames } from '../plan/tables.ts'
import type { PlanCommand } from './types.ts'

// What a command may carry, from the same field descriptions as the document. Commands also come from scripts and tests,
// so nothing is taken on trust.

type ChangeEntries<E extends v.ObjectEntries> = { readonly [K in keyof E]: v.ExactOptionalSchema<E[K], undefined> }

/** Any of the fields of a record, and no other key: what a `set` may change. */
function changeOf<const E extends v.ObjectEntries>(entries: E) {
  const optional = Object.fromEntries(Object.entries(entries).map(([key, schema]) => [key, v.exactOptional(schema)]))
  // fromEntries forgets which key has which schema; the map above keeps both.
  return v.strictObject(optional as ChangeEntries<E>, 'the fields to change')
}

/** A record to add; its id may be left to us. Keys of other programs come along. */
function newOf<const E extends { readonly id: typeof idSchema }>(entries: E) {
  return v.looseObject({ ...entries, id: v.exactOptional(entries.id) }, 'a record')
}

function without<const E extends { readonly id: unknown }>(entries: E): Omit<E, 'id'> {
  const { id: _id, ...rest } = entries
  return rest
}

const {
  materials,
  stocks,
  lineClasses,
  vehicles,
  walls,
  obstacles,
  openings,
  benchworks,
  hatches,
  joists,
  tracks,
  turnouts,
  crossings,
  portals,
  railJoints,
  makers,
  silences,
  ticks,
  guides,
  readings,
  underlays,
  locks,
} = recordEntries
const { made: _made, ...makerEntries } = makers
const indexText = 'a whole number of 0 or more'
const index = v.pipe(v.number(indexText), v.integer(indexText), v.minValue(0, indexText))
const ringNumberText = 'a ring: -1 for the outline or the number of a hole'
const ringNumber = v.pipe(v.number(ringNumberText), v.integer(ringNumberText), v.minValue(-1, ringNumberText))
const textText = 'a text of at most 200 characters'

export const commandSchema: v.GenericSchema<unknown, PlanCommand> = v.variant(
  'kind',
  [
    v.object({ kind: v.literal('railway.set'), change: changeOf(railwayEntries) }),
    v.object({ kind: v.literal('lineClass.add'), record: newOf(lineClasses) }),
    v.object({ kind: v.literal('lineClass.set'), id: idSchema, change: changeOf(without(lineClasses)) }),
    v.object({ kind: v.literal('vehicle.add'), record: newOf(vehicles) }),
    v.object({ kind: v.literal('vehicle.set'), id: idSchema, change: changeOf(without(vehicles)) }),
    v.object({ kind: v.literal('wall.add'), record: newOf(walls) }),
    v.object({ kind: v.literal('wall.set'), id: idSchema, change: changeOf(without(walls)) }),
    v.object({ kind: v.literal('obstacle.add'), record: newOf(obstacles) }),
    v.object({ kind: v.literal('obstacle.set'), id: idSchema, change: changeOf(without(obstacles)) }),
    v.object({ kind: v.literal('benchwork.add'), record: newOf(benchworks) }),
    v.object({ kind: v.literal('benchwork.set'), id: idSchema, change: changeOf(without(benchworks)) }),
    v.object({ kind: v.literal('benchwork.movePoint'), id: idSchema, ring: ringNumber, index, to: pointSchema }),
    v.object({ kind: v.literal('benchwork.insertPoint'), id: idSchema, ring: ringNumber, index, at: pointSchema }),
    v.object({ kind: v.literal('benchwork.removePoint'), id: idSchema, ring: ringNumber, index }),
    v.object({ kind: v.literal('benchwork.addHole'), id: idSchema, ring: ringSchema }),
    v.object({ kind: v.literal('benchwork.removeHole'), id: idSchema, hole: index }),
    v.object({ kind: v.literal('opening.add'), record: newOf(openings) }),
    v.object({ kind: v.literal('opening.set'), id: idSchema, change: changeOf(without(openings)) }),
    v.object({ kind: v.literal('hatch.add'), record: newOf(hatches) }),
    v.object({ kind: v.literal('hatch.set'), id: idSchema, change: changeOf(without(hatches)) }),
    v.object({ kind: v.literal('joist.add'), record: newOf(joists) }),
    v.object({ kind: v.literal('joist.set'), id: idSchema, change: changeOf(without(joists)) }),
    v.object({ kind: v.literal('portal.add'), record: newOf(portals) }),
    v.object({ kind: v.literal('portal.set'), id: idSchema, change: changeOf(without(portals)) }),
    v.object({ kind: v.literal('material.add'), record: newOf(materials) }),
    v.object({ kind: v.literal('material.set'), id: idSchema, change: changeOf(without(materials)) }),
    v.object({ kind: v.literal('stock.add'), record: newOf(stocks) }),
    v.object({ kind: v.literal('stock.set'), id: idSchema, change: changeOf(without(stocks)) }),
    v.object({ kind: v.literal('railJoint.add'), record: newOf(railJoints) }),
    v.object({ kind: v.literal('railJoint.set'), id: idSchema, change: changeOf(without(railJoints)) }),
    v.object({ kind: v.literal('tick.add'), record: newOf(ticks) }),
    v.object({ kind: v.literal('tick.set'), id: idSchema, change: changeOf(without(ticks)) }),
    v.object({ kind: v.literal('guide.add'), record: newOf(guides) }),
    v.object({ kind: v.literal('guide.set'), id: idSchema, change: changeOf(without(guides)) }),
    v.object({ kind: v.literal('reading.add'), record: newOf(readings) }),
    v.object({ kind: v.literal('reading.set'), id: idSchema, change: changeOf(without(readings)) }),
    v.object({ kind: v.literal('underlay.add'), record: newOf(underlays) }),
    v.object({ kind: v.literal('underlay.set'), id: idSchema, change: changeOf(without(underlays)) }),
    v.object({ kind: v.literal('lock.add'), record: newOf(locks) }),
    v.object({ kind: v.literal('silence.add'), record: newOf(silences) }),
    v.object({ kind: v.literal('silence.set'), id: idSchema, change: changeOf(without(silences)) }),
    v.object({ kind: v.literal('track.add'), record: newOf(tracks) }),
    v.object({ kind: v.literal('track.set'), id: idSchema, change: changeOf({ name: tracks.name, lineClass: tracks.lineClass }) }),
    v.object({ kind: v.literal('track.setStart'), id: idSchema, start: trackStartSchema }),
    v.object({ kind: v.literal('track.setEnd'), id: idSchema, end: trackEndSchema }),
    v.object({ kind: v.literal('corner.insert'), track: idSchema, index, corner: newOf(cornerEntries) }),
    v.object({ kind: v.literal('corner.set'), track: idSchema, corner: idSchema, change: changeOf(without(cornerEntries)) }),
    v.object({ kind: v.literal('corner.remove'), track: idSchema, corner: idSchema }),
    v.object({ kind: v.literal('turnout.add'), record: newOf(turnouts) }),
    v.object({ kind: v.literal('turnout.set'), id: idSchema, change: changeOf(without(turnouts)) }),
    v.object({ kind: v.literal('crossing.add'), record: newOf(crossings) }),
    v.object({ kind: v.literal('crossing.set'), id: idSchema, change: changeOf(without(crossings)) }),
    v.object({
      kind: v.literal('maker.write'),
      record: newOf(makerEntries),
      tracks: v.array(v.looseObject(tracks, 'a track'), 'a list of tracks'),
      turnouts: v.array(v.looseObject(turnouts, 'a turnout'), 'a list of turnouts'),
    }),
    v.object({ kind: v.literal('maker.set'), id: idSchema, change: changeOf({ name: makers.name }) }),
    v.object({ kind: v.literal('maker.takeApart'), id: idSchema }),
    v.object({ kind: v.literal('remove'), table: v.picklist(tableNames, 'the name of a table'), id: idSchema }),
    v.object({
      kind: v.literal('group'),
      label: v.nullable(v.pipe(v.string(textText), v.maxLength(200, textText))),
      commands: v.array(
        v.lazy(() => commandSchema),
        'a list of commands',
      ),
    }),
  ],
  'a command of a known kind',
)
