import type { Run } from './run.ts'

/**
 * The most room that a run asks anywhere between its centreline and half way to a neighbour, mm: as far as its cars reach, and half of what is
 * asked between them. What they reach at a station is asked of run.reach.
 */
export function runDemandMost({ reach, clearanceMm }: Run): number {
  return reach.mostMm + clearanceMm / 2
}
