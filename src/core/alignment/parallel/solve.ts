import { poseAhead, poseOffset } from '../../geom/index.ts'
import type { Point, Pose } from '../../geom/types.ts'
import { cornerSolve } from '../corner.ts'
import { traverseSolve } from '../traverse.ts'
import type { Traverse, TraverseCorner } from '../types.ts'
import { parallelCompound } from './compound.ts'
import { parallelCurve } from './curve.ts'
import type { ParallelCurveResult } from './curve.ts'
import { parallelSpacing } from './spacing.ts'
import { isCutBefore, isCutBehind, posePast, stretchUsed } from './stretch.ts'
import type { Turn, UsedStretch } from './stretch.ts'
import type { ParallelAnswer, ParallelProblem, ParallelRemark, ParallelRequest } from './types.ts'

/**
 * The line that runs beside another at given centres, as ordinary PIs: sides moved aside, arcs about the same centres, easements such
 * that centres widen along them from those of the tangents to those of the curves.
 *
 * Units:      mm, + left.
 * Domain:     both offsets on one side; any stretch of the line, also once round a loop.
 * Exactness:  centres are exact beside tangents and arcs. Beside easements they sway by a small part of the shift, because two
 *             clothoids are never parallel; `spacing` tells how much.
 * Outcome:    the line with its spacing and remarks; or all that hinders it, with the traverse as far as it could be made.
 * Throws:     never.
 * Source:     derived in curve.ts.
 */
export function parallelSolve(request: ParallelRequest): ParallelAnswer {
  const unfit = requestProblem(request)
  if (unfit !== null) return { ok: false, problems: [unfit], traverse: null }
  const { alignment } = request
  const used = stretchUsed(request)
  if (used === null) {
    const { fromMm, toMm } = request.stretch.kind === 'between' ? request.stretch : { fromMm: 0, toMm: 0 }
    return { ok: false, problems: [{ kind: 'stretch', fromMm, toMm, lengthMm: alignment.path.lengthMm }], traverse: null }
  }
  const problems: ParallelProblem[] = []
  const remarks: ParallelRemark[] = []
  const corners = used.turns.flatMap((turn, i) => turnBeside(request, used, turn, `pi-${i + 1}`, problems, remarks))
  const traverse = traverseBeside(request, used, corners)
  if (problems.length > 0) return { ok: false, problems, traverse }
  const solved = traverseSolve(traverse)
  if (!solved.ok) return { ok: false, problems: solved.problems.map((problem) => ({ kind: 'line', problem })), traverse }
  const spacing = parallelSpacing(alignment, used.fromMm, used.toMm, solved.path)
  return { ok: true, traverse, alignment: solved, fromMm: used.fromMm, toMm: used.toMm, spacing, remarks }
}

function requestProblem({ stretch, offsetMm, curveOffsetMm, minRadiusMm }: ParallelRequest): ParallelProblem | null {
  const named: readonly (readonly [string, number])[] = [
    ['offset', offsetMm],
    ['offset beside curves', curveOffsetMm],
    ['minimum radius', minRadiusMm],
    ['from', stretch.kind === 'between' ? stretch.fromMm : 0],
    ['to', stretch.kind === 'between' ? stretch.toMm : 0],
  ]
  for (const [where, value] of named) if (!Number.isFinite(value)) return { kind: 'notFinite', where }
  return offsetMm * curveOffsetMm > 0 ? null : { kind: 'offsets', offsetMm, curveOffsetMm }
}

/** A radius this part under the minimum is the minimum, rounded. */
const RADIUS_ROUNDING = 1e-9

/** The PI beside one turn of the line; none where it cannot be. */
function turnBeside(
  request: ParallelRequest,
  used: UsedStretch,
  turn: Turn,
  id: string,
  problems: ParallelProblem[],
  remarks: ParallelRemark[],
): readonly TraverseCorner[] {
  const { alignment, offsetMm, curveOffsetMm, minRadiusMm } = request
  const { corner, place } = turn
  const at: Point = place.pi
  const beside = place.solution.arcs.length > 1 ? parallelCompound : parallelCurve
  const result = beside(place.solution, offsetMm, curveOffsetMm)
  if (!result.ok) {
    problems.push(curveProblem(result, corner, at))
    return []
  }
  const { curve } = result
  if (curve.leastRadiusMm < minRadiusMm * (1 - RADIUS_ROUNDING))
    remarks.push({ kind: 'belowMinimum', corner, at, radiusMm: curve.leastRadiusMm, limitMm: minRadiusMm })
  if (curve.radiusMm === null && place.solution.arcLengthMm > 0) remarks.push({ kind: 'easementOnly', corner, at })

  const isCutIn = isCutBefore(turn, used)
  const isCutOut = isCutBehind(turn, used)
  const easementInMm = isCutIn ? 0 : curve.easementInMm
  const easementOutMm = isCutOut ? 0 : curve.easementOutMm
  const cut = { id, radiusMm: curve.radiusMm, easementInMm, easementOutMm }
  if (!isCutIn && !isCutOut)
    return [{ ...cut, ...piBeside(posePast(alignment, turn.tsMm), place.pi, place.solution.deflectionRad, offsetMm) }]

  // A curve cut in its arc turns less and starts, or ends, beside the arc itself.
  const first = posePast(alignment, Math.max(turn.tsMm, used.fromMm))
  const last = posePast(alignment, Math.min(turn.stMm, used.toMm))
  const deflectionRad = turnBetween(turn, used)
  const solved = cornerSolve({ deflectionRad, ...cut })
  if (!solved.ok) {
    problems.push({ kind: 'line', problem: solved.problem })
    return []
  }
  const pi = isCutIn
    ? poseAhead(poseOffset(first, curveOffsetMm), solved.corner.tangentInMm)
    : poseAhead(poseOffset(last, curveOffsetMm), -solved.corner.tangentOutMm)
  return [{ ...cut, x: pi.x, y: pi.y }]
}

function curveProblem(failed: Extract<ParallelCurveResult, { readonly ok: false }>, corner: number, at: Point): ParallelProblem {
  switch (failed.reason) {
    case 'radiusCollapses':
      return { kind: 'radiusCollapses', corner, at, radiusMm: failed.radiusMm }
    case 'wideningTooGreat':
      return { kind: 'wideningTooGreat', corner, at, mostMm: failed.mostMm }
    case 'noArcLeft':
      return { kind: 'noArcLeft', corner, at, arc: failed.arc, shortByMm: failed.shortByMm }
  }
}

/** What is left of a turn between the ends of the stretch. */
function turnBetween({ place, scMm, csMm }: Turn, { fromMm, toMm }: UsedStretch): number {
  const { deflectionRad, radiusMm } = place.solution
  const lostMm = Math.max(0, fromMm - scMm) + Math.max(0, csMm - toMm)
  const lostRad =
    lostMm / radiusMm + (fromMm >= scMm ? place.solution.spiralAngleInRad : 0) + (toMm <= csMm ? place.solution.spiralAngleOutRad : 0)
  return Math.sign(deflectionRad) * (Math.abs(deflectionRad) - lostRad)
}

/** Where the sides of a corner meet when both are moved aside. */
function piBeside(ts: Pose, pi: Point, deflectionRad: number, offsetMm: number): Point {
  const beside = poseOffset({ ...pi, headingRad: ts.headingRad }, offsetMm)
  const { x, y } = poseAhead(beside, -offsetMm * Math.tan(deflectionRad / 2))
  return { x, y }
}

function traverseBeside(
  { alignment, offsetMm, curveOffsetMm }: ParallelRequest,
  used: UsedStretch,
  corners: readonly TraverseCorner[],
): Traverse {
  const endBeside = (stationMm: number, isInArc: boolean): Point => {
    const { x, y } = poseOffset(posePast(alignment, stationMm), isInArc ? curveOffsetMm : offsetMm)
    return { x, y }
  }
  const [first] = used.turns
  const last = used.turns.at(-1)
  const start = { kind: 'free', at: endBeside(used.fromMm, first !== undefined && isCutBefore(first, used)) } as const
  if (used.isWholeLoop) return { start, corners, end: { kind: 'closed' } }
  return { start, corners, end: { kind: 'free', at: endBeside(used.toMm, last !== undefined && isCutBehind(last, used)) } }
}
