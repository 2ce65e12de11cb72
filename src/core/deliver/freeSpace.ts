import type { Box, Point } from '../geom/types.ts'
import { boxContains, boxesOverlap, boxOfPoints } from '../geom/index.ts'
import { cellSetCreate, type CellSet } from './cellSet.ts'
import { chainPoints, segmentNear, type Chain } from './chain.ts'
import { textCorners, type PlanText } from './text.ts'

/** Grain of the map of what is taken: finer finds tighter places, coarser is quicker. A millimetre is a line of small text apart. */
const GRAIN_MM = 1
/** Straight pieces for a curve of a drawn line, which is at most 60 mm long: of 300 mm radius they leave it by a tenth. */
const CURVE_PIECES = 4

/** What the sheets leave to texts of the plan. */
export interface SheetRoom {
  /** True when one sheet holds all of these points: a text elsewhere would be cut. */
  readonly isOnOneSheet: (corners: readonly Point[]) => boolean
  /** Lines of the sheets themselves that stand in the plan: they are measured. */
  readonly lines: readonly (readonly [Point, Point])[]
}

/**
 * Which places of the plan are taken by ties, marks and texts. Grows while a drawing is built; lives no longer than that.
 */
export interface FreeSpace extends Pick<SheetRoom, 'isOnOneSheet'> {
  readonly within: Box
  readonly taken: CellSet
}

export function freeSpaceOf(within: Box, { isOnOneSheet, lines }: SheetRoom): FreeSpace {
  const space = { within, taken: cellSetCreate(), isOnOneSheet }
  for (const [from, to] of lines) freeSpaceTakeLine(space, from, to)
  return space
}

/** Takes the line between two points. */
export function freeSpaceTakeLine(space: FreeSpace, from: Point, to: Point): void {
  const box = boxOfPoints([from, to])
  if (!box || !boxesOverlap(box, space.within)) return
  const steps = Math.max(1, Math.ceil(Math.hypot(to.x - from.x, to.y - from.y) / (GRAIN_MM * 0.7)))
  for (let i = 0; i <= steps; i++) {
    const t = i / steps
    take(space, from.x + (to.x - from.x) * t, from.y + (to.y - from.y) * t)
  }
}

/** Takes a line of the drawing. */
export function freeSpaceTakeChain(space: FreeSpace, { start, segments }: Chain): void {
  let from = start
  for (const segment of segments) {
    if (segmentNear(from, segment, space.within)) {
      let last = from
      for (const to of chainPoints({ start: from, segments: [segment] }, CURVE_PIECES).slice(1)) {
        freeSpaceTakeLine(space, last, to)
        last = to
      }
    }
    from = segment.to
  }
}

/** True when something lies at the point, to the grain of the map. */
export function freeSpaceIsTaken(space: FreeSpace, p: Point): boolean {
  return isTaken(space, p.x, p.y)
}

/** Takes a four-cornered area. */
export function freeSpaceTakeArea(space: FreeSpace, corners: readonly Point[]): void {
  areaVisit(corners, (x, y) => take(space, x, y))
}

/** How much of a four-cornered area is taken, 0 none to 1 all. */
export function freeSpaceTaken(space: FreeSpace, corners: readonly Point[]): number {
  let [all, taken] = [0, 0]
  areaVisit(corners, (x, y) => {
    all++
    if (isTaken(space, x, y)) taken++
  })
  return all === 0 ? 0 : taken / all
}

/** Where a text may stand: it goes to the first free place. */
export type Place = Pick<PlanText, 'middle' | 'angleRad' | 'anchor'>

/** A text that the sheet's edge cuts is worse than one that a line crosses, and better than one that lies on another text. */
const CUT_HARM = 0.4

/**
 * Puts a text on the first of the places that is free and whole on a sheet, and takes that place. When there is none: on
 * the least bad one, or nowhere when the text may be left out.
 */
export function freeSpacePlace(
  space: FreeSpace,
  text: Omit<PlanText, 'middle' | 'angleRad' | 'anchor'>,
  places: readonly Place[],
  whenFull: 'least-taken' | 'leave-out',
): PlanText | null {
  let best: { readonly text: PlanText; readonly harm: number } | null = null
  for (const place of places) {
    const candidate = { ...text, ...place }
    const corners = textCorners(candidate, rimOf(text))
    const harm = freeSpaceTaken(space, corners) + (space.isOnOneSheet(corners) ? 0 : CUT_HARM)
    if (best === null || harm < best.harm) best = { text: candidate, harm }
    if (harm === 0) break
  }
  if (best === null || (best.harm > 0 && whenFull === 'leave-out')) return null
  freeSpaceTakeArea(space, textCorners(best.text, rimOf(text)))
  return best.text
}

/** Air round a text: a sixth of its size. */
function rimOf(text: Pick<PlanText, 'sizeMm'>): number {
  return text.sizeMm / 6
}

function take({ within, taken }: FreeSpace, x: number, y: number): void {
  if (boxContains(within, { x, y })) taken.add(cell(x - within.minX), cell(y - within.minY))
}

function isTaken({ within, taken }: FreeSpace, x: number, y: number): boolean {
  return taken.has(cell(x - within.minX), cell(y - within.minY))
}

const cell = (mm: number): number => Math.floor(mm / GRAIN_MM)

/** Goes over points of the area at least as close together as the grain; none is kept, for areas may be large. */
function areaVisit(corners: readonly Point[], visit: (x: number, y: number) => void): void {
  const [a, b, , d] = corners
  if (!a || !b || !d) return
  const across = Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / GRAIN_MM))
  const up = Math.max(1, Math.ceil(Math.hypot(d.x - a.x, d.y - a.y) / GRAIN_MM))
  for (let i = 0; i <= across; i++) {
    for (let j = 0; j <= up; j++) {
      visit(a.x + ((b.x - a.x) * i) / across + ((d.x - a.x) * j) / up, a.y + ((b.y - a.y) * i) / across + ((d.y - a.y) * j) / up)
    }
  }
}
