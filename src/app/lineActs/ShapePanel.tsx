import { useEffect, useMemo, useState } from 'react'
import type { ReactNode } from 'react'
import { trackExtend, trackMerge, trackOrigin, trackReverse, trackSplit, trackTrim, trackTrimTo } from '../../core/alignment/index.ts'
import type { MergeEnd, TrackInPlan, TrackMeeting, TrackOperationProblem, TrackOperationResult } from '../../core/alignment/index.ts'
import { pathFromElements, pathPoseAt, pathStart, poseReverse } from '../../core/geom/index.ts'
import type { Pose } from '../../core/geom/types.ts'
import type { Network } from '../../core/network/types.ts'
import type { Id } from '../../core/plan/types.ts'
import { lengthText } from '../../words/measure.ts'
import { operationProblemText } from '../../words/operationText.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { useDeskStore } from '../desk.ts'
import type { Trial, TrialEnd } from '../desk.ts'
import { LengthField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import { FactRow } from '../fields/ValueField.tsx'
import type { Keep } from '../fields/ValueField.tsx'
import { Act, Fields, ParticularsHead } from '../particulars/parts.tsx'
import { planEdit } from '../planEdit.ts'
import { takenOn, trackOn } from './trackOn.ts'
import { TrimToPart } from './TrimToPart.tsx'
import { useTrimToChoice } from './trimToChoice.ts'

/** Cuts, lengthens, turns round and merges a track; each is one step, and the line stays where it is. */
export function ShapePanel({ track: id }: { readonly track: Id }): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const prefs = usePrefs((state) => state)
  const plan = usePlan((state) => state.plan)
  const network = useDerived((state) => state.derived.network)
  const on = useMemo(() => trackOn(network, id), [network, id])
  const hoverMm = stores.session.getState().hover
  const [typedMm, setStation] = useState<number | null>(hoverMm?.track === id ? hoverMm.stationMm : null)
  const [byMm, setBy] = useState(prefs.units === 'imperial' ? 304.8 : 300)
  const [problem, setProblem] = useState<TrackOperationProblem | string | null>(null)
  const trimTo = useTrimToChoice(network, on)
  const lengthMm = on?.alignment.path.lengthMm ?? 0
  const stationMm = typedMm ?? lengthMm / 2
  const { meeting } = trimTo
  useEffect(() => {
    desk.getState().set({ trial: on === null ? null : trialOf(on, stationMm, meeting) })
    return () => desk.getState().set({ trial: null })
  }, [desk, on, stationMm, meeting])
  if (on === null) return <p className="lead">This track has no solved line to work on.</p>
  const taken = takenOn(network, id)
  const isLoop = on.track.end.kind === 'closed'
  const isOnTrack = stationMm > 0 && stationMm < lengthMm

  function done(result: TrackOperationResult): void {
    setProblem(result.ok ? planEdit(stores, result.command).problem : result.problem)
  }
  const keep = (take: (mm: number) => void): Keep<number> =>
    keepIn((mm) => {
      take(mm)
      setProblem(null)
    })
  const others = isLoop ? [] : mergeable(network, on)

  return (
    <>
      <ParticularsHead title="Cut, lengthen, turn round" sub={`${on.track.name}, ${lengthText(lengthMm, prefs, 'room')} long`} />
      {problem === null ? null : (
        <div className="problems" role="alert">
          <p>{typeof problem === 'string' ? problem : operationProblemText(problem, plan, prefs)}</p>
          {typeof problem !== 'string' && problem.kind === 'inEasement' ? (
            <div className="acts">
              {[problem.beforeMm, problem.behindMm].map((mm) => (
                <Act
                  key={mm}
                  onClick={() => {
                    setStation(mm)
                    setProblem(null)
                  }}
                >
                  Take {lengthText(mm, prefs, 'room')}
                </Act>
              ))}
            </div>
          ) : null}
        </div>
      )}
      <Fields title="Cut">
        <LengthField label="At station" kind="room" range="zeroUp" value={stationMm} keep={keep(setStation)} />
        {isLoop || !isOnTrack ? null : (
          <FactRow
            label="Parts"
            value={`${lengthText(stationMm, prefs, 'room')} and ${lengthText(lengthMm - stationMm, prefs, 'room')}`}
            origin={null}
          />
        )}
      </Fields>
      <div className="acts">
        <Act onClick={() => done(trackSplit(on, stationMm, taken))}>Split there</Act>
        {isLoop ? (
          <Act onClick={() => done(trackOrigin(on, stationMm))}>Station zero there</Act>
        ) : (
          <>
            <Act onClick={() => done(trackTrim(on, stationMm, 'behind', taken))}>Cut off up to there</Act>
            <Act onClick={() => done(trackTrim(on, stationMm, 'before', taken))}>Cut off from there on</Act>
          </>
        )}
      </div>
      {isLoop ? null : (
        <>
          <TrimToPart choice={trimTo} onTrim={(to) => done(trackTrimTo(on, to, taken))} />
          <Fields title="Lengthen straight on">
            <LengthField label="Longer by" value={byMm} keep={keep(setBy)} />
          </Fields>
          <div className="acts">
            <Act isDisabled={on.track.start.kind !== 'free'} onClick={() => done(trackExtend(on, 'start', byMm))}>
              Lengthen the start
            </Act>
            <Act isDisabled={on.track.end.kind !== 'free'} onClick={() => done(trackExtend(on, 'end', byMm))}>
              Lengthen the end
            </Act>
          </div>
        </>
      )}
      <section className="fields-part">
        <h3>The whole track</h3>
        <div className="acts">
          <Act onClick={() => done(trackReverse(on))}>Reverse its stations</Act>
          {others.map(([own, other]) => (
            <Act key={`${own.end} ${other.on.track.id} ${other.end}`} onClick={() => done(trackMerge(own, other))}>
              Merge with {other.on.track.name} at the {own.end}
            </Act>
          ))}
        </div>
      </section>
    </>
  )
}

/** What is held over the plan: where it would be cut, and where the end would come to. */
function trialOf({ alignment: { path } }: TrackInPlan, stationMm: number, meeting: TrackMeeting | null): Trial {
  const isOnTrack = stationMm >= 0 && stationMm <= path.lengthMm
  const cut = isOnTrack ? [endMark(pathPoseAt(path, stationMm))] : []
  if (meeting === null) return { chosen: null, others: [], ends: cut }
  const { end, byMm, at } = meeting
  if (byMm > 0) {
    const from = end === 'end' ? path.end : poseReverse(pathStart(path))
    return { chosen: pathFromElements(from, [{ lengthMm: byMm, k0: 0, k1: 0 }]), others: [], ends: cut }
  }
  const { headingRad } = pathPoseAt(path, end === 'end' ? path.lengthMm + byMm : -byMm)
  const pose = { ...at, headingRad }
  return { chosen: null, others: [], ends: [...cut, endMark(end === 'end' ? pose : poseReverse(pose))] }
}

const endMark = (pose: Pose): TrialEnd => ({ pose, isTaken: false, onTake: null })

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
