import type { CornerPlace } from '../alignment/types.ts'
import { pathPoseAt, pathStart } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import { crossingTaken, turnoutSet, turnoutStretch, turnoutTaken } from '../network/index.ts'
import type { Stretch } from '../network/index.ts'
import type { NetworkCrossing, NetworkTrack, NetworkTurnout, PlacementProblem } from '../network/types.ts'
import type { Turnout } from '../plan/types.ts'
import type { Cure, EasementEndUnder, Finding } from './types.ts'
import { turnoutWork, workFinding } from './workFinding.ts'

/** Two turnouts may share this much without a conflict: rounding of stations typed to the tenth of a micrometre. */
const OVERLAP_ROUNDING_MM = 1e-4

/** Cures are given to a tenth of a millimetre, on the side that fits. */
const CURE_STEP_MM = 0.1

function placeFinding(turnout: Turnout, at: Point, told: Pick<Finding, 'id'> & Partial<Finding>): Finding {
  return workFinding(turnoutWork(turnout), at, { rule: 'turnout-place', ...told })
}

/** Where a turnout would stand: its PS, held to the host; the host's start while that is all there is. */
function turnoutAt({ turnout, result }: NetworkTurnout, host: NetworkTrack | null): Point {
  if (result.pose !== null) return result.pose
  if (host?.alignment.ok !== true) return host?.alignment.polygon[0] ?? { x: 0, y: 0 }
  const { path } = host.alignment
  if (path.elements.length === 0) return pathStart(path)
  return pathPoseAt(path, Math.min(Math.max(turnout.stationMm, 0), path.lengthMm))
}

/**
 * A turnout that cannot be set where it is: it runs off its track, is a wye away from its track's end, or cannot be built there. A host
 * without a line is told by the rule for lines. Measured is the length that is wanting, where the problem has one.
 */
export function turnoutFault(networkTurnout: NetworkTurnout, host: NetworkTrack | null): readonly Finding[] {
  const { turnout, result } = networkTurnout
  if (result.ok || result.problem.kind === 'hostUnsolved') return []
  const { problem } = result
  return [
    placeFinding(turnout, turnoutAt(networkTurnout, host), {
      id: `turnout-place:${turnout.id}`,
      measured: problem.kind === 'runsOff' ? problem.overMm : problem.kind === 'wyeOffEnd' ? problem.offMm : null,
      limit: problem.kind === 'runsOff' || problem.kind === 'wyeOffEnd' ? 0 : null,
      problem,
      cure: host === null ? null : placeCure(networkTurnout, host, problem),
    }),
  ]
}

/** The smallest change with which the turnout finds its place, if there is one. */
function placeCure({ turnout, result }: NetworkTurnout, host: NetworkTrack, problem: PlacementProblem): Cure | null {
  switch (problem.kind) {
    case 'runsOff': {
      const steps = (problem.end === 'start' ? problem.overMm : -problem.overMm) / CURE_STEP_MM
      const stationMm = onStep(turnout.stationMm + (steps > 0 ? Math.ceil(steps) : Math.floor(steps)) * CURE_STEP_MM)
      return result.geometry === null ? null : moveCure(turnout, host, stationMm)
    }
    case 'wyeOffEnd':
      return moveCure(turnout, host, problem.endMm)
    case 'geometry': {
      const frog = problem.problem.kind === 'hostTooSharp' ? problem.problem.frogThatDoes : null
      return frog !== null && turnoutSet({ ...turnout, frog }, host).ok ? { kind: 'setFrog', turnout: turnout.id, frog } : null
    }
    case 'wyeEndTaken':
    case 'hostMissing':
    case 'hostUnsolved':
      return null
  }
}

const onStep = (stationMm: number): number => Number(stationMm.toFixed(4))

/** The turnout moved to a station, if it can be set there. */
export function moveCure(turnout: Turnout, host: NetworkTrack, stationMm: number): Cure | null {
  return turnoutSet({ ...turnout, stationMm }, host).ok ? { kind: 'moveTurnout', turnout: turnout.id, stationMm } : null
}

/**
 * Placed turnouts of one track that want the same stretch of it. The finding is the later one's: measured is PS to PS, limit what it would
 * have to be. The cure moves the later one on, where its place is free.
 */
export function turnoutOverlaps(host: NetworkTrack, turnouts: readonly NetworkTurnout[]): readonly Finding[] {
  const { alignment } = host
  if (!alignment.ok) return []
  const placed = turnouts.flatMap((one) => (one.result.ok ? [{ one, pose: one.result.pose, geometry: one.result.geometry }] : []))
  return placed.flatMap((later, j) =>
    placed.slice(0, j).flatMap((earlier): Finding[] => {
      const { turnout } = later.one
      const theirs = turnoutTaken(earlier.one.turnout, earlier.geometry, turnout)
      const mine = turnoutTaken(turnout, later.geometry, earlier.one.turnout)
      const roundMm = alignment.isClosed ? alignment.path.lengthMm : null
      const overlapMm = overlapOf(theirs, mine, roundMm)
      if (overlapMm <= OVERLAP_ROUNDING_MM) return []
      const apartMm = turnout.stationMm - earlier.one.turnout.stationMm
      const stationMm = onStep(turnout.stationMm + Math.ceil(overlapMm / CURE_STEP_MM) * CURE_STEP_MM)
      const moved = { ...turnout, stationMm }
      const there = turnoutSet(moved, host)
      const isFree =
        there.ok &&
        placed.every(
          ({ one, geometry }) =>
            one === later.one ||
            overlapOf(turnoutTaken(one.turnout, geometry, moved), turnoutTaken(moved, there.geometry, one.turnout), roundMm) <= 0,
        )
      return [
        placeFinding(turnout, later.pose, {
          id: `turnout-place:${turnout.id}:${earlier.one.turnout.id}`,
          otherRecord: earlier.one.turnout.id,
          stationFromMm: Math.max(theirs.fromMm, mine.fromMm),
          stationToMm: Math.min(theirs.toMm, mine.toMm),
          measured: apartMm,
          limit: apartMm + overlapMm,
          problem: { kind: 'turnoutsOverlap', overlapMm },
          cure: isFree ? { kind: 'moveTurnout', turnout: turnout.id, stationMm } : null,
        }),
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

/** Placed turnouts that want what a crossing takes of their track. */
export function turnoutsOverCrossings(
  turnouts: readonly NetworkTurnout[],
  crossings: readonly NetworkCrossing[],
  { alignment, track }: NetworkTrack,
): readonly Finding[] {
  if (!alignment.ok) return []
  const roundMm = alignment.isClosed ? alignment.path.lengthMm : null
  return turnouts.flatMap((one) =>
    crossings.flatMap((crossing): Finding[] => {
      const theirs = crossingTaken(crossing, track.id)
      if (!one.result.ok || theirs === null) return []
      const taken = stretchOf(one)
      const overlapMm = overlapOf(taken, theirs, roundMm)
      if (overlapMm <= OVERLAP_ROUNDING_MM) return []
      return [
        placeFinding(one.turnout, one.result.pose, {
          id: `turnout-place:${one.turnout.id}:${crossing.id}`,
          stationFromMm: taken.fromMm,
          stationToMm: taken.toMm,
          problem: { kind: 'turnoutOverCrossing', crossing: crossing.id, overlapMm },
        }),
      ]
    }),
  )
}

interface BendChange {
  readonly what: EasementEndUnder['what']
  readonly atMm: number
}

/** Where the bend of a line changes at a corner: ends of easements, of bare curves, and between its radii. */
function bendChanges({ tsMm, scMm, csMm, stMm, joins }: CornerPlace): readonly BendChange[] {
  const eased = (fromMm: number, toMm: number): readonly BendChange[] =>
    toMm > fromMm
      ? [
          { what: 'easement', atMm: fromMm },
          { what: 'easement', atMm: toMm },
        ]
      : [{ what: 'curve', atMm: fromMm }]
  const joined = joins.flatMap(({ fromMm, toMm }): readonly BendChange[] =>
    (toMm > fromMm ? [fromMm, toMm] : [fromMm]).map((atMm) => ({ what: 'join', atMm })),
  )
  return stMm > tsMm ? [...eased(tsMm, scMm), ...joined, ...eased(csMm, stMm)] : []
}

/**
 * A placed turnout under whose points, closure or frog the bend of the host changes: it can be built and is harder to lay true.
 * A warning; the cure moves the turnout off it, whichever way is nearer and free.
 */
export function turnoutOverEasementEnd({ turnout, result }: NetworkTurnout, host: NetworkTrack | null): readonly Finding[] {
  if (!result.ok || host === null || !host.alignment.ok || result.geometry.request.host === null) return []
  const { corners, path, isClosed } = host.alignment
  const taken = turnoutStretch(turnout, 0, turnout.kind.kind === 'wye' ? 0 : result.geometry.overallMm)
  const ends = corners.flatMap(bendChanges)
  const laps = isClosed ? [0, path.lengthMm, -path.lengthMm] : [0]
  const under = ends
    .flatMap(({ what, atMm }) => laps.map((lapMm) => ({ what, stationMm: atMm + lapMm })))
    .find(({ stationMm }) => stationMm > taken.fromMm + OVERLAP_ROUNDING_MM && stationMm < taken.toMm - OVERLAP_ROUNDING_MM)
  if (under === undefined) return []
  const { what, stationMm } = under
  const ways = [stationMm - taken.fromMm, stationMm - taken.toMm].toSorted((a, b) => Math.abs(a) - Math.abs(b))
  const cures = ways.map((wayMm) => {
    const steps = wayMm / CURE_STEP_MM
    const movedMm = onStep(turnout.stationMm + (wayMm > 0 ? Math.ceil(steps) : Math.floor(steps)) * CURE_STEP_MM)
    return moveCure(turnout, host, movedMm)
  })
  return [
    placeFinding(turnout, result.pose, {
      id: `turnout-place:${turnout.id}:easement`,
      severity: 'warning',
      stationFromMm: taken.fromMm,
      stationToMm: taken.toMm,
      problem: { kind: 'easementEndUnder', what, stationMm },
      cure: cures.find((cure) => cure !== null) ?? null,
    }),
  ]
}
