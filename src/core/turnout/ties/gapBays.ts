import { pathNearest, pathPoseAt, pathStart, stationSlackMm } from '../../geom/index.ts'
import type { Path, Point } from '../../geom/types.ts'
import type { TurnoutGap, TurnoutRail, TurnoutTie } from '../types.ts'
import { pathAcross } from './across.ts'
import { gapClearPart, tieDistance } from './lay.ts'

/** At the heel the feet clear by definition: rounding. */
const touchSlackMm = 1e-6
/** A gap this near to a rail's line lies on it. */
const onRailMm = 1e-3

/**
 * Gaps moved along their rails into the nearest bay where they would lie over a tie: each has a tie on either side that
 * holds the rail's end, and no foil below that would bridge it.
 *
 * Exactness:  a gap that is moved lies midway between two ties on its own rail.
 * Outcome:    a gap whose rail crosses no bay stays, and so does one that would come to where the feet of two rails of a frog touch.
 */
export function gapsBetweenTies(
  gaps: readonly TurnoutGap[],
  rails: readonly TurnoutRail[],
  ties: readonly TurnoutTie[],
): readonly TurnoutGap[] {
  return gaps.map((gap) => {
    const near = ties.map((tie) => ({ tie, mm: tieDistance(tie, gap.at) })).toSorted((a, b) => a.mm - b.mm)
    const [nearest] = near
    const path = nearestLine(rails, gap)
    if (nearest === undefined || path === null) return gap
    const bays = bayStations(
      path,
      near.slice(0, 4).map(({ tie }) => tie),
    )
    const at = pathNearest(path, gap.at).stationMm
    const bay = bays.toSorted((a, b) => Math.abs(a.stationMm - at) - Math.abs(b.stationMm - at))[0]
    if (bay === undefined || nearest.mm >= gapClearPart * bay.clearMm) return gap
    const { x, y } = pathPoseAt(path, bay.stationMm)
    return feetTouch(rails, gap, { x, y }) ? gap : { ...gap, at: { x, y } }
  })
}

/**
 * The gaps that cannot be moved by a tie spacing: those at the heel of a frog whose rails come together by their feet
 * there. Ties have to make room for them.
 */
export function gapsFixed(gaps: readonly TurnoutGap[], rails: readonly TurnoutRail[], tieSpacingMm: number): readonly TurnoutGap[] {
  return gaps.filter((gap) => {
    const path = nearestLine(rails, gap)
    if (path === null) return false
    const at = pathNearest(path, gap.at).stationMm
    return [at - tieSpacingMm, at + tieSpacingMm]
      .filter((station) => station >= 0 && station <= path.lengthMm)
      .every((station) => feetTouch(rails, gap, pathPoseAt(path, station)))
  })
}

/** At a place of a frog's rail its foot would touch that of the other: their gauge lines are less than a head and a foot apart. */
function feetTouch(rails: readonly TurnoutRail[], { rail: role }: TurnoutGap, at: Point): boolean {
  if (!role.startsWith('frog-')) return false
  return rails.some((other) => {
    if (other.role === role || !other.role.startsWith('frog-')) return false
    return pathNearest(other.gaugeLine, at).distanceMm < other.headWidthMm + other.footWidthMm - touchSlackMm
  })
}

/**
 * The rail of a gap: one of its role on which it lies, else any on which it lies; a gap in an elbow is told by the route's
 * frog and cuts the elbow's bent rail.
 */
function nearestLine(rails: readonly TurnoutRail[], { rail: role, at }: TurnoutGap): Path | null {
  const isOn = ({ gaugeLine }: TurnoutRail): boolean => gaugeLine.elements.length > 0 && pathNearest(gaugeLine, at).distanceMm <= onRailMm
  return (rails.find((rail) => rail.role === role && isOn(rail)) ?? rails.find(isOn))?.gaugeLine ?? null
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
  const square = Math.atan2(tie.to.y - tie.from.y, tie.to.x - tie.from.x) - Math.PI / 2
  const start = pathStart(path)
  // The way that the rail is told: from a thin end it may run against the host.
  const headingRad = Math.cos(start.headingRad - square) >= 0 ? square : square + Math.PI
  const axis = { x: (tie.from.x + tie.to.x) / 2, y: (tie.from.y + tie.to.y) / 2, headingRad }
  const found = pathAcross(path, axis)
  if (found !== null) return found.stationMm
  const ahead = (axis.x - start.x) * Math.cos(headingRad) + (axis.y - start.y) * Math.sin(headingRad)
  const rate = Math.cos(start.headingRad - headingRad)
  return rate > 0 ? ahead / rate : null
}
