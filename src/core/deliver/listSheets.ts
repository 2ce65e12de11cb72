import type { Box } from '../geom/types.ts'
import { listText, tablePages } from './listPages.ts'
import type { ListTable } from './listPages.ts'
import { pageFrame } from './paper.ts'
import { textLinesAtMost, textWidthMm } from './text.ts'
import type { DrawItem, Sheet, SheetOptions, SheetSet } from './types.ts'

/** Tables to be printed under one title. */
export interface ListRequest {
  readonly title: string
  readonly railway: string
  /** Of the plan's state (planMark); absent: not told. */
  readonly planMark?: string
  readonly tables: readonly ListTable[]
}

const TITLE_MM = 5
const SMALL_MM = 2.8
/** Strips above and below the tables. */
const HEAD_MM = 14
const FOOT_MM = 8

/**
 * Tables on as many pages as they need, each page with title, number, railway and date.
 *
 * Units:    page mm, y up from the lower left corner of the paper.
 * Outcome:  no sheets, and why, when the paper cannot be printed on.
 * Throws:   never.
 */
export function listSheets({ title, railway, planMark, tables }: ListRequest, options: SheetOptions): SheetSet {
  const framed = pageFrame(options)
  if (!framed.ok) return { title, sheets: [], problems: framed.problems }
  const { paper, marginMm } = framed.frame
  const page: Box = { minX: marginMm, minY: marginMm, maxX: paper.widthMm - marginMm, maxY: paper.heightMm - marginMm }
  const window: Box = { ...page, minY: page.minY + FOOT_MM, maxY: page.maxY - HEAD_MM }
  const pages = tablePages(tables, window)
  const date = planMark === undefined ? options.date : `${options.date} · plan ${planMark}`
  const sheets = pages.map((items, i): Sheet => {
    const number = `Page ${i + 1} of ${pages.length}`
    return {
      kind: 'list',
      name: `P${i + 1}`,
      title,
      paper,
      window,
      toPage: { planOrigin: { x: 0, y: 0 }, angleRad: 0, pageOrigin: { x: window.minX, y: window.minY }, scaleX: 1, scaleY: 1 },
      items: [...items, ...pageTexts(page, { title, railway, number, date })],
    }
  })
  return { title, sheets, problems: [] }
}

interface PageWords {
  readonly title: string
  readonly railway: string
  readonly number: string
  /** With the mark of the plan, where there is one. */
  readonly date: string
}

function pageTexts({ minX, minY, maxX, maxY }: Box, { title, railway, number, date }: PageWords): readonly DrawItem[] {
  const left = minX + 3
  const right = maxX - 3
  const room = right - left - textWidthMm(number, SMALL_MM) - 4
  const [head = ''] = textLinesAtMost(title, TITLE_MM, room, 1)
  const [foot = ''] = textLinesAtMost(railway, SMALL_MM, right - left - textWidthMm(date, SMALL_MM) - 4, 1)
  return [
    listText(head, left, maxY - 7, TITLE_MM, 'bold', 0, 'start'),
    listText(number, right, maxY - 7, SMALL_MM, 'regular', 0, 'end'),
    listText(foot, left, minY + 2, SMALL_MM, 'regular', 0.25, 'start'),
    listText(date, right, minY + 2, SMALL_MM, 'regular', 0.25, 'end'),
  ]
}
