import { toJsonSchema } from '@valibot/to-json-schema'
import { planSchema, planVersion } from '../../src/core/plan/index.ts'
import { ringSchema } from '../../src/core/plan/roomSchema.ts'
import { cornerEntries } from '../../src/core/plan/schema.ts'
import { idSchema, pointSchema } from '../../src/core/plan/schemaParts.ts'
import * as v from 'valibot'

/**
 * The text of the published JSON Schema of plan files, made from the schema by which the app reads them.
 * It says all but the references between records: those no JSON Schema can say.
 */
export function planJsonSchemaText(): string {
  const definitions = {
    id: idSchema,
    point: pointSchema,
    ring: ringSchema,
    cornerRadius: cornerEntries.radius,
    easementLength: cornerEntries.easementIn,
  }
  const schema = toJsonSchema(planSchema, {
    target: 'draft-2020-12',
    errorMode: 'throw',
    definitions: definitions satisfies Record<string, v.GenericSchema>,
  })
  const { $schema, ...rest } = schema
  const head = {
    $schema,
    title: `Waybench plan, version ${planVersion}`,
    description:
      'The plan of a hand-laid model railway: what the builder decided, not what follows from it. Lengths in millimetres on the model, x right, y up, headings anticlockwise. Keys that are not named here are kept.',
  }
  return `${JSON.stringify({ ...head, ...rest }, null, 2)}\n`
}
