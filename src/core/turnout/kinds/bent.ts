import { pathFromElements, pathNearest, pathPoseAt, pathSlice, poseAhead, poseOffset, rootBrent } from '../../geom/index.ts'
import type { CurveElement, Path, Pose } from '../../geom/types.ts'
import type { Points } from '../points.ts'
import type { TurnoutRequest } from '../types.ts'
import { hostPoseAt, railStationAt } from './host.ts'
import type { Host } from './host.ts'

/** Roots are sought in angle, curvature and station to rounding. */
const angleToleranceRad = 1e-15
const curvatureTolerance = 1e-18
const stationToleranceMm = 1e-12
/** The angle of a point, and its own curvature, on a bent host are within this factor of those on a straight one. */
const mostFactor = 3
/** Places along the host at which the frog is looked for before the root is closed in on. */
const frogSteps = 64

/** The outer gauge line of the diverging route from tip to heel. */
export interface PointLine {
  readonly tip: Pose
  readonly elements: readonly CurveElement[]
  readonly points: Points
}

/**
 * The points on a host that bends: the curvature that they have on a straight host, and the stock rail's own. Tip t and heel h off the
 * stock rail, exactly; what gives is the angle of straight points and the curvature of curved ones.
 *
 * Outcome:   null when no such point reaches its spread, or turns as far as the frog before it does.
 * Exactness: the spread to 1e-12 mm.
 */
export function bentPoints(host: Host, request: TurnoutRequest, base: Points, frogAngleRad: number): PointLine | null {
  const { pointLengthMm, heelSpreadMm, pointThicknessMm, gaugeMm } = request
  const from = railStationAt(host, 'right', 0)
  if (from + pointLengthMm > host.right.lengthMm) return null
  const under = pathSlice(host.right, from, from + pointLengthMm).elements
  const beside = pathSlice(host.right, from, Math.min(host.right.lengthMm, from + 2 * pointLengthMm))
  const at = { x: 0, y: pointThicknessMm - gaugeMm / 2 }
  const lay = (entryRad: number, bend: number): Path =>
    pathFromElements(
      { ...at, headingRad: entryRad },
      under.map(({ lengthMm, k0, k1 }) => ({ lengthMm, k0: k0 + bend, k1: k1 + bend })),
    )
  const missed = (path: Path): number => pathNearest(beside, path.end).offsetMm - heelSpreadMm
  const isStraight = base.radiusMm === null
  const root = isStraight
    ? rootBrent((entry) => missed(lay(entry, 0)), 0, Math.min(mostFactor * base.heelAngleRad, Math.PI / 2), angleToleranceRad)
    : rootBrent((bend) => missed(lay(base.entryAngleRad, bend)), 0, mostFactor / base.radiusMm, curvatureTolerance)
  if (!root.ok) return null
  const line = isStraight ? lay(root.x, 0) : lay(base.entryAngleRad, root.x)
  const beneath = pathPoseAt(beside, pathNearest(beside, line.end).stationMm).headingRad
  const heelAngleRad = line.end.headingRad - beneath
  if (heelAngleRad >= frogAngleRad) return null
  const sharpest = Math.max(...line.elements.map(({ k0, k1 }) => Math.max(Math.abs(k0), Math.abs(k1))))
  return {
    tip: { ...at, headingRad: isStraight ? root.x : base.entryAngleRad },
    elements: line.elements,
    points: {
      entryAngleRad: isStraight ? root.x : base.entryAngleRad,
      heelAngleRad,
      radiusMm: isStraight ? null : 1 / sharpest,
      heelXMm: line.end.x,
    },
  }
}

/** The closure on a host that bends: one arc from the heel to the toe, and where on the host the theoretical point lies. */
export interface BentClosure {
  readonly arc: CurveElement
  readonly frogMm: number
}

/**
 * Where the frog lies. For every station of the host there is one toe: the frog's point on the through route's gauge line, its
 * direction F off the host's there, the toe u back along it. One arc leads from heel to toe where the chord between them
 * bisects their directions; the first such station is the frog.
 *
 * Outcome:   null when there is none as far as the host is read.
 * Exactness: the station to 1e-12 mm.
 */
export function bentClosure(host: Host, request: TurnoutRequest, frogAngleRad: number, heel: Pose): BentClosure | null {
  const { gaugeMm, toeLengthMm } = request
  const toeAt = (station: number): Pose => {
    const point = poseOffset(hostPoseAt(host, station), gaugeMm / 2)
    return poseAhead({ ...point, headingRad: point.headingRad + frogAngleRad }, -toeLengthMm)
  }
  // Distance of the toe to the left of the line that bisects both directions at the heel.
  const missed = (station: number): number => {
    const toe = toeAt(station)
    const mean = (heel.headingRad + toe.headingRad) / 2
    return (toe.y - heel.y) * Math.cos(mean) - (toe.x - heel.x) * Math.sin(mean)
  }
  const last = host.centre.lengthMm - host.psMm
  const first = Math.min(request.pointLengthMm / 2, last)
  let before = first
  for (let i = 1; i <= frogSteps; i++) {
    const station = first + ((last - first) * i) / frogSteps
    if (missed(before) > 0 && missed(station) <= 0) {
      const root = rootBrent(missed, before, station, stationToleranceMm)
      const arc = root.ok ? arcBetween(heel, toeAt(root.x)) : null
      return root.ok && arc ? { arc, frogMm: root.x } : null
    }
    before = station
  }
  return null
}

/** The arc between two poses that have one; null when it would run backwards or turn by half a circle. */
function arcBetween(from: Pose, to: Pose): CurveElement | null {
  const turn = to.headingRad - from.headingRad
  const mean = from.headingRad + turn / 2
  const chord = (to.x - from.x) * Math.cos(mean) + (to.y - from.y) * Math.sin(mean)
  if (!(chord > 0) || Math.abs(turn) >= Math.PI) return null
  const half = turn / 2
  const lengthMm = half === 0 ? chord : (chord * half) / Math.sin(half)
  return { lengthMm, k0: turn / lengthMm, k1: turn / lengthMm }
}
