import { boxGrow, boxOfPoints } from '../core/geom/index.ts'
import type { Box, Point } from '../core/geom/index.ts'
import { traceLayers } from '../core/deliver/index.ts'
import type { TraceItem, TraceLayer, TraceShape } from '../core/deliver/index.ts'
import { markupNumber, markupText } from './markup.ts'

/** White round a tracing, mm. */
const marginMm = 10
/** Digits behind the point: a thousandth of a millimetre. */
const decimals = 3

const strokes: { readonly [L in TraceLayer]: { readonly colour: string; readonly widthMm: number } } = {
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

/**
 * A tracing as one SVG of its true size, a user unit to the millimetre, arcs as arcs, one group for each layer by its name.
 *
 * Exactness:  rounded to 0.001 mm. The same tracing gives the same text.
 */
export function traceSvg(title: string, items: readonly TraceItem[]): string {
  const box = boxGrow(boxOfPoints(items.flatMap(({ shape }) => pointsOf(shape))) ?? { minX: 0, minY: 0, maxX: 1, maxY: 1 }, marginMm)
  const [width, height] = [number(box.maxX - box.minX), number(box.maxY - box.minY)]
  const groups = traceLayers.flatMap((layer) => {
    const shapes = items.filter((item) => item.layer === layer).map(({ shape }) => shapeMarkup(shape, box))
    if (shapes.length === 0) return []
    const { colour, widthMm } = strokes[layer]
    const look = layer === 'name' ? `fill="${colour}"` : `fill="none" stroke="${colour}" stroke-width="${widthMm}"`
    return [`<g id="${layer}" ${look}>`, ...shapes, '</g>']
  })
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}" font-family="sans-serif">`,
    `<title>${markupText(title)}</title>`,
    ...groups,
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
