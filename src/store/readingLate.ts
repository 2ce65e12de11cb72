import { late } from '../engine/late.ts'
import type { reading } from './reading.ts'

const readingLate = late(async () => (await import('./reading.ts')).reading)

/** What reads a plan that lies somewhere. Who comes for the first time has none, and goes without. */
export async function readingBring(): Promise<typeof reading> {
  return readingLate.now() ?? (await readingLate.bring())
}
