type Schema = { readonly [keyword: string]: unknown }

/**
 * Whether a value is valid under a JSON Schema (draft 2020-12), for the keywords that our published schema uses. Any other
 * keyword is an error of the test: a schema that this cannot read proves nothing.
 */
export function jsonSchemaAccepts(root: Schema, value: unknown, schema: Schema = root): boolean {
  return Object.entries(schema).every(([keyword, wanted]) => {
    const check = keywords[keyword]
    if (check === undefined) throw new Error(`keyword ${keyword} is not known to this check`)
    return check(wanted, value, (part, item) => jsonSchemaAccepts(root, item, part as Schema), schema, root)
  })
}

type Check = (
  wanted: unknown,
  value: unknown,
  accepts: (schema: unknown, value: unknown) => boolean,
  schema: Schema,
  root: Schema,
) => boolean

const isObject = (value: unknown): value is { readonly [key: string]: unknown } =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
const always: Check = () => true
/** Keywords about numbers, texts, lists and objects say nothing about values of other types. */
const ofNumber =
  (holds: (value: number, limit: number) => boolean): Check =>
  (wanted, value) =>
    typeof value !== 'number' || holds(value, Number(wanted))
const ofObject =
  (
    holds: (
      value: { readonly [key: string]: unknown },
      wanted: unknown,
      accepts: (schema: unknown, value: unknown) => boolean,
      schema: Schema,
    ) => boolean,
  ): Check =>
  (wanted, value, accepts, schema) =>
    !isObject(value) || holds(value, wanted, accepts, schema)

const keywords: { readonly [keyword: string]: Check } = {
  $schema: always,
  title: always,
  description: always,
  $defs: always,
  $ref: (wanted, value, accepts, _schema, root) => accepts((root['$defs'] as Schema)[String(wanted).replace('#/$defs/', '')], value),
  type: (wanted, value) => {
    if (wanted === 'object') return isObject(value)
    if (wanted === 'array') return Array.isArray(value)
    if (wanted === 'null') return value === null
    if (wanted === 'integer') return Number.isInteger(value)
    return typeof value === wanted
  },
  const: (wanted, value) => wanted === value,
  enum: (wanted, value) => (wanted as readonly unknown[]).includes(value),
  minimum: ofNumber((value, limit) => value >= limit),
  maximum: ofNumber((value, limit) => value <= limit),
  exclusiveMinimum: ofNumber((value, limit) => value > limit),
  exclusiveMaximum: ofNumber((value, limit) => value < limit),
  maxLength: (wanted, value) => typeof value !== 'string' || value.length <= Number(wanted),
  pattern: (wanted, value) => typeof value !== 'string' || new RegExp(String(wanted), 'u').test(value),
  items: (wanted, value, accepts) => !Array.isArray(value) || value.every((item) => accepts(wanted, item)),
  maxItems: (wanted, value) => !Array.isArray(value) || value.length <= Number(wanted),
  minItems: (wanted, value) => !Array.isArray(value) || value.length >= Number(wanted),
  anyOf: (wanted, value, accepts) => (wanted as readonly unknown[]).some((part) => accepts(part, value)),
  oneOf: (wanted, value, accepts) => (wanted as readonly unknown[]).filter((part) => accepts(part, value)).length === 1,
  required: ofObject((value, wanted) => (wanted as readonly string[]).every((key) => Object.hasOwn(value, key))),
  properties: ofObject((value, wanted, accepts) =>
    Object.entries(wanted as Schema).every(([key, part]) => !Object.hasOwn(value, key) || accepts(part, value[key])),
  ),
  propertyNames: ofObject((value, wanted, accepts) => Object.keys(value).every((key) => accepts(wanted, key))),
  additionalProperties: ofObject((value, wanted, accepts, schema) =>
    Object.entries(value).every(
      ([key, item]) => Object.hasOwn((schema['properties'] as Schema | undefined) ?? {}, key) || accepts(wanted, item),
    ),
  ),
}
