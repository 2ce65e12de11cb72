import type { Box } from '../geom/types.ts'
import { textLines, textWidthMm } from './text.ts'
import type { DrawItem, TextItem } from './types.ts'

/** A table to be printed: every cell in words. */
export interface ListTable {
  readonly title: string
  readonly notes: readonly string[]
  readonly columns: readonly ListColumn[]
  readonly rows: readonly (readonly string[])[]
}

export interface ListColumn {
  readonly head: string
  readonly align: 'left' | 'right'
}

const bodyMm = 2.9
const headMm = 2.6
const titleMm = 4
const noteMm = 2.6
const lineSpacing = 1.3
const gutterMm = 4
/** Between two tables. */
const airMm = 5
/** A table is begun only where its title and so many rows fit. */
const leastRows = 3
/** A longer table whose halves fit beside each other is folded. */
const foldedRows = 8

/** One line of a page: what it draws from its top down, and how tall it is. */
interface Block {
  readonly heightMm: number
  /** Lines that must come with it on the same page. */
  readonly keepsMm: number
  readonly draw: (topY: number) => readonly DrawItem[]
}

/** The tables set one under the other, broken between rows; a table that goes on has its heads again. */
export function tablePages(tables: readonly ListTable[], window: Box): readonly (readonly DrawItem[])[] {
  const rim = 3
  const left = window.minX + rim
  const widthMm = window.maxX - window.minX - 2 * rim
  const top = window.maxY - rim
  const pages: DrawItem[][] = [[]]
  let y = top
  const place = (block: Block, again: readonly Block[] = []): void => {
    if (y - block.heightMm - block.keepsMm < window.minY + rim && y < top) {
      pages.push([])
      y = top
      for (const one of again) place(one)
    }
    pages.at(-1)?.push(...block.draw(y))
    y -= block.heightMm
  }
  for (const table of tables.map((one) => tableFolded(one, widthMm))) {
    const widths = columnWidths(table, widthMm)
    const row = (cells: readonly string[], isHead: boolean): Block => rowBlock(cells, table.columns, widths, left, isHead)
    const heads = row(
      table.columns.map(({ head }) => head),
      true,
    )
    const rows = table.rows.map((cells) => row(cells, false))
    const first = rows.slice(0, leastRows).reduce((sum, { heightMm }) => sum + heightMm, 0)
    const notes = table.notes.flatMap((note) => textLines(note, noteMm, widthMm))
    const headMmAll = notes.length * noteMm * lineSpacing + heads.heightMm + first
    place(textBlock(table.title, left, titleMm, 'bold', 0, headMmAll))
    for (const note of notes) place(textBlock(note, left, noteMm, 'regular', 0.25, 0))
    place(heads)
    for (const one of rows) place(one, [heads])
    y -= airMm
  }
  return pages
}

function textBlock(text: string, x: number, sizeMm: number, weight: TextItem['weight'], grey: number, keepsMm: number): Block {
  return {
    heightMm: sizeMm * lineSpacing,
    keepsMm,
    draw: (topY) => [listText(text, x, topY - sizeMm, sizeMm, weight, grey, 'start')],
  }
}

/** A long narrow table as its two halves side by side, with a blank column between. */
function tableFolded(table: ListTable, widthMm: number): ListTable {
  const { columns, rows } = table
  const own = sum(columnWidths(table, widthMm)) + gutterMm * (columns.length - 1)
  if (rows.length <= foldedRows || 2 * own + 3 * gutterMm > widthMm) return table
  const half = Math.ceil(rows.length / 2)
  const blank = columns.map(() => '')
  return {
    ...table,
    columns: [...columns, { head: '', align: 'left' }, ...columns],
    rows: rows.slice(0, half).map((row, i) => [...row, '', ...(rows[half + i] ?? blank)]),
  }
}

/** As wide as the widest cell; where all do not fit, the widest columns of words give way and their cells are broken. */
function columnWidths(table: ListTable, widthMm: number): readonly number[] {
  const wanted = table.columns.map(({ head }, i) =>
    Math.max(textWidthMm(head, headMm), ...table.rows.map((cells) => textWidthMm(cells[i] ?? '', bodyMm))),
  )
  const room = widthMm - gutterMm * (wanted.length - 1)
  const widths = [...wanted]
  for (let over = sum(widths) - room; over > 1e-6; over = sum(widths) - room) {
    const widest = Math.max(...widths)
    const next = Math.max(0, ...widths.filter((width) => width < widest - 1e-9))
    const many = widths.filter((width) => width >= widest - 1e-9).length
    const to = Math.max(next, widest - over / many)
    for (const [i, width] of widths.entries()) if (width >= widest - 1e-9) widths[i] = to
  }
  return widths
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}

function rowBlock(
  cells: readonly string[],
  columns: readonly ListColumn[],
  widths: readonly number[],
  left: number,
  isHead: boolean,
): Block {
  const size = isHead ? headMm : bodyMm
  const lines = cells.map((cell, i) => textLines(cell, size, (widths[i] ?? 0) + 1e-6))
  const count = Math.max(1, ...lines.map(({ length }) => length))
  const heightMm = count * size * lineSpacing + 1
  return {
    heightMm,
    keepsMm: 0,
    draw: (topY) => {
      let x = left
      const items = lines.flatMap((own, i): readonly DrawItem[] => {
        const width = widths[i] ?? 0
        const isRight = columns[i]?.align === 'right'
        const at = isRight ? x + width : x
        x += width + gutterMm
        return own.map((text, line) =>
          listText(text, at, topY - size * (1 + line * lineSpacing), size, 'regular', isHead ? 0.3 : 0, isRight ? 'end' : 'start'),
        )
      })
      const rule = topY - heightMm + 0.6
      const to = left + sum(widths) + gutterMm * (widths.length - 1)
      return [...items, ...(isHead ? [ruleItem(left, to, rule)] : [])]
    },
  }
}

function ruleItem(from: number, to: number, y: number): DrawItem {
  return {
    kind: 'stroke',
    layer: 'sheet',
    role: 'frame',
    start: { x: from, y },
    segments: [{ kind: 'line', to: { x: to, y } }],
    isClosed: false,
    fill: null,
  }
}

export function listText(
  text: string,
  x: number,
  y: number,
  sizeMm: number,
  weight: TextItem['weight'],
  grey: number,
  anchor: TextItem['anchor'],
): TextItem {
  return { kind: 'text', layer: 'sheet', at: { x, y }, text, sizeMm, angleRad: 0, anchor, weight, grey }
}
