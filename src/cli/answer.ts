import { angleFormat, lengthFormat } from '../core/units/index.ts'
import type { MeasurePrefs } from '../words/measure.ts'

/** How measures read in the sentences of the command line: it knows of nobody's preference. */
export const inBoth: MeasurePrefs = { units: 'both', fraction: 64 }

/** What a verb hands back: written and printed only when all of it is there. */
export interface Answer {
  readonly json: object
  readonly text: string
  readonly exitCode: 0 | 1
  readonly files: readonly { readonly path: string; readonly bytes: Uint8Array }[]
}

/** A length in both systems: 156.35 mm  (6 5/32 in). */
export function lengthBoth(mm: number): string {
  if (!Number.isFinite(mm)) return 'none'
  return `${mm.toFixed(2)} mm  (${lengthFormat(mm, { units: 'imperial', fraction: 64, style: 'inches' })})`
}

/** An angle in degrees to 0.001. */
export function angleDegrees(rad: number): string {
  return angleFormat(rad, { decimals: 3 })
}

/** Rows of words in columns, each as wide as its widest word. */
export function columns(rows: readonly (readonly string[])[]): string {
  const widths = rows.reduce<readonly number[]>(
    (most, row) => Array.from({ length: Math.max(most.length, row.length) }, (_, i) => Math.max(most[i] ?? 0, [...(row[i] ?? '')].length)),
    [],
  )
  return rows
    .map((row) =>
      row
        .map((cell, i) => cell + ' '.repeat(Math.max(0, (widths[i] ?? 0) - [...cell].length)))
        .join('  ')
        .trimEnd(),
    )
    .join('\n')
}
