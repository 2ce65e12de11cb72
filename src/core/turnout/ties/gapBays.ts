import { pathNearest, pathPoseAt, stationSlackMm } from '../../geom/index.ts'
import type { Path, Point } from '../../geom/types.ts'
import type { TurnoutGap, TurnoutRail, TurnoutTie } from '../types.ts'
import { pathAcross } from './across.ts'
import { tieDistance } from './lay.ts'

/** From the gap to a tie's edge there is at least this part of the clear bay, so that both rail ends can be held. Common practice, no source. */
const clearPart = 0.25

/**
 * Gaps moved along their rails into the nearest bay where they would lie over a tie: each has a tie on either side that
 * holds the rail's end, and no foil below that would bridge it.
 *
 * Exactness:  a gap that is moved lies midway between two ties on its own rail.
 * Outcome:    a gap whose rail crosses no bay stays.
 */
export function gapsBetweenTies(
  gaps: readonly TurnoutGap[],
  rails: readonly TurnoutRail[],
  ties: readonly TurnoutTie[],
): readonly TurnoutGap[] {
  return gaps.map((gap) => {
    const near = ties.toSorted((a, b) => tieDistance(a, gap.at) - tieDistance(b, gap.at)).slice(0, 4)
    const [nearest] = near
    const path = nearestLine(rails, gap)
    if (nearest === undefined || path === null) return gap
    const bays = bayStations(path, near)
    const at = pathNearest(path, gap.at).stationMm
    const bay = bays.toSorted((a, b) => Math.abs(a.stationMm - at) - Math.abs(b.stationMm - at))[0]
    if (bay === undefined || tieDistance(nearest, gap.at) >= clearPart * bay.clearMm) return gap
    const { x, y } = pathPoseAt(path, bay.stationMm)
    return { ...gap, at: { x, y } }
  })
}

/** The rail of a gap; of several of the role the nearest. */
function nearestLine(rails: readonly TurnoutRail[], { rail: role, at }: TurnoutGap): Path | null {
  const lines = rails.filter((rail) => rail.role === role && rail.gaugeLine.elements.length > 0).map(({ gaugeLine }) => gaugeLine)
  return lines.toSorted((a, b) => pathNearest(a, at).distanceMm - pathNearest(b, at).distanceMm)[0] ?? null
}

/** Stations on a rail midway between neighbouring ties, and the clear width there. */
function bayStations(path: Path, ties: readonly TurnoutTie[]): readonly { readonly stationMm: number; readonly clearMm: number }[] {
  const sorted = ties.toSorted((a, b) => a.stationMm - b.stationMm)
  return sorted.flatMap((tie, i) => {
    const next = sorted[i + 1]
    if (next === undefined) return []
    const [a, b] = [acrossTie(path, tie), acrossTie(path, next)]
    if (a === null || b === null) return []
    const stationMm = (a + b) / 2
    const isOnRail = stationMm >= 0 && stationMm <= path.lengthMm + stationSlackMm
    return isOnRail ? [{ stationMm, clearMm: Math.abs(b - a) - (tie.widthMm + next.widthMm) / 2 }] : []
  })
}

/** Station at which a rail's line crosses a tie's middle line, beyond its ends straight on; null: never. */
function acrossTie(path: Path, tie: TurnoutTie): number | null {
  const headingRad = Math.atan2(tie.to.y - tie.from.y, tie.to.x - tie.from.x) - Math.PI / 2
  const axis = { ...middle(tie), headingRad }
  const found = pathAcross(path, axis)
  if (found !== null) return found.stationMm
  const start = path.elements[0]?.start ?? path.end
  const back = (start.x - axis.x) * Math.cos(headingRad) + (start.y - axis.y) * Math.sin(headingRad)
  const rate = Math.cos(start.headingRad - headingRad)
  return rate > 0 ? -back / rate : null
}

function middle({ from, to }: TurnoutTie): Point {
  return { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 }
}
