import { elementEnd, elementPoseAt, pathFromElements, rootBrent } from '../geom/index.ts'
import type { Path, Point, Pose } from '../geom/types.ts'
import { curveElements } from './cornerCurve.ts'
import { spiralSolve } from './spiral.ts'
import type { AlignmentProblem, ArcRequest, ArcSolution, CompoundRequest, CornerRequest, CornerSolution } from './types.ts'

export type CompoundResult =
  | { readonly ok: true; readonly corner: CornerSolution }
  | { readonly ok: false; readonly problem: AlignmentProblem }

/** Turns that miss the corner's by less than this do so by rounding: at R = 10 m a hundred-millionth of a millimetre. */
export const ANGLE_ROUNDING_RAD = 1e-12

const ORIGIN: Pose = { x: 0, y: 0, headingRad: 0 }

/**
 * A corner of several radii: easement, arc, easement, arc ... easement, all of one hand, between two tangents.
 *
 * Units:      mm, rad.
 * Domain:     as for cornerSolve, which has looked at the deflection and the outer easements already.
 * Exactness:  up to rounding: the chain of elements is followed from TS to ST by their own exact end poses.
 * Outcome:    the solution, or the first problem.
 * Throws:     never.
 * Source:     derived here. Every easement turns half its length times the sum of the curvatures at its ends; the arcs share
 *             what is left of the deflection D. With TS at the origin heading +x, turning left, the chain ends in (X, Y) with
 *             heading D, on the other tangent, which passes through the PI at (T1, 0):
 *               T2 = Y / sin D,   T1 = X - Y / tan D.
 */
export function compoundSolve(request: CornerRequest, compound: CompoundRequest, corner: number, at: Point): CompoundResult {
  const asked = [{ ...compound.first, easementMm: request.easementInMm }, ...compound.next]
  for (const [i, arc] of asked.entries()) {
    const problem = arcProblem(arc, arc.easementMm, corner, i)
    if (problem !== null) return { ok: false, problem }
  }
  const { deflectionRad, easementInMm, easementOutMm } = request
  const turn = Math.abs(deflectionRad)
  const turns = arcTurns(asked, easementOutMm, turn)
  if (!turns.ok) return { ok: false, problem: misfit(turns, asked, corner, at) }

  const arcs = asked.map(({ easementMm, radiusMm }, i): ArcSolution => {
    const turnRad = turns.turnsRad[i] ?? 0
    return { easementMm, radiusMm, turnRad, lengthMm: turnRad * radiusMm }
  })
  const elements = curveElements(arcs, easementOutMm, 1)
  // A curvature or its rate of change may overflow for numbers that are each finite.
  const isSane = elements.every(({ lengthMm, k0, k1 }) => Number.isFinite((k1 - k0) / lengthMm) && Number.isFinite(lengthMm * lengthMm))
  if (!isSane) return { ok: false, problem: { kind: 'notFinite', where: `corner ${corner}` } }
  const path = pathFromElements(ORIGIN, elements)
  const tangentOutMm = path.end.y / Math.sin(turn)
  const tangentInMm = path.end.x - path.end.y / Math.tan(turn)
  const into = spiralSolve(easementInMm, compound.first.radiusMm)
  const out = spiralSolve(easementOutMm, arcs.at(-1)?.radiusMm ?? compound.first.radiusMm)
  return {
    ok: true,
    corner: {
      deflectionRad,
      radiusMm: Math.min(...arcs.map(({ radiusMm }) => radiusMm)),
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
      externalMm: pathExternal(path, tangentInMm),
      arcLengthMm: arcs.reduce((sum, { easementMm, lengthMm }) => sum + easementMm + lengthMm, -easementInMm),
      totalLengthMm: path.lengthMm,
      arcs,
    },
  }
}

/** What is wrong with an arc by itself. */
function arcProblem({ radiusMm, turn }: ArcRequest, easementMm: number, corner: number, arc: number): AlignmentProblem | null {
  const amount = turn.kind === 'angle' ? turn.turnRad : turn.share
  for (const [name, value] of [
    ['radius', radiusMm],
    ['turn', amount],
    ['easement', easementMm],
  ] as const) {
    if (!Number.isFinite(value)) return { kind: 'notFinite', where: `corner ${corner} arc ${arc} ${name}` }
  }
  if (!(radiusMm > 0 && Number.isFinite(1 / radiusMm))) return { kind: 'radiusNotPositive', corner, radiusMm }
  if (easementMm < 0) return { kind: 'easementNegative', corner, lengthMm: easementMm }
  return amount > 0 ? null : { kind: 'arcWithoutTurn', corner, arc }
}

type AskedArc = ArcRequest & { readonly easementMm: number }

type ArcTurns =
  | { readonly ok: true; readonly turnsRad: readonly number[] }
  | { readonly ok: false; readonly easementsRad: number; readonly fixedRad: number; readonly turnRad: number }

/** What each arc turns, when the whole turns this much. */
function arcTurns(asked: readonly AskedArc[], easementOutMm: number, turnRad: number): ArcTurns {
  let easementsRad = 0
  let fixedRad = 0
  let shares = 0
  let before = 0
  for (const { easementMm, radiusMm, turn } of asked) {
    easementsRad += (easementMm * (before + 1 / radiusMm)) / 2
    before = 1 / radiusMm
    if (turn.kind === 'angle') fixedRad += turn.turnRad
    else shares += turn.share
  }
  easementsRad += (easementOutMm * before) / 2
  const restRad = turnRad - easementsRad - fixedRad
  const fits = shares > 0 ? restRad >= -ANGLE_ROUNDING_RAD : Math.abs(restRad) <= ANGLE_ROUNDING_RAD
  if (!fits) return { ok: false, easementsRad, fixedRad, turnRad }
  const sharedRad = Math.max(0, restRad)
  return { ok: true, turnsRad: asked.map(({ turn }) => (turn.kind === 'angle' ? turn.turnRad : (sharedRad * turn.share) / shares)) }
}

/** Shorter easements help as long as the fixed arcs leave them something; else the arcs themselves are at fault. */
function misfit(
  { easementsRad, fixedRad, turnRad }: Extract<ArcTurns, { ok: false }>,
  asked: readonly AskedArc[],
  corner: number,
  at: Point,
): AlignmentProblem {
  const excessRad = easementsRad + fixedRad - turnRad
  if (excessRad < 0 || fixedRad >= turnRad) return { kind: 'arcsMisfit', corner, at, excessRad }
  const sharpestMm = Math.min(...asked.map(({ radiusMm }) => radiusMm))
  return {
    kind: 'easementsTooLong',
    corner,
    at,
    excessRad,
    shortByMm: excessRad * sharpestMm,
    fittingFactor: (turnRad - fixedRad) / easementsRad,
  }
}

/**
 * Distance from (T, 0) to a left-hand curve that starts along the x axis. How far a point of it has come along its own
 * tangent, seen from the PI, has one root: the curve is convex and the PI lies outside of it.
 */
function pathExternal({ elements }: Path, tangentMm: number): number {
  const past = (pose: Pose): number => (pose.x - tangentMm) * Math.cos(pose.headingRad) + pose.y * Math.sin(pose.headingRad)
  const element = elements.find((candidate) => past(elementEnd(candidate, candidate.start)) >= 0) ?? elements.at(-1)
  if (element === undefined) return 0
  const root = rootBrent((s) => past(elementPoseAt(element, element.start, s)), 0, element.lengthMm, element.lengthMm * 1e-12)
  // Without a sign change rounding has put the foot on the join before; the element's start is it.
  const foot = elementPoseAt(element, element.start, root.ok ? root.x : 0)
  return Math.hypot(foot.x - tangentMm, foot.y)
}
