import type { Box, Point } from '../../geom/types.ts'
import type { Derived } from '../../pipeline/types.ts'
import { tablePages, type ListTable } from '../listPages.ts'
import type { PageFrame } from '../paper.ts'
import { planMark } from '../planMark.ts'
import { titleBlock } from '../titleBlock.ts'
import type { DrawItem, PlanToPage, Sheet, SheetOptions } from '../types.ts'
import { penPlaced } from './pen.ts'

/** A picture at its true size: mm from its lower left corner, no wider than a page. */
export interface Figure {
  readonly widthMm: number
  readonly heightMm: number
  readonly items: readonly DrawItem[]
}

/** What one kind of bench sheet shows: figures at full size, row by row, then tables. */
export interface BenchContent {
  readonly figures: readonly Figure[]
  readonly tables: readonly ListTable[]
}

/** What the foot of a bench sheet says. */
export interface BenchWords {
  readonly title: string
  readonly facts: readonly string[]
  readonly scale: string
  readonly caution: string
  /** Letter before the number of a sheet. */
  readonly letter: string
}

const rimMm = 4
const airMm = 6
/** Tables that would leave less room than this for a head and some rows go on a page of their own. */
const leastTablesMm = 40

/**
 * Figures side by side and row by row, then tables below them where they fit whole, else on pages of their own. Figures are drawn as much
 * longer as a printer that is not true needs.
 */
export function benchPages(
  { figures, tables }: BenchContent,
  { window }: PageFrame,
  options: SheetOptions,
): readonly (readonly DrawItem[])[] {
  const pages: DrawItem[][] = []
  let [x, y, rowMm] = [window.minX + rimMm, window.maxY - rimMm, 0]
  for (const figure of figures) {
    const [wide, tall] = [figure.widthMm / options.calibrationX, figure.heightMm / options.calibrationY]
    if (x > window.minX + rimMm && x + wide > window.maxX - rimMm) {
      x = window.minX + rimMm
      y -= rowMm + airMm
      rowMm = 0
    }
    if (pages.length === 0 || (y - tall < window.minY + rimMm && y < window.maxY - rimMm)) {
      pages.push([])
      ;[x, y, rowMm] = [window.minX + rimMm, window.maxY - rimMm, 0]
    }
    const corner: Point = { x, y: y - tall }
    pages
      .at(-1)
      ?.push(...penPlaced(figure.items, (p) => ({ x: corner.x + p.x / options.calibrationX, y: corner.y + p.y / options.calibrationY })))
    x += wide + airMm
    rowMm = Math.max(rowMm, tall)
  }
  if (tables.length === 0) return pages
  const restMaxY = y - rowMm - airMm
  const rest: Box = { ...window, maxY: restMaxY }
  const last = pages.at(-1)
  if (last !== undefined && restMaxY - window.minY > leastTablesMm) {
    const [below, ...more] = tablePages(tables, rest)
    if (below !== undefined && more.length === 0) {
      last.push(...below)
      return pages
    }
  }
  return [...pages, ...tablePages(tables, window)]
}

/** A page with frame, bars, title and cautions round its items. */
export function benchSheet(
  { plan }: Derived,
  frame: PageFrame,
  options: SheetOptions,
  words: BenchWords,
  number: number,
  items: readonly DrawItem[],
  toPage: PlanToPage = {
    planOrigin: { x: 0, y: 0 },
    angleRad: 0,
    pageOrigin: { x: frame.window.minX, y: frame.window.minY },
    scaleX: 1,
    scaleY: 1,
  },
): Sheet {
  const name = `${words.letter}${number}`
  const { title, facts, scale, caution } = words
  return {
    kind: 'list',
    name,
    title,
    paper: frame.paper,
    window: frame.window,
    toPage,
    items: [
      ...items,
      ...titleBlock(frame, options, {
        railway: plan.railway.title,
        title,
        facts,
        sheetName: name,
        scale,
        caution,
        planMark: planMark(plan),
      }),
    ],
  }
}
