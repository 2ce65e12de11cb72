import type { Network, NetworkCrossing, NetworkTrack } from '../network/types.ts'
import { keptFor, keptForPairs } from '../plan/index.ts'
import type { Id, Maker } from '../plan/types.ts'
import { helixOf, isOnOtherLevel, levelBeside } from './lineLevel.ts'
import type { Helix, LineLevel } from './lineLevel.ts'

/** What is known of the heights of a network's tracks. */
export interface TrackLevels {
  /** Helices that stand, in the order of their makers. */
  readonly helices: readonly { readonly maker: Maker; readonly helix: Helix }[]
  /** Heights at stations of a track; null: nothing is known, as of all that has nothing to do with a helix. */
  readonly of: (track: Id) => LineLevel | null
}

const helixKept = keptFor(helixOf)
const besideKept = keptForPairs(levelBeside)
const levelsKept = keptFor(levelsFound)

/** What is known of the heights of a network's tracks. The same objects again for helices and tracks that an edit left alone. */
export function trackLevels(network: Network): TrackLevels {
  return levelsKept(network)
}

function levelsFound(network: Network): TrackLevels {
  const helices = Object.values(network.plan.makers).flatMap((maker) => {
    const made = maker.numbers.kind === 'helix' ? network.tracks.get(maker.made.tracks[0] ?? '') : undefined
    const helix = made === undefined ? null : helixKept(maker, made)
    return helix === null ? [] : [{ maker, helix }]
  })
  const levelOf = (track: NetworkTrack): LineLevel | null => {
    for (const { helix } of helices) {
      const level = helix.track === track ? helix.level : besideKept(track, helix)
      if (level !== null) return level
    }
    return null
  }
  return {
    helices,
    of: (id) => {
      const track = helices.length === 0 ? undefined : network.tracks.get(id)
      return track === undefined ? null : levelOf(track)
    },
  }
}

/** Whether two tracks only seem to cross: a helix is known to bring the one over the other. */
export function isOverpass({ track, other, stationMm, otherStationMm }: NetworkCrossing, { of }: TrackLevels): boolean {
  return isOnOtherLevel(of(track), stationMm, of(other), otherStationMm, 0)
}
