import { late } from '../engine/late.ts'
import type { Late } from '../engine/late.ts'
import type { reading } from './reading.ts'

/** What reads a plan that lies somewhere. Who comes for the first time has none, and goes without. */
export const readingLate: Late<typeof reading> = late(async () => (await import('./reading.ts')).reading)
