import { useState } from 'react'
import type { ReactNode } from 'react'
import { trackExtend, trackMerge, trackOrigin, trackReverse, trackSplit, trackTrim } from '../../core/alignment/index.ts'
import type { MergeEnd, TakenStretch, TrackInPlan, TrackOperationResult } from '../../core/alignment/index.ts'
import { turnoutStretch } from '../../core/network/index.ts'
import type { Network } from '../../core/network/types.ts'
import type { Id } from '../../core/plan/types.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { LengthField } from '../fields/fields.tsx'
import type { Keep } from '../fields/ValueField.tsx'
import { Act, Fields, ParticularsHead } from '../particulars/parts.tsx'
import { planEdit } from '../planEdit.ts'
import { operationProblemText } from './shapeText.ts'

/** Cuts, lengthens, turns round and merges a track; each is one step, and the line stays where it is. */
export function ShapePanel({ track: id }: { readonly track: Id }): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const plan = usePlan((state) => state.plan)
  const network = useDerived((state) => state.derived.network)
  const on = trackOn(network, id)
  const hoverMm = stores.session.getState().hover
  const [typedMm, setStation] = useState<number | null>(hoverMm?.track === id ? hoverMm.stationMm : null)
  const [byMm, setBy] = useState(prefs.units === 'imperial' ? 304.8 : 300)
  const [problem, setProblem] = useState<string | null>(null)
  if (on === null) return <p className="lead">This track has no solved line to work on.</p>
  const stationMm = typedMm ?? on.alignment.path.lengthMm / 2
  const taken = takenOn(network, id)
  const isLoop = on.track.end.kind === 'closed'

  function done(result: TrackOperationResult): void {
    setProblem(result.ok ? planEdit(stores, result.command).problem : operationProblemText(result.problem, plan, prefs))
  }
  const keep = (take: (mm: number) => void): Keep<number> => ({
    commit: (mm) => {
      take(mm)
      setProblem(null)
      return null
    },
  })
  const others = isLoop ? [] : mergeable(network, on)

  return (
    <>
      <ParticularsHead title="Cut, lengthen, turn round" sub={on.track.name} />
      {problem === null ? null : (
        <p className="problems" role="alert">
          {problem}
        </p>
      )}
      <Fields>
        <LengthField label="At station" kind="room" range="zeroUp" value={stationMm} keep={keep(setStation)} />
      </Fields>
      <div className="acts is-column">
        <Act onClick={() => done(trackSplit(on, stationMm, taken))}>Split there</Act>
        {isLoop ? (
          <Act onClick={() => done(trackOrigin(on, stationMm))}>Station zero there</Act>
        ) : (
          <>
            <Act onClick={() => done(trackTrim(on, stationMm, 'before', taken))}>Cut off what lies behind</Act>
            <Act onClick={() => done(trackTrim(on, stationMm, 'behind', taken))}>Cut off what lies before</Act>
          </>
        )}
      </div>
      {isLoop ? null : (
        <>
          <Fields>
            <LengthField label="Longer by" value={byMm} keep={keep(setBy)} />
          </Fields>
          <div className="acts is-column">
            <Act isDisabled={on.track.start.kind !== 'free'} onClick={() => done(trackExtend(on, 'start', byMm))}>
              Lengthen the start
            </Act>
            <Act isDisabled={on.track.end.kind !== 'free'} onClick={() => done(trackExtend(on, 'end', byMm))}>
              Lengthen the end
            </Act>
          </div>
        </>
      )}
      <div className="acts is-column">
        <Act onClick={() => done(trackReverse(on))}>Reverse its stations</Act>
        {others.map(([own, other]) => (
          <Act key={`${own.end} ${other.on.track.id} ${other.end}`} onClick={() => done(trackMerge(own, other))}>
            Merge with {other.on.track.name} at the {own.end}
          </Act>
        ))}
      </div>
    </>
  )
}

function trackOn(network: Network, id: Id): TrackInPlan | null {
  const one = network.tracks.get(id)
  return one?.alignment.ok === true ? { plan: network.plan, track: one.track, lineClass: one.lineClass, alignment: one.alignment } : null
}

function takenOn(network: Network, id: Id): readonly TakenStretch[] {
  return (network.turnoutsOn.get(id) ?? []).flatMap(({ turnout, result }) =>
    result.ok ? [{ turnout: turnout.id, ...turnoutStretch(turnout, result.geometry.extent.fromMm, result.geometry.extent.toMm) }] : [],
  )
}

/** Ends of other tracks that this one may be merged with as it lies. */
function mergeable(network: Network, on: TrackInPlan): readonly (readonly [MergeEnd, MergeEnd])[] {
  const ends = ['start', 'end'] as const
  return [...network.tracks.keys()].flatMap((id) => {
    const other = id === on.track.id ? null : trackOn(network, id)
    if (other === null) return []
    return ends.flatMap((end) =>
      ends.flatMap((otherEnd): (readonly [MergeEnd, MergeEnd])[] => {
        const pair = [
          { on, end },
          { on: other, end: otherEnd },
        ] as const
        return trackMerge(...pair).ok ? [pair] : []
      }),
    )
  })
}
