import { boxOfPoints, pointLerp, polygonContains, ringArea, ringNearest } from '../../geom/index.ts'
import type { Polygon } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import type { Floor } from './floor.ts'
import { GRAIN_MM, ringsGrown, ringsPieces, ringsWithout } from './rings.ts'
import type { Rings } from './rings.ts'

/** Where one has to pass from one wide part of the floor to another: as wide as this at its narrowest. 0: there is no way on foot. */
export interface Pinch {
  readonly widthMm: number
  readonly at: Point
}

/** A widening shorter than this share of the aisle is part of the pinch that it lies in. */
const LEAST_WIDENING = 0.25

/**
 * The narrowest places of the floor between its wide parts, each as it must be passed on the widest way.
 *
 * The wide parts are what is left of the floor where it is an aisle wide. The narrower a person may be, the more of them hang
 * together: the width at which two become one is that of the pinch between them. Halving finds it. The way from an opening of a
 * wall to the first wide part is not looked at.
 *
 * Exactness: widths to GRAIN_MM.
 */
export function floorPinches({ rings, entries }: Floor, aisleMm: number): readonly Pinch[] {
  const wide = ringsPieces(ringsGrown(rings, -aisleMm / 2)).filter(({ outline }) => {
    const box = boxOfPoints(outline)
    return box !== null && Math.max(box.maxX - box.minX, box.maxY - box.minY) >= LEAST_WIDENING * aisleMm
  })
  const places = wide.flatMap(({ outline }) => outline.slice(0, 1))
  if (places.length < 2) return []
  const whole = ringsPieces(rings)
  const floorGroups = groupsIn(whole, places)
  return [
    ...cutOff(wide, floorGroups, whole, entries),
    ...partings(rings, places, { widthMm: 0, groups: floorGroups }, { widthMm: aisleMm, groups: places.map((_, i) => i) }),
  ]
}

/** For each place the number of the first one that hangs together with it. */
function groupsIn(pieces: readonly Polygon[], places: readonly Point[]): readonly number[] {
  const pieceOf = places.map((place) => pieces.findIndex((piece) => polygonContains(piece, place)))
  return pieceOf.map((piece, i) => (piece < 0 ? i : pieceOf.indexOf(piece)))
}

/** Wide parts to which no floor leads: neither from an opening nor, where there is none, from the largest part. */
function cutOff(
  wide: readonly Polygon[],
  groups: readonly number[],
  whole: readonly Polygon[],
  entries: readonly Point[],
): readonly Pinch[] {
  const firsts = [...new Set(groups)]
  const floorOf = (group: number): Polygon | undefined => {
    const place = wide[group]?.outline[0]
    return place && whole.find((piece) => polygonContains(piece, place))
  }
  const entered = firsts.filter((group) => {
    const floor = floorOf(group)
    return floor !== undefined && entries.some((entry) => polygonContains(floor, entry))
  })
  const sizeOf = (group: number): number => ringArea(floorOf(group)?.outline ?? [])
  const [largest] = firsts.toSorted((a, b) => sizeOf(b) - sizeOf(a))
  const known = entered.length > 0 ? entered : [largest]
  return firsts.flatMap((group) => {
    const outline = wide[group]?.outline
    return known.includes(group) || outline === undefined ? [] : [{ widthMm: 0, at: middleOf(outline) }]
  })
}

/** A place in the midst of a ring, or on it where its midst lies outside. */
function middleOf(outline: readonly Point[]): Point {
  const sum = outline.reduce((a, b) => ({ x: a.x + b.x, y: a.y + b.y }), { x: 0, y: 0 })
  const middle = { x: sum.x / outline.length, y: sum.y / outline.length }
  const [first] = outline
  return polygonContains({ outline, holes: [] }, middle) || first === undefined ? middle : { x: first.x, y: first.y }
}

interface Parted {
  readonly widthMm: number
  readonly groups: readonly number[]
}

/** Halves the widths between what hangs together and what does not until each parting is known to the grain. */
function partings(rings: Rings, places: readonly Point[], low: Parted, high: Parted): readonly Pinch[] {
  const joined = high.groups.flatMap((group, i) => (group === i && low.groups[i] !== i ? [i] : []))
  if (joined.length === 0) return []
  if (high.widthMm - low.widthMm > GRAIN_MM) {
    const widthMm = (low.widthMm + high.widthMm) / 2
    const middle = { widthMm, groups: groupsIn(ringsPieces(ringsGrown(rings, -widthMm / 2)), places) }
    return [...partings(rings, places, low, middle), ...partings(rings, places, middle, high)]
  }
  const narrow = ringsGrown(rings, -low.widthMm / 2)
  const apart = ringsGrown(rings, -high.widthMm / 2)
  const pieces = ringsPieces(apart)
  const pieceAt = (i: number): Polygon | undefined => {
    const place = places[i]
    return (
      place && pieces.find((piece) => polygonContains(piece, place) || piece.outline.some(({ x, y }) => x === place.x && y === place.y))
    )
  }
  const necks = ringsPieces(ringsWithout(narrow, ringsGrown(apart, high.widthMm - low.widthMm)))
  return joined.flatMap((i) => {
    const [one, other] = [pieceAt(low.groups[i] ?? i), pieceAt(i)]
    return one === undefined || other === undefined ? [] : [{ widthMm: low.widthMm, at: neckMiddle(necks, one, other) }]
  })
}

/** The middle of the neck between two pieces: the corner of its outline that lies farthest from both. */
function neckMiddle(necks: readonly Polygon[], one: Polygon, other: Polygon): Point {
  const away = (piece: Polygon, point: Point): number => ringNearest(piece.outline, point)?.distanceMm ?? Infinity
  let best = { awayMm: Infinity, at: nearestMiddle(one, other) }
  for (const { outline } of necks) {
    const both = outline.map((point) => ({ point, one: away(one, point), other: away(other, point) }))
    const awayMm = Math.min(...both.map((at) => at.one)) + Math.min(...both.map((at) => at.other))
    const [middle] = both.toSorted((a, b) => Math.min(b.one, b.other) - Math.min(a.one, a.other))
    if (middle !== undefined && awayMm < best.awayMm) best = { awayMm, at: middle.point }
  }
  return { x: best.at.x, y: best.at.y }
}

/** Midway between two pieces where they come nearest: what is left when the neck is too short to see. */
function nearestMiddle(one: Polygon, other: Polygon): Point {
  let best = { mm: Infinity, at: one.outline[0] ?? { x: 0, y: 0 } }
  for (const [from, to] of [
    [one, other],
    [other, one],
  ] as const) {
    for (const point of from.outline) {
      const near = ringNearest(to.outline, point)
      if (near !== null && near.distanceMm < best.mm) best = { mm: near.distanceMm, at: pointLerp(point, near.at, 0.5) }
    }
  }
  return best.at
}
