import { angleWrap } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { DrawItem, LayerName, TextItem } from './types.ts'

/** Half the height of capitals and figures over the type size; the sheets' face has 0.698. */
const HALF_CAP = 0.35

/**
 * A text of the plan, before it is known which way up the page lies. `middle` stands at half the height of the figures, so
 * that the text can be turned over on its place.
 */
export interface PlanText {
  readonly kind: 'text'
  readonly layer: LayerName
  readonly middle: Point
  readonly text: string
  readonly sizeMm: number
  readonly angleRad: number
  readonly anchor: TextItem['anchor']
  readonly weight: TextItem['weight']
  readonly grey: number
}

/**
 * Width of a text in mm, judged by kinds of letters; up to a tenth too wide for the sheets' condensed face. The core knows
 * no fonts; this only serves to keep texts off one another and lines from running over.
 */
export function textWidthMm(text: string, sizeMm: number): number {
  return emsOn(0, text) * sizeMm
}

/** Width of what has been measured and what follows it, in sizes: letter on letter, as if the whole had been measured at once. */
function emsOn(before: number, text: string): number {
  let ems = before
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i)
    ems += unitEms[unit] || unitJudged(unit)
    // Two units that are one letter count once.
    if (isLead(unit) && isTrail(text.charCodeAt(i + 1))) i++
  }
  return ems
}

const isLead = (unit: number): boolean => unit >= 0xd800 && unit < 0xdc00
const isTrail = (unit: number): boolean => unit >= 0xdc00 && unit < 0xe000

/** Widths of letters by their code, 0 where none has been judged yet. */
const unitEms = new Float64Array(0x10000)

function unitJudged(unit: number): number {
  const ems = emsOf(String.fromCharCode(unit))
  unitEms[unit] = ems
  return ems
}

function emsOf(letter: string): number {
  if (/[mwMW%½¼¾⅛⅜⅝⅞→←↑↓—]/.test(letter)) return 0.8
  if (/[A-Z0-9&+−×]/.test(letter)) return 0.55
  if (/[a-z]/.test(letter)) return 0.48
  return /[⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉]/.test(letter) ? 0.36 : 0.27
}

const POINT = ' · '

/**
 * Text broken into lines no wider than given: between the things that points part, else at spaces; a word that is wider
 * still is broken where it must be. A point at a break is left out.
 */
export function textLines(text: string, sizeMm: number, widthMm: number): readonly string[] {
  const lines: string[] = []
  /** Of the last line: what comes to it is measured alone. */
  let lastEms = 0
  const fill = (next: string, between: string): void => {
    const last = lines.at(-1)
    const ems = emsOn(emsOn(lastEms, between), next)
    if (last !== undefined && ems * sizeMm <= widthMm) {
      lines[lines.length - 1] = last + between + next
      lastEms = ems
    } else {
      lines.push(next)
      lastEms = emsOn(0, next)
    }
  }
  for (const thing of text.split(POINT)) {
    if (textWidthMm(thing, sizeMm) <= widthMm) fill(thing, POINT)
    else {
      const words = thing.split(' ').flatMap((word) => wordPieces(word, sizeMm, widthMm))
      for (const [i, word] of words.entries()) fill(word, i === 0 ? POINT : ' ')
    }
  }
  return lines
}

/** At most so many lines; an ellipsis tells that there was more. */
export function textLinesAtMost(text: string, sizeMm: number, widthMm: number, count: number): readonly string[] {
  const lines = textLines(text, sizeMm, widthMm)
  if (lines.length <= count) return lines
  let last = lines[count - 1] ?? ''
  while (last !== '' && textWidthMm(`${last}…`, sizeMm) > widthMm) last = last.slice(0, -1).trimEnd()
  return [...lines.slice(0, count - 1), `${last}…`]
}

function wordPieces(word: string, sizeMm: number, widthMm: number): readonly string[] {
  const pieces: string[] = []
  let [piece, ems] = ['', 0]
  for (const letter of word) {
    ems = emsOn(ems, letter)
    if (piece !== '' && ems * sizeMm > widthMm) {
      pieces.push(piece)
      piece = ''
      ems = emsOn(0, letter)
    }
    piece += letter
  }
  return [...pieces, piece]
}

const swapped = { start: 'end', middle: 'middle', end: 'start' } as const

/** The text on a page turned by `pageAngleRad`, never head down: it reads from below or from the right. */
export function textUpright(text: PlanText, middle: Point, pageAngleRad: number): TextItem {
  const turned = angleWrap(text.angleRad - pageAngleRad)
  const isOver = turned > Math.PI / 2 + 0.02 || turned <= -Math.PI / 2 + 0.02
  const angleRad = isOver ? angleWrap(turned + Math.PI) : turned
  const drop = HALF_CAP * text.sizeMm
  return {
    kind: 'text',
    layer: text.layer,
    at: { x: middle.x + drop * Math.sin(angleRad), y: middle.y - drop * Math.cos(angleRad) },
    text: text.text,
    sizeMm: text.sizeMm,
    angleRad,
    anchor: isOver ? swapped[text.anchor] : text.anchor,
    weight: text.weight,
    grey: text.grey,
  }
}

/** Corners of the space that a text takes, grown by a rim, anticlockwise from its lower left. */
export function textCorners(text: Pick<PlanText, 'middle' | 'text' | 'sizeMm' | 'angleRad' | 'anchor'>, rimMm: number): readonly Point[] {
  const width = textWidthMm(text.text, text.sizeMm)
  const from = text.anchor === 'start' ? 0 : text.anchor === 'end' ? -width : -width / 2
  const half = HALF_CAP * text.sizeMm + rimMm
  const cos = Math.cos(text.angleRad)
  const sin = Math.sin(text.angleRad)
  const corner = (a: number, b: number): Point => ({ x: text.middle.x + a * cos - b * sin, y: text.middle.y + a * sin + b * cos })
  const [left, right] = [from - rimMm, from + width + rimMm]
  return [corner(left, -half), corner(right, -half), corner(right, half), corner(left, half)]
}

/** Air between the words of the plan and a line that ends at their ground, mm. */
const GROUND_AIR_MM = 0.45

/**
 * The paper that words of the plan stand on: what lies below it is not seen, so that no dashes run through figures. Null: none,
 * as of the words of frame and title, which have room of their own.
 */
export function textGround(item: TextItem): readonly Point[] | null {
  return item.layer === 'sheet' && item.isOnPaper !== true ? null : textItemCorners(item, GROUND_AIR_MM)
}

/** Lines below, words above: the ground of the words hides what they would lie on. */
export function wordsAbove(items: readonly DrawItem[]): readonly DrawItem[] {
  return [...items.filter(({ kind }) => kind === 'stroke'), ...items.filter(({ kind }) => kind === 'text')]
}

/** The space of a text that stands on a page by its base line. */
export function textItemCorners(item: TextItem, rimMm: number): readonly Point[] {
  const rise = HALF_CAP * item.sizeMm
  const middle = { x: item.at.x - rise * Math.sin(item.angleRad), y: item.at.y + rise * Math.cos(item.angleRad) }
  return textCorners({ ...item, middle }, rimMm)
}
