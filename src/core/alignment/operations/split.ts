import type { PlanCommand } from '../../edit/types.ts'
import { planNextId } from '../../plan/index.ts'
import type { Id, Plan } from '../../plan/types.ts'
import { stationsRecounted, stationsShifted } from './counted.ts'
import { trackCut } from './cut.ts'
import { cornersRenamed, cornersReplace, freeAt, group, makerOn, refused, turnoutsOn } from './parts.ts'
import type { TakenStretch, TrackInPlan, TrackOperationResult } from './types.ts'

/** What is counted along a loop whose stations begin at one of them from now on. */
function fromStation(plan: Plan, track: Id, originMm: number, lengthMm: number): readonly PlanCommand[] {
  return stationsRecounted(plan, track, { to: (stationMm) => ({ track, stationMm: (stationMm - originMm + lengthMm) % lengthMm }) })
}

/**
 * The command that makes two tracks of one; the second takes what is counted along it behind the cut. A loop becomes one open track that
 * begins and ends there.
 *
 * Units:      mm.
 * Domain:     a solved track; `taken`: what its turnouts take, none of them may be cut.
 * Exactness:  as trackCut; what is counted along it stays where it is.
 * Outcome:    one command, or what is in the way.
 * Throws:     never.
 */
export function trackSplit(on: TrackInPlan, stationMm: number, taken: readonly TakenStretch[]): TrackOperationResult {
  const { plan, track, alignment } = on
  const maker = makerOn(plan, track.id)
  if (maker !== null) return refused({ kind: 'carriesMaker', maker })
  const result = trackCut(on, stationMm, taken)
  if (!result.ok) return result
  const { at, before, behind } = result.cut
  const { id, name, lineClass, end } = track
  if (end.kind === 'closed') {
    const { lengthMm } = alignment.path
    return group('Open loop', [
      { kind: 'track.setEnd', id, end: freeAt(at) },
      { kind: 'track.setStart', id, start: freeAt(at) },
      ...cornersReplace(track, cornersRenamed([...behind, ...before])),
      ...fromStation(plan, id, stationMm, lengthMm),
    ])
  }
  const newId = planNextId(plan, 'tracks')
  return group('Split track', [
    { kind: 'track.setEnd', id, end: freeAt(at) },
    ...cornersReplace(track, before),
    { kind: 'track.add', record: { id: newId, name, lineClass, start: freeAt(at), corners: behind, end } },
    ...stationsRecounted(plan, id, { to: (at) => (at > stationMm ? { track: newId, stationMm: at - stationMm } : null) }),
  ])
}

/** Which part of a trimmed track stays. */
export type TrimKeep = 'before' | 'behind'

/**
 * The command that cuts a track off at a station, as where it meets another (pathIntersections).
 *
 * Outcome:    one command; what is in the way; or the turnouts that stand on the part that would go.
 * Throws:     never.
 */
export function trackTrim(on: TrackInPlan, stationMm: number, keep: TrimKeep, taken: readonly TakenStretch[]): TrackOperationResult {
  const { plan, track } = on
  const maker = makerOn(plan, track.id)
  if (maker !== null) return refused({ kind: 'carriesMaker', maker })
  if (track.end.kind === 'closed') return refused({ kind: 'isALoop', track: track.id })
  const result = trackCut(on, stationMm, taken)
  if (!result.ok) return result
  const { at, before, behind } = result.cut
  const beyond = turnoutsOn(plan, track.id).filter((turnout) => turnout.stationMm > stationMm === (keep === 'before'))
  if (beyond.length > 0) return refused({ kind: 'turnoutsBeyond', turnouts: beyond.map((turnout) => turnout.id) })
  const { id } = track
  if (keep === 'before') return group('Trim track', [{ kind: 'track.setEnd', id, end: freeAt(at) }, ...cornersReplace(track, before)])
  return group('Trim track', [
    { kind: 'track.setStart', id, start: freeAt(at) },
    ...cornersReplace(track, behind),
    ...stationsShifted(plan, id, -stationMm),
  ])
}

/**
 * The command that lets the stations of a loop begin elsewhere, on a tangent. Its line stays where it is, and so does what is counted along it.
 *
 * Throws:     never.
 */
export function trackOrigin(on: TrackInPlan, stationMm: number): TrackOperationResult {
  const { plan, track, alignment } = on
  const maker = makerOn(plan, track.id)
  if (maker !== null) return refused({ kind: 'carriesMaker', maker })
  if (track.end.kind !== 'closed') return refused({ kind: 'notALoop', track: track.id })
  const inCurve = alignment.corners.find(({ tsMm, stMm }) => stationMm > tsMm && stationMm < stMm)
  if (inCurve !== undefined) return refused({ kind: 'inEasement', stationMm, beforeMm: inCurve.tsMm, behindMm: inCurve.stMm })
  const result = trackCut(on, stationMm, [])
  if (!result.ok) return result
  const { at, before, behind } = result.cut
  const { lengthMm } = alignment.path
  return group('Begin stations here', [
    { kind: 'track.setStart', id: track.id, start: freeAt(at) },
    ...cornersReplace(track, [...behind, ...before]),
    ...fromStation(plan, track.id, stationMm, lengthMm),
  ])
}
