import type { Point } from '../core/geom/types.ts'
import { lengthParse, MM_PER_FOOT, MM_PER_INCH } from '../core/units/index.ts'
import type { BareLength, EntryProblem } from '../core/units/index.ts'

/** A measured point and the line of the text that it stands on, from 1. */
export interface ReadPoint extends Point {
  readonly line: number
}

/** A line that is no point. at: which of its measures cannot be read. */
export type PointFault =
  | { readonly kind: 'notTwo'; readonly line: number; readonly text: string }
  | { readonly kind: 'notALength'; readonly line: number; readonly text: string; readonly at: 'x' | 'y'; readonly problem: EntryProblem }

export interface PointsRead {
  readonly points: readonly ReadPoint[]
  readonly faults: readonly PointFault[]
  /** So many measures of these points were taken to be in the unit that was asked for, since nothing says theirs. */
  readonly bare: number
}

/** A larger text than this is no list of measured points, bytes. */
export const pointsTextMostBytes = 4 * 1024 * 1024

/** Where the measures stand in a row, and what a number without a unit means there, mm. */
interface Columns {
  readonly x: number
  readonly y: number
  readonly xMm: number
  readonly yMm: number
  /** Whether the head says the unit of both. */
  readonly isStated: boolean
}

/** Units of a head, mm. */
const unitsMm: Readonly<Record<string, number>> = { mm: 1, cm: 10, m: 1000, in: MM_PER_INCH, ft: MM_PER_FOOT }

const numberPattern = /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i

/**
 * Measured points as people write them down: one a line, x and y, whatever comes after them is passed over.
 *
 * Between the two stands a tab, a semicolon, a comma or a blank; a cell may be in quotes as spreadsheets write them. A measure is a
 * number, or a length with its own units: 3' 4 1/2", 102.9 mm. A head may name the columns and their units, in any order:
 * point,x_in,y_in. Lines before the first point without any figure are headings; empty ones and those that begin with # are nothing.
 *
 * Units:      mm; numbers without a unit as `bare` says, unless the head says otherwise.
 * Outcome:    the points in their order, and every line that is none with what is wrong there. Never throws.
 */
export function pointsRead(text: string, bare: Exclude<BareLength, 'refuse'>): PointsRead {
  const points: ReadPoint[] = []
  const faults: PointFault[] = []
  const bareMm = bare === 'in' ? MM_PER_INCH : 1
  let columns: Columns = { x: 0, y: 1, xMm: bareMm, yMm: bareMm, isStated: false }
  let bareCount = 0
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/)
  for (const [i, raw] of lines.entries()) {
    const row = raw.trim()
    if (row === '' || row.startsWith('#')) continue
    if (points.length === 0) {
      const head = headColumns(row, bareMm)
      if (head !== null || !/\d/.test(row)) {
        columns = head ?? columns
        continue
      }
    }
    const read = pointOf(row, columns)
    if (read.ok) {
      points.push({ ...read.point, line: i + 1 })
      if (!columns.isStated) bareCount += read.plain
    } else faults.push({ ...read.fault, line: i + 1, text: row })
  }
  return { points, faults, bare: bareCount }
}

/** plain: so many of both are numbers without a unit. */
type RowRead =
  | { readonly ok: true; readonly point: Point; readonly plain: number }
  | { readonly ok: false; readonly fault: { readonly kind: 'notTwo' } | Omit<Extract<PointFault, { kind: 'notALength' }>, 'line' | 'text'> }

function pointOf(row: string, { x: xAt, y: yAt, xMm, yMm }: Columns): RowRead {
  const cells = cellsOf(row, Math.max(xAt, yAt) + 1)
  const [xCell, yCell] = [cells[xAt], cells[yAt]]
  if (xCell === undefined || yCell === undefined || yCell === '') return { ok: false, fault: { kind: 'notTwo' } }
  const x = measureOf(xCell, xMm)
  if (!x.ok) return { ok: false, fault: { kind: 'notALength', at: 'x', problem: x.problem } }
  const y = measureOf(yCell, yMm)
  if (!y.ok) return { ok: false, fault: { kind: 'notALength', at: 'y', problem: y.problem } }
  return { ok: true, point: { x: x.mm, y: y.mm }, plain: [xCell, yCell].filter((cell) => numberPattern.test(cell)).length }
}

/** A plain number takes the unit of its column, with all its figures; all else is a length as people write it. */
function measureOf(cell: string, columnMm: number): ReturnType<typeof lengthParse> {
  const plain = numberPattern.test(cell) ? Number(cell) * columnMm : null
  if (plain !== null && Math.abs(plain) <= MOST_MM) return { ok: true, mm: plain }
  const bare = columnMm === MM_PER_INCH ? 'in' : columnMm === 1 ? 'mm' : 'refuse'
  return lengthParse(cell, { bare })
}

/** What lengths may be at most: lengthParse refuses the rest and says so. */
const MOST_MM = 1e7

/** The cells of a row, at the coarsest separator that it holds. need: a row cut at blanks has to give so many. */
function cellsOf(row: string, need: number): readonly string[] {
  const mark = ['\t', ';', ','].find((one) => row.includes(one))
  if (mark !== undefined) return cutOutsideQuotes(row, mark).map(cellText)
  const wide = row.split(/\s{2,}/)
  if (wide.length >= need) return wide
  const words = row.split(/\s+/)
  return need === 2 && !words.every((word) => numberPattern.test(word)) ? cutInTwo(words) : words
}

/** Two lengths with blanks in them and a blank between: cut where both halves can be read. */
function cutInTwo(words: readonly string[]): readonly string[] {
  for (let at = 1; at < words.length; at++) {
    const halves = [words.slice(0, at).join(' '), words.slice(at).join(' ')]
    if (halves.every((half) => lengthParse(half, { bare: 'mm' }).ok)) return halves
  }
  return words
}

/** A spreadsheet's quotes begin a cell; an inch mark never does. */
function cutOutsideQuotes(row: string, mark: string): readonly string[] {
  const cells: string[] = []
  let open = ''
  let isQuoted = false
  for (const sign of row) {
    if (sign === mark && !isQuoted) {
      cells.push(open)
      open = ''
      continue
    }
    if (sign === '"' && (isQuoted || open.trim() === '')) isQuoted = !isQuoted
    open += sign
  }
  return [...cells, open]
}

function cellText(raw: string): string {
  const cell = raw.trim()
  const isQuoted = cell.length >= 2 && cell.startsWith('"') && cell.endsWith('"')
  return isQuoted ? cell.slice(1, -1).replaceAll('""', '"').trim() : cell
}

/** A head that names both columns: x and y, each with its unit if it has one. null: the row is no such head. */
function headColumns(row: string, bareMm: number): Columns | null {
  const mark = ['\t', ';', ','].find((one) => row.includes(one))
  const cells = mark === undefined ? row.split(/\s+(?=\p{L})/u) : cutOutsideQuotes(row, mark).map(cellText)
  const named = cells.map((cell) => /^(x|y)(?:[\s_([]*(mm|cm|m|in|ft)[\])]?)?$/i.exec(cell))
  const at = (name: string): number => named.findIndex((found) => found?.[1]?.toLowerCase() === name)
  const [x, y] = [at('x'), at('y')]
  if (x < 0 || y < 0) return null
  const unitOf = (index: number): number => unitsMm[named[index]?.[2]?.toLowerCase() ?? ''] ?? bareMm
  const isStated = named[x]?.[2] !== undefined && named[y]?.[2] !== undefined
  return { x, y, xMm: unitOf(x), yMm: unitOf(y), isStated }
}
