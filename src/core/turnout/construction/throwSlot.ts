import type { Point, Pose } from '../../geom/types.ts'
import { hostPose } from '../ties/across.ts'
import type { ThrowHole, TurnoutGeometry } from '../types.ts'
import { benchUsual } from './practice.ts'
import type { MotorBody, ThrowSlot, ThrowWire, ThrowZone } from './types.ts'

/**
 * The hole for the wire that moves a throw bar, through ties, roadbed and deck.
 *
 * A wire that tilts about a fulcrum f below the bar moves, at a depth z below it, by T |1 - z / f|: T at the bar, nothing at
 * the fulcrum, and beyond it the other way. The hole is as long as that and, at each end, once the wire's thickness more:
 * half of it the wire itself, half to go free. A mechanism of travel M that takes hold of the wire an arm b below the fulcrum would
 * move the bar by M f / b; the stock rails hold it at T, and the wire's spring takes up the rest. The longest arm is f M / T.
 * Without a fulcrum the wire keeps upright, the hole is T long all through, and what the mechanism moves beyond T the
 * wire's spring takes up.
 *
 * Units:   mm. Domain: all above 0 and finite. Exact up to rounding. Derived.
 */
export function slotSizes(throwMm: number, { wireMm, deckMm, fulcrumMm, travelMm, armMm }: ThrowWire): Omit<ThrowSlot, 'bar'> {
  const free = 2 * wireMm
  const atUnderside = fulcrumMm === null ? throwMm : throwMm * Math.abs(1 - deckMm / fulcrumMm)
  return {
    throwMm,
    topMm: throwMm + free,
    bottomMm: atUnderside + free,
    widthMm: free,
    drillMm: Math.max(throwMm, atUnderside) + free,
    longestArmMm: fulcrumMm === null ? null : (fulcrumMm * travelMm) / throwMm,
    spareMm: (fulcrumMm === null ? travelMm : (travelMm * fulcrumMm) / armMm) - throwMm,
  }
}

/** The hole for the wire that is usual: what a sheet shows before a builder chooses another. */
export function throwHole(
  { throwMm }: ThrowHole,
  request: Parameters<typeof benchUsual>[0],
): { readonly lengthMm: number; readonly widthMm: number } {
  const { drillMm: lengthMm, widthMm } = slotSizes(throwMm, benchUsual(request).throwWire)
  return { lengthMm, widthMm }
}

/** The hole under a bar in its place. */
export const throwSlot = (bar: Pose, throwMm: number, wire: ThrowWire): ThrowSlot => ({ bar, ...slotSizes(throwMm, wire) })

/** A throw bar lies in the middle of the bay between each pair of head blocks; a lapped three-way has two. */
export function throwBars({ request, ties }: Pick<TurnoutGeometry, 'request' | 'ties'>): readonly Pose[] {
  const heads = ties.filter(({ isHeadBlock }) => isHeadBlock)
  return heads.flatMap(({ stationMm }, i) => {
    const next = heads[i + 1]
    return i % 2 === 0 && next !== undefined ? [hostPose(request.host, (stationMm + next.stationMm) / 2)] : []
  })
}

/** The room below the deck that the usual machines of a turnout take, in its own frame. */
export function throwZonesOf(geometry: Pick<TurnoutGeometry, 'request' | 'ties'>): readonly ThrowZone[] {
  const { motor } = benchUsual(geometry.request)
  return throwBars(geometry).map((bar) => throwZone(bar, motor))
}

/** The rectangle that a machine takes below the deck, its middle under the bar. */
export function throwZone(bar: Pose, motor: MotorBody): ThrowZone {
  return { middle: bar, lengthMm: motor.alongMm + 2 * motor.aroundMm, widthMm: motor.acrossMm + 2 * motor.aroundMm }
}

/** Corners of a zone, anticlockwise from behind on the right. */
export function zoneCorners({ middle, lengthMm, widthMm }: ThrowZone): readonly [Point, Point, Point, Point] {
  const [cos, sin] = [Math.cos(middle.headingRad), Math.sin(middle.headingRad)]
  const corner = (a: number, b: number): Point => ({
    x: middle.x + (a * lengthMm * cos - b * widthMm * sin) / 2,
    y: middle.y + (a * lengthMm * sin + b * widthMm * cos) / 2,
  })
  return [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)]
}

/**
 * Clear distance from a zone to a joist: a straight piece of a width between two points of the same frame, mm; 0 where it
 * touches or crosses. Square ends are taken as round ones, to the safe side.
 */
export function zoneClearance(zone: ThrowZone, from: Point, to: Point, joistMm: number): number {
  const { middle, lengthMm, widthMm } = zone
  const [cos, sin] = [Math.cos(middle.headingRad), Math.sin(middle.headingRad)]
  const local = (p: Point): Point => ({
    x: (p.x - middle.x) * cos + (p.y - middle.y) * sin,
    y: (p.y - middle.y) * cos - (p.x - middle.x) * sin,
  })
  return Math.max(0, boxDistance(local(from), local(to), lengthMm / 2, widthMm / 2) - joistMm / 2)
}

/** Distance of a straight piece from a box about the origin: the function of the place along the piece is convex. */
function boxDistance(a: Point, b: Point, halfX: number, halfY: number): number {
  const off = (t: number): number =>
    Math.hypot(Math.max(0, Math.abs(a.x + t * (b.x - a.x)) - halfX), Math.max(0, Math.abs(a.y + t * (b.y - a.y)) - halfY))
  let [low, high] = [0, 1]
  for (let round = 0; round < 100; round++) {
    const [first, second] = [low + (high - low) / 3, high - (high - low) / 3]
    if (off(first) <= off(second)) high = second
    else low = first
  }
  return off((low + high) / 2)
}
