import type { Run } from './run.ts'

/**
 * The most room that a run asks anywhere between its centreline and half way to a neighbour, mm: as far as its cars reach, and half the
 * running clearance. What they reach at a station is asked of run.reach.
 */
export function runDemandMost({ reach, railway }: Run): number {
  return reach.mostMm + railway.runningClearanceMm / 2
}
