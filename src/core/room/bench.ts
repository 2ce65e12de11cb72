import { pointPolar, ringArea } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'

/* Where benchwork of one, two or three legs stands: the line of its back, which `shelfAlong` makes wood of. The room lies on its left. */

/** Where the back has its corner, and how it turns there. */
export interface BackPlace {
  readonly at: Point
  /** The way of the leg behind the corner. */
  readonly alongRad: number
  /** Inside angle between the leg before the corner and the one behind it. */
  readonly insideRad: number
  /** The same at the end of the leg behind it, for a third leg. */
  readonly endInsideRad: number
}

/** A place of its own, square and beside nothing, with the leg behind the corner going that way. */
export function squarePlace(at: Point, alongRad: number): BackPlace {
  return { at, alongRad, insideRad: Math.PI / 2, endInsideRad: Math.PI / 2 }
}

/** The back of so many legs: of two and three the first comes to the corner, the next leaves it; a single one leaves it. */
export function benchBack(lengthsMm: readonly number[], { at, alongRad, insideRad, endInsideRad }: BackPlace): readonly Point[] {
  const [first = 0, second = first, third] = lengthsMm
  const from = (point: Point, rad: number, mm: number): Point => {
    const step = pointPolar(rad, mm)
    // A quarter turn is level to the last figure.
    return { x: point.x + exact(step.x, mm), y: point.y + exact(step.y, mm) }
  }
  const end = from(at, alongRad, second)
  if (lengthsMm.length === 1) return [at, end]
  const start = from(at, alongRad + insideRad, first)
  return third === undefined ? [start, at, end] : [start, at, end, from(end, alongRad + Math.PI - endInsideRad, third)]
}

/** Rounding of a cosine of nothing, for each mm. */
const LEVEL = 1e-12

function exact(partMm: number, ofMm: number): number {
  if (Math.abs(partMm) < LEVEL * ofMm) return 0
  return Math.abs(Math.abs(partMm) - ofMm) < LEVEL * ofMm ? Math.sign(partMm) * ofMm : partMm
}

/** A corner of a room in which benchwork can stand, and the wall that goes on from it with the room on the left. */
export interface RoomCorner extends BackPlace {
  /** The points of the wall that it lies at and that its wall runs to, counted from 0 in their own order. */
  readonly point: number
  readonly toPoint: number
  /** How long the walls are that come to it, go on from it, and go on from the end of that; Infinity: that one is not there. */
  readonly wallsMm: readonly [number, number, number]
}

/** Sine of the least angle at which two walls make a corner to build into, thirty degrees from in line. */
const CORNER_SINE = 0.5

/** The corners of a wall that turn into the room. An open wall has the room on its left: it is thick to the right. */
export function roomCorners(points: readonly Point[], isClosed: boolean): readonly RoomCorner[] {
  const isTurned = isClosed && ringArea(points) < 0
  const walk = points.map((at, point) => ({ at, point }))
  if (isTurned) walk.reverse()
  const next = (i: number) => walk[isClosed ? (i + walk.length) % walk.length : i]
  const insideAt = (i: number): number | null => {
    const [before, here, after] = [next(i - 1), next(i), next(i + 1)]
    if (before === undefined || here === undefined || after === undefined) return null
    const turn = headingOf(here.at, before.at) - headingOf(here.at, after.at)
    const insideRad = turn - 2 * Math.PI * Math.floor(turn / (2 * Math.PI))
    return insideRad < Math.PI && Math.sin(insideRad) > CORNER_SINE ? insideRad : null
  }
  return walk.flatMap(({ at, point }, i) => {
    const [to, insideRad] = [next(i + 1), insideAt(i)]
    if (to === undefined || insideRad === null) return []
    const endInsideRad = insideAt(i + 1)
    const wallMm = (a: Point | undefined, b: Point | undefined): number =>
      a === undefined || b === undefined ? Infinity : Math.hypot(b.x - a.x, b.y - a.y)
    const beyondMm = endInsideRad === null ? Infinity : wallMm(to.at, next(i + 2)?.at)
    return [
      {
        at,
        point,
        toPoint: to.point,
        alongRad: headingOf(at, to.at),
        insideRad,
        endInsideRad: endInsideRad ?? Math.PI / 2,
        wallsMm: [wallMm(next(i - 1)?.at, at), wallMm(at, to.at), beyondMm] as const,
      },
    ]
  })
}

const headingOf = (a: Point, b: Point): number => Math.atan2(b.y - a.y, b.x - a.x)
