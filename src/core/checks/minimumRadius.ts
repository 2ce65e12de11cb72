import type { CornerPlace } from '../alignment/types.ts'
import { pathPoseAt, poseToPlan } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { LineClass, TurnoutLeg } from '../plan/types.ts'
import { cureCorner, cureTried, legPosesOf } from './cornerCure.ts'
import type { CornerCure } from './cornerCure.ts'
import { cornerFinding } from './cornerFinding.ts'
import type { Finding } from './types.ts'
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
 * the class of its host. A warning: frog number and radius go together, and the frog has a rule of its own.
 */
export function minimumRadiusOfTurnout({ turnout, result }: NetworkTurnout, leg: TurnoutLeg, routeClass: LineClass): readonly Finding[] {
  if (!result.ok) return []
  const { legs, divergences, frogPoint } = result.geometry
  const route = legs.find((one) => one.leg === leg)?.route
  const divergence = divergences.find((one) => one.route === route)
  if (divergence === undefined || divergence.radiusMm >= routeClass.minRadiusMm - RADIUS_ROUNDING_MM) return []
  return [
    workFinding(turnoutWork(turnout), poseToPlan(result.pose, frogPoint), {
      id: leg === 'diverging' ? `minimum-radius:${turnout.id}` : `minimum-radius:${turnout.id}:${leg}`,
      rule: 'minimum-radius',
      severity: 'warning',
      measured: divergence.radiusMm,
      limit: routeClass.minRadiusMm,
      source: `class:${routeClass.id}`,
    }),
  ]
}
