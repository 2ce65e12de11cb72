import { elementPoseAt, poseAhead, rootBrent } from '../../geom/index.ts'
import type { Path, PathElement, Pose } from '../../geom/types.ts'
import type { HostLine } from '../types.ts'

/** Where a path crosses a tie's middle line. */
export interface Across {
  /** From the pose, mm, positive to its left. */
  readonly offsetMm: number
  readonly headingRad: number
  readonly stationMm: number
}

const stationToleranceMm = 1e-11

/**
 * Where a path crosses the line square to a pose; behind its end the path runs straight on.
 *
 * Units:      mm, rad.
 * Domain:     a path that keeps within a right angle of the pose's heading. The first crossing.
 * Exactness:  of a straight up to rounding, of a curve to 1e-11 mm along it.
 * Outcome:    null where the path starts beyond the line, or never comes to it.
 */
export function pathAcross(path: Path, pose: Pose): Across | null {
  const cos = Math.cos(pose.headingRad)
  const sin = Math.sin(pose.headingRad)
  const ahead = (p: Pose): number => (p.x - pose.x) * cos + (p.y - pose.y) * sin
  const across = (p: Pose, stationMm: number): Across => ({
    offsetMm: (p.y - pose.y) * cos - (p.x - pose.x) * sin,
    headingRad: p.headingRad,
    stationMm,
  })
  const first = path.elements[0]?.start ?? path.end
  if (ahead(first) > 0) return null
  for (const [i, element] of path.elements.entries()) {
    const end = path.elements[i + 1]?.start ?? path.end
    if (ahead(end) < 0) continue
    const along = alongTo(element, ahead)
    if (along !== null) return across(elementPoseAt(element, element.start, along), element.startStationMm + along)
  }
  const rate = Math.cos(path.end.headingRad - pose.headingRad)
  if (rate <= 0) return null
  const beyond = -ahead(path.end) / rate
  return across(poseAhead(path.end, beyond), path.lengthMm + beyond)
}

function alongTo(element: PathElement, ahead: (p: Pose) => number): number | null {
  const at = (along: number): number => ahead(elementPoseAt(element, element.start, along))
  if (element.k0 === 0 && element.k1 === 0) {
    const [from, to] = [at(0), at(element.lengthMm)]
    return to === from ? 0 : (element.lengthMm * from) / (from - to)
  }
  const root = rootBrent(at, 0, element.lengthMm, stationToleranceMm)
  return root.ok ? root.x : null
}

/** The host at a station from PS; straight on beyond its ends. */
export function hostPose(host: HostLine | null, stationMm: number): Pose {
  if (host === null) return { x: stationMm, y: 0, headingRad: 0 }
  const { path, psMm } = host
  const along = psMm + stationMm
  const first = path.elements[0]
  if (first === undefined || along >= path.lengthMm) return poseAhead(path.end, along - path.lengthMm)
  if (along <= 0) return poseAhead(first.start, along)
  const element = path.elements.findLast(({ startStationMm }) => startStationMm <= along) ?? first
  return elementPoseAt(element, element.start, along - element.startStationMm)
}
