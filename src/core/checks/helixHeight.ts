import { pathPoseAt } from '../geom/index.ts'
import { makerExpand } from '../makers/index.ts'
import type { Network } from '../network/types.ts'
import type { Maker, MakerNumbers, Plan } from '../plan/types.ts'
import { clearHeightOver, clearHeightSource } from '../standards/index.ts'
import type { Helix } from '../levels/index.ts'
import { numbersCure } from './numbersCure.ts'
import type { Finding } from './types.ts'

/** A helix of less than a turn has nothing over it; half a degree less is less. */
const FULL_RAD = 2 * Math.PI - 0.01

/** Lower than asked by no more than this still keeps the height, mm. */
const HEIGHT_ROUNDING_MM = 1e-3

/**
 * A helix whose turns leave less than the usual height between a railhead and the deck over it. Its tracks are not too close as long as the
 * turns lie over each other at all; this says whether a train fits between them.
 *
 * Source:   the height is the standard's for the scale, whatever cars the railway has: their heights are not known.
 */
export function helixHeight(plan: Plan, network: Network, maker: Maker, { track: { alignment }, levels }: Helix): readonly Finding[] {
  const { numbers } = maker
  const leastMm = clearHeightOver(plan.railway.ratio)
  if (numbers.kind !== 'helix' || !alignment.ok || levels.turnRad < FULL_RAD || levels.clearMm >= leastMm - HEIGHT_ROUNDING_MM) return []
  const { x, y } = pathPoseAt(alignment.path, (levels.footMm + levels.headMm) / 2)
  const cured: MakerNumbers = { ...numbers, rise: { kind: 'clear', clearMm: Math.ceil(leastMm * 10) / 10 } }
  const isSafe = makerExpand(plan, network, { ...maker, numbers: cured }).ok
  return [
    {
      id: `helix-height:${maker.id}`,
      rule: 'helix-height',
      severity: 'error',
      stage: 'line',
      table: 'makers',
      record: maker.id,
      otherRecord: null,
      corner: null,
      stationFromMm: null,
      stationToMm: null,
      x,
      y,
      measured: levels.clearMm,
      limit: leastMm,
      unit: 'mm',
      source: clearHeightSource,
      problem: null,
      cure: isSafe ? numbersCure(maker, cured) : null,
    },
  ]
}
