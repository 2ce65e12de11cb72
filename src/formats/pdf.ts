import type { PDFDocument, PDFFont, PDFHexString, PDFName, PDFRef } from '@cantoo/pdf-lib'
import { inked, isPlanText, sheetLayers, strokeStyle, textGround, textLayer } from '../core/deliver/index.ts'
import type { DrawItem, LayerName, Sheet, SheetLook, SheetSet, StrokeItem, TextItem } from '../core/deliver/types.ts'
import type { Point } from '../core/geom/types.ts'

/** The two faces of the sheets as font files (TrueType). How they are loaded is the caller's: fetch in a page, disk in node. */
export interface SheetFonts {
  readonly regular: Uint8Array
  readonly bold: Uint8Array
}

/** PDF units (1/72 in) in a millimetre. */
const UNITS_PER_MM = 72 / 25.4

/** What an item is shown with: its layer, and for words of the plan the layer of all words as well. Names a property of the pages. */
type Bracket = LayerName | `${LayerName}-text`

const bracketOf = (item: DrawItem): Bracket => (isPlanText(item) ? `${item.layer}-text` : item.layer)

/**
 * A set of sheets as one PDF, a page to a sheet.
 *
 * Units:      content streams are in millimetres under one scaling of 72/25.4 a page; numbers to 1e-5 mm.
 *             Page boxes equal the paper. Readers are asked not to scale when printing.
 * Structure:  one optional-content group for each layer that is drawn on, the lowest last as viewers list them, and one for all words, which are
 *             seen while it and their own layer are on; each role is a marked-content tag of its own name.
 * Exactness:  same set and fonts, same bytes: no clock, no random names.
 * Loading:    the PDF library is loaded on the first call, so that an app starts without it.
 */
export async function pdfFromSheets(set: SheetSet, fonts: SheetFonts): Promise<Uint8Array> {
  const rounds = pdfRounds(set, fonts)
  let next = await rounds.next()
  while (next.done !== true) next = await rounds.next()
  return next.value
}

/** Signs of the texts that their face has no shape for: they would print as empty boxes. In the order in which they come. */
export async function pdfSignsMissing({ sheets }: SheetSet, fonts: SheetFonts): Promise<readonly string[]> {
  const { default: fontkit } = await import('@cantoo/fontkit')
  const signsOf = (file: Uint8Array): ReadonlySet<number> => {
    const font = fontkit.create(file)
    return new Set('characterSet' in font ? font.characterSet : [])
  }
  const known = { regular: signsOf(fonts.regular), bold: signsOf(fonts.bold) }
  const missing = new Set<string>()
  for (const { items } of sheets)
    for (const item of items)
      if (item.kind === 'text') for (const sign of item.text) if (!known[item.weight].has(sign.codePointAt(0) ?? 0)) missing.add(sign)
  return [...missing]
}

/** How far a PDF is: the page that is written next, from 1. */
export interface PdfProgress {
  readonly page: number
  readonly pages: number
}

/** The same page by page; whoever hears of it and asks no further has no file. */
export async function* pdfRounds(set: SheetSet, fonts: SheetFonts): AsyncGenerator<PdfProgress, Uint8Array> {
  const [pdf, { default: fontkit }] = await Promise.all([import('@cantoo/pdf-lib'), import('@cantoo/fontkit')])
  const doc = await pdf.PDFDocument.create({ updateMetadata: false })
  doc.registerFontkit(fontkit)
  doc.setTitle(set.title, { showInWindowTitleBar: true })
  doc.setProducer('Waybench')
  doc.setCreator('Waybench')
  const preferences = doc.catalog.getOrCreateViewerPreferences()
  preferences.setPrintScaling(pdf.PrintScaling.None)
  preferences.setPickTrayByPDFSize(true)

  const faces = {
    regular: await doc.embedFont(fonts.regular, { subset: true }),
    bold: await doc.embedFont(fonts.bold, { subset: true }),
  }
  const brackets = new Set(set.sheets.flatMap(({ items }) => items.map(bracketOf)))
  const layerRefs = layersRegistered(doc, brackets, pdf.PDFName.of('OCProperties'), (s) => pdf.PDFHexString.fromText(s))
  const resources = doc.context.obj({
    Font: { regular: faces.regular.ref, bold: faces.bold.ref },
    Properties: Object.fromEntries(layerRefs),
  })
  for (const [i, sheet] of set.sheets.entries()) {
    yield { page: i + 1, pages: set.sheets.length }
    const size = [sheet.paper.widthMm * UNITS_PER_MM, sheet.paper.heightMm * UNITS_PER_MM] as const
    const page = doc.addPage([...size])
    page.setCropBox(0, 0, ...size)
    page.setTrimBox(0, 0, ...size)
    page.node.set(pdf.PDFName.of('Resources'), resources)
    const content = pageContent(sheet, faces)
    page.node.set(pdf.PDFName.of('Contents'), doc.context.register(doc.context.flateStream(content)))
  }
  return doc.save({ addDefaultPage: false, updateFieldAppearances: false })
}

/** Registers the layers that are used, lists them in the catalogue, and says what each bracket is shown with. */
function layersRegistered(
  doc: PDFDocument,
  brackets: ReadonlySet<Bracket>,
  key: PDFName,
  text: (s: string) => PDFHexString,
): readonly (readonly [Bracket, PDFRef])[] {
  const group = (title: string): PDFRef => doc.context.register(doc.context.obj({ Type: 'OCG', Name: text(title) }))
  const words = [...brackets].some((bracket) => bracket.endsWith('-text')) ? group(textLayer.title) : null
  const groups: PDFRef[] = []
  const refs = sheetLayers.flatMap(({ name, title }): (readonly [Bracket, PDFRef])[] => {
    const withText = `${name}-text` as const
    if (!brackets.has(name) && !brackets.has(withText)) return []
    const own = group(title)
    groups.push(own)
    if (words === null || !brackets.has(withText)) return [[name, own]]
    // Seen while both are on.
    const both = doc.context.register(doc.context.obj({ Type: 'OCMD', OCGs: [own, words], P: 'AllOn' }))
    return [
      [name, own],
      [withText, both],
    ]
  })
  const all = [...groups.toReversed(), ...(words === null ? [] : [words])]
  const config = { Name: text('Waybench'), BaseState: 'ON', Order: all, ON: all }
  doc.catalog.set(key, doc.context.obj({ OCGs: all, D: config }))
  return refs
}

/** The operators of a page. Items keep their order; neighbours of one layer and role share their brackets. */
function pageContent(sheet: Sheet, faces: { readonly regular: PDFFont; readonly bold: PDFFont }): string {
  const scale = UNITS_PER_MM.toFixed(12)
  const { look } = sheet
  const across =
    look?.isMirrored === true ? `-${scale} 0 0 ${scale} ${mm(sheet.paper.widthMm * UNITS_PER_MM)} 0` : `${scale} 0 0 ${scale} 0 0`
  const out: string[] = [`${across} cm`, '1 J 1 j']
  const { minX, minY, maxX, maxY } = sheet.window
  const clip = `${mm(minX)} ${mm(minY)} ${mm(maxX - minX)} ${mm(maxY - minY)} re W n`
  for (const run of runsBy(sheet.items, bracketOf)) {
    out.push(`/OC /${bracketOf(run[0])} BDC`, 'q')
    if (run[0].layer !== 'sheet') out.push(clip)
    for (const part of runsBy(run, roleOf)) {
      out.push(`/${roleOf(part[0])} BMC`, 'q', ...styleOf(part[0], look))
      for (const item of part) out.push(item.kind === 'stroke' ? strokeOperators(item, look) : textOperators(item, faces, look))
      out.push('Q', 'EMC')
    }
    out.push('Q', 'EMC')
  }
  return out.join('\n')
}

function roleOf(item: DrawItem): string {
  return item.kind === 'stroke' ? item.role : 'text'
}

/** Line width, dash and grey of a role; texts carry their own grey. */
function styleOf(item: DrawItem, look: SheetLook | undefined): readonly string[] {
  if (item.kind === 'text') return []
  const { widthMm, dashMm, grey } = strokeStyle(item, look)
  const dash = dashMm.length > 0 ? ['0 J', `[${dashMm.map(mm).join(' ')}] 0 d`] : []
  return widthMm > 0 ? [`${mm(widthMm)} w`, `${mm(grey)} G`, ...dash] : []
}

function strokeOperators(item: StrokeItem, look: SheetLook | undefined): string {
  const path = [`${at(item.start)} m`]
  for (const segment of item.segments) {
    path.push(segment.kind === 'line' ? `${at(segment.to)} l` : `${at(segment.c1)} ${at(segment.c2)} ${at(segment.to)} c`)
  }
  if (item.isClosed) path.push('h')
  const isStroked = strokeStyle(item, look).widthMm > 0
  if (item.fill === null) return [...path, isStroked ? 'S' : 'n'].join(' ')
  return [`${mm(inked(item.fill, look))} g`, ...path, isStroked ? 'B' : 'f'].join(' ')
}

function textOperators(item: TextItem, faces: { readonly regular: PDFFont; readonly bold: PDFFont }, look: SheetLook | undefined): string {
  const face = faces[item.weight]
  const width = item.anchor === 'start' ? 0 : face.widthOfTextAtSize(item.text, item.sizeMm)
  const back = item.anchor === 'end' ? width : width / 2
  const [cos, sin] = [Math.cos(item.angleRad), Math.sin(item.angleRad)]
  const start = { x: item.at.x - back * cos, y: item.at.y - back * sin }
  const turn = `${mm(cos)} ${mm(sin)} ${mm(-sin)} ${mm(cos)}`
  return `${groundOperators(item)}${mm(inked(item.grey, look))} g BT /${item.weight} ${mm(item.sizeMm)} Tf ${turn} ${at(start)} Tm ${face.encodeText(item.text).toString()} Tj ET`
}

/** White paper below the words, as far as they have any. */
function groundOperators(item: TextItem): string {
  const ground = textGround(item)
  return ground === null ? '' : `1 g ${ground.map((p, i) => `${at(p)} ${i === 0 ? 'm' : 'l'}`).join(' ')} f `
}

function at(p: Point): string {
  return `${mm(p.x)} ${mm(p.y)}`
}

/** A number to 1e-5, without an exponent, trailing zeros or a minus before zero. */
function mm(value: number): string {
  const text = value.toFixed(5).replace(/\.?0+$/, '')
  return text === '-0' ? '0' : text
}

/** Neighbours with the same key, together. */
function runsBy(items: readonly DrawItem[], keyOf: (item: DrawItem) => string): readonly (readonly [DrawItem, ...DrawItem[]])[] {
  const runs: [DrawItem, ...DrawItem[]][] = []
  for (const item of items) {
    const last = runs.at(-1)
    if (last && keyOf(last[0]) === keyOf(item)) last.push(item)
    else runs.push([item])
  }
  return runs
}
