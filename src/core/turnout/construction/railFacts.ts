import { pathNearest, pathPoseAt, pathReverse, pathStart, pointDistance } from '../../geom/index.ts'
import type { Path, Pose } from '../../geom/types.ts'
import { pathAcross } from '../ties/across.ts'
import type { Across } from '../ties/across.ts'
import type { RailPart, TurnoutRail, TurnoutTie } from '../types.ts'
import type { RouteName } from '../work/types.ts'
import type { BuiltWork } from './types.ts'

/** A rail with what its name and place tell. */
export interface RailFacts {
  readonly index: number
  readonly rail: TurnoutRail
  readonly part: RailPart
  readonly route: RouteName
  /** Side of the head as one travels along the route, whichever end the rail is told from: +1 left. */
  readonly side: 1 | -1
  /** The rail's line runs with its route, or against it. */
  readonly isWithRoute: boolean
}

/** The rails of a work by part, route and side. */
export function railFactsOf({ rails, routes }: Pick<BuiltWork, 'rails' | 'routes'>): readonly RailFacts[] {
  return rails.map((rail, index) => {
    const [part, route] = roleParts(rail)
    const centre = routes.find(({ name }) => name === route)?.centre
    const middle = pathPoseAt(rail.gaugeLine, rail.gaugeLine.lengthMm / 2)
    const along = centre === undefined ? 0 : pathPoseAt(centre, pathNearest(centre, middle).stationMm).headingRad
    const isWithRoute = Math.cos(middle.headingRad - along) >= 0
    return { index, rail, part, route, side: isWithRoute === (rail.headSide === 1) ? 1 : -1, isWithRoute }
  })
}

/** Part and route of a role: `stock-straight`. The part has no hyphen in it. */
function roleParts({ role }: TurnoutRail): readonly [RailPart, RouteName] {
  const at = role.indexOf('-')
  return [role.slice(0, at) as RailPart, role.slice(at + 1) as RouteName]
}

/** For every tie the pose that it stands square to, in its middle, heading on to the next tie. */
export function tieAxes(ties: readonly TurnoutTie[]): readonly Pose[] {
  const middles = ties.map(({ from, to }) => ({ x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 }))
  return ties.map(({ from, to }, i) => {
    const at = middles[i] ?? from
    const [behind, ahead] = [middles[i - 1] ?? at, middles[i + 1] ?? at]
    const square = Math.atan2(to.y - from.y, to.x - from.x) - Math.PI / 2
    const isOn = (ahead.x - behind.x) * Math.cos(square) + (ahead.y - behind.y) * Math.sin(square) >= 0
    return { ...at, headingRad: isOn ? square : square + Math.PI }
  })
}

/** Where a rail crosses a tie's middle line, on the rail itself; null: it does not. Station along the rail as it is told. */
export function railAcross(path: Path, axis: Pose): Across | null {
  const isBack = Math.cos(pathStart(path).headingRad - axis.headingRad) < 0
  const found = pathAcross(isBack ? pathReverse(path) : path, axis)
  if (found === null || found.stationMm > path.lengthMm) return null
  return isBack ? { ...found, stationMm: path.lengthMm - found.stationMm } : found
}

/** Of several rails the one whose line comes nearest to a place. */
export function nearestRail(rails: readonly RailFacts[], at: { readonly x: number; readonly y: number }): RailFacts | null {
  let best: RailFacts | null = null
  let least = Infinity
  for (const facts of rails) {
    if (facts.rail.gaugeLine.elements.length === 0) continue
    const off = pointDistance(pathNearest(facts.rail.gaugeLine, at), at)
    if (off < least) [best, least] = [facts, off]
  }
  return best
}
