import { zoneStore } from '../clearance/index.ts'
import type { ZoneStore } from '../clearance/index.ts'
import { makerTried } from '../makers/index.ts'
import { networkCreateDeriver } from '../network/index.ts'
import type { Network } from '../network/types.ts'
import type { Id, Maker, Plan } from '../plan/types.ts'
import { centresCure } from './centresCure.ts'
import { numbersCure } from './numbersCure.ts'
import { roadbedOverlap } from './roadbedOverlap.ts'
import type { Run } from './run.ts'
import { runOfTrial, trackHang } from './runs.ts'
import { trackClearance } from './trackClearance.ts'
import type { Cure, Finding } from './types.ts'

/** Where lines bend beside each other they part by less than their centres do; after so many tries they will not part at all. */
const mostTries = 6

/**
 * A function that gives the wider centres of a maker with which the two tracks of a finding lie clear of each other, tried on the plan with
 * all that it would make; null: there are none.
 *
 * Outcome:    every place of the two that this number decides is clear; what another number of the maker decides is told with that one.
 * Exactness:  the number to the next tenth of a mm; what is clear is so by the checks themselves.
 */
export function centresClearCreate(): (finding: Finding, plan: Plan, network: Network, maker: Maker) => Cure | null {
  // Of the plans tried one after the other only what the maker made is another.
  const derive = networkCreateDeriver()
  const swept = zoneStore()
  return (finding, plan, network, maker) => {
    const first = centresCure(finding, plan, network, maker)
    if (first?.kind !== 'setNumbers') return null
    let cure = first
    for (let tries = 0; tries < mostTries; tries++) {
      const now = { ...maker, numbers: cure.numbers }
      const tried = makerTried(plan, network, now)
      if (tried === null) return null
      const left = leftBetween(finding, tried.plan, derive(tried.plan), swept).flatMap((one) => {
        const next = centresCure(one, plan, network, now)
        return next?.kind === 'setNumbers' && next.name === first.name ? [next] : []
      })
      const widest = left.toSorted((a, b) => b.lengthMm - a.lengthMm)[0]
      if (widest === undefined) return numbersCure(maker, cure.numbers)
      cure = widest
    }
    return null
  }
}

/** What the rule of a finding tells of its two tracks on another plan. */
function leftBetween({ rule, record, otherRecord }: Finding, plan: Plan, network: Network, swept: ZoneStore): readonly Finding[] {
  const runOf = (id: Id | null): Run | null => {
    const track = id === null ? undefined : network.tracks.get(id)
    if (track === undefined) return null
    const { start, end } = trackHang(track, network)
    return runOfTrial(track, start, end, { plan, network }, swept)
  }
  const [run, other] = [runOf(record), runOf(otherRecord)]
  if (run === null || other === null) return []
  const near = trackClearance(run, other)
  return rule === 'roadbed-overlap' ? roadbedOverlap(run, other, near) : near.filter(({ problem }) => problem === null)
}
