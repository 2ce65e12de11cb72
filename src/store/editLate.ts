import { late } from '../engine/late.ts'
import type { Late } from '../engine/late.ts'
import type { editing } from './editing.ts'

/** What edits: with it come the rules of every record, and the reader of whole plans has the same. It comes with the tool in the hand. */
export const editLate: Late<typeof editing> = late(async () => (await import('./editing.ts')).editing)
