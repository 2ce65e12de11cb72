import { useMemo } from 'react'
import type { ReactNode } from 'react'
import { trackBeside } from '../../core/network/index.ts'
import type { Id } from '../../core/plan/types.ts'
import { besideText } from '../../words/parallelText.ts'
import { recordName } from '../../words/names.ts'
import { useDerivedAtRest } from '../atRest.ts'
import { usePlan, usePrefs } from '../context.ts'
import { FactRow } from '../fields/ValueField.tsx'
import { MetTrackWord } from './MetTrackWord.tsx'

/** How far a track lies from the one beside it: whether they are parallel is seen here after either of them was moved. */
export function BesideTrack({ id }: { readonly id: Id }): ReactNode {
  const { network } = useDerivedAtRest()
  const prefs = usePrefs((state) => state)
  const beside = useMemo(() => {
    const own = network.tracks.get(id)
    return own === undefined ? null : trackBeside(network.tracks.values(), own)
  }, [network, id])
  const name = usePlan(({ plan }) => (beside === null ? '' : recordName(plan, 'tracks', beside.track)))
  if (beside === null) return null
  return <FactRow label="Beside" value={besideText(beside, name, prefs)} origin={<MetTrackWord track={beside.track} />} />
}
