import { pathPoseAt, pathStart } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import { turnoutPlace, turnoutStretch } from '../network/index.ts'
import type { Stretch } from '../network/index.ts'
import type { NetworkTrack, NetworkTurnout, PlacementProblem } from '../network/types.ts'
import type { Cure, Finding } from './types.ts'

/** Two turnouts may share this much without a conflict: rounding of stations typed to the tenth of a micrometre. */
const OVERLAP_ROUNDING_MM = 1e-4

/** Cures are given to a tenth of a millimetre, on the side that fits. */
const CURE_STEP_MM = 0.1

type Common = Pick<Finding, 'rule' | 'severity' | 'stage' | 'table' | 'record' | 'corner' | 'x' | 'y' | 'unit' | 'source'>

const commonOf = (record: string, at: Point): Common => ({
  rule: 'turnout-place',
  severity: 'error',
  stage: 'turnouts',
  table: 'turnouts',
  record,
  corner: null,
  x: at.x,
  y: at.y,
  unit: 'mm',
  source: 'geometry',
})

/** Where a turnout would stand: its PS, held to the host; the host's start while that is all there is. */
function turnoutAt({ turnout, result }: NetworkTurnout, host: NetworkTrack | null): Point {
  if (result.pose !== null) return result.pose
  if (host?.alignment.ok !== true) return host?.alignment.polygon[0] ?? { x: 0, y: 0 }
  const { path } = host.alignment
  if (path.elements.length === 0) return pathStart(path)
  return pathPoseAt(path, Math.min(Math.max(turnout.stationMm, 0), path.lengthMm))
}

/**
 * A turnout that cannot be set where it is: it runs off its track, its host bends under it, or it cannot be built at all. A host
 * without a line is told by the rule for lines. Measured is the length that is wanting, where the problem has one.
 */
export function turnoutFault(networkTurnout: NetworkTurnout, host: NetworkTrack | null): readonly Finding[] {
  const { turnout, result } = networkTurnout
  if (result.ok || result.problem.kind === 'hostUnsolved') return []
  const { problem } = result
  return [
    {
      ...commonOf(turnout.id, turnoutAt(networkTurnout, host)),
      id: `turnout-place:${turnout.id}`,
      otherRecord: null,
      stationFromMm: turnout.stationMm,
      stationToMm: turnout.stationMm,
      measured:
        problem.kind === 'runsOff'
          ? problem.overMm
          : problem.kind === 'hostNotStraight'
            ? problem.straightToMm - problem.straightFromMm
            : null,
      limit: problem.kind === 'runsOff' ? 0 : problem.kind === 'hostNotStraight' ? lengthTaken(networkTurnout) : null,
      problem,
      cure: host === null ? null : moveCure(networkTurnout, host, problem),
    },
  ]
}

function lengthTaken({ result }: NetworkTurnout): number | null {
  return result.geometry === null ? null : result.geometry.extent.toMm - result.geometry.extent.fromMm
}

/** The nearest station at which the turnout finds its place, if the way there is plain. */
function moveCure({ turnout, result }: NetworkTurnout, { alignment }: NetworkTrack, problem: PlacementProblem): Cure | null {
  const { geometry } = result
  if (geometry === null || !alignment.ok) return null
  const taken = turnoutStretch(turnout, geometry.extent.fromMm, geometry.extent.toMm)
  const aheadMm = wayToPlace(problem, taken)
  if (aheadMm === null) return null
  const steps = aheadMm / CURE_STEP_MM
  const stationMm = Number((turnout.stationMm + (aheadMm > 0 ? Math.ceil(steps) : Math.floor(steps)) * CURE_STEP_MM).toFixed(4))
  return turnoutPlace({ ...turnout, stationMm }, geometry, alignment).ok ? { kind: 'moveTurnout', turnout: turnout.id, stationMm } : null
}

/** How far to move, + towards rising stations; null where moving is no cure. */
function wayToPlace(problem: PlacementProblem, taken: Stretch): number | null {
  switch (problem.kind) {
    case 'runsOff':
      return problem.end === 'start' ? problem.overMm : -problem.overMm
    case 'hostNotStraight':
      return taken.fromMm < problem.straightFromMm ? problem.straightFromMm - taken.fromMm : problem.straightToMm - taken.toMm
    case 'hostMissing':
    case 'hostUnsolved':
    case 'geometry':
      return null
  }
}

/**
 * Placed turnouts of one track that want the same stretch of it. The finding is the later one's: measured is PS to PS, limit what it would
 * have to be. The cure moves the later one on, where its place is free.
 */
export function turnoutOverlaps(host: NetworkTrack, turnouts: readonly NetworkTurnout[]): readonly Finding[] {
  const { alignment } = host
  if (!alignment.ok) return []
  const placed = turnouts.flatMap((one) =>
    one.result.ok ? [{ one, pose: one.result.pose, geometry: one.result.geometry, taken: stretchOf(one) }] : [],
  )
  return placed.flatMap((later, j) =>
    placed.slice(0, j).flatMap((earlier): Finding[] => {
      const overlapMm = overlapOf(earlier.taken, later.taken, alignment.isClosed ? alignment.path.lengthMm : null)
      if (overlapMm <= OVERLAP_ROUNDING_MM) return []
      const { turnout } = later.one
      const apartMm = turnout.stationMm - earlier.one.turnout.stationMm
      const stationMm = Number((turnout.stationMm + Math.ceil(overlapMm / CURE_STEP_MM) * CURE_STEP_MM).toFixed(4))
      const moved = { ...turnout, stationMm }
      const taken = turnoutStretch(moved, later.geometry.extent.fromMm, later.geometry.extent.toMm)
      const isFree =
        turnoutPlace(moved, later.geometry, alignment).ok &&
        placed.every(
          ({ one, taken: theirs }) =>
            one === later.one || overlapOf(theirs, taken, alignment.isClosed ? alignment.path.lengthMm : null) <= 0,
        )
      return [
        {
          ...commonOf(turnout.id, later.pose),
          id: `turnout-place:${turnout.id}:${earlier.one.turnout.id}`,
          otherRecord: earlier.one.turnout.id,
          stationFromMm: Math.max(earlier.taken.fromMm, later.taken.fromMm),
          stationToMm: Math.min(earlier.taken.toMm, later.taken.toMm),
          measured: apartMm,
          limit: apartMm + overlapMm,
          problem: { kind: 'turnoutsOverlap', overlapMm },
          cure: isFree ? { kind: 'moveTurnout', turnout: turnout.id, stationMm } : null,
        },
      ]
    }),
  )
}

function stretchOf({ turnout, result }: NetworkTurnout): Stretch {
  return result.ok ? turnoutStretch(turnout, result.geometry.extent.fromMm, result.geometry.extent.toMm) : { fromMm: 0, toMm: 0 }
}

/** Length that two stretches share; on a closed track also across station zero. */
function overlapOf(a: Stretch, b: Stretch, roundMm: number | null): number {
  const shifts = roundMm === null ? [0] : [-roundMm, 0, roundMm]
  return Math.max(...shifts.map((shiftMm) => Math.min(a.toMm, b.toMm + shiftMm) - Math.max(a.fromMm, b.fromMm + shiftMm)))
}
