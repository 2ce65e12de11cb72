import { readFileSync } from 'node:fs'
import { expect } from 'vitest'

/** A published value with the tolerance that its print allows. mm, rad or, where no unit converts, as printed. */
export interface ReferenceValue {
  readonly name: string
  readonly value: number
  readonly unit: string
  /** What may be added and taken off. */
  readonly plus: number
  readonly minus: number
}

export interface ReferenceRow {
  readonly id: string
  readonly quantity: string
  readonly source: string
  readonly confirmed: boolean
  readonly note: string
  readonly inputs: Readonly<Record<string, unknown>>
  readonly expected: readonly ReferenceValue[]
}

interface RawValue {
  readonly name: string
  readonly value: number
  readonly unit: string
  readonly tol?: number
  readonly plus?: number
  readonly minus?: number
}
type RawRow = Omit<ReferenceRow, 'expected' | 'note'> & { readonly expected: readonly RawValue[]; readonly note?: string }

const factors: Readonly<Record<string, readonly [number, string]>> = {
  mm: [1, 'mm'],
  cm: [10, 'mm'],
  m: [1000, 'mm'],
  in: [25.4, 'mm'],
  ft: [304.8, 'mm'],
  pt: [25.4 / 72, 'mm'],
  rad: [1, 'rad'],
  deg: [Math.PI / 180, 'rad'],
  '%': [0.01, '1'],
}

function converted(value: number, unit: string): readonly [number, string] {
  const [factor, to] = factors[unit] ?? [1, unit]
  return [value * factor, to]
}

/** Rows of tests/reference/data/<file>.json, all lengths in mm and angles in rad. Throws when nothing matches: a typing error must not pass. */
export function referenceRows(
  file: string,
  filter: { readonly quantity?: string; readonly idPrefix?: string } = {},
): readonly ReferenceRow[] {
  const path = new URL(`../reference/data/${file}.json`, import.meta.url)
  const { cases } = JSON.parse(readFileSync(path, 'utf8')) as { readonly cases: readonly RawRow[] }
  const rows = cases.filter(
    (row) => (filter.quantity === undefined || row.quantity === filter.quantity) && row.id.startsWith(filter.idPrefix ?? ''),
  )
  if (rows.length === 0) throw new Error(`No row of ${file} matches ${JSON.stringify(filter)}`)
  return rows.map((row) => ({
    ...row,
    note: row.note ?? '',
    expected: row.expected.map(({ name, value, unit, tol = 0, plus, minus }) => {
      const [inMm, to] = converted(value, unit)
      return { name, value: inMm, unit: to, plus: converted(plus ?? tol, unit)[0], minus: converted(minus ?? tol, unit)[0] }
    }),
  }))
}

/** An input of a row by name, in mm or rad; plain numbers as they are. */
export function referenceInput(row: ReferenceRow, name: string): number {
  const raw = row.inputs[name]
  if (typeof raw === 'number') return raw
  if (raw !== null && typeof raw === 'object' && 'value' in raw && 'unit' in raw && typeof raw.value === 'number') {
    return converted(raw.value, String(raw.unit))[0]
  }
  throw new Error(`Row ${row.id} has no numeric input ${name}`)
}

/** An expected value of a row by name. */
export function referenceValue(row: ReferenceRow, name: string): ReferenceValue {
  const found = row.expected.find((value) => value.name === name)
  if (!found) throw new Error(`Row ${row.id} expects no ${name}`)
  return found
}

// Conversions of units leave a few units in the last place; far below any print.
const roundingOf = (value: number): number => Math.abs(value) * 1e-12 + 1e-12

/** Fails unless the measured value lies within the row's own tolerance, plus and minus apart. */
export function expectMeets(row: ReferenceRow, name: string, measured: number): void {
  const { value, plus, minus } = referenceValue(row, name)
  const slack = roundingOf(value)
  const message = `${row.id} ${name}: ${measured}, printed ${value} +${plus} -${minus} (${row.source})`
  expect(measured, message).toBeGreaterThanOrEqual(value - minus - slack)
  expect(measured, message).toBeLessThanOrEqual(value + plus + slack)
}
