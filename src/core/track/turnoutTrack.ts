import { pathMove, pathNearest, pointCross, pointDot, pointPolar, pointSubtract, poseToPlan } from '../geom/index.ts'
import type { Path, Pose } from '../geom/types.ts'
import type { Stretch } from '../network/index.ts'
import type { NetworkCrossing, NetworkTurnout } from '../network/types.ts'
import type { HeadWidth, TurnoutGeometry, TurnoutRail, TurnoutTie } from '../turnout/types.ts'
import { tieStations } from './tieSpacing.ts'
import type { CrossingTrack, Rail, TurnoutTrack, WorkTrack } from './types.ts'

const quarterTurn = Math.PI / 2
/** A head this near to full is full: rounding. */
const fullHeadSlackMm = 1e-9

/** Rails, ties and gaps of a turnout in the plan; null when it could not be set. Rigid motion, nothing solved again. */
export function turnoutTrackLay(networkTurnout: NetworkTurnout): TurnoutTrack | null {
  const { turnout, result } = networkTurnout
  if (!result.ok) return null
  const { pose, geometry } = result
  return {
    turnoutId: turnout.id,
    rails: geometry.rails.flatMap((rail) => railsInPlan(rail, pose)),
    ties: turnoutTiesLay(networkTurnout),
    gaps: gapsInPlan(geometry.gaps, pose),
  }
}

/** Its ties alone; none when it could not be set. */
export function turnoutTiesLay({ result }: NetworkTurnout): TurnoutTrack['ties'] {
  if (!result.ok) return []
  const { pose, geometry, legs } = result
  const heels = legs.flatMap((leg, i) => heelTies(geometry, geometry.legs[i]?.pose ?? null, leg.pose))
  return [...tiesInPlan(geometry.ties, pose), ...heels]
}

/** Rails, ties and gaps of a crossing in the plan; null when it cannot be built. */
export function crossingTrackLay({ id, pose, result }: NetworkCrossing): CrossingTrack | null {
  return result.ok ? { crossingId: id, ...workInPlan(result.crossing, pose) } : null
}

/** Rails, ties and gaps of special work moved to where its own frame lies in the plan. */
export function workInPlan({ rails, ties, gaps }: Pick<TurnoutGeometry, 'rails' | 'ties' | 'gaps'>, pose: Pose): WorkTrack {
  return {
    rails: rails.flatMap((rail) => railsInPlan(rail, pose)),
    ties: tiesInPlan(ties, pose),
    gaps: gapsInPlan(gaps, pose),
  }
}

function tiesInPlan(ties: TurnoutGeometry['ties'], pose: Pose): WorkTrack['ties'] {
  return ties.map((tie) => ({
    centre: poseToPlan(pose, { x: (tie.from.x + tie.to.x) / 2, y: (tie.from.y + tie.to.y) / 2 }),
    axisRad: pose.headingRad + Math.atan2(tie.to.y - tie.from.y, tie.to.x - tie.from.x),
    lengthMm: tie.lengthMm,
    widthMm: tie.widthMm,
    stationMm: tie.stationMm,
    isHeadBlock: tie.isHeadBlock,
  }))
}

function gapsInPlan(gaps: TurnoutGeometry['gaps'], pose: Pose): WorkTrack['gaps'] {
  return gaps.map(({ at, rail }) => ({ at: poseToPlan(pose, at), rail }))
}

/** Stretch from the first to the last of the ties that belong to special work, mm along its host from PS or the crossing. */
export function tiesReach(ties: readonly Pick<TurnoutTie, 'stationMm'>[]): Stretch {
  const stations = ties.map(({ stationMm }) => stationMm)
  return stations.length === 0 ? { fromMm: 0, toMm: 0 } : { fromMm: Math.min(...stations), toMm: Math.max(...stations) }
}

/** A tie's long edges are looked at in so many steps: a step is a fraction of a plain tie's width across the track. */
const edgeSteps = 48

/**
 * The stretch of a track that slanting ties take: where they lie as near to its centreline as a tie of its own would. Told as the stations of
 * the middles of square ties whose far edges lie there, so that the next one of its own clears them.
 *
 * Ties and centreline in one frame. Null: none of them lies under the track. Exact to a step along the edges, which is added.
 */
export function slantReach(
  ties: readonly TurnoutTie[],
  centre: Path,
  own: { readonly lengthMm: number; readonly widthMm: number },
): Stretch | null {
  let [fromMm, toMm] = [Infinity, -Infinity]
  for (const { from, to, widthMm, lengthMm } of ties) {
    const [ux, uy] = [(to.x - from.x) / lengthMm, (to.y - from.y) / lengthMm]
    const stepMm = lengthMm / edgeSteps
    for (let i = 0; i <= edgeSteps; i++) {
      for (const side of [widthMm / 2, -widthMm / 2]) {
        const near = pathNearest(centre, { x: from.x + i * stepMm * ux - side * uy, y: from.y + i * stepMm * uy + side * ux })
        if (near.distanceMm > own.lengthMm / 2 + stepMm) continue
        fromMm = Math.min(fromMm, near.stationMm - stepMm)
        toMm = Math.max(toMm, near.stationMm + stepMm)
      }
    }
  }
  return fromMm < toMm ? { fromMm: fromMm + own.widthMm / 2, toMm: toMm - own.widthMm / 2 } : null
}

/**
 * How far along a leg a track still lies on the turnout's long ties, as though straight: to the last of them, and on by as much
 * as the first tie of its own, which stands square to the leg, reaches back. Below 0: the leg lies beyond them. Leg in the turnout's frame.
 */
export function longTiesPastLeg({ ties, request }: TurnoutGeometry, leg: Pose): number {
  const last = ties.reduce<TurnoutTie | null>((best, tie) => (best !== null && best.stationMm >= tie.stationMm ? best : tie), null)
  if (last === null) return 0
  const along = pointPolar(leg.headingRad, 1)
  const across = pointSubtract(last.to, last.from)
  const lean = pointCross(along, across)
  if (lean === 0) return 0
  return pointCross(pointSubtract(last.from, leg), across) / lean + (request.tieLengthMm / 2) * Math.abs(pointDot(along, across) / lean)
}

/** Ties of standard length under a diverging route where the frog's heel reaches past the long ties; the last at the leg. */
function heelTies(geometry: TurnoutGeometry, leg: Pose | null, inPlan: Pose): TurnoutTrack['ties'] {
  const past = leg === null ? 0 : longTiesPastLeg(geometry, leg)
  if (leg === null || past >= 0) return []
  const { tieSpacingMm, tieLengthMm, tieWidthMm } = geometry.request
  return [...tieStations({ fromMm: past, toMm: 0 }, tieSpacingMm), 0].map((alongMm) => ({
    centre: poseToPlan(inPlan, { x: alongMm, y: 0 }),
    axisRad: inPlan.headingRad + quarterTurn,
    lengthMm: tieLengthMm,
    widthMm: tieWidthMm,
    stationMm: leg.x + alongMm * Math.cos(leg.headingRad),
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
