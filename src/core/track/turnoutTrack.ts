import { pathMove, poseToPlan } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { NetworkTurnout } from '../network/types.ts'
import type { HeadWidth, TurnoutGeometry, TurnoutRail } from '../turnout/types.ts'
import { tieStations } from './tieSpacing.ts'
import type { Rail, TurnoutTrack } from './types.ts'

const quarterTurn = Math.PI / 2
/** A head this near to full is full: rounding. */
const fullHeadSlackMm = 1e-9

/** Rails, ties and gaps of a turnout in the plan; null when it could not be set. Rigid motion, nothing solved again. */
export function turnoutTrackLay({ turnout, result }: NetworkTurnout): TurnoutTrack | null {
  if (!result.ok) return null
  const { pose, geometry, leg } = result
  return {
    turnoutId: turnout.id,
    rails: geometry.rails.flatMap((rail) => railsInPlan(rail, pose)),
    ties: [
      ...geometry.ties.map((tie) => ({
        centre: poseToPlan(pose, { x: (tie.from.x + tie.to.x) / 2, y: (tie.from.y + tie.to.y) / 2 }),
        axisRad: pose.headingRad + Math.atan2(tie.to.y - tie.from.y, tie.to.x - tie.from.x),
        lengthMm: tie.lengthMm,
        widthMm: tie.widthMm,
        stationMm: tie.stationMm,
        isHeadBlock: tie.isHeadBlock,
      })),
      ...heelTies(geometry, leg),
    ],
    gaps: geometry.gaps.map(({ at, rail }) => ({ at: poseToPlan(pose, at), rail })),
  }
}

/** Distance from PS to the last long tie, mm along the host. */
export function lastTieX(geometry: TurnoutGeometry): number {
  return geometry.ties[geometry.ties.length - 1]?.stationMm ?? 0
}

/**
 * How far along its leg a track still lies on the turnout's long ties, as though straight: to the last of them, and on by
 * as much as the first tie of its own, which stands square to the leg, reaches back. Below 0: the leg lies beyond them.
 */
export function longTiesPastLeg(geometry: TurnoutGeometry): number {
  const { frogAngleRad, request } = geometry
  return (lastTieX(geometry) - geometry.leg.x) / Math.cos(frogAngleRad) + (request.tieLengthMm / 2) * Math.tan(frogAngleRad)
}

/** Ties of standard length under the diverging route where the frog's heel reaches past the long ties; the last at the leg. */
function heelTies(geometry: TurnoutGeometry, leg: Pose): TurnoutTrack['ties'] {
  const past = longTiesPastLeg(geometry)
  if (past >= 0) return []
  const { tieSpacingMm, tieLengthMm, tieWidthMm } = geometry.request
  return [...tieStations({ fromMm: past, toMm: 0 }, tieSpacingMm), 0].map((alongMm) => ({
    centre: poseToPlan(leg, { x: alongMm, y: 0 }),
    axisRad: leg.headingRad + quarterTurn,
    lengthMm: tieLengthMm,
    widthMm: tieWidthMm,
    stationMm: geometry.leg.x + alongMm * Math.cos(geometry.frogAngleRad),
    isHeadBlock: false,
  }))
}

/** A rail in the plan; one that is planed or filed comes as its tapers and the rest, each with even edges. */
function railsInPlan(rail: TurnoutRail, pose: Pose): Rail[] {
  const { role, headSide, headWidthMm, footWidthMm, headTaper } = rail
  const path = pathMove(rail.gaugeLine, pose)
  const part = (fromMm: number, toMm: number, startHeadMm: number | undefined, endHeadMm: number | undefined): Rail => ({
    role,
    gaugeLine: { path, offsetMm: 0, fromMm, toMm },
    headSide,
    headWidthMm,
    footWidthMm,
    ...(startHeadMm === undefined ? {} : { startHeadMm }),
    ...(endHeadMm === undefined ? {} : { endHeadMm }),
  })
  if (headTaper === undefined) return [part(0, path.lengthMm, rail.startHeadMm, rail.endHeadMm)]
  const full = headWidthMm - fullHeadSlackMm
  const parts: Rail[] = []
  let at: HeadWidth | null = null
  for (const width of headTaper) {
    if (at && width.alongMm > at.alongMm)
      parts.push(part(at.alongMm, width.alongMm, at.headMm, width.headMm < full ? width.headMm : undefined))
    at = width
  }
  const behind = at?.alongMm ?? 0
  return behind < path.lengthMm ? [...parts, part(behind, path.lengthMm, undefined, rail.endHeadMm)] : parts
}
