import { cornerTurn, radiusFits, radiusLargestFitting, radiusLeastFitting, trackTraverse } from '../alignment/index.ts'
import type { LegPoseOf } from '../alignment/index.ts'
import type { Traverse } from '../alignment/types.ts'
import { legPose } from '../network/index.ts'
import type { Network, NetworkTrack } from '../network/types.ts'
import type { Id } from '../plan/types.ts'
import type { RadiusRoom } from './types.ts'

/** What is told is rounded to this, to the side that fits, so that a typed value shows all its digits. */
const STEP_MM = 0.1

/** Through its text, for a tenth as a sum of doubles is not the tenth that is typed. */
const tidy = (tenths: number): number => Number((tenths * STEP_MM).toFixed(1))
export const roundedDown = (lengthMm: number): number => tidy(Math.floor(lengthMm / STEP_MM + 1e-9))
const roundedUp = (lengthMm: number): number => tidy(Math.ceil(lengthMm / STEP_MM - 1e-9))

/** A search ends at a tenth of what is told. */
const SEARCH_MM = STEP_MM / 10

/** Wider than any room, mm: ten kilometres of straight. */
const WIDEST_MM = 1e7

/**
 * The radii that a corner of a track can have between its neighbours as they are. Easements by class are those of each radius.
 *
 * Outcome:  null for a corner of several radii, of easements alone, or without a turn.
 * Throws:   never.
 */
export function radiusRoom({ track, lineClass }: NetworkTrack, legPoseOf: LegPoseOf, index: number): RadiusRoom | null {
  const corner = track.corners[index]
  if (corner === undefined || typeof corner.radius === 'object' || corner.radius === 'easement-only') return null
  const turnRad = cornerTurn(track, lineClass, legPoseOf, index)
  if (turnRad === null) return null
  const leastMm = radiusLeastFitting(corner, lineClass.easement, turnRad, lineClass.usualRadiusMm)
  const traverseAt = (radiusMm: number): Traverse | null => {
    const corners = track.corners.map((one, i) => (i === index ? { ...one, radius: radiusMm } : one))
    const resolved = trackTraverse({ ...track, corners }, lineClass, legPoseOf)
    return resolved.ok ? resolved.traverse : null
  }
  const mostMm = radiusMost(traverseAt, index, leastMm ?? STEP_MM, corner.easementIn === 'class' || corner.easementOut === 'class')
  return {
    corner: index,
    radiusMm: corner.radius === 'class' ? lineClass.usualRadiusMm : corner.radius,
    leastMm: leastMm === null ? null : roundedUp(leastMm),
    mostMm: mostMm === null ? null : roundedDown(mostMm),
    classMm: lineClass.minRadiusMm,
  }
}

/** The radii that a corner of a network's track can have; null as `radiusRoom`, and where the track is not there. Throws: never. */
export function cornerRadiusRoom({ tracks, turnouts }: Network, track: Id, index: number): RadiusRoom | null {
  const networkTrack = tracks.get(track)
  if (networkTrack === undefined) return null
  const legPoseOf: LegPoseOf = (turnout, leg) => {
    const on = turnouts.get(turnout)
    return on === undefined ? null : legPose(on.result, leg)
  }
  return radiusRoom(networkTrack, legPoseOf, index)
}

/** The largest radius that fits, from one that is to fit on; wider curves ask for more of both sides. */
function radiusMost(traverseAt: (radiusMm: number) => Traverse | null, index: number, fromMm: number, isByClass: boolean): number | null {
  if (!isByClass) {
    const traverse = traverseAt(fromMm)
    return traverse === null ? null : radiusLargestFitting(traverse, index)
  }
  const fits = (radiusMm: number): boolean => {
    const traverse = traverseAt(radiusMm)
    return traverse !== null && radiusFits(traverse, index)
  }
  if (!fits(fromMm)) return null
  let [lowMm, highMm] = [fromMm, 2 * fromMm]
  while (highMm < WIDEST_MM && fits(highMm)) [lowMm, highMm] = [highMm, 2 * highMm]
  while (highMm - lowMm > SEARCH_MM) {
    const middleMm = (lowMm + highMm) / 2
    if (fits(middleMm)) lowMm = middleMm
    else highMm = middleMm
  }
  return lowMm
}

/** The radius nearest to that asked for which fits and keeps the class; null: none does both. */
export function radiusNearest({ radiusMm, leastMm, mostMm, classMm }: RadiusRoom): number | null {
  if (mostMm === null) return null
  const wanted = Math.max(Math.min(radiusMm, mostMm), leastMm ?? 0, roundedUp(classMm))
  return wanted <= mostMm ? wanted : null
}
