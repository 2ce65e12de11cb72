import { late } from '../plan/index.ts'
import type { Compass } from './compass.ts'
import { lookUsual } from './look.ts'
import { barsHeight, SIDE_STRIP_MM, type PageFrame } from './paper.ts'
import { textLines, textLinesAtMost, textWidthMm } from './text.ts'
import type { SheetOptions, TextItem } from './types.ts'

/** What the foot of a sheet says. */
export interface TitleText {
  readonly railway: string
  readonly sheetName: string
  readonly title: string
  readonly facts: readonly string[]
  /** 1:1, or that of an index sheet. */
  readonly scale: string
  readonly caution: string
  /** Of the plan's state (planMark); absent: not told. */
  readonly planMark?: string
  /** How the page lies in the room; absent: not told, as of what does not lie in it. */
  readonly compass?: Compass
  /** The window shows a small map: only the bars are full size. */
  readonly isMap?: true
}

interface Row {
  readonly text: string
  readonly size: number
  readonly grey: number
  readonly weight: TextItem['weight']
}

const LINE_SPACING = 1.2
/** From the bars' left end to where the title stands beside them. */
const BESIDE_BARS_MM = 118
/** Air between the title and what stands beside or under it. */
const AIR_MM = 1
/** Names are as long as their owners like; the type shrinks down to this part before they are cut. */
const SCALES = [1, 0.9, 0.8] as const
/** And down to this where even the cut ones have no room. */
const LEAST_SCALE = 0.7

/** As wide as any mark of a plan: where lines break does not hang on its letters. */
const MARK_ROOM = 'plan MMMMMM'

/** By how much the foot grows at a time, and at most: more than the longest facts there are take on the narrowest paper. */
const EXTRA_STEP_MM = 3
const EXTRA_MOST_MM = 60

/** How much higher than usual the foot of a page is to be, so that all its facts are told, the page mirrored or not; mm. */
export function footExtra(frame: PageFrame, given: SheetOptions, texts: readonly TitleText[]): number {
  // A mirrored page says so, and is to lie on the other as it is.
  const options = { ...given, look: { ...(given.look ?? lookUsual), isMirrored: true } }
  const grown = (extraMm: number): PageFrame => ({ ...frame, footMm: frame.footMm + extraMm })
  const titles = texts.map((text) => titleSet(frame, options, text))
  const holds = (extraMm: number): boolean => titles.every((title) => titlePlaced(grown(extraMm), title).isWhole)
  let extraMm = 0
  while (extraMm < EXTRA_MOST_MM && !holds(extraMm)) extraMm += EXTRA_STEP_MM
  return extraMm
}

/** Name of the sheet, title and small print of the foot. Page mm. */
export function titleTexts(frame: PageFrame, options: SheetOptions, text: TitleText): readonly TextItem[] {
  return titlePlaced(frame, titleSet(frame, options, text)).items
}

/** Rows that are set when they are first asked for. */
type Setting = () => readonly Row[]

/** The words of a foot in all the ways to set them, the better ones first: which of them has room hangs on how high it is. */
interface TitleSet {
  readonly text: TitleText
  readonly left: number
  readonly nameSize: number
  readonly heads: readonly Setting[]
  readonly smallPrints: readonly SmallPrint[]
}

/** How high the foot is does not matter here. */
function titleSet({ marginMm, paper, isTitleAbove }: PageFrame, options: SheetOptions, text: TitleText): TitleSet {
  const right = paper.widthMm - marginMm
  const barsLeft = marginMm + SIDE_STRIP_MM
  const left = isTitleAbove ? barsLeft : barsLeft + BESIDE_BARS_MM
  const nameSize = text.sheetName.length > 3 ? 5.5 : 8
  const headWidth = right - left - textWidthMm(text.sheetName, nameSize) - 3
  const mark = text.planMark === undefined ? [] : [MARK_ROOM]
  const heads = headSettings(text, [text.scale, paper.name, options.date, ...mark].join(' · '), headWidth)
  const wideMm = right - barsLeft
  const smallPrints = smallPrintSettings(options, text, wideMm, isTitleAbove ? wideMm : BESIDE_BARS_MM - 3)
  return { text, left, nameSize, heads, smallPrints }
}

/** The words in their places, and whether the small print has room for all there is to say. */
function titlePlaced(
  frame: PageFrame,
  { text, left, nameSize, heads, smallPrints }: TitleSet,
): { readonly items: readonly TextItem[]; readonly isWhole: boolean } {
  const { marginMm, footMm, paper, isTitleAbove: isTall } = frame
  const top = marginMm + footMm - 2

  const name: TextItem = {
    ...textAt({ text: text.sheetName, size: nameSize, grey: 0, weight: 'bold' }, paper.widthMm - marginMm, top - nameSize * 0.7),
    anchor: 'end',
  }
  // Above the bars, or beside them: there it may reach down to the foot, and the small print keeps clear of it.
  const headHeight = isTall ? footMm - 2 - barsHeight(frame) - 6.5 - AIR_MM : footMm - 2
  const head = firstOrLast(heads, (rows) => heightOf(rows()) <= headHeight)?.() ?? []
  const hasHead = heightOf(head) <= headHeight
  const headItems: TextItem[] = []
  let y = top
  for (const row of head) {
    y -= row.size
    headItems.push(textAt({ ...row, text: row.text.replace(MARK_ROOM, `plan ${text.planMark ?? ''}`) }, left, y))
    y -= row.size * (LINE_SPACING - 1)
  }

  const upToMm = barsHeight(frame) - 3.5
  const wideUpToMm = Math.min(upToMm, y - marginMm - AIR_MM)
  const small = firstOrLast(smallPrints, ({ rows, besideMm }) =>
    besideMm === null ? heightOf(rows()) <= upToMm : keepsClear(rows(), besideMm, upToMm, wideUpToMm),
  )
  let base = marginMm + 0.6
  const smallItems = (small?.rows() ?? []).toReversed().map((row) => {
    const item = textAt(row, marginMm + SIDE_STRIP_MM, base)
    base += row.size * LINE_SPACING
    return item
  })
  // In the order of reading, for whoever has the text read out.
  return { items: [name, ...headItems, ...smallItems.toReversed()], isWhole: small?.isWhole === true && hasHead }
}

/** The first that has room; the last one is there for when none has. */
function firstOrLast<T>(all: readonly T[], hasRoom: (one: T) => boolean): T | undefined {
  return all.find(hasRoom) ?? all.at(-1)
}

function textAt({ text, size, grey, weight }: Row, x: number, y: number): TextItem {
  return { kind: 'text', layer: 'sheet', at: { x, y }, text, sizeMm: size, angleRad: 0, anchor: 'start', weight, grey }
}

function heightOf(rows: readonly Row[]): number {
  return rows.reduce((sum, row) => sum + row.size * LINE_SPACING, 0)
}

/** Title, railway, and scale with paper and date; what does not fit shrinks, and at last the two names are cut with an ellipsis. */
function headSettings({ title, railway }: TitleText, particulars: string, widthMm: number): readonly Setting[] {
  const set = (scale: number, lines: number): readonly Row[] => {
    const titleSize = fittingSize(title, 4 * scale, 3.2 * scale, widthMm)
    const small = 2.8 * scale
    return [
      ...textLinesAtMost(title, titleSize, widthMm, lines).map((row): Row => ({ text: row, size: titleSize, grey: 0, weight: 'bold' })),
      ...[...textLinesAtMost(railway, small, widthMm, lines), ...textLines(particulars, small, widthMm)].map(
        (row): Row => ({ text: row, size: small, grey: 0, weight: 'regular' }),
      ),
    ]
  }
  const tries = [2, 1].flatMap((lines) => SCALES.map((scale) => [scale, lines] as const))
  return [...tries, [LEAST_SCALE, 1] as const].map(([scale, lines]) => late(() => set(scale, lines)))
}

/** The largest size between two bounds at which the text fits on one line; the smaller one when it never does. */
function fittingSize(text: string, most: number, least: number, widthMm: number): number {
  const fitting = (most * widthMm) / Math.max(1e-9, textWidthMm(text, most))
  return Math.max(least, Math.min(most, fitting))
}

interface SmallPrint {
  readonly rows: Setting
  /** No fact is left out. */
  readonly isWhole: boolean
  /** Set to the whole width: rows wider than this stand below the title, not beside it. Null: all stand under the bars. */
  readonly besideMm: number | null
}

/**
 * The small print: facts, the advice on printing, cautions; under the bars, or as wide as the page where it keeps clear of the
 * title. Where room is scarce the type shrinks, and at last facts are left out, which a foot that is high enough never asks for
 * (footExtra); advice and cautions never are.
 */
function smallPrintSettings(options: SheetOptions, text: TitleText, wideMm: number, narrowMm: number): readonly SmallPrint[] {
  const set = (facts: readonly string[], scale: number, widthMm: number): Setting =>
    late(() =>
      [
        ...facts.map((fact): Row => ({ text: fact, size: 2.8 * scale, grey: 0, weight: 'regular' })),
        { text: printAdvice(options, text), size: 2.7 * scale, grey: 0, weight: 'bold' } as const,
        { text: text.caution, size: 2.3 * scale, grey: 0.2, weight: 'regular' } as const,
      ].flatMap((row) => textLines(row.text, row.size, widthMm).map((line) => ({ ...row, text: line }))),
    )
  const tries = [text.facts, []].flatMap((facts) =>
    SCALES.flatMap((scale): readonly SmallPrint[] => {
      const isWhole = facts === text.facts
      return [
        { rows: set(facts, scale, wideMm), isWhole, besideMm: narrowMm },
        { rows: set(facts, scale, narrowMm), isWhole, besideMm: null },
      ]
    }),
  )
  return [...tries, { rows: set([], LEAST_SCALE, narrowMm), isWhole: false, besideMm: null }]
}

/** True when no row is taller than the room, and those beside the title are short enough for it. */
function keepsClear(rows: readonly Row[], besideMm: number, upToMm: number, wideUpToMm: number): boolean {
  let height = 0
  for (const row of rows.toReversed()) {
    height += row.size * LINE_SPACING
    const upTo = textWidthMm(row.text, row.size) <= besideMm ? upToMm : wideUpToMm
    if (height > upTo) return false
  }
  return true
}

function printAdvice(options: SheetOptions, { compass, isMap }: TitleText): string {
  const { calibrationX, calibrationY } = options
  const onMap = 'first measure the bars: they are full size here too, the map is not'
  const first = isMap === true ? onMap : compass === undefined ? 'measure the bars first' : 'first measure the bars and the square of ticks'
  const measured = (calibration: number): string => `${(100 * calibration).toFixed(2)} mm`
  const turned = options.look?.isMirrored === true ? 'Mirror image, to be taken off on tape. ' : ''
  return calibrationX === 1 && calibrationY === 1
    ? `${turned}Print at 100 %, no fit to page; ${first}.`
    : `${turned}Print at 100 %, no fit to page. Only for the printer whose 100 mm bars came out ${measured(calibrationX)} across and ${measured(calibrationY)} up; ${first}.`
}
