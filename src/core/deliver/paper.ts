import { PAPER_SIDE_MAX_MM, USUAL_MARGIN_MM } from './paperUsual.ts'
import type { Paper, SheetOptions } from './types.ts'

/** Strip at the left for the upright scale bars, mm. */
export const SIDE_STRIP_MM = 14
/** Strip at the foot for bars and title where the title fits beside the bars, and where it stands above them; many words make it higher. */
const FOOT_STRIP_MM = 30
const FOOT_STRIP_TALL_MM = 50
/** Room that the title needs beside the bars. */
const TITLE_ROOM_MM = 58
/** The bars are 101.6 mm; their labels need a little more. */
const BAR_ROOM_MM = 116

/** Height of the lower of the two bars across over the foot of the strip: below the title where that stands above them. */
export function barsHeight({ footMm, isTitleAbove }: Pick<PageFrame, 'footMm' | 'isTitleAbove'>): number {
  return footMm - (isTitleAbove ? 23 : 9.5)
}

/** What the words of a turnout may add to the foot of the narrowest paper: the least that is named holds them too. */
const WORDS_ROOM_MM = 12

/** How far a calibration may lie from 1 before it is more likely a slip of the pen than a printer. */
const CALIBRATION_RANGE = [0.95, 1.05] as const
const OVERLAP_MIN_MM = 6

/** Parts of a page that do not change from sheet to sheet. Page mm. */
export interface PageFrame {
  readonly paper: Paper
  readonly window: { readonly minX: number; readonly minY: number; readonly maxX: number; readonly maxY: number }
  readonly marginMm: number
  readonly footMm: number
  /** The title stands above the bars: beside them is no room. */
  readonly isTitleAbove: boolean
}

export type PageFrameResult =
  | { readonly ok: true; readonly frame: PageFrame }
  | { readonly ok: false; readonly problems: readonly string[] }

/**
 * The ways to lie in which the paper goes through the printer: as given, and turned by a quarter. The measures of the
 * printer belong to the paper's sides, so they turn with it. A roll keeps its width across.
 */
export function paperWays(options: SheetOptions): readonly [SheetOptions, ...SheetOptions[]] {
  const { paper, calibrationX, calibrationY } = options
  if (paper.isRoll === true || paper.widthMm === paper.heightMm) return [options]
  const turned = { ...paper, widthMm: paper.heightMm, heightMm: paper.widthMm }
  return [options, { ...options, paper: turned, calibrationX: calibrationY, calibrationY: calibrationX }]
}

/**
 * The page divided into window, side strip and foot strip, or why the options cannot be printed and what could. The foot is so much
 * higher than usual as its words need (footExtra).
 */
export function pageFrame(options: SheetOptions, extraMm = 0): PageFrameResult {
  const { paper, marginMm, overlapMm, calibrationX, calibrationY } = options
  const problems: string[] = []
  const sized = [paper.widthMm, paper.heightMm]
  if (!sized.every((side) => Number.isFinite(side) && side > 0)) {
    return refuse(`Paper "${paper.name}" is ${paper.widthMm} by ${paper.heightMm} mm; both sides must be above 0.`)
  }
  if (sized.some((side) => side > PAPER_SIDE_MAX_MM)) {
    return refuse(
      `Paper "${paper.name}" of ${paper.widthMm} by ${paper.heightMm} mm is longer than a page of a PDF can be: 14,400 points, ${PAPER_SIDE_MAX_MM} mm or 200 in, along a side. ` +
        `Give a page up to that long; the sheets run on over as many pages of the roll as they need.`,
    )
  }
  if (!Number.isFinite(marginMm) || marginMm < 0) return refuse(`The margin is ${marginMm} mm; it must be 0 or more.`)
  for (const [axis, value] of [
    ['across', calibrationX],
    ['up', calibrationY],
  ] as const) {
    if (!(value >= CALIBRATION_RANGE[0] && value <= CALIBRATION_RANGE[1])) {
      problems.push(`Calibration ${axis} is ${value}: a 100 mm bar should measure between 95 and 105 mm. Measure the bar again.`)
    }
  }
  if (problems.length > 0) return { ok: false, problems }

  const least = Math.min(paper.widthMm, paper.heightMm)
  if (2 * marginMm >= least) {
    return refuse(
      `Two margins of ${marginMm} mm leave nothing of ${rounded(least)} mm of paper. Printers leave 3 to 7 mm white: ${USUAL_MARGIN_MM} mm is usual.`,
    )
  }
  const isTitleAbove = paper.widthMm - 2 * marginMm - BAR_ROOM_MM - SIDE_STRIP_MM < TITLE_ROOM_MM
  const foot = (isTitleAbove ? FOOT_STRIP_TALL_MM : FOOT_STRIP_MM) + extraMm
  const needWidth = 2 * marginMm + SIDE_STRIP_MM + BAR_ROOM_MM / Math.min(calibrationX, 1)
  const needHeight = 2 * marginMm + foot + BAR_ROOM_MM / Math.min(calibrationY, 1)
  if (paper.widthMm < needWidth - 1e-9 || paper.heightMm < needHeight - 1e-9) {
    const leastHeight = needHeight + Math.max(0, WORDS_ROOM_MM - extraMm)
    return refuse(
      `Paper "${paper.name}" of ${paper.widthMm} by ${paper.heightMm} mm is too small for its margins of ${marginMm} mm, the 4 in scale bars and the words below them: ` +
        `at least ${Math.ceil(needWidth)} by ${Math.ceil(leastHeight)} mm is needed.`,
    )
  }
  const window = {
    minX: marginMm + SIDE_STRIP_MM,
    minY: marginMm + foot,
    maxX: paper.widthMm - marginMm,
    maxY: paper.heightMm - marginMm,
  }
  const overlapMax = Math.floor(Math.min(window.maxX - window.minX, window.maxY - window.minY) / 3)
  if (!(overlapMm >= OVERLAP_MIN_MM && overlapMm <= overlapMax)) {
    return refuse(
      `The overlap is ${overlapMm} mm; on this paper, with ${rounded(window.maxX - window.minX)} by ${rounded(window.maxY - window.minY)} mm to print on, ` +
        `it must be from ${OVERLAP_MIN_MM} to ${overlapMax} mm: less leaves no room for match marks, more leaves little for track.`,
    )
  }
  return { ok: true, frame: { paper, window, marginMm, footMm: foot, isTitleAbove } }
}

const rounded = (mm: number): number => Math.round(mm * 10) / 10

function refuse(problem: string): PageFrameResult {
  return { ok: false, problems: [problem] }
}
