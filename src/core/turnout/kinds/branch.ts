import { pathFromElements, pathNearest, pathOffset, pathPoseAt, pathSlice, rootBrent } from '../../geom/index.ts'
import type { CurveElement, Path, Point } from '../../geom/types.ts'
import { arc, straight } from '../bend.ts'
import { closureSolve } from '../closure.ts'
import { pointsSolve } from '../points.ts'
import type { Points } from '../points.ts'
import type { Divergence, RouteName, TurnoutOrdinate, TurnoutProblem, TurnoutRequest } from '../types.ts'
import { bentClosure, bentPoints } from './bent.ts'
import { hostPoseAt, hostStationOf, railStationAt } from './host.ts'
import type { Host } from './host.ts'
import { stockRail } from './stock.ts'

/** A route that diverges to the left of a host: its lines and what they measure. Frame: PS at the origin, the host along +x. */
export interface Branch {
  readonly points: Points
  readonly frogAngleRad: number
  /** Right gauge line, from the tip of the point to the frog's heel, and how much of it is the point. */
  readonly outer: Path
  readonly pointMm: number
  /** The left one as it keeps the gauge off it, and the station on it abreast of the point's heel. */
  readonly inner: Path
  readonly innerHeelMm: number
  /** Left gauge line: the curved stock rail, from `frontMm` behind PS (below 0: ahead) to opposite the frog's heel. */
  readonly stock: Path
  readonly frontMm: number
  readonly centre: Path
  /** PS to the theoretical frog point along the host. */
  readonly leadMm: number
  readonly frogPoint: Point
  /** PS to abreast of the frog's heel on the through route, along the host. */
  readonly overallMm: number
  readonly closureGaugeLineRadiusMm: number
  readonly closureRadiusMm: number
  readonly closureCurvedMm: number
  readonly closureStraightMm: number
  readonly radiusMm: number
  readonly ordinates: readonly TurnoutOrdinate[]
}

/** tooSharp: no frog, no points, or a rail without radius on this host; whoever asked knows by how much it may bend. */
export type BranchResult =
  | { readonly ok: true; readonly branch: Branch }
  | { readonly ok: false; readonly problem: TurnoutProblem | { readonly kind: 'tooSharp' } }

type Failed = Extract<BranchResult, { ok: false }>

const tooSharp: Failed = { ok: false, problem: { kind: 'tooSharp' } }

/** At its heels a frog must still open, by at least this part of its angle: on a sharp host the straight through it does not. */
const leastPartingShare = 0.25
/** Heads that overlap so little have room: rounding. */
const headSlackMm = 1e-9

/** Points and closure as elements from the tip, and the station of the frog. */
interface Solved {
  readonly points: Points
  readonly tip: { readonly x: number; readonly y: number; readonly headingRad: number }
  readonly point: readonly CurveElement[]
  readonly closure: CurveElement
  readonly leadMm: number
}

type SolvedResult = { readonly ok: true; readonly solved: Solved } | Failed

/**
 * The diverging route of a left-hand turnout: point, one arc, and a straight through the frog, which stands at F to the host where
 * it meets it. On a straight host by the closure equations; on one that bends by bentPoints and bentClosure, which for no
 * curvature come to the same.
 */
export function branchSolve(request: TurnoutRequest, host: Host, frogAngleRad: number): BranchResult {
  const result = request.host === null ? solveStraight(request, frogAngleRad) : solveBent(request, host, frogAngleRad)
  if (!result.ok) return result
  const { points, tip, point, closure, leadMm } = result.solved
  const { gaugeMm, toeLengthMm, heelLengthMm, pointLengthMm } = request
  const elements = [...point, closure, straight(toeLengthMm + heelLengthMm)]
  if (elements.some(({ k0, k1 }) => Math.max(k0, k1) * gaugeMm >= 1 || Math.min(k0, k1) * gaugeMm <= -1)) return tooSharp

  const outer = pathFromElements(tip, elements)
  const inner = pathOffset(outer, gaugeMm)
  const innerHeelMm = pathOffset(pathFromElements(tip, point), gaugeMm).lengthMm
  const stock = stockRail(host, request, points, inner, innerHeelMm)
  if (!stock) return tooSharp
  const frogStation = railStationAt(host, 'left', leadMm)
  const closureStraightMm = frogStation - railStationAt(host, 'left', 0) - toeLengthMm - pointLengthMm
  if (closureStraightMm <= 0) {
    if (request.host !== null) return tooSharp
    return { ok: false, problem: { kind: 'pointsLongerThanLead', pointLengthMm, roomMm: pointLengthMm + closureStraightMm } }
  }
  const overallMm = hostStationOf(host, 'left', frogStation + heelLengthMm)
  if (!partsAtHeel(request, host, outer, overallMm, frogAngleRad)) return tooSharp
  const centre = pathOffset(outer, gaugeMm / 2)
  const { x, y } = pathPoseAt(host.left, frogStation)
  return {
    ok: true,
    branch: {
      points,
      frogAngleRad,
      outer,
      pointMm: pointLengthMm,
      inner,
      innerHeelMm,
      stock: stock.path,
      frontMm: stock.frontMm,
      centre,
      leadMm,
      frogPoint: { x, y },
      overallMm,
      closureGaugeLineRadiusMm: 1 / Math.abs(closure.k0),
      closureRadiusMm: Math.abs(1 / closure.k0 - gaugeMm / 2),
      closureCurvedMm: closure.lengthMm,
      closureStraightMm,
      radiusMm: tightestRadius(centre),
      ordinates: closureOrdinatesAlong(host.right, pathSlice(outer, pointLengthMm, pointLengthMm + closure.lengthMm)),
    },
  }
}

/** Whether the frog's heels have room side by side and the routes still part there: on a sharp host a straight frog turns back to it. */
function partsAtHeel({ railHeadMm }: TurnoutRequest, host: Host, outer: Path, overallMm: number, frogAngleRad: number): boolean {
  const parting = outer.end.headingRad - hostPoseAt(host, overallMm).headingRad
  const spread = pathNearest(host.left, outer.end).offsetMm
  return parting > leastPartingShare * frogAngleRad && spread >= 2 * railHeadMm * Math.cos(frogAngleRad / 2) ** 2 - headSlackMm
}

function solveStraight(request: TurnoutRequest, frogAngleRad: number): SolvedResult {
  const found = pointsSolve(request, frogAngleRad)
  if (!found.ok) return found
  const closure = closureSolve(request, found.points, frogAngleRad)
  if (!closure.ok) return closure
  const { points } = found
  const { gaugeMm, pointThicknessMm, pointLengthMm } = request
  const point = points.radiusMm === null ? straight(pointLengthMm) : arc(points.radiusMm, points.heelAngleRad - points.entryAngleRad)
  return {
    ok: true,
    solved: {
      points,
      tip: { x: 0, y: pointThicknessMm - gaugeMm / 2, headingRad: points.entryAngleRad },
      point: [point],
      closure: arc(closure.closure.gaugeLineRadiusMm, frogAngleRad - points.heelAngleRad),
      leadMm: closure.closure.leadMm,
    },
  }
}

function solveBent(request: TurnoutRequest, host: Host, frogAngleRad: number): SolvedResult {
  const base = pointsSolve(request, frogAngleRad)
  if (!base.ok) return base
  const line = bentPoints(host, request, base.points, frogAngleRad)
  if (!line) return tooSharp
  // What does not fit on a straight host is told by its own value; only what the host's curvature spoils is the host's.
  const straightClosure = closureSolve(request, base.points, frogAngleRad)
  if (!straightClosure.ok) return straightClosure
  const closure = bentClosure(host, request, frogAngleRad, pathFromElements(line.tip, line.elements).end)
  if (!closure) return tooSharp
  return { ok: true, solved: { points: line.points, tip: line.tip, point: line.elements, closure: closure.arc, leadMm: closure.frogMm } }
}

/** Radius of the sharpest place of a path, mm; Infinity for a straight. */
export function tightestRadius(path: Path): number {
  return 1 / Math.max(...path.elements.map(({ k0, k1 }) => Math.max(Math.abs(k0), Math.abs(k1))))
}

/** The closure is set out at its ends and between, in this many equal steps along the stock rail. */
const ordinateSteps = 4
const ordinateToleranceMm = 1e-12

/**
 * Ordinates from a stock rail's gauge line to the curved closure rail's, square to the stock rail, at the quarter points of the
 * closure along it. xMm counts from the heel.
 */
export function closureOrdinatesAlong(stock: Path, closure: Path): TurnoutOrdinate[] {
  const [from, to] = [pathPoseAt(closure, 0), closure.end].map((end) => pathNearest(stock, end).stationMm)
  if (from === undefined || to === undefined) return []
  return Array.from({ length: ordinateSteps + 1 }, (_, step) => {
    const xMm = ((to - from) * step) / ordinateSteps
    const base = pathPoseAt(stock, from + xMm)
    const [cos, sin] = [Math.cos(base.headingRad), Math.sin(base.headingRad)]
    const ahead = (along: number): number => {
      const at = pathPoseAt(closure, along)
      return (at.x - base.x) * cos + (at.y - base.y) * sin
    }
    const root = rootBrent(ahead, 0, closure.lengthMm, ordinateToleranceMm)
    const at = pathPoseAt(closure, root.ok ? root.x : step < ordinateSteps / 2 ? 0 : closure.lengthMm)
    return { xMm, yMm: (at.y - base.y) * cos - (at.x - base.x) * sin }
  })
}

/** A route before linesWidened has looked at it. */
export const asLaid = { wideningAskedMm: 0, widening: null } as const

/** What a diverging route is told as. */
export function divergenceOf(route: RouteName, branch: Branch): Divergence {
  const { frogAngleRad, points, leadMm, radiusMm, closureRadiusMm, ordinates } = branch
  return { route, frogAngleRad, switchAngleRad: points.heelAngleRad, leadMm, radiusMm, closureRadiusMm, ordinates, ...asLaid }
}
