import type { Climate } from '../plan/types.ts'
import type { ExpansionRule } from './types.ts'

/**
 * How far a gap between two rails closes and opens from the day of laying on, as a part of the rail's length between gaps.
 *
 * Rail of a length L grows by a L dT. The bench that carries its middles grows by b L dH, and takes the ends of neighbouring rails apart by as
 * much. So a gap closes by L (a dT - b dH): at worst in the hottest room when the air is driest, and opens at most in the coldest when
 * it is dampest. Whichever comes below nothing is nothing: the day of laying was the worst already.
 *
 * Source: derived.
 */
export function expansionOf(climate: Climate): ExpansionRule {
  const { laidC, coldestC, hottestC, laidHumidity, driestHumidity, dampestHumidity, railPerK, benchPerHumidity } = climate
  return {
    closesPart: Math.max(0, railPerK * (hottestC - laidC) + benchPerHumidity * (laidHumidity - driestHumidity)),
    opensPart: Math.max(0, railPerK * (laidC - coldestC) + benchPerHumidity * (dampestHumidity - laidHumidity)),
  }
}
