import type { CornerPlace } from '../alignment/types.ts'
import { pathPoseAt } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { Vehicle } from '../plan/types.ts'
import { vehicleCarShape } from '../vehicles/index.ts'
import { cureCorner, cureTried, legPosesOf } from './cornerCure.ts'
import type { CornerCure } from './cornerCure.ts'
import { cornerFinding } from './cornerFinding.ts'
import { sharpestMiddle } from './minimumRadius.ts'
import type { Run } from './run.ts'
import type { Finding, RuleName } from './types.ts'

/** A radius this much under the limit still keeps it: rounding, a thousandth of a micrometre. */
const RADIUS_ROUNDING_MM = 1e-6
/** Cures are rounded up to this, so that a typed value shows all its digits. */
const CURE_STEP_MM = 0.1

/**
 * Corners whose curve is too sharp for the longest car of the class: under so many of its lengths over coupler faces as the class says.
 * Of what bends between two bodies the longer body counts, with the couplers.
 *
 * Units:      mm.
 * Outcome:    warnings; nothing where no car is known or the class holds no such rule (0).
 * Cure:       setRadius to the limit, or to the minimum of the class where that asks for more, with the limit as another; where they fit.
 * Source:     common practice, no source: three lengths run, four look well, five couple by themselves.
 */
export function carRadius(run: Run, networkTrack: NetworkTrack, startLeg: Pose | null, endLeg: Pose | null): readonly Finding[] {
  return sharpFor(run, networkTrack, [startLeg, endLeg], 'car-radius', networkTrack.lineClass.curveCarLengths, () => true)
}

/**
 * Corners on which cars are to be coupled, and whose curve is too sharp for couplers to find each other.
 *
 * A curve that ends before the fouling point of the turnout that the track hangs on is left out: nothing stands there to be coupled.
 * All else as for carRadius.
 */
export function couplingRadius(
  run: Run,
  networkTrack: NetworkTrack,
  startLeg: Pose | null,
  endLeg: Pose | null,
  start: NetworkTurnout | null,
  end: NetworkTurnout | null,
): readonly Finding[] {
  const [leadMm, tailMm] = [run.startTurnout?.routeMm ?? 0, run.endTurnout?.routeMm ?? 0]
  const [foulStartMm, foulEndMm] = [foulingMm(start), foulingMm(end)]
  const lengthMm = run.path.lengthMm - leadMm - tailMm
  const isCoupled = ({ tsMm, stMm }: CornerPlace): boolean => stMm + leadMm > foulStartMm && lengthMm - tsMm + tailMm > foulEndMm
  return sharpFor(run, networkTrack, [startLeg, endLeg], 'coupling-radius', networkTrack.lineClass.couplingCarLengths, isCoupled)
}

/** From the points of a turnout to its fouling point. */
function foulingMm(turnout: NetworkTurnout | null): number {
  return turnout?.result.ok === true ? turnout.result.geometry.leadMm + turnout.result.geometry.foulingMm : 0
}

function sharpFor(
  { vehicles }: Run,
  networkTrack: NetworkTrack,
  [startLeg, endLeg]: readonly [Pose | null, Pose | null],
  rule: RuleName,
  lengths: number,
  isJudged: (place: CornerPlace) => boolean,
): readonly Finding[] {
  const { track, lineClass, alignment } = networkTrack
  const longest = vehicles.reduce<Vehicle | null>((most, one) => (most === null || lengthMmOf(one) > lengthMmOf(most) ? one : most), null)
  if (!alignment.ok || longest === null || lengths === 0) return []
  const limit = lengths * lengthMmOf(longest)
  return alignment.corners.flatMap((place): Finding[] => {
    const { solution, cornerId } = place
    if (solution.totalLengthMm === 0 || solution.radiusMm >= limit - RADIUS_ROUNDING_MM || !isJudged(place)) return []
    // What the class asks, where that is more; and the least that the car does.
    const radii = new Set([Math.max(limit, lineClass.minRadiusMm), limit].map((mm) => Math.ceil(mm / CURE_STEP_MM - 1e-6)))
    const cures = [...radii].flatMap((steps): readonly CornerCure[] => {
      const radiusMm = Number((steps * CURE_STEP_MM).toFixed(1))
      const cure: CornerCure = { kind: 'setRadius', track: track.id, corner: cornerId, radiusMm }
      const radius = cureCorner(track, cure)?.radius
      const hasRadius = radius !== 'easement-only' && typeof radius !== 'object'
      return hasRadius && cureTried(networkTrack, cure, legPosesOf(track, startLeg, endLeg)).ok ? [cure] : []
    })
    const [cure = null, ...others] = cures
    const told = { rule, severity: 'warning', measured: solution.radiusMm, limit, cure } as const
    const finding = cornerFinding(networkTrack, place, pathPoseAt(alignment.path, sharpestMiddle(place)), told)
    const of = { source: `car:${longest.id}`, problem: { kind: 'carLengths', lengths, lengthMm: lengthMmOf(longest) } } as const
    return [{ ...finding, ...of, ...(others.length === 0 ? {} : { others }) }]
  })
}

/** Over coupler faces; of a vehicle of several bodies the longest one with all the couplers. */
function lengthMmOf(vehicle: Vehicle): number {
  if (vehicle.frames.length < 2) return vehicle.overCouplersMm
  const bodies = vehicle.frames.map((frame) => vehicleCarShape({ frames: [frame] }).bodyLengthMm)
  const allMm = bodies.reduce((sum, mm) => sum + mm, 0)
  return Math.max(...bodies) + Math.max(0, vehicle.overCouplersMm - allMm)
}
