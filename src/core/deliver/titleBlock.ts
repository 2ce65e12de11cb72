import type { Point } from '../geom/types.ts'
import { FOOT_STRIP_MM, FOOT_STRIP_TALL_MM, SIDE_STRIP_MM, type PageFrame } from './paper.ts'
import { textLines, textWidthMm } from './text.ts'
import type { DrawItem, LineRole, SheetOptions, TextItem } from './types.ts'

/** What the foot of a sheet says. */
export interface TitleText {
  readonly railway: string
  readonly sheetName: string
  readonly title: string
  readonly facts: readonly string[]
  /** 1:1, or that of an index. */
  readonly scale: string
  readonly caution: string
}

const MM_PER_INCH = 25.4

/** Frame, scale bars in both axes, check squares and title: all that stands outside of the window. Page mm. */
export function titleBlock(frame: PageFrame, options: SheetOptions, text: TitleText): readonly DrawItem[] {
  return [...windowFrame(frame), ...scaleBars(frame, options), ...titleTexts(frame, options, text)]
}

function windowFrame({ window }: PageFrame): readonly DrawItem[] {
  const { minX, minY, maxX, maxY } = window
  return [
    ring('frame', [
      { x: minX, y: minY },
      { x: maxX, y: minY },
      { x: maxX, y: maxY },
      { x: minX, y: maxY },
    ]),
  ]
}

/**
 * Bars of 100 mm and 4 in along both axes and a 10 mm square in a half-inch one. On a page for a printer that is not true
 * they are drawn as much too long or short as that printer needs, like everything else.
 */
function scaleBars(frame: PageFrame, options: SheetOptions): readonly DrawItem[] {
  const left = frame.marginMm
  const foot = frame.marginMm
  const across = (x: number, y: number): Point => ({ x: left + SIDE_STRIP_MM + x / options.calibrationX, y: foot + y })
  const up = (x: number, y: number): Point => ({ x: left + x, y: frame.window.minY + y / options.calibrationY })
  const square = (side: number): DrawItem =>
    ring('frame', [
      { x: left, y: foot },
      { x: left + side / options.calibrationX, y: foot },
      { x: left + side / options.calibrationX, y: foot + side / options.calibrationY },
      { x: left, y: foot + side / options.calibrationY },
    ])
  return [
    ...bar(100, 10, 5, (along, off) => across(along, barsHeight(frame) + 6.5 - off), 0, '100 mm'),
    ...bar(4 * MM_PER_INCH, MM_PER_INCH / 4, 4, (along, off) => across(along, barsHeight(frame) - off), 0, '4 in'),
    ...bar(100, 10, 5, (along, off) => up(3 + off, along), Math.PI / 2, '100 mm'),
    ...bar(4 * MM_PER_INCH, MM_PER_INCH / 4, 4, (along, off) => up(9.5 + off, along), Math.PI / 2, '4 in'),
    square(10),
    square(MM_PER_INCH / 2),
    label('10 mm', { x: left + 1.2, y: foot + 4.2 }, 2.4),
    label('½ in', { x: left, y: foot + MM_PER_INCH / 2 + 1.2 }, 2.4),
  ]
}

/** Height of the lower of the two bars across over the foot of the strip: below the title where that stands above them. */
function barsHeight({ footMm }: PageFrame): number {
  return footMm === FOOT_STRIP_TALL_MM ? 27 : FOOT_STRIP_MM - 9.5
}

/** One bar with its divisions on one side: the line itself runs exactly from end to end. */
function bar(
  lengthMm: number,
  stepMm: number,
  longEvery: number,
  place: (along: number, off: number) => Point,
  angleRad: number,
  text: string,
): readonly DrawItem[] {
  const items: DrawItem[] = [line('scale-bar', place(0, 0), place(lengthMm, 0))]
  const steps = Math.round(lengthMm / stepMm)
  for (let i = 0; i <= steps; i++) {
    const isLong = i % longEvery === 0
    items.push(line('tick', place(i * stepMm, 0), place(i * stepMm, isLong ? 2.8 : 1.6)))
  }
  items.push({
    kind: 'text',
    layer: 'sheet',
    at: place(lengthMm + 1.5, 2.2),
    text,
    sizeMm: 3,
    angleRad,
    anchor: 'start',
    weight: 'regular',
    grey: 0,
  })
  return items
}

function titleTexts(frame: PageFrame, options: SheetOptions, text: TitleText): readonly DrawItem[] {
  const right = frame.paper.widthMm - frame.marginMm
  const barsLeft = frame.marginMm + SIDE_STRIP_MM
  const isTall = frame.footMm === FOOT_STRIP_TALL_MM
  const left = isTall ? barsLeft : barsLeft + 118
  const top = frame.marginMm + (isTall ? FOOT_STRIP_TALL_MM : FOOT_STRIP_MM)
  const nameSize = text.sheetName.length > 3 ? 5.5 : 8
  const nameWidth = textWidthMm(text.sheetName, nameSize)
  const width = right - left - nameWidth - 3
  const items: DrawItem[] = [
    { ...label(text.sheetName, { x: right, y: top - 2 - nameSize * 0.7 }, nameSize), anchor: 'end', weight: 'bold' },
  ]
  const titleSize = fittingSize(text.title, 4, 3, width)
  const titleRows = textLines(text.title, titleSize, width).slice(0, 2)
  let y = top - 2
  for (const row of titleRows) {
    y -= titleSize
    items.push({ ...label(row, { x: left, y }, titleSize), weight: 'bold' })
    y -= 0.5
  }
  const particulars = [text.railway, `${text.scale} · ${frame.paper.name} · ${options.date}`]
  for (const row of particulars.flatMap((p) => textLines(p, 2.8, width))) {
    y -= 3.3
    items.push(label(row, { x: left, y }, 2.8))
  }
  const foot = frame.marginMm
  const across = right - barsLeft
  const rows = fittingRows(options, text, across, barsHeight(frame) - 3.5)
  let base = foot + 0.6
  for (const row of rows.toReversed()) {
    items.push({ ...label(row.text, { x: barsLeft, y: base }, row.size), grey: row.grey, weight: row.weight })
    base += row.size * LINE_SPACING
  }
  return items
}

interface Row {
  readonly text: string
  readonly size: number
  readonly grey: number
  readonly weight: TextItem['weight']
}

const LINE_SPACING = 1.2

/**
 * The small print broken into lines that fit under the bars: facts, the advice on printing, cautions. Where the paper is
 * narrow the type shrinks, and at last facts are left out; advice and cautions never are.
 */
function fittingRows(options: SheetOptions, text: TitleText, widthMm: number, heightMm: number): readonly Row[] {
  const set = (facts: readonly string[], scale: number): readonly Row[] =>
    [
      ...facts.map((fact): Row => ({ text: fact, size: 2.8 * scale, grey: 0, weight: 'regular' })),
      { text: printAdvice(options), size: 2.7 * scale, grey: 0, weight: 'bold' } as const,
      { text: text.caution, size: 2.3 * scale, grey: 0.2, weight: 'regular' } as const,
    ].flatMap((row) => textLines(row.text, row.size, widthMm).map((line) => ({ ...row, text: line })))
  const height = (rows: readonly Row[]): number => rows.reduce((sum, row) => sum + row.size * LINE_SPACING, 0)
  const tries = [1, 0.9, 0.8].map((scale) => set(text.facts, scale))
  return tries.find((rows) => height(rows) <= heightMm) ?? set([], 0.8)
}

/** The largest size between two bounds at which the text fits on one line; the smaller one when it never does. */
function fittingSize(text: string, most: number, least: number, widthMm: number): number {
  const fitting = (most * widthMm) / Math.max(1e-9, textWidthMm(text, most))
  return Math.max(least, Math.min(most, fitting))
}

function printAdvice(options: SheetOptions): string {
  const { calibrationX, calibrationY } = options
  const measured = (calibration: number): string => `${(100 * calibration).toFixed(2)} mm`
  return calibrationX === 1 && calibrationY === 1
    ? 'Print at 100 %, no fit to page; measure the bars first.'
    : `Print at 100 %, no fit to page. Only for the printer whose 100 mm bars came out ${measured(calibrationX)} across and ${measured(calibrationY)} up; measure the bars first.`
}

function label(text: string, at: Point, sizeMm: number): TextItem {
  return { kind: 'text', layer: 'sheet', at, text, sizeMm, angleRad: 0, anchor: 'start', weight: 'regular', grey: 0 }
}

function line(role: LineRole, from: Point, to: Point): DrawItem {
  return { kind: 'stroke', layer: 'sheet', role, start: from, segments: [{ kind: 'line', to }], isClosed: false, fill: null }
}

function ring(role: LineRole, points: readonly [Point, ...Point[]]): DrawItem {
  const [start, ...rest] = points
  return { kind: 'stroke', layer: 'sheet', role, start, segments: rest.map((to) => ({ kind: 'line', to })), isClosed: true, fill: null }
}
