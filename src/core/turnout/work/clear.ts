import { pathNearest, pathPoseAt, pathSlice } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import type { TurnoutRail } from '../types.ts'
import { sideSign } from './side.ts'
import type { GaugeLine, WorkMeasures } from './types.ts'

/** Steps in which a guard rail is looked over, in rail heads; where it stops to be clear is then found by halving. */
const stepHeads = 1
const halvings = 8
/** A head may stand in a flangeway by this part of it: rounding, and the wing that lies exactly one flangeway off. */
const slackFlangeways = 0.02

/**
 * The parts of a guard or check rail where no wheel runs: its head must lie neither in the flangeway of any line nor on its head. In the order of the
 * rail; the rail itself where all of it is clear.
 */
export function railClearParts(
  rail: TurnoutRail,
  lines: readonly GaugeLine[],
  measures: WorkMeasures,
  gaugeMm: number,
): readonly TurnoutRail[] {
  const { lengthMm } = rail.gaugeLine
  // A guard rail stands the check gauge off the other line: what that leaves beside its own rail is a flangeway too.
  const flangewayMm = Math.min(measures.flangewayMm, gaugeMm - measures.checkGaugeMm)
  const isClearAt = (station: number): boolean => {
    const head = headAt(rail, station, measures.railHeadMm)
    return lines.every((line) => !standsIn(head, line, flangewayMm, measures.railHeadMm))
  }
  /** The last clear station on the way from a clear one to one that is not. */
  const edge = (clear: number, blocked: number): number => {
    let [good, bad] = [clear, blocked]
    for (let i = 0; i < halvings; i++) {
      const middle = (good + bad) / 2
      if (isClearAt(middle)) good = middle
      else bad = middle
    }
    return good
  }
  const count = Math.max(2, Math.ceil(lengthMm / (stepHeads * measures.railHeadMm)))
  const parts: { readonly fromMm: number; readonly toMm: number }[] = []
  let begun: number | null = null
  let before = 0
  for (let i = 0; i <= count; i++) {
    const station = (lengthMm * i) / count
    const isClear = isClearAt(station)
    if (isClear && begun === null) begun = i === 0 ? 0 : edge(station, before)
    if (begun !== null && !isClear) {
      parts.push({ fromMm: begun, toMm: edge(before, station) })
      begun = null
    }
    before = station
  }
  if (begun !== null) parts.push({ fromMm: begun, toMm: lengthMm })
  return parts.map(({ fromMm, toMm }) =>
    fromMm === 0 && toMm === lengthMm ? rail : { ...rail, gaugeLine: pathSlice(rail.gaugeLine, fromMm, toMm) },
  )
}

/** The clear part that holds `keyMm` of a rail's face, null if none does, and the length that was lost. */
export function railClear(
  rail: TurnoutRail,
  keyMm: number,
  lines: readonly GaugeLine[],
  measures: WorkMeasures,
  gaugeMm: number,
): { readonly rail: TurnoutRail | null; readonly lostMm: number } {
  const key = pathPoseAt(rail.gaugeLine, Math.min(Math.max(keyMm, 0), rail.gaugeLine.lengthMm))
  const kept = railClearParts(rail, lines, measures, gaugeMm).find(({ gaugeLine }) => pathNearest(gaugeLine, key).distanceMm < onFaceMm)
  return { rail: kept ?? null, lostMm: rail.gaugeLine.lengthMm - (kept?.gaugeLine.lengthMm ?? 0) }
}

/** As near to a face lies on it: cut at a step, the key may fall between two. */
const onFaceMm = 1e-6

/** The two sides of a head at a station: its face, and where it ends behind that. */
function headAt(rail: TurnoutRail, stationMm: number, railHeadMm: number): readonly [face: Point, far: Point] {
  const face = pathPoseAt(rail.gaugeLine, stationMm)
  const reach = rail.headSide * railHeadMm
  return [face, { x: face.x - reach * Math.sin(face.headingRad), y: face.y + reach * Math.cos(face.headingRad) }]
}

/** Whether a head lies where a line has its own or its flanges run: on the side without the head, nearer than a flangeway. */
function standsIn([face, far]: readonly [Point, Point], line: GaugeLine, flangewayMm: number, railHeadMm: number): boolean {
  const a = flangeOffset(face, line)
  if (a === null) return false
  const b = flangeOffset(far, line)
  if (b === null) return false
  const slack = slackFlangeways * flangewayMm
  return Math.min(a, b) < flangewayMm - slack && Math.max(a, b) > slack - railHeadMm
}

/** How far a point lies off a line, on the side on which its flanges run; null: not abreast of it, for beyond its ends there is none. */
function flangeOffset(point: Point, { path, side }: GaugeLine): number | null {
  const near = pathNearest(path, point)
  return Math.abs(near.distanceMm - Math.abs(near.offsetMm)) < 1e-6 ? -sideSign(side) * near.offsetMm : null
}
