/** Plain data as JSON knows it. */
export type Data = null | boolean | number | string | readonly Data[] | { readonly [key: string]: Data }

/** Where a value stopped being plain data: dotted path, the value, what would be right. */
export interface DataFault {
  readonly where: string
  readonly value: unknown
  readonly expected: string
}

export type DataResult = { readonly ok: true; readonly data: Data } | { readonly ok: false; readonly fault: DataFault }

/**
 * How deep lists and objects may lie in each other. The document itself needs six levels. Much more and writing the file
 * could exhaust the stack; less would refuse what another program keeps in a plan under keys of its own.
 */
export const dataDepthLimit = 64

const refusedKeys: ReadonlySet<string> = new Set(['__proto__', 'constructor', 'prototype'])

/**
 * A fresh copy of a value as plain data.
 *
 * Domain:  any value.
 * Outcome: the fault of the first number that is not finite, function, missing value, built-in object (Date, Map), level too deep, or key
 *          that could reach a prototype (refused rather than dropped: nothing of a file is lost in silence).
 * Throws:  never, for values without getters that throw.
 */
export function dataCopy(value: unknown): DataResult {
  const fault: { found: DataFault | null } = { found: null }
  const data = copy(value, [], fault)
  return fault.found === null ? { ok: true, data } : { ok: false, fault: fault.found }
}

function copy(value: unknown, path: string[], fault: { found: DataFault | null }): Data {
  const refuse = (expected: string): Data => {
    fault.found ??= { where: path.join('.'), value, expected }
    return null
  }
  if (value === null || typeof value === 'boolean' || typeof value === 'string') return value
  if (typeof value === 'number') return Number.isFinite(value) ? value : refuse('a finite number')
  if (typeof value !== 'object') return refuse('plain data')
  if (path.length >= dataDepthLimit) return refuse(`at most ${dataDepthLimit} levels`)
  const child = (key: string, item: unknown): Data => {
    path.push(key)
    const copied = copy(item, path, fault)
    path.pop()
    return copied
  }
  // Array.from and not map: a hole in a list must be seen as the missing value that it is.
  if (Array.isArray(value)) return Array.from(value, (item: unknown, index) => child(String(index), item))
  if (Object.prototype.toString.call(value) !== '[object Object]') return refuse('plain data')
  const out: { [key: string]: Data } = {}
  for (const [key, item] of Object.entries(value)) {
    if (refusedKeys.has(key)) fault.found ??= { where: [...path, key].join('.'), value: key, expected: 'another key' }
    else out[key] = child(key, item)
  }
  return out
}

/** Freezes a value with all that lies in it. What is frozen already is taken to be so all the way down. */
export function dataFreeze<T>(value: T): T {
  if (typeof value !== 'object' || value === null || Object.isFrozen(value)) return value
  for (const item of Object.values(value)) dataFreeze(item)
  return Object.freeze(value)
}

/** Whether two values of plain data say the same; order of keys does not matter. */
export function dataEqual(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return a === b
  if (Array.isArray(a) || Array.isArray(b)) {
    return Array.isArray(a) && Array.isArray(b) && a.length === b.length && a.every((item, i) => dataEqual(item, b[i]))
  }
  const left = Object.entries(a)
  const right = new Map(Object.entries(b))
  return left.length === right.size && left.every(([key, item]) => right.has(key) && dataEqual(item, right.get(key)))
}

/** The later of two values of plain data, with every part that says the same as in the earlier one taken from there: what did not change is the same object. */
export function dataShared<T>(before: unknown, after: T): T {
  if (Object.is(before, after)) return after
  if (typeof before !== 'object' || typeof after !== 'object' || before === null || after === null) return after
  if (Array.isArray(before) !== Array.isArray(after)) return after
  const was = Object.entries(before)
  const is = Object.entries(after)
  const earlier = new Map(was)
  const parts = is.map(([key, part]) => [key, dataShared(earlier.get(key), part)] as const)
  const isSame = was.length === is.length && parts.every(([key, part], i) => was[i]?.[0] === key && was[i][1] === part)
  // The same parts in the same order: it is the earlier one again.
  if (isSame) return before as T
  return (Array.isArray(after) ? parts.map(([, part]) => part) : Object.fromEntries(parts)) as T
}
