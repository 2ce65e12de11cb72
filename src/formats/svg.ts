import { inked, sheetLayers, strokeStyle, textGround } from '../core/deliver/index.ts'
import type { DrawItem, LayerName, Sheet, SheetLook, StrokeItem, TextItem } from '../core/deliver/types.ts'
import type { Point } from '../core/geom/types.ts'
import { faceWidthMm } from './faceWidth.ts'
import { markupNumber, markupText } from './markup.ts'

export interface SvgOptions {
  /** Decimals of coordinates in mm. 3: a thousandth of a millimetre. */
  readonly decimals: number
  /** Begins the ids inside, so that several sheets can stand in one page. */
  readonly idPrefix: string
}

const usual: SvgOptions = { decimals: 3, idPrefix: 'sheet' }

/**
 * One sheet as an SVG document of its true size: width and height in mm, one user unit to the millimetre.
 *
 * Structure:  a group of lines for each layer, from the bottom up (`data-layer`), then one of words for each; all but 'sheet', which comes last, clipped
 *             to the window.
 * Exactness:  coordinates rounded to `decimals`; the same sheet gives the same text. Words are as wide as in the PDF, whatever face
 *             the viewer has.
 */
export function svgFromSheet(sheet: Sheet, options: Partial<SvgOptions> = {}): string {
  const { decimals, idPrefix } = { ...usual, ...options }
  const { widthMm, heightMm } = sheet.paper
  const pen = penOf(heightMm, decimals)
  const clipId = `${idPrefix}-${sheet.name}-window`.replace(/[^\w-]/g, '_')
  const { minX, minY, maxX, maxY } = sheet.window
  const group = (layer: LayerName, isOfGroup: (item: DrawItem) => boolean): readonly string[] => {
    const items = sheet.items.filter((item) => item.layer === layer && isOfGroup(item))
    if (items.length === 0) return []
    const clip = layer === 'sheet' ? '' : ` clip-path="url(#${clipId})"`
    return [`<g data-layer="${layer}"${clip}>`, ...items.map((item) => itemMarkup(item, pen, sheet.look)), '</g>']
  }
  const layers = sheetLayers.map(({ name }) => name).filter((name) => name !== 'sheet')
  const groups = [
    ...layers.flatMap((layer) => group(layer, ({ kind }) => kind === 'stroke')),
    ...layers.flatMap((layer) => group(layer, ({ kind }) => kind === 'text')),
    ...group('sheet', () => true),
  ]
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${widthMm}mm" height="${heightMm}mm" viewBox="0 0 ${widthMm} ${heightMm}" ` +
      // Without it browsers round the letters of small pictures to whole pixels.
      `font-family="'IBM Plex Sans Condensed', sans-serif" text-rendering="geometricPrecision">`,
    `<title>${markupText(`${sheet.title}, sheet ${sheet.name}`)}</title>`,
    `<clipPath id="${clipId}"><rect x="${pen.number(minX)}" y="${pen.number(heightMm - maxY)}" width="${pen.number(maxX - minX)}" height="${pen.number(maxY - minY)}"/></clipPath>`,
    `<rect width="${widthMm}" height="${heightMm}" fill="#fff"/>`,
    ...(sheet.look?.isMirrored === true ? [`<g transform="matrix(-1 0 0 1 ${pen.number(widthMm)} 0)">`, ...groups, '</g>'] : groups),
    '</svg>',
    '',
  ].join('\n')
}

/** Writes numbers and points; SVG counts y downwards. */
interface Pen {
  readonly number: (value: number) => string
  readonly point: (p: Point) => string
  readonly down: (y: number) => string
}

function penOf(heightMm: number, decimals: number): Pen {
  const number = (value: number): string => markupNumber(value, decimals)
  const down = (y: number): string => number(heightMm - y)
  return { number, down, point: (p) => `${number(p.x)} ${down(p.y)}` }
}

function itemMarkup(item: DrawItem, pen: Pen, look: SheetLook | undefined): string {
  return item.kind === 'stroke' ? strokeMarkup(item, pen, look) : textMarkup(item, pen, look)
}

function strokeMarkup(item: StrokeItem, pen: Pen, look: SheetLook | undefined): string {
  const { widthMm, dashMm, grey } = strokeStyle(item, look)
  const path = [`M${pen.point(item.start)}`]
  for (const segment of item.segments) {
    path.push(
      segment.kind === 'line' ? `L${pen.point(segment.to)}` : `C${pen.point(segment.c1)} ${pen.point(segment.c2)} ${pen.point(segment.to)}`,
    )
  }
  if (item.isClosed) path.push('Z')
  const fill = item.fill === null ? 'none' : greyColour(inked(item.fill, look))
  const dash = dashMm.length > 0 ? ` stroke-dasharray="${dashMm.join(' ')}"` : ' stroke-linecap="round" stroke-linejoin="round"'
  const stroke = widthMm > 0 ? ` stroke="${greyColour(grey)}" stroke-width="${widthMm}"${dash}` : ''
  return `<path data-role="${item.role}" d="${path.join('')}" fill="${fill}"${stroke}/>`
}

function textMarkup(item: TextItem, pen: Pen, look: SheetLook | undefined): string {
  const degrees = pen.number((-item.angleRad * 180) / Math.PI)
  const turn = degrees === '0' ? '' : ` transform="rotate(${degrees} ${pen.point(item.at)})"`
  const anchor = item.anchor === 'start' ? '' : ` text-anchor="${item.anchor}"`
  const weight = item.weight === 'bold' ? ' font-weight="600"' : ''
  const width = faceWidthMm(item)
  const length = width === null || width === 0 ? '' : ` textLength="${pen.number(width)}"`
  return `${groundMarkup(item, pen)}<text x="${pen.number(item.at.x)}" y="${pen.down(item.at.y)}" font-size="${pen.number(item.sizeMm)}"${length}${anchor}${weight} fill="${greyColour(inked(item.grey, look))}"${turn}>${markupText(item.text)}</text>`
}

/** White paper below the words, as far as they have any. */
function groundMarkup(item: TextItem, pen: Pen): string {
  const ground = textGround(item)
  return ground === null ? '' : `<path d="M${ground.map(pen.point).join('L')}Z" fill="${greyColour(1)}"/>`
}

/** 0 black to 1 white. */
function greyColour(level: number): string {
  const hex = Math.round(Math.min(1, Math.max(0, level)) * 255)
    .toString(16)
    .padStart(2, '0')
  return `#${hex}${hex}${hex}`
}
