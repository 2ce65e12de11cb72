import type { Derived } from '../../pipeline/types.ts'
import type { LayingLists } from '../../shopping/types.ts'
import { indexLook, setLooked } from '../look.ts'
import { pageFrame } from '../paper.ts'
import type { SheetOptions, SheetSet, SheetSubject } from '../types.ts'
import { filingContent } from './filing.ts'
import { gaugeStickContent } from './gaugeStick.ts'
import { inspectionContent } from './inspection.ts'
import { benchPages, benchSheet, type BenchContent, type BenchWords } from './pages.ts'
import type { BenchSheetName } from './names.ts'
import { railCutContent, railExtent } from './railCuts.ts'
import { riserSheets } from './risers.ts'
import { roadbedCutContent, roadbedExtent } from './roadbedCuts.ts'
import { roomSheets } from './room.ts'
import { scaledPage, scaleWords } from './scale.ts'
import { standardsContent } from './standardsCard.ts'
import { tickBoxesDrawn } from './tickBoxes.ts'
import { benchCautions } from './words.ts'

/** Cards and lists: figures at full size and tables. */
type CardName = 'filing' | 'gauge-sticks' | 'inspection' | 'standards'

/** Pictures of cuts keep so far from the frame. */
const cutRimMm = 7

interface Card {
  readonly words: BenchWords
  readonly content: (derived: Derived, units: SheetOptions['units']) => BenchContent
  /** When it has nothing to show. */
  readonly nothing: string
}

const cards = {
  filing: {
    words: {
      letter: 'F',
      title: 'Filing angles',
      facts: [
        'Rail along the lower line, end at the corner; file or rule along the upper one. Grey: the head as it is left, at full size.',
      ],
      scale: 'Scale 1:1',
      caution: benchCautions.file,
    },
    content: filingContent,
    nothing: 'Filing angles: the plan has no turnout or crossing that could be computed.',
  },
  'gauge-sticks': {
    words: {
      letter: 'G',
      title: 'Gauge sticks for curves',
      facts: [
        'Arc of the centreline over a chord of 100 mm. m = R − √(R² − c²/4): half the chord is the mean proportional between m and 2R − m (Euclid III 35).',
      ],
      scale: 'Scale 1:1',
      caution: benchCautions.read,
    },
    content: gaugeStickContent,
    nothing: 'Gauge sticks: no track or turnout of the plan has a curve that could be computed.',
  },
  inspection: {
    words: {
      letter: 'C',
      title: 'Inspection',
      facts: ['As drawn: the worst place along that way. Measure there first.'],
      scale: 'A list, not a drawing',
      caution: benchCautions.read,
    },
    content: inspectionContent,
    nothing: 'Inspection: the plan has no track yet.',
  },
  standards: {
    words: { letter: 'N', title: 'Standards of the railway', facts: [], scale: 'A list, not a drawing', caution: benchCautions.read },
    content: standardsContent,
    nothing: 'Standards: the plan has none.',
  },
} as const satisfies Record<CardName, Card>

const cutCards = {
  'roadbed-cuts': {
    words: {
      letter: 'K',
      title: 'Roadbed to cut',
      facts: ['Pale grey: left over. Dark grey: too short to keep. Pieces that leave a turnout have cards of their own, at full size.'],
      scale: '',
      caution: benchCautions.blade,
    },
    extent: roadbedExtent,
    content: roadbedCutContent,
    nothing: 'Roadbed to cut: there is none, or no stock to cut it from; the Roadbed stage says what is wanting.',
  },
  'rail-cuts': {
    words: {
      letter: 'S',
      title: 'Rails on their sticks',
      facts: [
        'Each piece from its start, at the left. Scribe the marks before it is bent: TS, SC, CS, ST where curves begin and end, m the middle.',
      ],
      scale: '',
      caution: benchCautions.rail,
    },
    extent: (_: Derived, lists: LayingLists) => railExtent(lists),
    content: (derived: Derived, lists: LayingLists, reduction: number, units: SheetOptions['units'], roomMm: number) =>
      railCutContent(derived, lists, reduction, roomMm, units),
    nothing: 'Rails on their sticks: there is no rail, or no stock to cut it from; the Track stage says what is wanting.',
  },
} as const

/** Whether the sheets of a subject show what the plan is cut into, which takes a solver and some time. */
export function benchCuts(subject: SheetSubject): boolean {
  return subject.kind === 'bench' && (subject.sheet === 'roadbed-cuts' || subject.sheet === 'rail-cuts')
}

/**
 * A sheet of another kind than track at full size: drawings of the room at a round scale, cards at full size, cutting pictures, lists.
 *
 * lists: what the plan is cut into, for sheets of cuts.
 * Outcome: no sheets, and why, when there is nothing to show or the paper cannot be printed on. Throws: never.
 */
export function benchSheets(derived: Derived, sheet: BenchSheetName, options: SheetOptions, lists: LayingLists | null): SheetSet {
  return benchLooked(setOf(derived, sheet, options, lists), options)
}

function setOf(derived: Derived, sheet: BenchSheetName, options: SheetOptions, lists: LayingLists | null): SheetSet {
  switch (sheet) {
    case 'room':
      return roomSheets(derived, options)
    case 'risers':
      return riserSheets(derived, options)
    case 'roadbed-cuts':
    case 'rail-cuts':
      return cutSheets(derived, sheet, options, lists)
    case 'filing':
    case 'gauge-sticks':
    case 'inspection':
    case 'standards':
      return cardSheets(derived, cards[sheet], options)
  }
}

/** Pictures of stock as long as it goes on the page, at a round scale. */
function cutSheets(derived: Derived, sheet: keyof typeof cutCards, options: SheetOptions, lists: LayingLists | null): SheetSet {
  const { words, extent, content, nothing } = cutCards[sheet]
  const refuse = (problems: readonly string[]): SheetSet => ({ title: words.title, sheets: [], problems })
  if (lists === null) return refuse([`${words.title}: the lists of what is cut are not made yet.`])
  const size = extent(derived, lists)
  if (size === null) return refuse([nothing])
  const fitted = scaledPage({ minX: 0, maxX: size.longMm, minY: 0, maxY: size.wideMm }, cutRimMm, options)
  if (!fitted.ok) return refuse(fitted.problems)
  const { frame, options: way, reduction } = fitted.page
  const roomMm = (frame.window.maxX - frame.window.minX - 2 * cutRimMm) * way.calibrationX
  const pages = benchPages(content(derived, lists, reduction, options.units, roomMm), frame, way)
  const said = { ...words, scale: scaleWords(reduction, options.units) }
  return { title: words.title, sheets: pages.map((items, i) => benchSheet(derived, frame, way, said, i + 1, items)), problems: [] }
}

function cardSheets(derived: Derived, { words, content, nothing }: Card, options: SheetOptions): SheetSet {
  const framed = pageFrame(options)
  if (!framed.ok) return { title: words.title, sheets: [], problems: framed.problems }
  const shown = content(derived, options.units)
  if (shown.figures.length === 0 && shown.tables.length === 0) return { title: words.title, sheets: [], problems: [nothing] }
  const pages = benchPages(shown, framed.frame, options)
  const sheets = pages.map((items, i) => benchSheet(derived, framed.frame, options, words, i + 1, tickBoxesDrawn(items)))
  return { title: words.title, sheets, problems: [] }
}

/** These sheets are read: never mirrored, and whole. */
function benchLooked(set: SheetSet, options: SheetOptions): SheetSet {
  const { look } = indexLook(options)
  return look === undefined ? set : setLooked(set, { ...options, look: { ...look, without: [] } })
}
