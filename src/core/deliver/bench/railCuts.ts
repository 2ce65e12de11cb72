import type { Derived } from '../../pipeline/types.ts'
import type { RailMark, RailPiece } from '../../rails/types.ts'
import type { LayingLists } from '../../shopping/types.ts'
import type { StickCut } from '../../sticks/types.ts'
import { benchAngleWords } from '../build/words.ts'
import { textLines, textWidthMm } from '../text.ts'
import type { DrawItem, SheetOptions } from '../types.ts'
import { lengthWords } from '../words.ts'
import type { BenchContent, Figure } from './pages.ts'
import { penLine, penPath, penText } from './pen.ts'
import { pieceMark } from './roadbedCuts.ts'

type Units = SheetOptions['units']

const titleMm = 2.8
const noteMm = 2.3
const lineMm = 3
/** Between columns of notes. */
const columnAirMm = 5
const barMm = 3.4
/** Ticks of marks stand so far above the bar, with their letters over them. */
const tickMm = 1.8
const offcutGrey = 0.88

/** Length of the longest stick that is cut; null: none is. */
export function railExtent({ railCuts }: LayingLists): { readonly longMm: number; readonly wideMm: number } | null {
  const lengths = railCuts.flatMap(({ result }) => (result.ok ? result.plan.sticks.map(({ lengthMm }) => lengthMm) : []))
  return lengths.length === 0 ? null : { longMm: Math.max(...lengths), wideMm: 0 }
}

/** Every stick of rail with its pieces at 1:n, and what is scribed on each before it is bent. `roomMm`: how wide words may run. */
export function railCutContent(
  { plan }: Derived,
  { rails, railCuts }: LayingLists,
  reduction: number,
  roomMm: number,
  units: Units,
): BenchContent {
  const pieces = new Map(rails.pieces.map((piece) => [piece.id, piece]))
  const figures = railCuts.flatMap(({ code, stocks, result }) =>
    result.ok
      ? result.plan.sticks.map((stick, i) => {
          const stock = plan.stocks[stocks[stick.stock] ?? '']?.name ?? ''
          const title = `Code ${code}, stick ${i + 1} of ${result.plan.sticks.length}: ${stock === '' ? '' : `${stock}, `}${lengthWords(stick.lengthMm, units)}`
          return stickFigure(stick, title, pieces, reduction, roomMm, units)
        })
      : [],
  )
  return { figures, tables: [] }
}

/** What is scribed on a piece, in order from its start. */
function marksWords(piece: RailPiece, units: Units): string {
  const words = piece.marks.map(
    ({ kind, atMm, turnRad }) =>
      `${kind} ${lengthWords(atMm, units)}${turnRad === undefined ? '' : ` (${benchAngleWords(turnRad)} ${turnRad > 0 ? 'left' : 'right'})`}`,
  )
  return [`${piece.id}: cut ${lengthWords(piece.lengthMm, units)}`, ...words].join(' · ')
}

function stickFigure(
  stick: StickCut,
  title: string,
  pieces: ReadonlyMap<string, RailPiece>,
  reduction: number,
  roomMm: number,
  units: Units,
): Figure {
  const placed = stick.pieces.flatMap((place) => {
    const piece = pieces.get(place.id)
    return piece ? [{ place, piece }] : []
  })
  const lines = placed.flatMap(({ piece }) => textLines(marksWords(piece, units), noteMm, roomMm))
  const leftWords = stick.leftMm > 0.05 ? [`Left: ${lengthWords(stick.leftMm, units)}${stick.isKept ? ', kept' : ''}`] : []
  const notes = [...lines, ...leftWords]
  const columns = Math.max(1, Math.floor(roomMm / (Math.max(0, ...notes.map((text) => textWidthMm(text, noteMm))) + columnAirMm)))
  const rows = Math.ceil(notes.length / columns)
  const base = rows * lineMm + 2
  const bar = (fromMm: number, toMm: number) => [
    { x: fromMm / reduction, y: base },
    { x: toMm / reduction, y: base },
    { x: toMm / reduction, y: base + barMm },
    { x: fromMm / reduction, y: base + barMm },
  ]
  const items: readonly DrawItem[] = [
    ...penPath('scale-bar', bar(0, stick.lengthMm), { isClosed: true, fill: offcutGrey }),
    ...placed.flatMap(({ place, piece }) => [
      ...penPath('tick', bar(place.fromMm, place.fromMm + place.lengthMm), { isClosed: true, fill: 1 }),
      ...pieceMark(place.id, (place.fromMm + place.lengthMm / 2) / reduction, base + barMm / 2, {
        wide: place.lengthMm / reduction,
        tall: barMm,
      }),
      ...markTicks(place.fromMm, piece.marks, base + barMm, reduction),
    ]),
    ...notes.map((text, i) =>
      penText(text, { x: Math.floor(i / rows) * (roomMm / columns), y: base - 1.4 - ((i % rows) + 1) * lineMm }, noteMm, { grey: 0.15 }),
    ),
    penText(title, { x: 0, y: base + barMm + 5.4 }, titleMm, { weight: 'bold' }),
  ]
  return { widthMm: roomMm, heightMm: base + barMm + 9, items }
}

/** A tick for each mark; its letters where they keep off those before. */
function markTicks(startMm: number, marks: readonly RailMark[], y: number, reduction: number): readonly DrawItem[] {
  let freeFrom = -Infinity
  return marks.flatMap(({ kind, atMm }): readonly DrawItem[] => {
    const x = (startMm + atMm) / reduction
    const tick = penLine('tick', { x, y }, { x, y: y + tickMm })
    if (x < freeFrom) return [tick]
    freeFrom = x + 5
    return [tick, penText(kind === 'middle' ? 'm' : kind, { x, y: y + tickMm + 0.5 }, 1.8, { anchor: 'middle' })]
  })
}
