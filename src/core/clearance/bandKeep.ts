import type { Network } from '../network/types.ts'
import type { Id } from '../plan/types.ts'
import { bodiesLongest } from '../vehicles/index.ts'
import type { RigidBody } from '../vehicles/index.ts'
import { trackLine } from './line.ts'
import { lineBand } from './lineBand.ts'
import { zoneStore } from './reach.ts'
import type { ZoneStore } from './reach.ts'
import type { SweptTrack, TrackLine } from './types.ts'

/** Bands kept by track; one is swept again only when its line or its cars are others, and then only over bends that are new. */
export interface BandKeep {
  readonly bands: Map<Id, { readonly line: TrackLine; readonly bodies: readonly RigidBody[]; readonly swept: SweptTrack }>
  readonly zones: ZoneStore
}

export function bandKeepCreate(): BandKeep {
  return { bands: new Map(), zones: zoneStore() }
}

/**
 * The band of a track, a little between two pauses: the same object as before while its line and its cars are the same.
 *
 * Units:      mm. Bodies are told apart by identity.
 * Outcome:    null for a track that is not solved, or on which nothing runs.
 */
export function* bandKept(
  network: Network,
  track: Id,
  bodies: readonly RigidBody[],
  stepMm: number,
  { bands, zones }: BandKeep,
): Generator<undefined, SweptTrack | null> {
  if (bodies.length === 0) return null
  const line = trackLine(network, track, 2 * bodiesLongest(bodies))
  if (line === null) return null
  const before = bands.get(track)
  if (before !== undefined && before.bodies === bodies && isSameLine(before.line, line)) return before.swept
  const swept = yield* lineBand(line, bodies, zones, stepMm)
  bands.set(track, { line, bodies, swept })
  return swept
}

function isSameLine(a: TrackLine, b: TrackLine): boolean {
  return (
    a.startMm === b.startMm &&
    a.endMm === b.endMm &&
    a.isClosed === b.isClosed &&
    a.level === b.level &&
    a.path.lengthMm === b.path.lengthMm &&
    a.path.elements.length === b.path.elements.length &&
    a.path.elements.every((one, i) => {
      const other = b.path.elements[i]
      return (
        other !== undefined &&
        one.lengthMm === other.lengthMm &&
        one.k0 === other.k0 &&
        one.k1 === other.k1 &&
        one.start.x === other.start.x &&
        one.start.y === other.start.y &&
        one.start.headingRad === other.start.headingRad
      )
    })
  )
}
