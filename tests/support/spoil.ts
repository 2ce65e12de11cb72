import * as fc from 'fast-check'

/** Values that a field should not have, or that are only just right. */
export const oddValue: fc.Arbitrary<unknown> = fc.oneof(
  fc.constantFrom<unknown>(
    NaN,
    Infinity,
    -Infinity,
    -0,
    0,
    -1,
    1e6,
    1e6 + 1,
    1e308,
    '',
    '5',
    null,
    undefined,
    true,
    'class',
    'x'.repeat(201),
  ),
  fc.constantFrom<unknown>(
    [],
    {},
    [[]],
    { x: NaN, y: 0 },
    { kind: 'leg' },
    { kind: 'closed' },
    'constructor',
    'toString',
    '__proto__',
    10n,
    Symbol.iterator,
    () => 1,
    new Map(),
    new Date(0),
  ),
  fc.jsonValue({ maxDepth: 3 }),
)

/**
 * The same data with one place changed: `pick` chooses the place among all values at any depth, and the odd value is put there,
 * the key removed, or the value doubled under another key.
 */
export function spoil(data: unknown, pick: number, odd: unknown, how: 'put' | 'drop' | 'double'): unknown {
  const clone: unknown = structuredClone(data)
  const places = placesOf(clone)
  const place = places[pick % Math.max(1, places.length)]
  if (place === undefined) return odd
  const { holder, key } = place
  if (how === 'put') holder[key] = odd
  else if (how === 'drop') delete holder[key]
  else holder[`${key}-twin`] = holder[key]
  return clone
}

type Holder = { [key: string]: unknown }

function placesOf(value: unknown): { holder: Holder; key: string }[] {
  if (typeof value !== 'object' || value === null) return []
  const holder = value as Holder
  return Object.keys(holder).flatMap((key) => [{ holder, key }, ...placesOf(holder[key])])
}
