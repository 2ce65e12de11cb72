import {
  elementBetween,
  pathFromElements,
  pathNearest,
  pathOffset,
  pathPoseAt,
  pathSlice,
  pathStart,
  pathsJoined,
} from '../../geom/index.ts'
import type { Path } from '../../geom/types.ts'
import { frogDistances, frogLengthsAt } from '../frog.ts'
import type { Divergence, GaugeLine, RouteWidening, TurnoutRequest, WideningRule } from '../types.ts'
import { flareLength } from '../work/flare.ts'
import { lineMeetings } from '../work/meetings.ts'
import { sideSign } from '../work/side.ts'
import { coverAheadFlangeways } from '../work/vee.ts'
import type { TurnoutLines } from './types.ts'

/** The gauge widens by one in so many, as long as a third of the room lets it. Common practice, no source. */
const rampPerMm = 200
const mostRampShare = 1 / 3

/** What a class asks for on a route of this radius: the largest that applies, 0 for none. */
export function wideningAsked(rules: readonly WideningRule[] | undefined, radiusMm: number): number {
  return Math.max(0, ...(rules ?? []).filter(({ belowRadiusMm }) => radiusMm < belowRadiusMm).map(({ byMm }) => byMm))
}

/**
 * The lines with the gauge widened on each diverging route that is sharp enough. The inner rail of the curve moves inwards; the outer one, which
 * leads the wheels, stays. At the points and where the frog's guard rail stands the gauge is its own:
 *
 *   heel of the points | ramp | full widening | ramp | flare of the guard rail, or toe of the frog, whichever comes first
 *
 * A ramp is one easement, tangent to the rail at both ends: steepest in its middle, by half as much again as one in 200.
 *
 * Outcome:    a route that bends away from its own hand, shares its rail or has no room between heel and frog keeps its gauge and says so:
 *             asked for, but not widened. Never throws.
 * Exactness:  full widening to 1e-7 mm, a ramp's ends as well.
 */
export function linesWidened(found: TurnoutLines): TurnoutLines {
  let { lines } = found
  // A rail that two tracks share cannot move for one of them.
  const isShared = found.request.kind.kind === 'gauntlet' || found.request.kind.kind === 'dual-gauge'
  const divergences = found.divergences.map((divergence): Divergence => {
    const byMm = wideningAsked(found.request.widening, divergence.radiusMm)
    if (byMm === 0) return divergence
    const widened = isShared ? null : lineWidened(found, divergence, byMm)
    if (widened) lines = lines.map((line) => (line === widened.from ? widened.to : line))
    return { ...divergence, wideningAskedMm: byMm, widening: widened ? widened.widening : null }
  })
  return { ...found, lines, divergences }
}

interface Widened {
  readonly from: GaugeLine
  readonly to: GaugeLine
  readonly widening: RouteWidening
}

function lineWidened({ request, lines, main, routes }: TurnoutLines, { route }: Divergence, byMm: number): Widened | null {
  const own = lines.filter((line) => line.route === route)
  // The stock rail of a diverging route is its inner rail where the route bends to its own hand.
  const inner = own.find(({ side }) => side === (route === 'other' ? 'right' : 'left'))
  const outer = own.find((line) => line !== inner)
  const centre = routes.find(({ name }) => name === route)?.centre
  if (!inner || !outer || !centre) return null
  const sign = sideSign(inner.side)
  const heelMm = outer.pointAtStart?.lengthMm ?? 0
  const endMm = guardedFrom(request, lines, outer, main.frogAngleRad)
  if (endMm <= heelMm || sign * bendOf(outer.path, heelMm, endMm) <= 0) return null

  const [fromMm, toMm] = [heelMm, endMm].map((at) => pathNearest(inner.path, pathPoseAt(outer.path, at)).stationMm)
  if (fromMm === undefined || toMm === undefined || toMm <= fromMm) return null
  const rampMm = Math.min(rampPerMm * byMm, mostRampShare * (toMm - fromMm))
  const full = pathOffset(pathSlice(inner.path, fromMm + rampMm, toMm - rampMm), sign * byMm)
  const [widens, narrows] = [
    elementBetween(pathPoseAt(inner.path, fromMm), pathStart(full)),
    elementBetween(full.end, pathPoseAt(inner.path, toMm)),
  ]
  if (!widens || !narrows) return null
  const path = pathsJoined([
    pathSlice(inner.path, 0, fromMm),
    pathFromElements(pathPoseAt(inner.path, fromMm), [widens]),
    full,
    pathFromElements(full.end, [narrows]),
    pathSlice(inner.path, toMm, inner.path.lengthMm),
  ])
  const [startMm, stopMm] = [fromMm, toMm].map((at) => pathNearest(centre, pathPoseAt(inner.path, at)).stationMm)
  return { from: inner, to: { ...inner, path }, widening: { byMm, fromMm: startMm ?? 0, toMm: stopMm ?? 0, rampMm } }
}

/** By how much a line turns between two stations, positive to the left. */
function bendOf(path: Path, fromMm: number, toMm: number): number {
  return pathPoseAt(path, toMm).headingRad - pathPoseAt(path, fromMm).headingRad
}

/** Where on the outer rail the first frog asks for the gauge itself: at its toe, or where the flare of its guard rail begins. */
function guardedFrom(request: TurnoutRequest, lines: readonly GaugeLine[], outer: GaugeLine, chosenRad: number): number {
  const [first] = lineMeetings(lines, request, request.gaugeMm)
    .filter(({ line }) => line === outer)
    .toSorted((a, b) => a.stationMm - b.stationMm)
  if (!first) return 0
  const angleRad = Math.abs(first.angleRad)
  const { toeMm } = frogLengthsAt(request, chosenRad, angleRad)
  const guardMm = frogDistances(angleRad, request).knuckle + coverAheadFlangeways * request.flangewayMm
  return first.stationMm - Math.max(toeMm, guardMm + flareLength(request.gaugeMm - request.checkGaugeMm) + request.railHeadMm)
}
