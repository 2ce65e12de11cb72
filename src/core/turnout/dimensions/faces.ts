import { pathNearest, pathPoseAt } from '../../geom/index.ts'
import type { Path, Point } from '../../geom/types.ts'
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
  measure: (at: Point) => number | null,
  worse: 'least' | 'most',
): Measured | null {
  let worst: Measured | null = null
  for (const station of stations) {
    const { x, y } = pathPoseAt(path, Math.min(Math.max(station, 0), path.lengthMm))
    const mm = measure({ x, y })
    if (mm !== null && (worst === null || (worse === 'least' ? mm < worst.mm : mm > worst.mm))) worst = { mm, at: { x, y } }
  }
  return worst
}

/** `count` + 1 stations from one to another. */
export function stationsBetween(fromMm: number, toMm: number, count: number): readonly number[] {
  return Array.from({ length: count + 1 }, (_, i) => fromMm + ((toMm - fromMm) * i) / count)
}
