import { useMemo, useState } from 'react'
import type { ReactNode } from 'react'
import { parallelSolve } from '../../core/alignment/index.ts'
import type { ParallelRequest, SolvedAlignment } from '../../core/alignment/index.ts'
import { trackThere } from '../../core/network/index.ts'
import { parallelWidened } from '../../core/pipeline/index.ts'
import type { Id, LineClass, Track } from '../../core/plan/types.ts'
import { planNextId, recordFind } from '../../core/plan/index.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { LengthField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import { ChoiceField, FactRow } from '../fields/ValueField.tsx'
import { Act, Fields, ParticularsHead } from '../particulars/parts.tsx'
import { planEdit } from '../planEdit.ts'
import { lengthText } from '../../words/measure.ts'
import { liesThereText, parallelNarrowText, parallelProblemText, parallelRemarkText, parallelWouldText } from '../../words/parallelText.ts'
import { parallelCentres, traverseTrack } from './parallelAsk.ts'
import type { Centres } from './parallelAsk.ts'
import { usePreview } from './usePreview.ts'

/** Lays a track beside another one. */
export function ParallelPanel({ track: id, onShut }: { readonly track: Id; readonly onShut: () => void }): ReactNode {
  const track = usePlan((state) => recordFind(state.plan, 'tracks', id))
  const lineClass = usePlan((state) => state.plan.lineClasses[track?.lineClass ?? ''])
  const alignment = useDerived((state) => state.derived.network.tracks.get(id)?.alignment)
  if (track === null || lineClass === undefined || alignment?.ok !== true)
    return <p className="lead">This track has no solved line to lay another beside.</p>
  return <Asked track={track} alignment={alignment} hostClass={lineClass} onShut={onShut} />
}

interface AskedProps {
  readonly track: Track
  readonly alignment: SolvedAlignment
  readonly hostClass: LineClass
  readonly onShut: () => void
}

function Asked({ track, alignment, hostClass, onShut }: AskedProps): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const classes = usePlan((state) => state.plan.lineClasses)
  const [chosenSide, setSide] = useState<'left' | 'right' | null>(null)
  const [classId, setClass] = useState(hostClass.id)
  const [typedMm, setTyped] = useState<number | null>(null)
  const [typedCurveMm, setTypedCurve] = useState<number | null>(null)
  const [fromMm, setFrom] = useState(0)
  const [toMm, setTo] = useState<number | null>(null)
  const lineClass = classes[classId] ?? hostClass
  const lengthMm = alignment.path.lengthMm
  const network = useDerived((state) => state.derived.network)
  const usualMm = typedMm ?? (hostClass.trackCentresMm + lineClass.trackCentresMm) / 2
  const stretch = useMemo((): ParallelRequest['stretch'] => {
    const isWhole = fromMm === 0 && (toMm === null || toMm === lengthMm)
    return isWhole ? { kind: 'whole' } : { kind: 'between', fromMm, toMm: toMm ?? lengthMm }
  }, [fromMm, toMm, lengthMm])
  // The left one, unless a track lies there and none on the other.
  const freeSide = useMemo(() => {
    const thereOn = (one: 1 | -1): Id | null => {
      const solved = parallelSolve({
        alignment,
        stretch,
        offsetMm: one * usualMm,
        curveOffsetMm: one * usualMm,
        minRadiusMm: lineClass.minRadiusMm,
      })
      return solved.ok ? trackThere(network.tracks.values(), solved.alignment.path, usualMm / 2, [track.id]) : null
    }
    return thereOn(1) !== null && thereOn(-1) === null ? 'right' : 'left'
  }, [alignment, stretch, usualMm, lineClass, network, track.id])
  const side = chosenSide ?? freeSide
  const sign = side === 'left' ? 1 : -1
  // What the cars of both tracks ask, as the checks will; a narrower one that is typed stays.
  const asked = useMemo(() => {
    const given = { centresMm: usualMm, curveMm: typedCurveMm ?? usualMm }
    return parallelWidened({ plan: network.plan, network }, { host: track.id, alignment, stretch, side: sign, lineClass }, given)
  }, [network, track.id, alignment, stretch, sign, lineClass, usualMm, typedCurveMm])
  const centresMm = typedMm ?? asked.centresMm
  const isAlong = asked.centresMm !== usualMm
  const curveMm = typedCurveMm ?? (typedMm !== null && isAlong ? typedMm : asked.curveMm)
  const isNarrow = centresMm < asked.centresMm || curveMm < asked.curveMm
  const { answer, would } = useMemo(() => {
    const request: ParallelRequest = {
      alignment,
      stretch,
      offsetMm: sign * centresMm,
      curveOffsetMm: sign * curveMm,
      minRadiusMm: lineClass.minRadiusMm,
    }
    const solved = parallelSolve(request)
    return { answer: solved, would: parallelCentres(request, solved) }
  }, [alignment, sign, stretch, centresMm, curveMm, lineClass])
  usePreview(answer.ok ? answer.alignment.path : null)
  const there = useMemo(
    () => (answer.ok ? trackThere(network.tracks.values(), answer.alignment.path, centresMm / 2, [track.id]) : null),
    [answer, network, centresMm, track.id],
  )

  function make(): void {
    if (!answer.ok) return
    const id = planNextId(stores.plan.getState().plan, 'tracks')
    const add = traverseTrack(answer.traverse, lineClass.id, `Beside ${track.name}`)
    if (add?.kind !== 'track.add') return
    const done = planEdit(stores, { ...add, record: { ...add.record, id } })
    if (done.problem !== null) return
    onShut()
    stores.session.getState().select({ kind: 'record', table: 'tracks', id })
  }

  const takeCentres = (centres: Centres): ReactNode => (
    <div className="acts">
      <Act
        onClick={() => {
          if (centres.centresMm !== centresMm) setTyped(centres.centresMm)
          setTypedCurve(centres.curveMm)
        }}
      >
        {parallelWouldText(centres, prefs)}
      </Act>
    </div>
  )
  const takeWould = would === null ? null : takeCentres(would)

  return (
    <>
      <ParticularsHead title="Lay a parallel" sub={`Beside ${track.name}`} />
      <Fields>
        <ChoiceField
          label="Side"
          value={side}
          choices={[
            { value: 'left', text: 'left' },
            { value: 'right', text: 'right' },
          ]}
          onChoose={setSide}
          origin="along rising station"
        />
        <ChoiceField
          label="Line class"
          value={lineClass.id}
          choices={Object.values(classes).map(({ id, name }) => ({ value: id, text: name }))}
          onChoose={setClass}
        />
        <LengthField
          label="Centres"
          value={centresMm}
          origin={typedMm !== null ? null : isAlong ? 'for its cars' : 'by class'}
          keep={keepIn(setTyped)}
        />
        <LengthField
          label="On curves"
          value={curveMm}
          origin={typedCurveMm !== null ? null : curveMm > centresMm ? 'for its cars' : 'the same'}
          keep={keepIn(setTypedCurve)}
        />
        <LengthField label="From station" kind="room" range="zeroUp" value={fromMm} keep={keepIn(setFrom)} />
        <LengthField
          label="To station"
          kind="room"
          value={toMm ?? lengthMm}
          origin={toMm === null ? 'the end' : null}
          keep={keepIn(setTo)}
        />
      </Fields>
      {answer.ok ? (
        <>
          <Fields title="As it comes out">
            <FactRow label="Length" value={lengthText(answer.alignment.path.lengthMm, prefs, 'room')} />
            <FactRow label="Least centres" value={lengthText(answer.spacing.least.spacingMm, prefs)} />
            <FactRow label="Widest" value={lengthText(answer.spacing.most.spacingMm, prefs)} />
          </Fields>
          {answer.remarks.length === 0 ? null : (
            <div className="problems" role="status">
              {answer.remarks.map((remark) => (
                <p key={`${remark.kind} ${remark.corner}`}>{parallelRemarkText(remark, prefs)}</p>
              ))}
              {takeWould}
            </div>
          )}
          {isNarrow ? (
            <div className="problems" role="status">
              <p>{parallelNarrowText(asked, prefs)}</p>
              {takeCentres(asked)}
            </div>
          ) : null}
          {there === null ? null : (
            <div className="problems" role="status">
              <p>{liesThereText(there, network.plan)}</p>
              <div className="acts">
                <Act onClick={() => setSide(side === 'left' ? 'right' : 'left')}>Lay it on the other side</Act>
              </div>
            </div>
          )}
          <div className="acts is-column">
            <Act isMain={there === null} onClick={make}>
              Make the track
            </Act>
          </div>
        </>
      ) : (
        <div className="problems" role="status">
          {answer.problems.map((problem) => {
            const text = parallelProblemText(problem, prefs)
            return <p key={text}>{text}</p>
          })}
          {takeWould}
        </div>
      )}
    </>
  )
}
