import { pathNearest, pathOffset, pathSlice } from '../../geom/index.ts'
import type { TurnoutRail } from '../types.ts'
import { railClearParts } from './clear.ts'
import { frogDistances } from '../frog.ts'
import type { Meeting } from './meetings.ts'
import { railOf } from './railOf.ts'
import { sideSign } from './side.ts'
import { checkFlangeway } from './checkFlangeway.ts'
import type { GaugeLine, WorkMeasures } from './types.ts'

/**
 * Tracks that cross steeper than this have no wings and no bent elbows: rails are cut square across and each line has a check rail all
 * along, cut where the other flanges run. Common practice, no source.
 */
export const steepRad = (50 * Math.PI) / 180

/** A check rail reaches this many gauges beyond the outer crossings of its track, so that it guards the wheel opposite there too. Common practice, no source. */
const checkReachGauges = 0.5
/** A piece of check rail shorter than this many heads is filed away with the flangeway. */
const leastHeads = 2

/** The rail behind a steep crossing's flangeway is at least so many heads long: a shorter one cannot be held. */
const leastNoseHeads = 4

/** From a steep crossing along a line to where its cut rail may end at the least. */
export function steepLeast(angleRad: number, measures: WorkMeasures): number {
  return frogDistances(angleRad, measures).knuckle + cornerOf(angleRad, measures) + leastNoseHeads * measures.railHeadMm
}

const cornerOf = (angleRad: number, { railHeadMm }: WorkMeasures): number => railHeadMm / Math.tan(angleRad)

/**
 * The two rails that a steep crossing leaves of a line: whole on one side of the other line, cut a flangeway short on the other. An end is
 * cut square to its own rail, so the corner of its head that would reach over sets it back, head / tan F.
 */
export function steepRails(meeting: Meeting, fromMm: number, toMm: number, measures: WorkMeasures): TurnoutRail[] {
  const { line, stationMm, angleRad, interrupted } = meeting
  const { knuckle } = frogDistances(Math.abs(angleRad), measures)
  const corner = cornerOf(Math.abs(angleRad), measures)
  const isOverAhead = sideSign(line.side) === Math.sign(angleRad)
  const [behind, ahead] = isOverAhead ? [stationMm, stationMm + corner] : [stationMm - corner, stationMm]
  const [behindTo, aheadFrom] = interrupted === 'behind' ? [behind - knuckle, ahead] : [behind, ahead + knuckle]
  const rail = (from: number, to: number): TurnoutRail[] =>
    to > from ? [railOf(measures, 'closure', line, pathSlice(line.path, from, to), line.side)] : []
  return [...rail(fromMm, behindTo), ...rail(aheadFrom, toMm)]
}

/** Check rails of a line along all steep crossings of its track, between the flangeways of the other lines. */
export function steepChecks(
  line: GaugeLine,
  meetings: readonly Meeting[],
  lines: readonly GaugeLine[],
  measures: WorkMeasures,
  gaugeMm: number,
): TurnoutRail[] {
  const stations = meetings.map(({ frog }) => pathNearest(line.path, frog.at).stationMm)
  const from = Math.max(0, Math.min(...stations) - checkReachGauges * gaugeMm)
  const to = Math.min(line.path.lengthMm, Math.max(...stations) + checkReachGauges * gaugeMm)
  const face = pathOffset(pathSlice(line.path, from, to), -sideSign(line.side) * checkFlangeway(measures, gaugeMm))
  const rail = railOf(measures, 'check', line, face, line.side === 'left' ? 'right' : 'left')
  return railClearParts(rail, lines, measures, gaugeMm).filter(({ gaugeLine }) => gaugeLine.lengthMm >= leastHeads * measures.railHeadMm)
}
