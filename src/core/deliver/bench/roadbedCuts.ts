import type { Derived } from '../../pipeline/types.ts'
import type { SheetCut, SheetStrip, StripFan } from '../../roadbed/types.ts'
import type { LayingLists } from '../../shopping/types.ts'
import type { ListTable } from '../listPages.ts'
import { textWidthMm } from '../text.ts'
import type { DrawItem, SheetOptions } from '../types.ts'
import { lengthWords } from '../words.ts'
import type { BenchContent, Figure } from './pages.ts'
import { penPath, penText } from './pen.ts'
import { filledTables, left, right } from './words.ts'

type Units = SheetOptions['units']

const titleMm = 3.2
const markMm = 2.4
/** Smaller letters are not read beside a knife. */
const leastMarkMm = 1.3
const offcutGrey = 0.88
const wasteGrey = 0.72

/** Length of the longest sheet of roadbed that is cut, and width of the widest; null: none is. */
export function roadbedExtent({ plan }: Derived, { roadbedCut }: LayingLists): { readonly longMm: number; readonly wideMm: number } | null {
  if (!roadbedCut.ok) return null
  const sheets = roadbedCut.plan.sheets.flatMap(({ stock }) => {
    const of = plan.stocks[stock]?.of
    return of?.kind === 'roadbed' ? [of] : []
  })
  if (sheets.length === 0) return null
  return { longMm: Math.max(...sheets.map(({ lengthMm }) => lengthMm)), wideMm: Math.max(...sheets.map(({ widthMm }) => widthMm)) }
}

/** Every sheet of roadbed with its strips and pieces at 1:n, cuts as wide as the blade takes; then all strips as tables. */
export function roadbedCutContent({ plan }: Derived, { roadbed, roadbedCut }: LayingLists, reduction: number, units: Units): BenchContent {
  if (!roadbedCut.ok) return { figures: [], tables: [] }
  const { sheets } = roadbedCut.plan
  const numbered = sheets.map((sheet, i) => ({
    sheet,
    number: sheets.slice(0, i + 1).filter(({ stock }) => stock === sheet.stock).length,
    of: sheets.filter(({ stock }) => stock === sheet.stock).length,
  }))
  const figures = numbered.flatMap(({ sheet, number, of }): readonly Figure[] => {
    const stock = plan.stocks[sheet.stock]
    if (stock?.of.kind !== 'roadbed') return []
    const { lengthMm, widthMm } = stock.of
    const title = `${stock.name}: sheet ${number} of ${of}, ${lengthWords(lengthMm, units)} × ${lengthWords(widthMm, units)}`
    return [sheetFigure(sheet, lengthMm, widthMm, title, reduction)]
  })
  const curves = roadbed.runs.flatMap((run) => run.curves.map((fan) => ({ run: run.id, fan })))
  return {
    figures,
    tables: filledTables([
      ...numbered.map(({ sheet, number }) => stripTable(plan.stocks[sheet.stock]?.name ?? '', number, sheet, units)),
      fanTable(curves, units),
    ]),
  }
}

/** Strips run along the sheet; the first lies at its lower edge. Figure mm. */
function sheetFigure({ strips }: SheetCut, lengthMm: number, widthMm: number, title: string, reduction: number): Figure {
  const [wide, tall] = [lengthMm / reduction, widthMm / reduction]
  const box = (fromMm: number, toMm: number, acrossMm: number, endMm: number) => [
    { x: fromMm / reduction, y: acrossMm / reduction },
    { x: toMm / reduction, y: acrossMm / reduction },
    { x: toMm / reduction, y: endMm / reduction },
    { x: fromMm / reduction, y: endMm / reduction },
  ]
  const items: readonly DrawItem[] = [
    ...penPath('scale-bar', box(0, lengthMm, 0, widthMm), { isClosed: true, fill: offcutGrey }),
    ...strips.flatMap((strip, i) => {
      const { acrossMm, pieces } = strip
      const top = acrossMm + strip.widthMm
      const end = Math.max(0, ...pieces.map((piece) => piece.fromMm + piece.lengthMm))
      return [
        ...(strip.isKept || end >= lengthMm
          ? []
          : penPath('rail-head', box(end, lengthMm, acrossMm, top), { isClosed: true, fill: wasteGrey })),
        ...pieces.flatMap((piece) => [
          ...penPath('tick', box(piece.fromMm, piece.fromMm + piece.lengthMm, acrossMm, top), { isClosed: true, fill: 1 }),
          ...pieceMark(piece.id, (piece.fromMm + piece.lengthMm / 2) / reduction, (acrossMm + strip.widthMm / 2) / reduction, {
            wide: piece.lengthMm / reduction,
            tall: strip.widthMm / reduction,
          }),
        ]),
        penText(String(i + 1), { x: wide + 1.2, y: (acrossMm + strip.widthMm / 2) / reduction - 0.7 }, 2, { grey: 0.3 }),
      ]
    }),
    penText(title, { x: 0, y: tall + 2.4 }, titleMm, { weight: 'bold' }),
  ]
  return { widthMm: wide + 5, heightMm: tall + 8, items }
}

/** The mark of a piece in its middle, as large as it fits; none where it could not be read. */
export function pieceMark(text: string, x: number, y: number, room: { readonly wide: number; readonly tall: number }): readonly DrawItem[] {
  const sizeMm = Math.min(markMm, room.tall * 0.75, (markMm * (room.wide - 0.8)) / textWidthMm(text, markMm))
  return sizeMm < leastMarkMm ? [] : [penText(text, { x, y: y - 0.35 * sizeMm }, sizeMm, { anchor: 'middle' })]
}

function stripTable(stock: string, number: number, { strips, leftWidthMm }: SheetCut, units: Units): ListTable {
  const size = (mm: number): string => lengthWords(mm, units)
  const leftOf = ({ leftMm, isKept }: SheetStrip): string => (leftMm <= 0 ? '–' : `${size(leftMm)}${isKept ? ', kept' : ''}`)
  return {
    title: `${stock}, sheet ${number}`,
    notes: [`Strips from the lower edge on, a cut between any two. Left beside the last one: ${size(leftWidthMm)}.`],
    columns: [right('Strip'), right('Edge at'), right('Width'), left('Pieces from the end, with their lengths'), right('Left')],
    rows: strips.map((strip, i) => [
      String(i + 1),
      size(strip.acrossMm),
      size(strip.widthMm),
      strip.pieces.map(({ id, lengthMm }) => `${id} ${size(lengthMm)}`).join(' · '),
      leftOf(strip),
    ]),
  }
}

function fanTable(curves: readonly { readonly run: string; readonly fan: StripFan }[], units: Units): ListTable {
  const size = (mm: number): string => lengthWords(mm, units)
  return {
    title: 'Strips of curves',
    notes: ['Strips from left to right along rising station: the outer one is longer. Strain: of the outer edge when it is bent.'],
    columns: [left('Run'), right('Radius'), left('Lengths through the curve'), right('Most strain')],
    rows: curves.map(({ run, fan }) => [
      run,
      size(fan.radiusMm),
      fan.strips.map(({ lengthMm }) => size(lengthMm)).join(' · '),
      `${(100 * Math.max(0, ...fan.strips.map(({ strain }) => strain))).toFixed(1)} %`,
    ]),
  }
}
