import {
  elementBetween,
  invariant,
  pathFromElements,
  pathIntersections,
  pathNearest,
  pathOffset,
  pathPoseAt,
  pathSlice,
  pathsJoined,
  pathStart,
} from '../../geom/index.ts'
import type { Path } from '../../geom/types.ts'
import { frogDistances } from '../frog.ts'
import { coverBehindFlangeways } from '../requestCheck.ts'
import type { TurnoutRail } from '../types.ts'
import { flaredBoth, flareOut } from './flare.ts'
import type { Meeting } from './meetings.ts'
import { railOf } from './railOf.ts'
import { pathElementsOf, sideSign } from './side.ts'
import type { WorkMeasures } from './types.ts'
import { meetingToleranceMm } from './meetings.ts'

/** Ahead of the throat the guarded part begins this many flangeways early. Common practice, no source. */
export const coverAheadFlangeways = 2

/*
 * The rails of a vee, each from a line whose half behind the crossing is interrupted (wing, guard) or runs on from it (point rail).
 * A frog that opens the other way is the same seen from its other end: lineReverse, then railReverse.
 */

/** What a wing goes on as behind its own frog: the guard rail of another. Stations of the line that it runs along. */
export interface WingRunOn {
  readonly toMm: number
  /** How far off that line it stands at its own frog, and how far it leads to beside the other, evenly over a stretch; null: nowhere else. */
  readonly offMm: number
  readonly leads: { readonly fromMm: number; readonly toMm: number; readonly offMm: number } | null
}

/**
 * The wing of an interrupted line: along the line from the toe, bent at the knuckle to run one flangeway off the other line,
 * on past the actual point, and open at its end. `fromMm`: the toe's station.
 */
export function wingRail(
  { line, other, stationMm, otherStationMm, angleRad }: Meeting,
  fromMm: number,
  measures: WorkMeasures,
  runOn: WingRunOn | null,
): TurnoutRail {
  const { railHeadMm } = measures
  const flangewayMm = runOn?.offMm ?? measures.flangewayMm
  const f = Math.abs(angleRad)
  const { knuckle } = frogDistances(f, measures)
  const away = other.side === 'left' ? -1 : 1
  const from = Math.max(0, otherStationMm - 2 * knuckle)
  const to = Math.min(other.path.lengthMm, Math.max(otherStationMm + coverBehind(f, measures), runOn?.toMm ?? 0))
  const along = wingFace(other.path, from, to, away, { flangewayMm, leads: runOn?.leads ?? null })
  const running = pathSlice(line.path, fromMm, stationMm)
  const bendAt = pathIntersections(running, along, meetingToleranceMm).at(-1)
  if (!bendAt) return railOf(measures, 'wing', line, running, line.side)

  const toPoint = flangewayMm / Math.tan(f)
  const tangent = Math.min(railHeadMm, toPoint, bendAt.stationA, along.lengthMm - bendAt.stationB)
  const before = pathSlice(running, 0, bendAt.stationA - tangent)
  const behind = pathSlice(along, bendAt.stationB + tangent, along.lengthMm)
  const bent = elementBetween(before.end, pathStart(behind))
  invariant(bent !== null, 'a knuckle bends by less than a right angle')
  const path = pathFromElements(pathStart(running), [
    ...pathElementsOf(before),
    bent,
    ...pathElementsOf(behind),
    ...flareOut(away, flangewayMm, railHeadMm),
  ])
  return railOf(measures, 'wing', line, path, line.side)
}

/** A face beside a line, a flangeway off it, or first that and then, once led there, another. */
function wingFace(
  line: Path,
  fromMm: number,
  toMm: number,
  away: 1 | -1,
  { flangewayMm, leads }: { readonly flangewayMm: number; readonly leads: WingRunOn['leads'] },
): Path {
  const beside = (from: number, to: number, offMm: number): Path => pathOffset(pathSlice(line, from, to), away * offMm)
  if (leads === null) return beside(fromMm, toMm, flangewayMm)
  const [before, behind] = [beside(fromMm, leads.fromMm, flangewayMm), beside(leads.toMm, toMm, leads.offMm)]
  const lead = elementBetween(before.end, pathStart(behind))
  invariant(lead !== null, 'two faces side by side are led into each other')
  return pathsJoined([before, pathFromElements(before.end, [lead]), behind])
}

/** From the theoretical point along a line to where wing and guard rail have guarded enough. */
export function coverBehind(angleRad: number, measures: WorkMeasures): number {
  return frogDistances(angleRad, measures).halfInch + coverBehindFlangeways * measures.flangewayMm
}

/** A rail of the point, from the actual point to `toMm`: half of the vee until there is room for its full head. */
export function pointOfFrog({ line, stationMm, angleRad }: Meeting, toMm: number, measures: WorkMeasures): TurnoutRail | null {
  const f = Math.abs(angleRad)
  const { halfInch, fullHeads } = frogDistances(f, measures)
  if (toMm <= stationMm + halfInch) return null
  const edge = Math.min(halfInch * Math.tan(f / 2), measures.railHeadMm)
  return railOf(measures, 'frog', line, pathSlice(line.path, stationMm + halfInch, toMm), line.side, [
    { alongMm: 0, headMm: edge },
    { alongMm: Math.max(fullHeads - halfInch, 0), headMm: measures.railHeadMm },
  ])
}

/**
 * The guard rail for the wheel that runs along an interrupted line over the gap of its frog: beside the rail opposite, its face the
 * check gauge off the line. The parallel part reaches from ahead of the throat, where the wheel loses its rail, to behind
 * the actual point [NMRA-RP-13.5]; both ends flare.
 */
export function guardRail(meeting: Meeting, measures: WorkMeasures, gaugeMm: number): TurnoutRail {
  const { line } = meeting
  const { checkGaugeMm, railHeadMm } = measures
  const face = guardedFace(meeting, measures)
  const path = flaredBoth(pathStart(face), pathElementsOf(face), sideSign(line.side), gaugeMm - checkGaugeMm, railHeadMm)
  return railOf(measures, 'guard', line, path, line.side)
}

/** The face of a guard rail without its flares. */
export function guardedFace({ line, stationMm, angleRad }: Meeting, measures: WorkMeasures): Path {
  const ahead = frogDistances(Math.abs(angleRad), measures).knuckle + coverAheadFlangeways * measures.flangewayMm
  const behind = coverBehind(Math.abs(angleRad), measures)
  const guarded = pathSlice(line.path, Math.max(0, stationMm - ahead), Math.min(line.path.lengthMm, stationMm + behind))
  return pathOffset(guarded, -sideSign(line.side) * measures.checkGaugeMm)
}

/** Station of the guarded part's middle on a rail: abreast of the frog. */
export function abreastOf(rail: TurnoutRail, meeting: Meeting): number {
  return pathNearest(rail.gaugeLine, pathPoseAt(meeting.line.path, meeting.stationMm)).stationMm
}
