import { boxGrow, boxOfPoints } from '../core/geom/index.ts'
import type { Box, Point } from '../core/geom/index.ts'
import { traceLayers } from '../core/deliver/index.ts'
import type { TraceItem, TraceLayer, TraceShape } from '../core/deliver/index.ts'
import { markupNumber, markupText } from './markup.ts'

/** White round a tracing, mm. */
const marginMm = 10
/** Digits behind the point: a thousandth of a millimetre. */
const decimals = 3

interface Stroke {
  readonly colour: string
  readonly widthMm: number
  readonly fill?: string
}

/** How layers look; null: left out. */
type Look = { readonly [L in TraceLayer]: Stroke | null }

const atTrueSize: Look = {
  wall: { colour: '#333', widthMm: 2 },
  obstacle: { colour: '#333', widthMm: 1 },
  benchwork: { colour: '#8a6d2f', widthMm: 1 },
  hatch: { colour: '#8a6d2f', widthMm: 0.5 },
  joist: { colour: '#999', widthMm: 0.5 },
  centreline: { colour: '#b3412a', widthMm: 0.3 },
  'rail-gauge': { colour: '#000', widthMm: 0.2 },
  'rail-head': { colour: '#000', widthMm: 0.2 },
  'rail-foot': { colour: '#777', widthMm: 0.1 },
  tie: { colour: '#777', widthMm: 0.1 },
  gap: { colour: '#b3412a', widthMm: 0.5 },
  'throw-hole': { colour: '#2a4fb3', widthMm: 0.2 },
  cut: { colour: '#b3412a', widthMm: 0.1 },
  name: { colour: '#333', widthMm: 0 },
}

/** As a picture for a page, seen from afar: ink on paper, rails as lines of so many mm that they show, no ties. */
function fromAfar(mmPerPx: number): Look {
  const ink = '#22302f'
  const line = (colour: string, px: number, fill?: string): Stroke => ({
    colour,
    widthMm: px * mmPerPx,
    ...(fill === undefined ? {} : { fill }),
  })
  return {
    wall: line(ink, 2.5),
    obstacle: line(ink, 1.5, '#cfc8b6'),
    benchwork: line('#bfae86', 1.2, '#e9dfc6'),
    hatch: line('#bfae86', 1, '#f5f1e6'),
    joist: null,
    centreline: null,
    'rail-gauge': line(ink, 1.8),
    'rail-head': null,
    'rail-foot': null,
    tie: null,
    gap: null,
    'throw-hole': null,
    cut: null,
    name: null,
  }
}

/** What is drawn over a picture, in the order given; sizes are px of the picture. Text stands in the middle of its place, on white. */
export interface TraceMark {
  readonly shape: TraceShape
  readonly colour: string
  readonly widthPx: number
  readonly fill?: string
}

/** With marks around it the plan takes so much of the width of its picture. */
const marksShare = 0.85
/** Room for words beyond their places, px. */
const wordsPx = 30

function markMarkup({ shape, colour, widthPx, fill = 'none' }: TraceMark, box: Box, mmPerPx: number): string {
  const paint =
    shape.kind === 'text'
      ? `fill="${colour}" stroke="#ffffff" stroke-width="${number(4 * mmPerPx)}" paint-order="stroke" text-anchor="middle"`
      : `fill="${fill}" stroke="${colour}" stroke-width="${number(widthPx * mmPerPx)}"`
  return `<g ${paint}>${shapeMarkup(shape, box)}</g>`
}

/** The ground of a picture for the screen: the paper of the desk. */
const deskPaper = '#f5f1e6'

/** The plan as an SVG of so many pixels' width, to be made a picture of. */
export function traceImage(
  title: string,
  items: readonly TraceItem[],
  widthPx: number,
  ground = deskPaper,
  marksAt: (mmPerPx: number) => readonly TraceMark[] = () => [],
): { readonly svg: string; readonly heightPx: number } {
  const bare = boxOf(items)
  const marksPerPx = (bare.maxX - bare.minX) / (marksShare * widthPx)
  const marks = marksAt(marksPerPx)
  const box = marks.length === 0 ? bare : boxGrow(boxOf([...items, ...marks]), wordsPx * marksPerPx)
  const mmPerPx = (box.maxX - box.minX) / widthPx
  const heightPx = Math.max(1, Math.round((box.maxY - box.minY) / mmPerPx))
  return {
    svg: drawn(title, items, box, fromAfar(mmPerPx), {
      width: String(widthPx),
      height: String(heightPx),
      ground,
      over: marks.map((mark) => markMarkup(mark, box, mmPerPx)),
    }),
    heightPx,
  }
}

/**
 * A tracing as one SVG of its true size, a user unit to the millimetre, arcs as arcs, one group for each layer by its name.
 *
 * Exactness:  rounded to 0.001 mm. The same tracing gives the same text.
 */
export function traceSvg(title: string, items: readonly TraceItem[]): string {
  const box = boxOf(items)
  const [width, height] = [`${number(box.maxX - box.minX)}mm`, `${number(box.maxY - box.minY)}mm`]
  return drawn(title, items, box, atTrueSize, { width, height, ground: null })
}

const boxOf = (items: readonly Pick<TraceItem, 'shape'>[]): Box =>
  boxGrow(boxOfPoints(items.flatMap(({ shape }) => pointsOf(shape))) ?? { minX: 0, minY: 0, maxX: 1, maxY: 1 }, marginMm)

function drawn(
  title: string,
  items: readonly TraceItem[],
  box: Box,
  look: Look,
  page: { readonly width: string; readonly height: string; readonly ground: string | null; readonly over?: readonly string[] },
): string {
  const [width, height] = [number(box.maxX - box.minX), number(box.maxY - box.minY)]
  const groups = traceLayers.flatMap((layer) => {
    const stroke = look[layer]
    if (stroke === null) return []
    const shapes = items.filter((item) => item.layer === layer).map(({ shape }) => shapeMarkup(shape, box))
    if (shapes.length === 0) return []
    const { colour, widthMm, fill = 'none' } = stroke
    const paint = layer === 'name' ? `fill="${colour}"` : `fill="${fill}" stroke="${colour}" stroke-width="${number(widthMm)}"`
    return [`<g id="${layer}" ${paint}>`, ...shapes, '</g>']
  })
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${page.width}" height="${page.height}" viewBox="0 0 ${width} ${height}" font-family="sans-serif">`,
    `<title>${markupText(title)}</title>`,
    ...(page.ground === null ? [] : [`<rect width="${width}" height="${height}" fill="${page.ground}"/>`]),
    ...groups,
    ...(page.over ?? []),
    '</svg>',
    '',
  ].join('\n')
}

function shapeMarkup(shape: TraceShape, box: Box): string {
  const place = ({ x, y }: Point): string => `${number(x - box.minX)} ${number(box.maxY - y)}`
  switch (shape.kind) {
    case 'line':
      return `<path d="M${place(shape.from)}L${place(shape.to)}"/>`
    case 'polyline':
      return `<path d="M${shape.points.map(place).join('L')}${shape.isClosed ? 'Z' : ''}"/>`
    case 'arc': {
      const { radiusMm, fromRad, toRad } = shape
      // An arc of more than half a turn has two ways round; in halves there is one. y runs down: anticlockwise is sweep 0.
      const parts = Math.max(1, Math.ceil((toRad - fromRad) / (0.9 * Math.PI)))
      const at = (i: number): string => place(pointOnArc(shape, fromRad + ((toRad - fromRad) * i) / parts))
      const arcs = Array.from({ length: parts }, (_, i) => `A${number(radiusMm)} ${number(radiusMm)} 0 0 0 ${at(i + 1)}`)
      return `<path d="M${at(0)}${arcs.join('')}"/>`
    }
    case 'text': {
      const turn = `rotate(${number((-shape.angleRad * 180) / Math.PI)} ${place(shape.at)})`
      const [x = '0', y = '0'] = place(shape.at).split(' ')
      return `<text x="${x}" y="${y}" font-size="${shape.heightMm}" transform="${turn}">${markupText(shape.text)}</text>`
    }
  }
}

function pointOnArc({ centre, radiusMm }: Extract<TraceShape, { kind: 'arc' }>, angle: number): Point {
  return { x: centre.x + radiusMm * Math.cos(angle), y: centre.y + radiusMm * Math.sin(angle) }
}

function pointsOf(shape: TraceShape): readonly Point[] {
  switch (shape.kind) {
    case 'line':
      return [shape.from, shape.to]
    case 'polyline':
      return shape.points
    case 'arc':
      return Array.from({ length: 9 }, (_, i) => pointOnArc(shape, shape.fromRad + ((shape.toRad - shape.fromRad) * i) / 8))
    case 'text':
      return [shape.at]
  }
}

const number = (value: number): string => markupNumber(value, decimals)
