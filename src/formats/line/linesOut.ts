import type { Network } from '../../core/network/types.ts'
import type { LineOut } from './types.ts'

/** The solved tracks of a network as lines to be written. */
export function linesOut({ tracks }: Pick<Network, 'tracks'>): readonly LineOut[] {
  return [...tracks.values()].flatMap(({ track, alignment }) => (alignment.ok ? [{ name: track.name, path: alignment.path }] : []))
}
