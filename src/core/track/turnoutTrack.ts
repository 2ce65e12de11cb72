import { pathMove, poseToPlan } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { NetworkTurnout } from '../network/types.ts'
import type { TurnoutRail } from '../turnout/types.ts'
import type { Rail, TurnoutTrack } from './types.ts'

const quarterTurn = Math.PI / 2

/** Rails, ties and gaps of a turnout in the plan; null when it could not be set. Rigid motion, nothing solved again. */
export function turnoutTrackLay({ turnout, result }: NetworkTurnout): TurnoutTrack | null {
  if (!result.ok) return null
  const { pose, geometry } = result
  return {
    turnoutId: turnout.id,
    rails: geometry.rails.flatMap((rail) => railsInPlan(rail, pose)),
    ties: geometry.ties.map((tie) => ({
      centre: poseToPlan(pose, { x: (tie.from.x + tie.to.x) / 2, y: (tie.from.y + tie.to.y) / 2 }),
      axisRad: pose.headingRad + quarterTurn,
      lengthMm: tie.lengthMm,
      widthMm: tie.widthMm,
      stationMm: tie.stationMm,
      isHeadBlock: tie.isHeadBlock,
    })),
    gaps: geometry.gaps.map(({ at, rail }) => ({ at: poseToPlan(pose, at), rail })),
  }
}

/** A rail in the plan; one that is planed only at its start comes as the planed part and the rest, each evenly wide. */
function railsInPlan(rail: TurnoutRail, pose: Pose): Rail[] {
  const { role, headSide, headWidthMm, footWidthMm, startHeadMm, endHeadMm, startTaperMm } = rail
  const path = pathMove(rail.gaugeLine, pose)
  const part = (fromMm: number, toMm: number): Rail => ({
    role,
    gaugeLine: { path, offsetMm: 0, fromMm, toMm },
    headSide,
    headWidthMm,
    footWidthMm,
  })
  const startHead = startHeadMm === undefined ? {} : { startHeadMm }
  const endHead = endHeadMm === undefined ? {} : { endHeadMm }
  if (startTaperMm === undefined || startTaperMm >= path.lengthMm) return [{ ...part(0, path.lengthMm), ...startHead, ...endHead }]
  return [
    { ...part(0, startTaperMm), ...startHead },
    { ...part(startTaperMm, path.lengthMm), ...endHead },
  ]
}
