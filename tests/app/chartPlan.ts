import type { Plan } from '../../src/core/plan/types.ts'
import { roomPlan } from './desk.tsx'

export const inch = 25.4

/** One of each that has a station: a turnout, a joint of the builder's own, a portal. */
export function standingPlan(): Plan {
  const plan = roomPlan()
  const portal = { name: 'Cellar mouth', track: 'track-1', stationMm: 200, lengthMm: 150, leftMm: 40, rightMm: 40, heightMm: 90 }
  return {
    ...plan,
    railJoints: { 'joint-1': { id: 'joint-1', track: 'track-1', rail: 'left', stationMm: 500 } },
    portals: { 'portal-1': { id: 'portal-1', ...portal } },
  }
}

/** A curve of 3 in where the class asks 28. */
export function sharpPlan(): Plan {
  const given = standingPlan()
  const track = given.tracks['track-1']
  if (track === undefined) throw new Error('a track is there')
  const corners = track.corners.map((corner, i) =>
    i === 1 ? { ...corner, radius: 3 * inch, easementIn: 2 * inch, easementOut: 2 * inch } : corner,
  )
  return { ...given, tracks: { ...given.tracks, 'track-1': { ...track, corners } } }
}
