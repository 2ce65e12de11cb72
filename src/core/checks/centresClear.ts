import { zoneStore } from '../clearance/index.ts'
import type { ZoneStore } from '../clearance/index.ts'
import { makerTried } from '../makers/index.ts'
import { networkCreateDeriver } from '../network/index.ts'
import type { Network } from '../network/types.ts'
import type { Id, Maker, Plan } from '../plan/types.ts'
import { centresCure } from './centresCure.ts'
import { lengthsOf, numbersCure } from './numbersCure.ts'
import { roadbedOverlap } from './roadbedOverlap.ts'
import type { Run } from './run.ts'
import { runOfTrial, trackHang } from './runs.ts'
import { trackClearance } from './trackClearance.ts'
import type { Cure, Finding } from './types.ts'

type NumbersCure = Extract<Cure, { readonly kind: 'setNumbers' }>

/** Where lines bend beside each other they part by less than their centres do; after so many tries they will not part at all. */
const mostTries = 6

/** Centres are told in tenths of a millimetre. */
const STEP_MM = 0.1

/** Under a step by this, so that rounding up comes to the step and not to the next. */
const INSIDE_MM = STEP_MM / 1000

/**
 * A function that gives the wider centres of a maker with which the two tracks of a finding lie clear of each other, tried on the plan with
 * all that it would make; null: there are none.
 *
 * Outcome:    every place of the two that this number decides is clear; what another number of the maker decides is told with that one.
 *             With a step less they are not: where tracks part by more than their centres do, what is missing would be too much.
 * Exactness:  the number to the next tenth of a mm; what is clear is so by the checks themselves.
 */
export function centresClearCreate(): (finding: Finding, plan: Plan, network: Network, maker: Maker) => Cure | null {
  // Of the plans tried one after the other only what the maker made is another.
  const derive = networkCreateDeriver()
  const swept = zoneStore()
  return (finding, plan, network, maker) => {
    const first = asNumbers(centresCure(finding, plan, network, maker))
    if (first === null) return null
    /** What is still asked of the same number with a cure; null: the maker cannot make that. */
    const askedWith = ({ numbers }: NumbersCure): readonly NumbersCure[] | null => {
      const now = { ...maker, numbers }
      const tried = makerTried(plan, network, now)
      if (tried === null) return null
      return leftBetween(finding, tried.plan, derive(tried.plan), swept).flatMap((one) => {
        const next = asNumbers(centresCure(one, plan, network, now))
        return next?.name === first.name ? [next] : []
      })
    }
    let cure = first
    for (let tries = 0; tries < mostTries; tries++) {
      const asked = askedWith(cure)
      if (asked === null) return null
      const widest = asked.toSorted((a, b) => b.lengthMm - a.lengthMm)[0]
      if (widest === undefined) {
        // Of roadbeds less is told than lies in the other: with the least that is told nothing of they would still overlap.
        if (finding.rule === 'roadbed-overlap') return numbersCure(maker, cure.numbers)
        const wasMm = lengthsOf(maker.numbers).get(first.name)
        const at = (lengthMm: number): NumbersCure | null =>
          wasMm === undefined ? null : asNumbers(centresCure(finding, plan, network, maker, lengthMm - wasMm - INSIDE_MM))
        const isClear = (one: NumbersCure): boolean => askedWith(one)?.length === 0
        return numbersCure(maker, least(cure, wasMm ?? cure.lengthMm, at, isClear).numbers)
      }
      cure = widest
    }
    return null
  }
}

const asNumbers = (cure: Cure | null): NumbersCure | null => (cure?.kind === 'setNumbers' ? cure : null)

/** The least of a length that is clear, between one that is not and a cure that is. Mostly a step less is not, and that is all. */
function least(
  cure: NumbersCure,
  fromMm: number,
  at: (lengthMm: number) => NumbersCure | null,
  isClear: (cure: NumbersCure) => boolean,
): NumbersCure {
  let [found, low, high] = [cure, Math.floor(fromMm / STEP_MM + INSIDE_MM), Math.round(cure.lengthMm / STEP_MM)]
  for (let steps = high - 1; steps > low; steps = Math.floor((low + high) / 2)) {
    const tried = at(steps * STEP_MM)
    if (tried !== null && isClear(tried)) [found, high] = [tried, steps]
    else low = steps
  }
  return found
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
