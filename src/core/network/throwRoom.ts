import { pathPoseAt, poseCompose, poseReverse } from '../geom/index.ts'
import type { Path, Pose } from '../geom/types.ts'
import type { Joist } from '../plan/types.ts'
import { throwZonesOf, zoneClearance } from '../turnout/index.ts'
import type { ThrowZone } from '../turnout/types.ts'
import type { NetworkTurnout } from './types.ts'

/** Places along the host at which a free one is looked for, mm. */
const stepMm = 0.5

/** Joists that cross the room of switch machines; zones in the frame of the work at `pose`. A joist that just touches counts. */
export function joistsInRoom(zones: readonly ThrowZone[], pose: Pose, joists: readonly Joist[]): readonly Joist[] {
  return joists.filter(({ from, to, widthMm }) =>
    zones.some((zone) => zoneClearance({ ...zone, middle: poseCompose(pose, zone.middle) }, from, to, widthMm) === 0),
  )
}

/**
 * The station next to a given one at which no machine of a turnout hangs under a joist, its host as it is: the given one itself where it does
 * not, and where nothing as near as the machine is long is free.
 *
 * Exactness: half a millimetre; on a bend the turnout itself changes a little as it moves.
 */
export function stationOffJoists({ turnout, result }: NetworkTurnout, path: Path, stationMm: number, joists: readonly Joist[]): number {
  if (!result.ok || joists.length === 0) return stationMm
  const zones = throwZonesOf(result.geometry)
  const isClear = (at: number): boolean => {
    const along = pathPoseAt(path, at)
    return joistsInRoom(zones, turnout.facing === 'rising' ? along : poseReverse(along), joists).length === 0
  }
  if (isClear(stationMm)) return stationMm
  // As far as it takes to get out from under one joist.
  const mostMm = Math.max(...zones.map(({ lengthMm }) => lengthMm)) + Math.max(...joists.map(({ widthMm }) => widthMm))
  for (let off = stepMm; off <= mostMm; off += stepMm) {
    for (const at of [stationMm - off, stationMm + off]) if (at >= 0 && at <= path.lengthMm && isClear(at)) return at
  }
  return stationMm
}
