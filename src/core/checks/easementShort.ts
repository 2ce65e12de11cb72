import { easementByRule } from '../alignment/index.ts'
import { pathPoseAt } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { NetworkTrack } from '../network/types.ts'
import { NO_EASEMENT_RADIUS_OVER_GAUGE } from '../standards/index.ts'
import type { Id, Track } from '../plan/types.ts'
import { cureTried, legPosesOf } from './cornerCure.ts'
import type { CornerCure } from './cornerCure.ts'
import { cornerFinding } from './cornerFinding.ts'
import type { Finding } from './types.ts'

/** An easement this much short still keeps its length: a typed one shows no more digits. */
const LENGTH_ROUNDING_MM = 0.1

const roundedUp = (lengthMm: number): number => Number((Math.ceil(lengthMm * 10 - 1e-9) / 10).toFixed(1))

/**
 * Corners whose easements are shorter than their class asks for their radius, or that have none. A warning.
 *
 * Silent: wider than sixty gauges, where an easement may be left out [NEM-113 cl. 1]; of several radii or of easements alone; and the curve
 * next to a leg of a turnout, which nothing passes faster than the turnout, whose own curve has none [COMMON-PRACTICE].
 *
 * Units:      mm. Measured is the shorter one of both easements, limit the length by the class's rule for this radius.
 * Cure:       both easements as long as asked, where they fit in.
 */
export function easementsShort(networkTrack: NetworkTrack, startLeg: Pose | null, endLeg: Pose | null): readonly Finding[] {
  const { track, lineClass, railway, alignment } = networkTrack
  if (!alignment.ok || lineClass.easement.kind === 'none') return []
  const legPoseOf = legPosesOf(track, startLeg, endLeg)
  return alignment.corners.flatMap((place): Finding[] => {
    const { cornerId, solution, tsMm, stMm } = place
    if (isBesideLeg(track, cornerId) || solution.totalLengthMm === 0) return []
    if (solution.arcs.length !== 1 || track.corners.find(({ id }) => id === cornerId)?.radius === 'easement-only') return []
    if (solution.radiusMm > NO_EASEMENT_RADIUS_OVER_GAUGE * railway.gaugeMm) return []
    const asked = easementByRule(lineClass.easement, solution.radiusMm)
    const measured = Math.min(solution.easementInMm, solution.easementOutMm)
    if (!asked.ok || measured >= asked.lengthMm - LENGTH_ROUNDING_MM) return []
    const cure: CornerCure = {
      kind: 'scaleEasements',
      track: track.id,
      corner: cornerId,
      easementInMm: roundedUp(Math.max(solution.easementInMm, asked.lengthMm)),
      easementOutMm: roundedUp(Math.max(solution.easementOutMm, asked.lengthMm)),
    }
    const isInShort = solution.easementInMm <= solution.easementOutMm
    return [
      cornerFinding(networkTrack, place, pathPoseAt(alignment.path, isInShort ? tsMm : stMm), {
        rule: 'easement-short',
        severity: 'warning',
        measured,
        limit: asked.lengthMm,
        cure: cureTried(networkTrack, cure, legPoseOf).ok ? cure : null,
      }),
    ]
  })
}

function isBesideLeg({ start, end, corners }: Track, corner: Id): boolean {
  return (start.kind === 'leg' && corners[0]?.id === corner) || (end.kind === 'leg' && corners.at(-1)?.id === corner)
}
