import type { Box, Point } from '../../geom/types.ts'
import { pageFrame, paperWays, type PageFrame } from '../paper.ts'
import type { PlanToPage, SheetOptions } from '../types.ts'

/** Scales of drawings, 1:n: those that a scale rule has. Common practice, no source. */
const reductions = {
  metric: [1, 2, 2.5, 5, 10, 15, 20, 25, 50, 75, 100, 150, 200, 250, 500, 1000, 2000],
  imperial: [1, 2, 4, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 384, 768, 1536],
} as const

/** A page on which something fits at a round scale. */
export interface ScaledPage {
  readonly frame: PageFrame
  readonly options: SheetOptions
  readonly reduction: number
  readonly toPage: PlanToPage
  readonly place: (p: Point) => Point
}

export type ScaledPageResult =
  | { readonly ok: true; readonly page: ScaledPage }
  | { readonly ok: false; readonly problems: readonly string[] }

/**
 * The largest round scale at which a box fits with a rim round it, the paper upright or across, whichever shows it larger; in the middle
 * of the window. Lines are as much longer as the printer needs.
 */
export function scaledPage(box: Box, rimMm: number, options: SheetOptions): ScaledPageResult {
  let best: ScaledPage | null = null
  let problems: readonly string[] = []
  for (const way of paperWays(options)) {
    const framed = pageFrame(way)
    if (!framed.ok) {
      problems = problems.length > 0 ? problems : framed.problems
      continue
    }
    const { window } = framed.frame
    const wide = (window.maxX - window.minX - 2 * rimMm) * way.calibrationX
    const tall = (window.maxY - window.minY - 2 * rimMm) * way.calibrationY
    const reduction = reductions[options.units].find((n) => (box.maxX - box.minX) / n <= wide && (box.maxY - box.minY) / n <= tall)
    if (reduction === undefined || (best !== null && best.reduction <= reduction)) continue
    const planOrigin = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 }
    const pageOrigin = { x: (window.minX + window.maxX) / 2, y: (window.minY + window.maxY) / 2 }
    const [scaleX, scaleY] = [1 / reduction / way.calibrationX, 1 / reduction / way.calibrationY]
    best = {
      frame: framed.frame,
      options: way,
      reduction,
      toPage: { planOrigin, angleRad: 0, pageOrigin, scaleX, scaleY },
      place: (p) => ({ x: pageOrigin.x + (p.x - planOrigin.x) * scaleX, y: pageOrigin.y + (p.y - planOrigin.y) * scaleY }),
    }
  }
  if (best !== null) return { ok: true, page: best }
  const most = reductions[options.units].at(-1) ?? 1
  return {
    ok: false,
    problems: problems.length > 0 ? problems : [`What is to be drawn is too large for ${options.paper.name}, even at 1:${most}.`],
  }
}

/** 1:24, ½ in to the foot. */
export function scaleWords(reduction: number, units: SheetOptions['units']): string {
  const inch = { 12: '1 in', 16: '¾ in', 24: '½ in', 32: '⅜ in', 48: '¼ in', 96: '⅛ in' }[reduction]
  return units === 'imperial' && inch !== undefined ? `Scale 1:${reduction}, ${inch} to the foot` : `Scale 1:${reduction}`
}
