import { useMemo } from 'react'
import type { Network } from '../../core/network/index.ts'
import { usePlan, usePrefs } from '../context.ts'
import type { Push } from '../desk.ts'
import { carChoices } from './cars.ts'
import type { CarChoice } from './cars.ts'

/** Everything that can be chosen to run. */
export function useCarChoices(): readonly CarChoice[] {
  const vehicles = usePlan((state) => state.plan.vehicles)
  const railway = usePlan((state) => state.plan.railway)
  const units = usePrefs((prefs) => prefs.units)
  return useMemo(() => carChoices({ vehicles, railway }, units), [vehicles, railway, units])
}

/** The car of a train: the one chosen, else the first of the worst cars of its track's class, else the first there is. */
function carOfPush({ car, train }: Push, choices: readonly CarChoice[], network: Network): CarChoice | null {
  const [worst] = network.tracks.get(train.place.track)?.lineClass.cars ?? []
  const find = (key: string | null): CarChoice | undefined => choices.find((choice) => choice.key === key)
  return find(car) ?? find(worst === undefined ? null : `own:${worst}`) ?? choices[0] ?? null
}

/** A train from its head backwards: what leads it, if anything does, and its cars. null: there is nothing that runs. */
export interface TrainChosen {
  readonly lead: CarChoice | null
  readonly car: CarChoice
  readonly all: readonly CarChoice[]
}

/** The train that is wished for. A vehicle that is not there any more leads nothing. */
export function useTrainChosen(push: Push | null, network: Network): TrainChosen | null {
  const choices = useCarChoices()
  const car = push === null ? null : carOfPush(push, choices, network)
  const lead = choices.find(({ key }) => key === push?.lead) ?? null
  const count = push?.count ?? 0
  return useMemo(
    () => (car === null ? null : { lead, car, all: [...(lead === null ? [] : [lead]), ...Array.from({ length: count }, () => car)] }),
    [lead, car, count],
  )
}
