import type { Derived } from '../../pipeline/types.ts'
import { cautions } from '../cautions.ts'
import { pageFrame, type PageFrame } from '../paper.ts'
import { textLines, textWidthMm } from '../text.ts'
import { titleBlock } from '../titleBlock.ts'
import type { DrawItem, Sheet, SheetOptions, SheetSet, SheetSubject, TextItem } from '../types.ts'
import { builtWorkSet } from './builtWork.ts'
import { buildTables, type BuildColumn, type BuildTable } from './tables.ts'

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

type CutListSubject = Extract<SheetSubject, { kind: 'cutList' }>

/** One line of a page: what it draws from its top down, and how tall it is. */
interface Block {
  readonly heightMm: number
  /** Lines that must come with it on the same page. */
  readonly keepsMm: number
  readonly draw: (topY: number) => readonly DrawItem[]
}

/** Cut list, filing and all other tables of special work on pages of their own, or why there are none. */
export function cutListSheets(derived: Derived, subject: CutListSubject, options: SheetOptions): SheetSet {
  const framed = pageFrame(options)
  if (!framed.ok) return { title: '', sheets: [], problems: framed.problems }
  const built = builtWorkSet(derived, subject)
  if (!built.ok) return refuse(built.problem)
  const { name, parts, made } = built.work
  const tables = buildTables(parts, made, options.units)
  const title = `Cut list and filing, ${name}`
  const pages = pagesOf(tables, framed.frame)
  return { title, sheets: pages.map((items, i) => pageSheet(derived, framed.frame, options, title, `L${i + 1}`, items)), problems: [] }
}

function refuse(problem: string): SheetSet {
  return { title: '', sheets: [], problems: [problem] }
}

function pageSheet(
  derived: Derived,
  frame: PageFrame,
  options: SheetOptions,
  title: string,
  name: string,
  items: readonly DrawItem[],
): Sheet {
  return {
    kind: 'list',
    name,
    title,
    paper: frame.paper,
    window: frame.window,
    toPage: { planOrigin: { x: 0, y: 0 }, angleRad: 0, pageOrigin: { x: frame.window.minX, y: frame.window.minY }, scaleX: 1, scaleY: 1 },
    items: [
      ...items,
      ...titleBlock(frame, options, {
        railway: derived.plan.railway.title,
        title,
        facts: [],
        sheetName: name,
        scale: 'A list, not a drawing',
        caution: cautions.build,
      }),
    ],
  }
}

/** The tables set one under the other, broken between rows; a table that goes on has its heads again. */
function pagesOf(tables: readonly BuildTable[], { window }: PageFrame): readonly (readonly DrawItem[])[] {
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
    draw: (topY) => [textItem(text, x, topY - sizeMm, sizeMm, weight, grey, 'start')],
  }
}

/** A long narrow table as its two halves side by side, with a blank column between. */
function tableFolded(table: BuildTable, widthMm: number): BuildTable {
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
function columnWidths(table: BuildTable, widthMm: number): readonly number[] {
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
  columns: readonly BuildColumn[],
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
          textItem(text, at, topY - size * (1 + line * lineSpacing), size, 'regular', isHead ? 0.3 : 0, isRight ? 'end' : 'start'),
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

function textItem(
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
