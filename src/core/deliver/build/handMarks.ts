import { pathPoseAt, poseToPlan } from '../../geom/index.ts'
import type { Pose } from '../../geom/types.ts'
import type { RailStick, TurnoutRail } from '../../turnout/index.ts'
import { planLine, type PlanItem } from '../planItem.ts'

/** Between the foot of a rail and the mark of its bend, and how large that is, mm. */
const OFF_FOOT_MM = 0.5
const BEND_MM = 1.4
/** How far the tick of a filing stands out of the head on either side, mm. */
const FILED_MM = 0.9

/**
 * Where the rails of special work are worked by hand: a V that points at the place of every bend, at the set of a stock rail as at the
 * flares of guard and wing rails; and a tick across the head where filing or planing begins.
 */
export function handMarks(rails: readonly TurnoutRail[], sticks: readonly RailStick[], pose: Pose): readonly PlanItem[] {
  return sticks.flatMap(({ rail: index, bends, filings }): readonly PlanItem[] => {
    const rail = rails[index]
    if (rail === undefined) return []
    const { gaugeLine, headSide, headWidthMm, footWidthMm } = rail
    const off = headWidthMm + (footWidthMm - headWidthMm) / 2 + OFF_FOOT_MM
    const line = (alongMm: number, from: readonly [number, number], to: readonly [number, number]): PlanItem => {
      const seat = pathPoseAt(gaugeLine, alongMm)
      const [a, b] = [from, to].map(([x, y]) => poseToPlan(pose, poseToPlan(seat, { x, y: headSide * y })))
      return planLine('marks', 'tick', a ?? pose, b ?? pose)
    }
    return [
      ...bends.flatMap(({ atMm }) => [-1, 1].map((side) => line(atMm, [0, off], [(side * BEND_MM) / 2, off + BEND_MM]))),
      ...filings.map(({ lengthMm }) => line(lengthMm, [0, -FILED_MM], [0, headWidthMm + FILED_MM])),
    ]
  })
}
