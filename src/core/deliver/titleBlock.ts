import type { Point } from '../geom/types.ts'
import { barsHeight, SIDE_STRIP_MM, type PageFrame } from './paper.ts'
import { compassItems } from './compass.ts'
import { titleTexts, type TitleText } from './titleTexts.ts'
import type { DrawItem, LineRole, SheetOptions, TextItem } from './types.ts'
import { MM_PER_INCH } from '../units/index.ts'

/** The compass stands above the check squares, in the strip at the left. */
const COMPASS_UP_MM = 23
const SQUARE_MM = 100
const TICK_MM = 3

/** Frame, scale bars in both axes, check squares, compass and title. All but a corner of the large square stands outside of the window. Page mm. */
export function titleBlock(frame: PageFrame, options: SheetOptions, text: TitleText): readonly DrawItem[] {
  const { marginMm } = frame
  return [
    ...windowFrame(frame),
    ...scaleBars(frame, options),
    ...(text.compass
      ? [
          ...tickSquareLines(frame, options).map(([from, to]) => line('tick', from, to)),
          ...compassItems(text.compass, { x: marginMm + 6.5, y: marginMm + COMPASS_UP_MM }),
        ]
      : []),
    ...titleTexts(frame, options, text),
  ]
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

/**
 * A square of 100 mm from the corner of the frame: ticks on two sides and the corner opposite, so that a page that was fitted
 * or sheared shows it on the sides or on the diagonals. Only on sheets of the plan: it would cross the tables of others.
 */
export function tickSquareLines(
  { window: { minX, minY } }: PageFrame,
  { calibrationX, calibrationY }: SheetOptions,
): readonly (readonly [Point, Point])[] {
  const [x, y] = [minX + SQUARE_MM / calibrationX, minY + SQUARE_MM / calibrationY]
  return [
    [
      { x, y: minY },
      { x, y: minY + TICK_MM },
    ],
    [
      { x: minX, y },
      { x: minX + TICK_MM, y },
    ],
    [
      { x, y: y - TICK_MM },
      { x, y },
    ],
    [
      { x: x - TICK_MM, y },
      { x, y },
    ],
  ]
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
