import { easementByRule } from '../alignment/index.ts'
import type { Alignment, CornerPlace } from '../alignment/types.ts'
import { pathCurvatureAt, pathPoseAt } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { NetworkTrack } from '../network/types.ts'
import { NO_EASEMENT_RADIUS_OVER_GAUGE } from '../standards/index.ts'
import type { Id, LineClass, Railway, Track } from '../plan/types.ts'
import { cureTried, legPosesOf } from './cornerCure.ts'
import type { CornerCure } from './cornerCure.ts'
import { cornerFinding } from './cornerFinding.ts'
import type { Finding } from './types.ts'

type Solved = Extract<Alignment, { readonly ok: true }>

/** An easement this much short still keeps its length: a typed one shows no more digits. */
const LENGTH_ROUNDING_MM = 0.1

const roundedUp = (lengthMm: number): number => Number((Math.ceil(lengthMm * 10 - 1e-9) / 10).toFixed(1))

/**
 * Corners whose easements are shorter than their class asks for their radius, or that have none. A warning.
 *
 * Silent: wider than sixty gauges, where an easement may be left out [NEM-113 cl. 1]; of several radii or of easements alone; the curve
 * next to a leg of a turnout, which nothing passes faster than the turnout, whose own curve has none [COMMON-PRACTICE]; and an end at which
 * no straight begins: the curve goes on as that of the next corner, or the track ends in it.
 *
 * Units:      mm. Measured is the shorter one of the easements asked for, limit the length by the class's rule for this radius.
 * Cure:       the easements asked for as long as asked, where they fit in.
 */
export function easementsShort(networkTrack: NetworkTrack, startLeg: Pose | null, endLeg: Pose | null): readonly Finding[] {
  const { track, lineClass, railway, alignment } = networkTrack
  if (!alignment.ok || lineClass.easement.kind === 'none') return []
  const legPoseOf = legPosesOf(track, startLeg, endLeg)
  return alignment.corners.flatMap((place): Finding[] => {
    const { cornerId, solution, tsMm, stMm } = place
    if (isBesideLeg(track, cornerId) || solution.totalLengthMm === 0) return []
    if (solution.arcs.length !== 1 || track.corners.find(({ id }) => id === cornerId)?.radius === 'easement-only') return []
    const askedMm = easementAsked(lineClass, railway, solution.radiusMm)
    if (askedMm === 0) return []
    const inMm = isCurveAt(alignment, place, 'in') ? Infinity : solution.easementInMm
    const outMm = isCurveAt(alignment, place, 'out') ? Infinity : solution.easementOutMm
    const measured = Math.min(inMm, outMm)
    if (measured >= askedMm - LENGTH_ROUNDING_MM) return []
    const cured = (isAsked: boolean, mm: number): number => (isAsked ? roundedUp(Math.max(mm, askedMm)) : mm)
    const cure: CornerCure = {
      kind: 'scaleEasements',
      track: track.id,
      corner: cornerId,
      easementInMm: cured(inMm < Infinity, solution.easementInMm),
      easementOutMm: cured(outMm < Infinity, solution.easementOutMm),
    }
    const isInShort = inMm <= outMm
    return [
      cornerFinding(networkTrack, place, pathPoseAt(alignment.path, isInShort ? tsMm : stMm), {
        rule: 'easement-short',
        severity: 'warning',
        measured,
        limit: askedMm,
        cure: cureTried(networkTrack, cure, legPoseOf).ok ? cure : null,
      }),
    ]
  })
}

/** The easement that a class asks for on a curve, mm; 0: none, as wider than sixty gauges [NEM-113 cl. 1]. */
export function easementAsked({ easement }: LineClass, { gaugeMm }: Pick<Railway, 'gaugeMm'>, radiusMm: number): number {
  if (radiusMm > NO_EASEMENT_RADIUS_OVER_GAUGE * gaugeMm) return 0
  const asked = easementByRule(easement, radiusMm)
  return asked.ok ? asked.lengthMm : 0
}

/** So far to both sides of a bare end curvature is looked at, mm; corners that share a curve are solved apart and meet to less. */
const BESIDE_MM = 0.01
/** Of one curve are curvatures this much alike, 1/mm. */
const ALIKE = 1e-9

/** Whether the curve of a corner does not end where the corner does: that of the next one goes on alike, or it is the track's own end. */
function isCurveAt({ path, isClosed }: Solved, { solution, tsMm, stMm }: CornerPlace, end: 'in' | 'out'): boolean {
  if ((end === 'in' ? solution.easementInMm : solution.easementOutMm) > 0) return false
  const { lengthMm } = path
  const atMm = end === 'in' ? tsMm : stMm
  if (!isClosed && (atMm < BESIDE_MM || atMm > lengthMm - BESIDE_MM)) return true
  const curvature = (mm: number): number => pathCurvatureAt(path, (mm + lengthMm) % lengthMm)
  return Math.abs(curvature(atMm - BESIDE_MM) - curvature(atMm + BESIDE_MM)) < ALIKE
}

function isBesideLeg({ start, end, corners }: Track, corner: Id): boolean {
  return (start.kind === 'leg' && corners[0]?.id === corner) || (end.kind === 'leg' && corners.at(-1)?.id === corner)
}
