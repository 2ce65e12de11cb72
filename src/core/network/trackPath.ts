import type { Path } from '../geom/types.ts'
import type { Id } from '../plan/types.ts'
import type { Network } from './types.ts'

/** The line of a track; null: it is not there, or not solved. */
export function trackPath({ tracks }: Pick<Network, 'tracks'>, track: Id): Path | null {
  const alignment = tracks.get(track)?.alignment
  return alignment?.ok === true ? alignment.path : null
}
