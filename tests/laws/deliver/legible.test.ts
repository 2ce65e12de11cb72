import { describe, expect, it } from 'vitest'
import {
  lookUsual,
  textGround,
  type DrawItem,
  type LineRole,
  type Sheet,
  type SheetSubject,
  type TextItem,
} from '../../../src/core/deliver/index.ts'
import { cubicPoint } from '../../../src/core/deliver/chain.ts'
import { textItemCorners } from '../../../src/core/deliver/text.ts'
import type { Box, Point } from '../../../src/core/geom/index.ts'
import { workCases, workOptions, workSheets } from '../../support/workSheets.ts'

/** The space of a text is judged up to a tenth too wide: so much less on each side may touch. mm. */
const TOUCH_MM = 0.15

/**
 * What may lie below the paper that words stand on: dashes and lines of what is around, which go on beyond it. All else is worked to
 * and is not to be hidden. Common practice of drawing offices, no source.
 */
const soft: readonly LineRole[] = ['roadbed', 'benchwork', 'joist', 'tangent', 'trim', 'offset']

type Quad = readonly Point[]
type Edge = readonly [Point, Point]

const turn = (a: Point, b: Point, p: Point): number => (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)
const edgesOf = (quad: Quad): readonly Edge[] => quad.map((p, i): Edge => [p, quad[(i + 1) % quad.length] ?? p])
const crosses = ([a, b]: Edge, [c, d]: Edge): boolean => turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0
const holds = (quad: Quad, p: Point): boolean => edgesOf(quad).every(([a, b]) => turn(a, b, p) >= 0)
const overlap = (a: Quad, b: Quad): boolean =>
  a.some((p) => holds(b, p)) || b.some((p) => holds(a, p)) || edgesOf(a).some((e) => edgesOf(b).some((f) => crosses(e, f)))
const runsThrough = (quad: Quad, line: Edge): boolean => holds(quad, line[0]) || edgesOf(quad).some((edge) => crosses(edge, line))

type Stroke = Extract<DrawItem, { kind: 'stroke' }>

/** A stroke as straight pieces: of a curve eight. */
function piecesOf({ start, segments }: Stroke): readonly Edge[] {
  let from = start
  return segments.flatMap((segment): readonly Edge[] => {
    const begin = from
    from = segment.to
    if (segment.kind === 'line') return [[begin, segment.to]]
    return Array.from({ length: 8 }, (_, i): Edge => [cubicPoint(begin, segment, i / 8), cubicPoint(begin, segment, (i + 1) / 8)])
  })
}

interface Said {
  readonly text: TextItem
  readonly quad: Quad
  /** The paper that the words have of their own, a little larger than they are, and the box about what is there. */
  readonly ground: Quad | null
  readonly box: Box
  /** How many of the items come before it. */
  readonly nth: number
}

const saidOn = ({ items }: Sheet): readonly Said[] =>
  items.flatMap((text, nth) => {
    if (text.kind !== 'text') return []
    const [quad, ground] = [textItemCorners(text, -TOUCH_MM), textGround(text)]
    return [{ text, quad, ground, box: boxAround(ground ?? quad), nth }]
  })

/** What of a piece is printed: the window cuts all that is not of the frame. */
function shown([a, b]: Edge, { minX, minY, maxX, maxY }: Box): readonly Edge[] {
  let [from, to] = [0, 1]
  for (const [start, change, least, most] of [
    [a.x, b.x - a.x, minX, maxX],
    [a.y, b.y - a.y, minY, maxY],
  ] as const) {
    if (change === 0 && (start < least || start > most)) return []
    if (change === 0) continue
    const ends = [(least - start) / change, (most - start) / change]
    from = Math.max(from, Math.min(...ends))
    to = Math.min(to, Math.max(...ends))
  }
  const at = (t: number): Point => ({ x: a.x + t * (b.x - a.x), y: a.y + t * (b.y - a.y) })
  return from < to ? [[at(from), at(to)]] : []
}

const boxAround = (points: readonly Point[]): Box => {
  const box = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity }
  for (const { x, y } of points) {
    box.minX = Math.min(box.minX, x)
    box.minY = Math.min(box.minY, y)
    box.maxX = Math.max(box.maxX, x)
    box.maxY = Math.max(box.maxY, y)
  }
  return box
}
const areApart = (a: Box, b: Box): boolean => a.minX > b.maxX || b.minX > a.maxX || a.minY > b.maxY || b.minY > a.maxY

/** Texts that a line runs through, or whose ground hides what is worked to. */
function crossed(sheet: Sheet, said: readonly Said[]): readonly string[] {
  return sheet.items.flatMap((item, nth) => {
    if (item.kind !== 'stroke') return []
    const pieces = item.layer === 'sheet' ? piecesOf(item) : piecesOf(item).flatMap((piece) => shown(piece, sheet.window))
    const reach = boxAround(pieces.flat())
    return said.flatMap(({ text, quad, ground, box, nth: at }) => {
      if (areApart(reach, box)) return []
      const isSoft = sheet.kind === 'index' || soft.includes(item.role)
      if (ground !== null && at > nth && isSoft) return []
      // The paper of the words reaches a little farther than they do.
      return pieces.some((piece) => runsThrough(ground ?? quad, piece)) ? [`${item.layer} ${item.role} through "${text.text}"`] : []
    })
  })
}

function overlaps(said: readonly Said[]): readonly string[] {
  return said.flatMap((a, i) => said.slice(i + 1).flatMap((b) => (overlap(a.quad, b.quad) ? [`"${a.text.text}" on "${b.text.text}"`] : [])))
}

/** Texts that reach into the margin, or those of the plan out of the window. */
function outside({ paper, window, items, kind }: Sheet, marginMm: number): readonly string[] {
  return items.flatMap((item) => {
    if (item.kind !== 'text') return []
    const isOfPlan = item.layer !== 'sheet' && kind === 'full-size'
    const room = isOfPlan ? window : { minX: marginMm, minY: marginMm, maxX: paper.widthMm - marginMm, maxY: paper.heightMm - marginMm }
    const isOut = textItemCorners(item, -TOUCH_MM).some(
      ({ x, y }) => x < room.minX - 1e-6 || y < room.minY - 1e-6 || x > room.maxX + 1e-6 || y > room.maxY + 1e-6,
    )
    return isOut ? [`"${item.text}" of ${item.layer}`] : []
  })
}

describe.each([
  ['letter', 'imperial'],
  ['a4', 'metric'],
] as const)('every text on %s, %s', (paper, units) => {
  it.each(workCases)('of $name is whole, clear of all others, and no line runs through it', (work) => {
    for (const look of [lookUsual, { ...lookUsual, without: [] }]) {
      const options = { ...workOptions(paper, units), look }
      const sheets = workSheets(work, options).map((sheet) => ({ sheet, said: saidOn(sheet) }))
      expect(sheets.flatMap(({ said }) => said).length).toBeGreaterThan(15)
      const faults = sheets.flatMap(({ sheet, said }) =>
        [...crossed(sheet, said), ...overlaps(said), ...outside(sheet, options.marginMm)].map((fault) => `${sheet.name}: ${fault}`),
      )
      expect(faults).toEqual([])
    }
  })
})

/** All that a sheet says outside of its window, as one text: a fact may be broken over two lines. */
const footOf = ({ items }: Sheet): string =>
  items
    .flatMap((item) => (item.kind === 'text' && item.layer === 'sheet' ? [item.text] : []))
    .join(' ')
    .replaceAll(' · ', ' ')

const turnouts = workCases.filter(({ subject }) => subject.kind === 'turnout')

describe.each([
  ['letter', [5, 12]],
  ['a4', [5, 12]],
  ['a5', [0, 7]],
  ['a3', [8]],
] as const)('every sheet of a turnout on %s', (paper, margins) => {
  it.each(turnouts)('says what $name is built by, whichever way the paper lies', (work) => {
    for (const marginMm of margins) {
      for (const sheet of workSheets(work, { ...workOptions(paper, 'metric'), marginMm })) {
        const said = footOf(sheet)
        for (const fact of [
          /Turnout East/,
          /Fennimore Quay Tramway & Dock Co\./,
          /frog No\. \d+, angle \d+\.\d\d°/,
          /lead [\d.]+ mm/,
          /closure radius ([\d.]+ mm|straight)/,
          / gauge \d+\.\d\d mm/,
          /flangeway \d+\.\d\d mm/,
          /check gauge \d+\.\d\d mm/,
          /1:(160|87\.1|48)\b/,
          sheet.kind === 'index' ? /1:[\d.]+, not for measuring/ : /Full size, 1:1/,
          /plan [2-9A-Z]{6}/,
          /10 mm/,
        ])
          expect(said, `${sheet.name}, margin ${marginMm}`).toMatch(fact)
      }
    }
  })
})

describe('units', () => {
  // Bars and check square are of both systems on every sheet, and say which is which.
  const ofBars = ['100 mm', '4 in', '10 mm', '½ in']
  const inches = /[″′]|\d\s?in\b/
  const millimetres = /\d\s?mm\b/

  it.each(workCases)('of $name are millimetres alone on a metric sheet', ({ plan, subject }) => {
    const set = [{ plan, subject }, ...listsOf(subject).map((list) => ({ plan, subject: list }))]
    for (const one of set) {
      const said = workSheets(one, workOptions('a4', 'metric')).flatMap(({ items }) =>
        items.flatMap((i) => (i.kind === 'text' ? [i.text] : [])),
      )
      expect(said.filter((text) => inches.test(text) && !ofBars.includes(text))).toEqual([])
    }
  })

  it.each(workCases)('of $name are inches on an imperial sheet, with millimetres only beside them', (work) => {
    const said = workSheets(work, workOptions('letter', 'imperial')).flatMap(({ items }) =>
      items.flatMap((i) => (i.kind === 'text' ? [i.text] : [])),
    )
    const alone = said.map((text) => text.replaceAll(/\(\d+\.\d\d mm\)/g, '')).filter((text) => millimetres.test(text))
    expect(alone.filter((text) => !ofBars.includes(text))).toEqual([])
  })
})

/** The tables of the same work. */
function listsOf(subject: SheetSubject): readonly SheetSubject[] {
  if (subject.kind === 'turnout') return [{ kind: 'cutList', id: subject.id }]
  return subject.kind === 'crossing' ? [{ kind: 'cutList', id: subject.id, of: 'crossing' }] : []
}
