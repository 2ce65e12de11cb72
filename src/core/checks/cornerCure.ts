import { trackAlignment } from '../alignment/index.ts'
import type { LegPoseOf } from '../alignment/index.ts'
import type { Alignment } from '../alignment/types.ts'
import type { Pose } from '../geom/types.ts'
import type { NetworkTrack } from '../network/types.ts'
import type { Corner, Track } from '../plan/types.ts'
import type { Cure } from './types.ts'

/** A cure that changes one corner of a track. */
export type CornerCure = Extract<Cure, { kind: 'setRadius' | 'scaleEasements' | 'easementsMeet' }>

/** The corner that a cure changes, as it is. */
export function cureCorner({ corners }: Track, cure: CornerCure): Corner | undefined {
  return corners.find(({ id }) => id === cure.corner)
}

/** Poses of the legs that a track starts and ends at, as the alignment asks for them. */
export function legPosesOf({ start, end }: Track, startLeg: Pose | null, endLeg: Pose | null): LegPoseOf {
  return (turnout, leg) => {
    if (start.kind === 'leg' && start.turnout === turnout && start.leg === leg) return startLeg
    return end.kind === 'leg' && end.turnout === turnout && end.leg === leg ? endLeg : null
  }
}

/** What a cure changes of its corner. */
export function cureChange(cure: CornerCure): Partial<Omit<Corner, 'id'>> {
  switch (cure.kind) {
    case 'setRadius':
      return { radius: cure.radiusMm }
    case 'scaleEasements':
      return { easementIn: cure.easementInMm, easementOut: cure.easementOutMm }
    case 'easementsMeet':
      return { radius: 'easement-only' }
  }
}

/** The line that the track would have with a cure applied: the proof of the cure. */
export function cureTried({ track, lineClass }: NetworkTrack, cure: CornerCure, legPoseOf: LegPoseOf): Alignment {
  const corners = track.corners.map((corner) => (corner.id === cure.corner ? { ...corner, ...cureChange(cure) } : corner))
  return trackAlignment({ ...track, corners }, lineClass, legPoseOf)
}
