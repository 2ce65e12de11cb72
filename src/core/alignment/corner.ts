import { elementPoseAt, rootBrent } from '../geom/index.ts'
import type { CurveElement, Point, Pose } from '../geom/types.ts'
import { ANGLE_ROUNDING_RAD, compoundSolve } from './compound.ts'
import { spiralSolve } from './spiral.ts'
import type { Spiral } from './spiral.ts'
import type { AlignmentProblem, CornerRequest, CornerSolution } from './types.ts'

export type CornerResult =
  | { readonly ok: true; readonly corner: CornerSolution }
  | { readonly ok: false; readonly problem: AlignmentProblem }

/** Under this deflection a PI is straight: over 10 m of track the kink is a hundred-thousandth of a millimetre. */
export const STRAIGHT_RAD = 1e-9

/** Above half a turn less this a PI doubles back on itself; the tangent distance would be beyond any room. */
const REVERSAL_RAD = 1e-9

const ORIGIN: Point = { x: 0, y: 0 }

/**
 * One corner: easement, arc, easement between two tangents that meet at the PI; or several arcs, see compoundSolve.
 *
 * Units:      mm, rad; deflection signed, + left.
 * Domain:     1e-9 < |deflection| < pi - 1e-9; easements >= 0, may differ; radiusMm null: easement-only, then
 *             R = (L1 + L2) / (2 |D|) and no arc is left. A smaller deflection is a straight PI: all lengths zero.
 * Exactness:  up to rounding; no small-angle shortcut.
 * Outcome:    the solution, or the first problem. `corner` and `at` only say whose problem it is.
 * Throws:     never.
 * Source:     derived here. Put TS at the origin, heading +x, turning left by D. The circle has its centre at
 *             C = (k1, R + p1). Seen from ST backwards it stands R + p2 off the other tangent, which passes through
 *             PI = (T1, 0) with heading D:  cos D (R + p1) - sin D (k1 - T1) = R + p2,  therefore
 *               T1 = k1 + (R + p1) tan(D/2) + (p2 - p1) / sin D
 *               T2 = k2 + (R + p2) tan(D/2) + (p1 - p2) / sin D
 *             which for equal easements is (R + p) tan(D/2) + k. External: from the PI to the nearest point of the
 *             whole curve; for equal easements (R + p) / cos(D/2) - R.
 */
export function cornerSolve(request: CornerRequest, corner = 0, at: Point = ORIGIN): CornerResult {
  const problem = cornerRequestProblem(request, corner, at)
  if (problem !== null) return { ok: false, problem }
  const turn = Math.abs(request.deflectionRad)
  if (turn < STRAIGHT_RAD) return { ok: true, corner: cornerStraight(request) }
  const asked = request.radiusMm
  const result =
    asked !== null && typeof asked === 'object' ? compoundSolve(request, asked, corner, at) : plainSolve(request, asked, corner, at)
  if (!result.ok || cornerIsFinite(result.corner)) return result
  return { ok: false, problem: { kind: 'notFinite', where: `corner ${corner}` } }
}

function cornerIsFinite(corner: CornerSolution): boolean {
  const { arcs, ...numbers } = corner
  return [numbers, ...arcs].every((record) => Object.values(record).every((value) => Number.isFinite(value)))
}

/** Easement, one arc, easement; the radius null: easement-only. */
function plainSolve(request: CornerRequest, askedMm: number | null, corner: number, at: Point): CornerResult {
  const { deflectionRad, easementInMm, easementOutMm } = request
  const turn = Math.abs(deflectionRad)
  const easementsMm = easementInMm + easementOutMm
  if (askedMm === null && easementsMm === 0) return { ok: false, problem: { kind: 'noCurvature', corner } }
  const radiusMm = askedMm ?? easementsMm / (2 * turn)
  // Numbers so small that a curvature or its rate of change overflows are as useless as infinite ones.
  for (const lengthMm of [easementInMm, easementOutMm]) {
    if (lengthMm > 0 && !Number.isFinite(1 / radiusMm / lengthMm))
      return { ok: false, problem: { kind: 'notFinite', where: `corner ${corner} easement` } }
  }
  const easementTurn = easementsMm / (2 * radiusMm)
  const excessRad = askedMm === null ? 0 : easementTurn - turn
  if (excessRad > ANGLE_ROUNDING_RAD) {
    return {
      ok: false,
      problem: {
        kind: 'easementsTooLong',
        corner,
        at,
        excessRad,
        shortByMm: excessRad * radiusMm,
        fittingFactor: turn / easementTurn,
      },
    }
  }

  const into = spiralSolve(easementInMm, radiusMm)
  const out = spiralSolve(easementOutMm, radiusMm)
  const half = Math.tan(turn / 2)
  const unequalMm = (out.shiftMm - into.shiftMm) / Math.sin(turn)
  const tangentInMm = into.kMm + (radiusMm + into.shiftMm) * half + unequalMm
  const tangentOutMm = out.kMm + (radiusMm + out.shiftMm) * half - unequalMm
  const arcRad = Math.max(0, -excessRad)
  const arcLengthMm = arcRad * radiusMm
  const solution: CornerSolution = {
    deflectionRad,
    radiusMm,
    easementInMm,
    easementOutMm,
    spiralAngleInRad: into.angleRad,
    spiralAngleOutRad: out.angleRad,
    shiftInMm: into.shiftMm,
    shiftOutMm: out.shiftMm,
    kInMm: into.kMm,
    kOutMm: out.kMm,
    tangentInMm,
    tangentOutMm,
    externalMm: cornerExternal(turn, radiusMm, into, tangentInMm, out, tangentOutMm),
    arcLengthMm,
    totalLengthMm: easementsMm + arcLengthMm,
    arcs: [{ easementMm: easementInMm, radiusMm, turnRad: arcRad, lengthMm: arcLengthMm }],
  }
  return { ok: true, corner: solution }
}

function cornerRequestProblem(request: CornerRequest, corner: number, at: Point): AlignmentProblem | null {
  const { deflectionRad, easementInMm, easementOutMm } = request
  // The radii of a compound curve are looked at arc by arc.
  const radiusMm = typeof request.radiusMm === 'number' ? request.radiusMm : null
  const named = { deflectionRad, radiusMm: radiusMm ?? 0, easementInMm, easementOutMm }
  for (const [name, value] of Object.entries(named)) {
    if (!Number.isFinite(value)) return { kind: 'notFinite', where: `corner ${corner} ${name}` }
  }
  // A radius so small that its curvature overflows is no radius either.
  if (radiusMm !== null && !(radiusMm > 0 && Number.isFinite(1 / radiusMm))) return { kind: 'radiusNotPositive', corner, radiusMm }
  if (easementInMm < 0) return { kind: 'easementNegative', corner, lengthMm: easementInMm }
  if (easementOutMm < 0) return { kind: 'easementNegative', corner, lengthMm: easementOutMm }
  if (Math.abs(deflectionRad) >= Math.PI - REVERSAL_RAD) return { kind: 'reversal', corner, at }
  return null
}

function cornerStraight(request: CornerRequest): CornerSolution {
  return {
    deflectionRad: request.deflectionRad,
    radiusMm: typeof request.radiusMm === 'number' ? request.radiusMm : 0,
    easementInMm: 0,
    easementOutMm: 0,
    spiralAngleInRad: 0,
    spiralAngleOutRad: 0,
    shiftInMm: 0,
    shiftOutMm: 0,
    kInMm: 0,
    kOutMm: 0,
    tangentInMm: 0,
    tangentOutMm: 0,
    externalMm: 0,
    arcLengthMm: 0,
    totalLengthMm: 0,
    arcs: [],
  }
}

/**
 * Distance from the PI to the nearest point of the curve. The foot has heading phi with
 * tan(phi) = (T1 - k1) / (R + p1) if it falls on the arc; else it lies on the easement of that side.
 */
function cornerExternal(turn: number, radiusMm: number, into: Spiral, tangentInMm: number, out: Spiral, tangentOutMm: number): number {
  const along = tangentInMm - into.kMm
  const across = radiusMm + into.shiftMm
  const foot = Math.atan2(along, across)
  if (foot < into.angleRad) return spiralExternal(into.lengthMm, radiusMm, tangentInMm)
  if (foot > turn - out.angleRad) return spiralExternal(out.lengthMm, radiusMm, tangentOutMm)
  return Math.hypot(along, across) - radiusMm
}

/**
 * Distance from (T, 0) to the spiral from the origin. The point's advance along the curve's tangent has one root,
 * for the curve is convex and the PI lies outside it.
 */
function spiralExternal(lengthMm: number, radiusMm: number, tangentMm: number): number {
  const start: Pose = { x: 0, y: 0, headingRad: 0 }
  const element: CurveElement = { lengthMm, k0: 0, k1: 1 / radiusMm }
  const pastFoot = (distanceMm: number): number => {
    const pose = elementPoseAt(element, start, distanceMm)
    return (pose.x - tangentMm) * Math.cos(pose.headingRad) + pose.y * Math.sin(pose.headingRad)
  }
  const root = rootBrent(pastFoot, 0, lengthMm, lengthMm * 1e-12)
  // Without a sign change rounding has put the foot just beyond the spiral's end; then the end is the nearest point.
  const footMm = root.ok ? root.x : lengthMm
  const pose = elementPoseAt(element, start, footMm)
  return Math.hypot(pose.x - tangentMm, pose.y)
}
