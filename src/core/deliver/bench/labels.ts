import { boxOfPoints, pointDistance, pointLerp, polygonContains, polygonEdgeDistance } from '../../geom/index.ts'
import type { Box, Point } from '../../geom/types.ts'
import { freeSpaceOf, freeSpacePlace, freeSpaceTakeLine, type FreeSpace, type Place } from '../freeSpace.ts'
import { textUpright } from '../text.ts'
import type { DrawItem, TextItem } from '../types.ts'
import { penLine } from './pen.ts'
import { rightOf } from './roomLines.ts'

/** Words on a drawing that keep off each other and off its lines. Page mm. */
export function labelSpace(window: Box, items: readonly DrawItem[]): FreeSpace {
  const space = freeSpaceOf(window, { isOnOneSheet: () => true, lines: [] })
  for (const item of items) {
    if (item.kind !== 'stroke' || item.role === 'rail-head') continue
    let from = item.start
    for (const { to } of item.segments) {
      freeSpaceTakeLine(space, from, to)
      from = to
    }
    if (item.isClosed) freeSpaceTakeLine(space, from, item.start)
  }
  return space
}

interface Label {
  readonly text: string
  readonly sizeMm: number
  readonly weight?: TextItem['weight']
  readonly grey?: number
}

/** A label on the first free of its places; left out when there is none. */
export function labelPlaced(
  space: FreeSpace,
  { text, sizeMm, weight = 'regular', grey = 0 }: Label,
  places: readonly Place[],
): readonly DrawItem[] {
  const placed = freeSpacePlace(space, { kind: 'text', layer: 'sheet', text, sizeMm, weight, grey }, places, 'leave-out')
  return placed === null ? [] : [textUpright(placed, placed.middle, 0)]
}

/** Of several ways to word a label the first that finds a place. */
export function firstPlaced(tries: readonly (() => readonly DrawItem[])[]): readonly DrawItem[] {
  for (const attempt of tries) {
    const items = attempt()
    if (items.length > 0) return items
  }
  return []
}

/** Places along a line, beside it on one of its sides: in the middle first. */
export function placesBeside(a: Point, b: Point, rightMm: number): readonly Place[] {
  const n = rightOf(a, b)
  const angleRad = Math.atan2(b.y - a.y, b.x - a.x)
  return [0.5, 0.4, 0.6, 0.3, 0.7].map((share) => {
    const p = pointLerp(a, b, share)
    return { middle: { x: p.x + n.x * rightMm, y: p.y + n.y * rightMm }, angleRad, anchor: 'middle' }
  })
}

/** Places inside a ring, the roomiest first; of equal ones that nearest to its middle. */
export function placesInside(outline: readonly Point[], holes: readonly (readonly Point[])[]): readonly Place[] {
  const box = boxOfPoints(outline)
  if (!box) return []
  const polygon = { outline, holes }
  const steps = 24
  const heart = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 }
  const points = Array.from({ length: steps * steps }, (_, k) => ({
    x: box.minX + ((box.maxX - box.minX) * ((k % steps) + 0.5)) / steps,
    y: box.minY + ((box.maxY - box.minY) * (Math.floor(k / steps) + 0.5)) / steps,
  }))
  return points
    .filter((p) => polygonContains(polygon, p))
    .map((middle) => ({ middle, room: polygonEdgeDistance(polygon, middle)?.distanceMm ?? 0 }))
    .toSorted((a, b) => Math.round(b.room) - Math.round(a.room) || pointDistance(a.middle, heart) - pointDistance(b.middle, heart))
    .flatMap(({ middle }): readonly Place[] => [
      { middle, angleRad: 0, anchor: 'middle' },
      { middle, angleRad: Math.PI / 2, anchor: 'middle' },
    ])
}

const overrunMm = 1.2
const slashMm = 1

/** A dimension: a line beside what it measures, its ends struck through, lines out to it, and the words along it where they fit. */
export function dimensionItems(
  space: FreeSpace,
  {
    a,
    b,
    offMm,
    fromMm,
    text,
    sizeMm,
  }: {
    readonly a: Point
    readonly b: Point
    readonly offMm: number
    readonly fromMm: number
    readonly text: string
    readonly sizeMm: number
  },
): readonly DrawItem[] {
  const n = rightOf(a, b)
  const side = Math.sign(offMm)
  const out = (p: Point, mm: number): Point => ({ x: p.x + n.x * mm, y: p.y + n.y * mm })
  const [from, to] = [out(a, offMm), out(b, offMm)]
  const lengthMm = pointDistance(from, to)
  const along = { x: (to.x - from.x) / (lengthMm || 1), y: (to.y - from.y) / (lengthMm || 1) }
  const slash = (p: Point): DrawItem =>
    penLine(
      'mark',
      { x: p.x - slashMm * (along.x + n.x), y: p.y - slashMm * (along.y + n.y) },
      { x: p.x + slashMm * (along.x + n.x), y: p.y + slashMm * (along.y + n.y) },
    )
  const lines = [
    penLine('frame', from, to),
    penLine('frame', out(a, fromMm), out(a, offMm + side * overrunMm)),
    penLine('frame', out(b, fromMm), out(b, offMm + side * overrunMm)),
    slash(from),
    slash(to),
  ]
  const words = labelPlaced(space, { text, sizeMm }, [
    ...placesBeside(from, to, side * (sizeMm * 0.5 + 0.9)),
    ...placesBeside(from, to, -side * (sizeMm * 0.5 + 0.9)),
  ])
  for (const line of lines) if (line.kind === 'stroke') freeSpaceTakeLine(space, line.start, line.segments[0]?.to ?? line.start)
  return [...lines, ...words]
}
