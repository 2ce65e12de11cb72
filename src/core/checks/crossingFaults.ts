import { crossingTaken } from '../network/index.ts'
import type { Network, NetworkCrossing } from '../network/types.ts'
import type { Finding } from './types.ts'
import { crossingWork, workFinding } from './workFinding.ts'

/** A finding of the crossing of two lines lies this near to the crossing that the network has there, mm. */
const SAME_PLACE_MM = 1

/** Crossings may share this much of a track without a conflict: rounding. */
const OVERLAP_ROUNDING_MM = 1e-4

function buildFinding(crossing: NetworkCrossing, told: Pick<Finding, 'id'> & Partial<Finding>): Finding {
  return workFinding(crossingWork(crossing), crossing.pose, { rule: 'crossing-build', ...told })
}

/**
 * A place where two tracks cross and nothing can be built; and elbow frogs that hold no wheel for longer than the rest of them guides
 * one, as a warning: measured is that length, limit what a wheel spans.
 */
export function crossingFault(crossing: NetworkCrossing): readonly Finding[] {
  const { result } = crossing
  const id = `crossing-build:${crossing.id}`
  if (!result.ok) {
    return [buildFinding(crossing, { id, problem: { kind: 'crossingUnbuilt', problem: result.problem } })]
  }
  const { unguardedMm, guidedMm, number } = result.crossing
  if (unguardedMm <= guidedMm) return []
  return [
    buildFinding(crossing, {
      id: `${id}:elbow`,
      severity: 'warning',
      measured: unguardedMm,
      limit: guidedMm,
      problem: { kind: 'elbowUnguarded', number },
    }),
  ]
}

/** Crossings of one track that want the same stretch of it, next to each other. */
export function crossingOverlaps(crossings: readonly NetworkCrossing[], track: string): readonly Finding[] {
  const placed = crossings.flatMap((crossing) => {
    const taken = crossingTaken(crossing, track)
    return taken === null ? [] : [{ crossing, taken }]
  })
  return placed.slice(1).flatMap((later, i): Finding[] => {
    const earlier = placed[i]
    const overlapMm = earlier === undefined ? 0 : earlier.taken.toMm - later.taken.fromMm
    if (earlier === undefined || overlapMm <= OVERLAP_ROUNDING_MM) return []
    return [
      buildFinding(later.crossing, {
        id: `crossing-build:${later.crossing.id}:${earlier.crossing.id}:${track}`,
        otherRecord: earlier.crossing.id,
        problem: { kind: 'crossingsOverlap', overlapMm },
      }),
    ]
  })
}

/** Whether what was found between two lines is a crossing of the network, which has rules of its own. */
export function isOfCrossing({ problem, record, otherRecord, x, y }: Finding, network: Network): boolean {
  if (problem?.kind !== 'levelCrossing') return false
  return (network.crossingsOn.get(record) ?? []).some(
    ({ track, other, pose }) => (track === otherRecord || other === otherRecord) && Math.hypot(pose.x - x, pose.y - y) < SAME_PLACE_MM,
  )
}
