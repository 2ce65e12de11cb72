import {
  elementBetween,
  pathFromElements,
  pathNearest,
  pathPoseAt,
  pathSlice,
  pathStart,
  pointDistance,
  rootBrent,
  pathsJoined,
} from '../../geom/index.ts'
import type { CurveElement, Path, Pose } from '../../geom/types.ts'
import { chainStart } from '../bend.ts'
import type { Points } from '../points.ts'
import type { TurnoutRequest } from '../types.ts'
import { hostRail, hostStationOf, railStationAt } from './host.ts'
import type { Host } from './host.ts'

const stationToleranceMm = 1e-12

/** Where the curved stock rail leaves the host's gauge line and where it has come over to a line of its own. */
interface Bend {
  /** On the host's left gauge line. */
  readonly fromMm: number
  /** What lies between. */
  readonly elements: readonly CurveElement[]
  readonly line: Path
  readonly toMm: number
}

/** The curved stock rail's gauge line, and how far behind PS (below 0: ahead) it begins. */
export interface StockRail {
  readonly path: Path
  readonly frontMm: number
}

/**
 * The stock rail of the diverging route keeps the gauge off the curved point from its tip on. The point stands t off the
 * other stock rail there, so this one has to be moved out: it is bent ahead of PS.
 *
 *   straight points   one bend by S, where the line G off the point's, run on ahead, meets the host's gauge line: on a straight
 *                     host G tan(S/2) + t / tan S ahead of PS.
 *   curved points     where that line meets the host's gauge line behind PS: one bend there. Where it passes outside (a point
 *                     nearly tangent at its tip): a set, out by the point's mean angle and back to its entry angle at the tip.
 *
 * Every bend has tangents of one rail head; gauge is exact from the tip, and for straight points from the bend. The rail begins
 * one tie spacing ahead of PS, or where the bend does, whichever is farther.
 *
 * `inner`: the line G to the left of the outer one, `heelMm` along it abreast of the heel. Null when the bend has no room on the host.
 */
export function stockRail(host: Host, request: TurnoutRequest, points: Points, inner: Path, heelMm: number): StockRail | null {
  const bend =
    points.radiusMm === null ? bendOfStraight(host, request, points, inner, heelMm) : bendOfCurved(host, request, points, inner, heelMm)
  if (!bend) return null
  const frontMm = Math.min(-request.tieSpacingMm, hostStationOf(host, 'left', bend.fromMm))
  if (host.psMm + frontMm < 0) return null
  const front = railStationAt(host, 'left', frontMm)
  const before = pathSlice(host.left, front, Math.max(front, bend.fromMm))
  const behind = pathSlice(bend.line, bend.toMm, bend.line.lengthMm)
  const between = pathFromElements(pathPoseAt(host.left, Math.max(front, bend.fromMm)), bend.elements)
  return { path: pathsJoined([before, between, behind]), frontMm }
}

/** A line run on ahead of its start at the curvature that it has there. */
function runOnAhead(line: Path, aheadMm: number): Path {
  const k = line.elements[0]?.k0 ?? 0
  const ahead: CurveElement = { lengthMm: aheadMm, k0: k, k1: k }
  return pathsJoined([pathFromElements(chainStart([ahead], pathStart(line)), [ahead]), line])
}

/** Station at which a line crosses the host's left gauge line from right to left; null: not between these. */
function crossing(
  host: Host,
  line: Path,
  fromMm: number,
  toMm: number,
): { readonly alongMm: number; readonly hostMm: number; readonly angleRad: number } | null {
  const root = rootBrent((s) => pathNearest(host.left, pathPoseAt(line, s)).offsetMm, fromMm, toMm, stationToleranceMm)
  if (!root.ok) return null
  const at = pathPoseAt(line, root.x)
  const hostMm = pathNearest(host.left, at).stationMm
  return { alongMm: root.x, hostMm, angleRad: at.headingRad - pathPoseAt(host.left, hostMm).headingRad }
}

/** A bend shorter than this is none: rounding. */
const shortestMm = 1e-9

/** From the host's gauge line to a pose on the way to the inner line: one element, tangent at both ends; none where they touch. */
function bendOnto(host: Host, fromMm: number, to: Pose): readonly CurveElement[] | null {
  if (fromMm < 0) return null
  const from = pathPoseAt(host.left, fromMm)
  if (pointDistance(from, to) < shortestMm) return []
  const element = elementBetween(from, to)
  return element && [element]
}

function bendOfStraight(host: Host, request: TurnoutRequest, points: Points, inner: Path, heelMm: number): Bend | null {
  const { gaugeMm, pointThicknessMm: t, railHeadMm } = request
  const s = points.heelAngleRad
  const aheadMm = Math.min(host.psMm, 2 * (gaugeMm * Math.tan(s / 2) + t / Math.tan(s)) + gaugeMm * Math.sin(s) + railHeadMm)
  const line = runOnAhead(inner, aheadMm)
  const vertex = crossing(host, line, 0, aheadMm + heelMm)
  if (!vertex) return null
  const tangent = Math.min(railHeadMm, (aheadMm + heelMm - vertex.alongMm) / 2)
  const toMm = vertex.alongMm + tangent
  const fromMm = vertex.hostMm - tangent
  const onto = bendOnto(host, fromMm, pathPoseAt(line, toMm))
  return onto && { fromMm, elements: onto, line, toMm }
}

function bendOfCurved(host: Host, request: TurnoutRequest, points: Points, inner: Path, heelMm: number): Bend | null {
  const { pointLengthMm: a, pointThicknessMm: t, railHeadMm: head } = request
  const q = pathStart(inner)
  const abreast = pathNearest(host.left, q)
  const out = abreast.offsetMm
  const under = pathPoseAt(host.left, abreast.stationMm)
  const entry = q.headingRad - under.headingRad
  if (out <= 0) {
    const met = crossing(host, inner, 0, heelMm)
    if (!met) return null
    // The bend goes over into the point's line at `joined`, which a sharp bend keeps near the crossing and short of the heel.
    const own = (inner.elements[0]?.k0 ?? 0) - under.curvature
    if (own <= 0) return null
    const radius = 1 / own
    const heel = Math.cos(points.heelAngleRad)
    const room = (radius * (Math.cos(met.angleRad) - heel)) / (1 - heel)
    const bendRadius = Math.min(radius / 2, head / Math.tan(met.angleRad / 2), room)
    const joined = Math.acos(Math.min(1, (radius * Math.cos(met.angleRad) - bendRadius) / (radius - bendRadius)))
    const toMm = met.alongMm + radius * (joined - met.angleRad)
    const fromMm = met.hostMm - (radius * (Math.sin(met.angleRad) - Math.sin(joined)) + bendRadius * Math.sin(joined))
    const onto = bendOnto(host, fromMm, pathPoseAt(inner, toMm))
    return onto && { fromMm, elements: onto, line: inner, toMm }
  }
  const set = Math.asin((request.heelSpreadMm - t) / a)
  const riseOfBends = 1 - Math.cos(set) + (Math.cos(entry) - Math.cos(set))
  const bendRadius = Math.min(head / Math.tan(set / 2), out / riseOfBends)
  const middleMm = Math.max(0, out - bendRadius * riseOfBends) / Math.sin(set)
  const k = under.curvature
  const back: readonly CurveElement[] = [
    { lengthMm: middleMm, k0: k, k1: k },
    {
      lengthMm: bendRadius * Math.abs(entry - set),
      k0: k + Math.sign(entry - set) / bendRadius,
      k1: k + Math.sign(entry - set) / bendRadius,
    },
  ]
  const start = chainStart(back, q)
  const fromMm = pathNearest(host.left, start).stationMm - bendRadius * Math.sin(set)
  const onto = bendOnto(host, fromMm, start)
  return onto && { fromMm, elements: [...onto, ...back], line: inner, toMm: 0 }
}

/** The same rail begun farther ahead, along the host. */
export function stockRailFrom(host: Host, { path, frontMm }: StockRail, fromMm: number): Path {
  return fromMm < frontMm ? pathsJoined([hostRail(host, 'left', fromMm, frontMm), path]) : path
}
