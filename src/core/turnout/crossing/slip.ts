import {
  elementBetween,
  pathFromElements,
  pathIntersections,
  pathNearest,
  pathOffset,
  pathPoseAt,
  pathSlice,
  pathStart,
  pointDistance,
  poseOffset,
  rootBrent,
} from '../../geom/index.ts'
import type { CurveElement, Path, Pose } from '../../geom/types.ts'
import type { TurnoutOrdinate } from '../types.ts'
import { pathElementsOf } from '../work/side.ts'
import type { GaugeLine, RouteName, Side } from '../work/types.ts'
import { frogLengths } from './lines.ts'
import type { DiamondLines, TrackLines } from './lines.ts'
import type { CrossingProblem, CrossingRequest } from './types.ts'
import { meetingToleranceMm } from '../work/meetings.ts'

/** The stock rail is set out by a point's thickness over this many rail heads ahead of the tip. Common practice, no source. */
const setHeads = 6
const stationToleranceMm = 1e-10
const ordinateSteps = 4
/** A slip sharper than two gauges of radius is none: its inner rail would have next to no radius. */
const sharpestPerGauge = 0.5

/** A slip solved: its gauge lines and where its points lie. */
export interface SlipLines {
  readonly side: Side
  readonly route: RouteName
  readonly outer: GaugeLine
  readonly inner: GaugeLine
  readonly centre: Path
  /** Stations on the two lines that become point rails, from their own starts: where a tip lies. */
  readonly tipEnterMm: number
  readonly tipLeaveMm: number
  readonly pointLengthMm: number
  readonly radiusMm: number
  readonly switchAngleRad: number
  readonly ordinates: readonly TurnoutOrdinate[]
}

export type SlipResult = { readonly ok: true; readonly slip: SlipLines } | { readonly ok: false; readonly problem: CrossingProblem }

/**
 * A slip on the left of a diamond whose second track turns to the left, or (mirrored by the caller) on the right of one that turns
 * to the right: from the first track to the second. On the other side it runs from the second to the first.
 *
 * One arc leads from tip to tip: its outer rail starts t off the outer rail of the track that it leaves, along it, and ends t off
 * that of the track that it joins. That is the largest radius that the room gives; the room ends at the toes of the outer
 * frogs. Of the two tips the one with less room lies at its toe, the other where the same arc ends: the chord stands at the
 * mean of both directions.
 *
 *   straight tracks:  R = (D - t tan(A/2)) / tan(A/2), D from the crossing of the outer rails to PS; heel where R (1 - cos S) = h - t
 *
 * Outcome:  the lines, or by how much the room is too short for two points and a curve.
 * Source:   derived.
 */
export function slipSolve(request: CrossingRequest, diamond: DiamondLines, side: Side): SlipResult {
  const enters = (side === 'left') === (diamond.turn === 1) ? diamond.first : diamond.second
  const leaves = enters === diamond.first ? diamond.second : diamond.first
  // The slip turns to its own side: a left slip to the left. Its outer rail lies on the other side.
  const outward = side === 'left' ? -1 : 1
  const outerOf = ({ left, right }: TrackLines): Path => (side === 'left' ? right : left)
  const innerOf = ({ left, right }: TrackLines): Path => (side === 'left' ? left : right)
  const [from, to] = [outerOf(enters), outerOf(leaves)]
  const { toeMm } = frogLengths(request, diamond.angleRad)
  const firstTip = stationOfCrossing(from, innerOf(leaves)) + toeMm
  const lastTip = stationOfCrossing(to, innerOf(enters)) - toeMm
  const tip = (line: Path, station: number): Pose => poseOffset(pathPoseAt(line, station), -outward * request.pointThicknessMm)
  const tips = tipsFit(
    (s) => tip(from, s),
    (s) => tip(to, s),
    firstTip,
    lastTip,
  )
  if (tips === null) return { ok: false, problem: { kind: 'noSlip', side, why: 'curve', shortByMm: 0 } }
  const [start, end] = [tip(from, tips.enterMm), tip(to, tips.leaveMm)]
  const arc = elementBetween(start, end)
  const sharpest = arc === null ? Infinity : Math.max(Math.abs(arc.k0), Math.abs(arc.k1)) * request.gaugeMm
  if (arc === null || sharpest > sharpestPerGauge) return { ok: false, problem: { kind: 'noSlip', side, why: 'curve', shortByMm: 0 } }
  const outerPath = pathFromElements(start, [arc])
  const spread = (line: Path, s: number, reversed: boolean): number =>
    pathNearest(line, pathPoseAt(outerPath, reversed ? outerPath.lengthMm - s : s)).distanceMm - request.heelSpreadMm
  const half = outerPath.lengthMm / 2
  const heels = [spread(from, half, false), spread(to, half, true)].every((past) => past > 0)
    ? [
        rootBrent((s) => spread(from, s, false), 0, half, stationToleranceMm),
        rootBrent((s) => spread(to, s, true), 0, half, stationToleranceMm),
      ]
    : null
  if (heels === null) {
    const lacks = Math.max(-spread(from, half, false), -spread(to, half, true))
    return { ok: false, problem: { kind: 'noSlip', side, why: 'heel', shortByMm: lacks } }
  }
  const pointLengthMm = Math.max(...heels.map((root) => (root.ok ? root.x : half)))
  const route: RouteName = side === 'left' ? 'slip-left' : 'slip-right'
  const inner = innerRail(request, innerOf(enters), innerOf(leaves), outerPath, outward)
  if (inner === null) return { ok: false, problem: { kind: 'noSlip', side, why: 'curve', shortByMm: 0 } }
  const [elbow] = pathIntersections(innerOf(enters), innerOf(leaves), meetingToleranceMm)
  const reach = pointLengthMm + request.railHeadMm
  const into = elbow ? Math.max(inner.enterMm + reach - elbow.stationA, elbow.stationB - (inner.leaveMm - reach)) : Infinity
  if (into > 0) return { ok: false, problem: { kind: 'noSlip', side, why: 'elbow', shortByMm: Number.isFinite(into) ? into : 0 } }
  const outerSide: Side = side === 'left' ? 'right' : 'left'
  const against = (track: TrackLines): { readonly route: RouteName; readonly side: Side } => ({
    route: track === diamond.first ? 'straight' : 'other',
    side: outerSide,
  })
  const centre = pathOffset(outerPath, (-outward * request.gaugeMm) / 2)
  return {
    ok: true,
    slip: {
      side,
      route,
      outer: {
        route,
        side: outerSide,
        path: outerPath,
        pointAtStart: { lengthMm: pointLengthMm, against: against(enters) },
        pointAtEnd: { lengthMm: pointLengthMm, against: against(leaves) },
      },
      inner: { route, side, path: inner.path, pointAtStart: null, pointAtEnd: null },
      centre,
      tipEnterMm: inner.enterMm,
      tipLeaveMm: inner.leaveMm,
      pointLengthMm,
      radiusMm: 1 / Math.max(...centre.elements.flatMap(({ k0, k1 }) => [Math.abs(k0), Math.abs(k1)])),
      switchAngleRad: Math.abs(pathPoseAt(outerPath, pointLengthMm).headingRad - pathPoseAt(from, tips.enterMm + pointLengthMm).headingRad),
      ordinates: Array.from({ length: ordinateSteps + 1 }, (_, i) => {
        const at = pointLengthMm + ((outerPath.lengthMm - 2 * pointLengthMm) * i) / ordinateSteps
        const near = pathNearest(from, pathPoseAt(outerPath, at))
        return { xMm: near.stationMm - tips.enterMm - pointLengthMm, yMm: near.distanceMm }
      }),
    },
  }
}

function stationOfCrossing(line: Path, other: Path): number {
  return pathIntersections(line, other, meetingToleranceMm)[0]?.stationA ?? 0
}

/**
 * Stations of both tips, the one with less room at its limit: there the chord between the tips turns as much from the first
 * direction as the second from it. Null when no arc fits.
 */
function tipsFit(
  enterAt: (station: number) => Pose,
  leaveAt: (station: number) => Pose,
  firstMm: number,
  lastMm: number,
): { readonly enterMm: number; readonly leaveMm: number } | null {
  const unbalance = (enterMm: number, leaveMm: number): number => {
    const [a, b] = [enterAt(enterMm), leaveAt(leaveMm)]
    const chord = Math.atan2(b.y - a.y, b.x - a.x)
    return Math.sin(chord - (a.headingRad + b.headingRad) / 2)
  }
  const both = unbalance(firstMm, lastMm)
  if (both === 0) return { enterMm: firstMm, leaveMm: lastMm }
  const span = pointDistance(enterAt(firstMm), leaveAt(lastMm))
  const moveLast = rootBrent((leaveMm) => unbalance(firstMm, leaveMm), lastMm - span * 0.7, lastMm, stationToleranceMm)
  if (moveLast.ok) return { enterMm: firstMm, leaveMm: moveLast.x }
  const moveFirst = rootBrent((enterMm) => unbalance(enterMm, lastMm), firstMm, firstMm + span * 0.7, stationToleranceMm)
  return moveFirst.ok ? { enterMm: moveFirst.x, leaveMm: lastMm } : null
}

/**
 * The inner rail: the gauge off the outer one between the tips, and ahead of and behind them the rail of the track that it came
 * from, set out by the point's thickness.
 */
function innerRail(
  request: CrossingRequest,
  enters: Path,
  leaves: Path,
  outer: Path,
  outward: 1 | -1,
): { readonly path: Path; readonly enterMm: number; readonly leaveMm: number } | null {
  const inner = pathOffset(outer, -outward * request.gaugeMm)
  const [start, end] = [pathStart(inner), inner.end]
  const enterMm = pathNearest(enters, start).stationMm
  const leaveMm = pathNearest(leaves, end).stationMm
  const set = setHeads * request.railHeadMm
  if (enterMm - set < 0 || leaveMm + set > leaves.lengthMm) return null
  const before = pathSlice(enters, 0, enterMm - set)
  const behind = pathSlice(leaves, leaveMm + set, leaves.lengthMm)
  const [out, back] = [elementBetween(before.end, start), elementBetween(end, pathStart(behind))]
  if (out === null || back === null) return null
  const elements: CurveElement[] = [...pathElementsOf(before), out, ...pathElementsOf(inner), back, ...pathElementsOf(behind)]
  return { path: pathFromElements(pathStart(before), elements), enterMm, leaveMm }
}
