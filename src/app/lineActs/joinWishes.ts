import type { JoinStop } from '../../core/alignment/index.ts'
import type { JoinWishes } from '../../core/pipeline/index.ts'

/** What is asked of a join in place of class and cars; null: as these do. */
export type Wishes = Required<JoinWishes>

export const wishesNone: Wishes = { tangentMm: null, shortestMm: null, minRadiusMm: null, mostRadiusMm: null, easementMm: null }

/** What has to be asked for a line to lead there, of one limit that would give way; null: nothing would. */
export function wishesGiveWay(stop: JoinStop): Partial<Wishes> | null {
  switch (stop.limit) {
    case 'radius':
      return stop.isBare ? { minRadiusMm: stop.nearestMm, easementMm: 0, shortestMm: 0, tangentMm: 0 } : { minRadiusMm: stop.nearestMm }
    case 'easement':
      return { easementMm: stop.nearestMm }
    case 'tangent':
      return { tangentMm: stop.nearestMm }
    case 'curve':
      return { shortestMm: stop.nearestMm }
    case 'place':
      return null
  }
}
