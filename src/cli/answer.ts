import { angleFormat, lengthFormat } from '../core/units/index.ts'

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

/** A small size in both systems, inches in decimals as the standards print them: 1.02 mm  (0.040 in). */
export function lengthFine(mm: number): string {
  return Number.isFinite(mm) ? `${mm.toFixed(2)} mm  (${(mm / 25.4).toFixed(3)} in)` : 'none'
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
