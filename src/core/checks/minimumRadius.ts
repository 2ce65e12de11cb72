import type { CornerPlace } from '../alignment/types.ts'
import { pathPoseAt, poseToPlan } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { LineClass, TurnoutLeg } from '../plan/types.ts'
import { cureCorner, cureTried, legPosesOf } from './cornerCure.ts'
import type { CornerCure } from './cornerCure.ts'
import { cornerFinding } from './cornerFinding.ts'
import type { Finding } from './types.ts'
import { turnoutRequest, turnoutSolve } from '../turnout/index.ts'
import { turnoutWork, workFinding } from './workFinding.ts'

/** A radius this much under the minimum still keeps it: rounding of an easement-only radius, a thousandth of a micrometre. */
const RADIUS_ROUNDING_MM = 1e-6

/**
 * Corners whose curve is sharper than the class allows. An easement-only corner is judged where its easements meet, one of
 * several radii by its sharpest.
 *
 * The cure sets the minimum; it is offered only for a corner that has one radius to set, and where the minimum fits in.
 */
export function minimumRadiusOfTrack(networkTrack: NetworkTrack, startLeg: Pose | null, endLeg: Pose | null): readonly Finding[] {
  const { track, lineClass, alignment } = networkTrack
  if (!alignment.ok) return []
  return alignment.corners.flatMap((place): Finding[] => {
    const { solution, cornerId } = place
    if (solution.totalLengthMm === 0 || solution.radiusMm >= lineClass.minRadiusMm - RADIUS_ROUNDING_MM) return []
    const middle = pathPoseAt(alignment.path, sharpestMiddle(place))
    const cure: CornerCure = { kind: 'setRadius', track: track.id, corner: cornerId, radiusMm: lineClass.minRadiusMm }
    const radius = cureCorner(track, cure)?.radius
    const hasRadius = radius !== 'easement-only' && typeof radius !== 'object'
    const isCured = hasRadius && cureTried(networkTrack, cure, legPosesOf(track, startLeg, endLeg)).ok
    return [
      cornerFinding(networkTrack, place, middle, {
        rule: 'minimum-radius',
        severity: 'error',
        measured: solution.radiusMm,
        limit: lineClass.minRadiusMm,
        cure: isCured ? cure : null,
      }),
    ]
  })
}

/** Station of the middle of the sharpest arc. */
export function sharpestMiddle({ solution, scMm, csMm, joins }: CornerPlace): number {
  const sharpest = solution.arcs.findIndex(({ radiusMm }) => radiusMm === solution.radiusMm)
  return ((joins[sharpest - 1]?.toMm ?? scMm) + (joins[sharpest]?.fromMm ?? csMm)) / 2
}

/**
 * Diverging routes of a turnout that are sharper than the class of the track that leaves there allows; before a track hangs on it,
 * the class of its host. A warning.
 *
 * A frog of the class's least number or above is what the class allows, whatever its route curves: the recommendations give radius and
 * frog number side by side, and the route of the least frog is sharper than the least radius in most scales [NMRA-MRP-1.0, NMRA-RP-11]. On
 * a bent track its route is held against the one that the least frog has on a straight, where that is sharper than the radius.
 */
export function minimumRadiusOfTurnout(
  { turnout, result }: NetworkTurnout,
  leg: TurnoutLeg,
  routeClass: LineClass,
  host: NetworkTrack | null,
): readonly Finding[] {
  if (!result.ok) return []
  const { legs, divergences, frogPoint, request } = result.geometry
  const route = legs.find((one) => one.leg === leg)?.route
  const divergence = divergences.find((one) => one.route === route)
  if (divergence === undefined || keeps(divergence.radiusMm, routeClass.minRadiusMm)) return []
  const isByFrog = turnout.frog >= routeClass.minFrog
  if (isByFrog && request.host === null) return []
  const limit = isByFrog && host !== null ? leastFrogRadius(turnout, route, routeClass, host) : routeClass.minRadiusMm
  if (keeps(divergence.radiusMm, limit)) return []
  return [
    workFinding(turnoutWork(turnout), poseToPlan(result.pose, frogPoint), {
      id: leg === 'diverging' ? `minimum-radius:${turnout.id}` : `minimum-radius:${turnout.id}:${leg}`,
      rule: 'minimum-radius',
      severity: 'warning',
      measured: divergence.radiusMm,
      limit,
      source: `class:${routeClass.id}`,
    }),
  ]
}

const keeps = (radiusMm: number, leastMm: number): boolean => radiusMm >= leastMm - RADIUS_ROUNDING_MM

/** The radius that such a turnout of the class's least frog has on a straight, or that of the class where it asks for less. */
function leastFrogRadius(
  turnout: NetworkTurnout['turnout'],
  route: string | undefined,
  { minFrog, minRadiusMm }: LineClass,
  { railway, lineClass }: NetworkTrack,
): number {
  const solved = turnoutSolve(turnoutRequest(railway, lineClass, { ...turnout, frog: minFrog }))
  const radiusMm = solved.ok ? solved.turnout.divergences.find((one) => one.route === route)?.radiusMm : undefined
  return Math.min(minRadiusMm, radiusMm ?? minRadiusMm)
}
