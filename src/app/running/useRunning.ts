import { useEffect, useMemo, useRef } from 'react'
import { benchArea } from '../../core/checks/index.ts'
import { bandKeepCreate, clearancesFound } from '../../core/clearance/index.ts'
import type { TrainCar } from '../../core/vehicles/index.ts'
import { trainPut } from '../../tools/push/push.ts'
import { useDerivedAtRest } from '../atRest.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import { bodiesOnTrack } from './cars.ts'
import { trainView } from './trainView.ts'
import type { TrainView } from './trainView.ts'
import { useCarChoices, useTrainChosen } from './useCars.ts'
import type { TrainChosen } from './useCars.ts'

/** The page may be kept from moving for so long at once, ms; the free room beside one long track may take a little more. */
const sliceMs = 6

/** Finds what is free beside the tracks whenever the plan has come to rest, in slices between which the page moves. */
export function useClearancesFound(): void {
  const desk = useDeskStore()
  const { network } = useDerivedAtRest()
  const choices = useCarChoices()
  const cars = useDesk((state) => state.bands?.cars ?? null)
  const keep = useRef(bandKeepCreate())
  const bodiesOn = useMemo(() => bodiesOnTrack(choices, cars), [choices, cars])
  useEffect(() => {
    const work = clearancesFound(network, bodiesOn, benchArea(network.plan.benchworks).rings, keep.current)
    let timer = setTimeout(slice)
    function slice(): void {
      const until = performance.now() + sliceMs
      do {
        const step = work.next()
        if (step.done === true) {
          desk.getState().set({ clearances: step.value })
          return
        }
      } while (performance.now() < until)
      timer = setTimeout(slice)
    }
    return () => clearTimeout(timer)
  }, [desk, network, bodiesOn])
}

/** A train that was only wished for is put on its track; where there is no room the wish is dropped. */
export function useTrainPut(): void {
  const desk = useDeskStore()
  const { network } = useDerivedAtRest()
  const push = useDesk((state) => state.push)
  const chosen = useTrainChosen(push, network)
  useEffect(() => {
    if (push === null || push.isPlaced) return
    const cars = chosen?.all.map(({ car }) => car) ?? null
    const train = cars === null ? null : trainPut(network, cars, push.train)
    desk.getState().set({ push: { ...push, isPlaced: true, train: train ?? { ...push.train, stop: { kind: 'curve' } } } })
  }, [desk, network, chosen, push])
}

export interface TrainInHand {
  readonly chosen: TrainChosen
  readonly cars: readonly TrainCar[]
  /** Null where it stands nowhere. */
  readonly view: TrainView | null
}

/** The train in hand as it stands; null: none. */
export function useTrain(): TrainInHand | null {
  const { network } = useDerivedAtRest()
  const push = useDesk((state) => state.push)
  const clearances = useDesk((state) => state.clearances)
  const chosen = useTrainChosen(push, network)
  const cars = useMemo(() => chosen?.all.map(({ car }) => car) ?? [], [chosen])
  const train = push?.isPlaced === true ? push.train : null
  const view = useMemo(() => (train === null ? null : trainView(network, cars, train, clearances)), [network, cars, train, clearances])
  return chosen === null ? null : { chosen, cars, view }
}
