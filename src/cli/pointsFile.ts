import type { Point } from '../core/geom/types.ts'
import { lengthParse } from '../core/units/index.ts'
import { BadInput } from './badInput.ts'
import { textFromFile } from './textFile.ts'

/** A larger file than this holds no list of measured points, bytes. */
const MOST_BYTES = 4 * 1024 * 1024

/** What a unit in the head stands for, mm. */
const unitsMm: Readonly<Record<string, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4, ft: 304.8 }

/**
 * Measured points of a file: one a line, x and y with a comma, semicolon, tab or blank between. A head may name the columns and their
 * unit: x,y  or  x_in,y_in  or  x (mm),y (mm). Without a unit they are millimetres; a length may carry its own (12in). Empty lines
 * and those that begin with # are passed over. Throws BadInput with the line that cannot be read.
 */
export function pointsFromFile(path: string): readonly Point[] {
  return pointsRead(textFromFile(path, MOST_BYTES, 'list of points'), path)
}

function pointsRead(text: string, path: string): readonly Point[] {
  const points: Point[] = []
  let scale = { x: 1, y: 1 }
  let isFirst = true
  for (const [i, raw] of text
    .replace(/^\uFEFF/, '')
    .split(/\r\n|\r|\n/)
    .entries()) {
    const line = raw.trim()
    if (line === '' || line.startsWith('#')) continue
    const cells = line.split(/\s*[,;\t]\s*|\s+(?=[-+.\d])/)
    const head = isFirst ? headScale(line) : null
    isFirst = false
    if (head !== null) {
      scale = head
      continue
    }
    const [x, y] = [numberIn(cells[0], scale.x), numberIn(cells[1], scale.y)]
    if (cells.length < 2 || x === null || y === null)
      throw new BadInput(`${path}, line ${i + 1}: “${line}” is no point; right would be x,y such as 120.5,64 or 4.75in,2.5in.`)
    points.push({ x, y })
  }
  return points
}

/** Units of a head such as x_in,y_in; null: the line is no head. */
function headScale(line: string): { readonly x: number; readonly y: number } | null {
  const found = /^"?x(?:[\s_([]*(mm|cm|m|in|ft)[\])]?)?"?\s*[,;\t ]\s*"?y(?:[\s_([]*(mm|cm|m|in|ft)[\])]?)?"?(?:[,;\t ].*)?$/i.exec(line)
  if (found === null) return null
  const unit = (name: string | undefined): number => unitsMm[(name ?? 'mm').toLowerCase()] ?? 1
  return { x: unit(found[1]), y: unit(found[2]) }
}

function numberIn(cell: string | undefined, scale: number): number | null {
  const word = (cell ?? '').replaceAll('"', '').trim()
  if (/^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(word)) return Number(word) * scale
  const read = lengthParse(word, { bare: 'refuse' })
  return read.ok ? read.mm : null
}
