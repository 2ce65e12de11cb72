import type { Roadbed } from './laying.ts'

/** Half of a roadbed's width so high over its foot: that of its top, and what its shoulder falls outwards down to there. */
export function roadbedHalfMm({ topWidthMm, shoulderRun, thicknessMm }: Roadbed, heightMm: number): number {
  return topWidthMm / 2 + shoulderRun * Math.max(0, thicknessMm - heightMm)
}
