import { pathNearest, pathPoseAt, pathReverse } from '../../geom/index.ts'
import type { Path, Point, Pose } from '../../geom/types.ts'
import { pathAcross } from '../ties/across.ts'
import type { RailPart, TurnoutRail } from '../types.ts'

/** Rounding of a foot that lies square to a face. */
const squareMm = 1e-6

export function partOf({ role }: TurnoutRail): RailPart {
  return (['stock', 'point', 'closure', 'frog', 'wing', 'guard', 'elbow'] as const).find((part) => role.startsWith(`${part}-`)) ?? 'check'
}

/** Distance from a place to a face, square to it; null: the face is not abreast of it. */
export function faceDistance(path: Path, at: Point): number | null {
  const { distanceMm, offsetMm } = pathNearest(path, at)
  return Math.abs(distanceMm - Math.abs(offsetMm)) < squareMm ? distanceMm : null
}

/** Distance from a pose to a face along the line square to the pose, as an axle stands there; null: the face is not abreast of it. */
export function faceAcross(path: Path, pose: Pose): number | null {
  const isAlong = Math.cos(pathPoseAt(path, path.lengthMm / 2).headingRad - pose.headingRad) > 0
  const found = pathAcross(isAlong ? path : pathReverse(path), pose)
  return found === null || found.stationMm > path.lengthMm ? null : Math.abs(found.offsetMm)
}

/** Of some rails the one whose face comes nearest to a place; null: there is none. */
export function railNearest(rails: readonly TurnoutRail[], at: Point): TurnoutRail | null {
  let best: { readonly rail: TurnoutRail; readonly mm: number } | null = null
  for (const rail of rails) {
    const mm = pathNearest(rail.gaugeLine, at).distanceMm
    if (best === null || mm < best.mm) best = { rail, mm }
  }
  return best?.rail ?? null
}

/** A measured distance and where. */
export interface Measured {
  readonly mm: number
  readonly at: Point
}

/** The least or the most of what is measured at places of a path; null where nothing was. */
export function worstAlong(
  path: Path,
  stations: readonly number[],
  measure: (at: Pose) => number | null,
  worse: 'least' | 'most',
): Measured | null {
  let worst: Measured | null = null
  for (const station of stations) {
    const pose = pathPoseAt(path, Math.min(Math.max(station, 0), path.lengthMm))
    const mm = measure(pose)
    if (mm !== null && (worst === null || (worse === 'least' ? mm < worst.mm : mm > worst.mm))) worst = { mm, at: { x: pose.x, y: pose.y } }
  }
  return worst
}

/** `count` + 1 stations from one to another. */
export function stationsBetween(fromMm: number, toMm: number, count: number): readonly number[] {
  return Array.from({ length: count + 1 }, (_, i) => fromMm + ((toMm - fromMm) * i) / count)
}
