import { angleWrap, poseAhead, poseReverse } from '../../geom/index.ts'
import type { Path, Point, Pose } from '../../geom/types.ts'
import { cornerSolve } from '../corner.ts'
import { traverseSolve } from '../traverse.ts'
import type { CornerSolution } from '../types.ts'
import type { JoinCorner, JoinHand } from './types.ts'

/** One curve of a line to be laid: turn > 0. */
export interface LaidCurve {
  readonly hand: JoinHand
  readonly turnRad: number
  readonly radiusMm: number
  readonly easementMm: number
}

/** A line worked out: tangent, curve, tangent, curve, tangent (or one curve between two tangents). */
export interface LineParts {
  readonly start: Pose
  readonly end: Pose
  readonly curves: readonly LaidCurve[]
  readonly firstMm: number
  readonly lastMm: number
}

export interface LaidLine {
  readonly corners: readonly JoinCorner[]
  readonly path: Path
}

/** Above this turn a PI runs off far beyond the curve; two PIs with the arc running on between them stay near it. 150 degrees. */
const ONE_PI_MOST_RAD = (150 / 180) * Math.PI

/** A curve as one corner, or as two halves without an easement where they meet. */
function curveCorners(curve: LaidCurve): readonly CornerSolution[] | null {
  const sign = curve.hand === 'left' ? 1 : -1
  const { radiusMm, easementMm, turnRad } = curve
  const halves = turnRad > ONE_PI_MOST_RAD ? 2 : 1
  const solved = Array.from({ length: halves }, (_, i) =>
    cornerSolve({
      deflectionRad: (sign * turnRad) / halves,
      radiusMm,
      easementInMm: i === 0 ? easementMm : 0,
      easementOutMm: i === halves - 1 ? easementMm : 0,
    }),
  )
  const corners = solved.flatMap((result) => (result.ok ? [result.corner] : []))
  return corners.length === halves ? corners : null
}

/** PIs of a curve that begins in a pose. */
function curvePis(corners: readonly CornerSolution[], start: Pose): readonly Point[] {
  let at = start
  return corners.map(({ deflectionRad, tangentInMm, tangentOutMm }) => {
    const pi = poseAhead(at, tangentInMm)
    at = poseAhead({ ...pi, headingRad: pi.headingRad + deflectionRad }, tangentOutMm)
    return pi
  })
}

/**
 * A line as ordinary PIs. The first curve is set off from the start and the second one from the end, so that what rounding there is
 * falls into the tangent between them.
 *
 * Outcome: null when the line does not hold together: its curves want more room than there is.
 */
export function lineLay({ start, end, curves, firstMm, lastMm }: LineParts): LaidLine | null {
  const [before, behind] = curves
  const fromStart = before === undefined ? [] : curveCorners(before)
  // Seen from the end it is the other hand; a curve with equal easements is the same from both of its ends.
  const fromEnd = behind === undefined ? [] : curveCorners({ ...behind, hand: behind.hand === 'left' ? 'right' : 'left' })
  if (fromStart === null || fromEnd === null) return null
  const pis = [...curvePis(fromStart, poseAhead(start, firstMm)), ...curvePis(fromEnd, poseAhead(end, lastMm)).toReversed()]
  const corners = [...fromStart, ...fromEnd.toReversed()].map(({ radiusMm, easementInMm, easementOutMm }, i): JoinCorner => {
    const at = pis[i] ?? start
    const isTurned = i >= fromStart.length
    const easements = isTurned ? [easementOutMm, easementInMm] : [easementInMm, easementOutMm]
    return { id: `pi-${i + 1}`, x: at.x, y: at.y, radiusMm, easementInMm: easements[0] ?? 0, easementOutMm: easements[1] ?? 0 }
  })
  const alignment = traverseSolve({
    start: { kind: 'leg', pose: start, turnout: '' },
    corners,
    end: { kind: 'leg', pose: end, turnout: '' },
  })
  return alignment.ok && isMet(alignment.path.end, end) ? { corners, path: alignment.path } : null
}

/** A path that ends a millionth of a millimetre off has failed: larger than all rounding in a room, smaller than anything that shows. */
const MET_MM = 1e-6

function isMet(at: Pose, end: Pose): boolean {
  const arriving = poseReverse(end)
  return Math.hypot(at.x - end.x, at.y - end.y) <= MET_MM && Math.abs(angleWrap(at.headingRad - arriving.headingRad)) <= 1e-9
}
