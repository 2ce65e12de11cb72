import { isPlanText, layersUnusual, type LayerName } from './layers.ts'
import { lineStyles } from './roles.ts'
import type { LineStyle } from './roles.ts'
import type { DrawItem, Sheet, SheetLook, SheetOptions, SheetSet } from './types.ts'

/** The usual layers, lines as they are, black, the right way round. */
export const lookUsual: SheetLook = { without: layersUnusual, isMirrored: false, lines: 'usual', ink: 'black' }

const hairlineMm = 0.1
const boldTimes = 1.8
/** Black becomes this grey: dark enough to see under wet adhesive, light enough not to be taken for a pencil line. Common practice, no source. */
const palest = 0.5

/** The look of an index: it is read, not taken off. */
export function indexLook<O extends Pick<SheetOptions, 'look'>>(options: O): O {
  return options.look === undefined ? options : { ...options, look: { ...options.look, isMirrored: false } }
}

/** Sheets as the builder wants to see them: without some layers, and with what the formats need to know of lines and ink. */
export function setLooked(set: SheetSet, { look = lookUsual }: SheetOptions): SheetSet {
  const sheets = set.sheets.map((sheet): Sheet => {
    const own = sheet.kind === 'index' ? { ...look, isMirrored: false } : look
    return { ...sheet, look: own, items: sheet.items.filter((item) => isShown(item, look)) }
  })
  return { ...set, sheets }
}

/** Measured or laid on each other: nothing makes them thinner or thicker. */
const isMeasured = (layer: LayerName): boolean => layer === 'sheet' || layer === 'match'

const isShown = (item: DrawItem, { without }: SheetLook): boolean =>
  item.layer === 'sheet' || !(without.includes(item.layer) || (isPlanText(item) && without.includes('text')))

/** Width, dash and grey of a stroke on its sheet. Frame, bars and match marks keep their width: they are measured and laid on each other. */
export function strokeStyle({ layer, role }: Extract<DrawItem, { kind: 'stroke' }>, look: SheetLook = lookUsual): LineStyle {
  const style = lineStyles[role]
  const grey = inked(style.grey, look)
  if (isMeasured(layer) || look.lines === 'usual' || style.widthMm === 0) return { ...style, grey }
  return { ...style, grey, widthMm: look.lines === 'hairline' ? hairlineMm : style.widthMm * boldTimes }
}

/** A grey, 0 black to 1 white, as it is printed. */
export function inked(grey: number, { ink }: SheetLook = lookUsual): number {
  return ink === 'black' ? grey : palest + (1 - palest) * grey
}
