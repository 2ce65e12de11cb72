import type { Network } from '../network/types.ts'
import type { Id } from '../plan/types.ts'

/** Forgets tracks that are no longer there once more are known than there are: thousands of them are not looked up at each step of a drag. */
export function goneForget(known: Map<Id, unknown>, { tracks }: Network): void {
  if (known.size <= tracks.size) return
  for (const id of known.keys()) if (!tracks.has(id)) known.delete(id)
}
