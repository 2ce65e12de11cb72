import { useEffect, useMemo, useRef, useState } from 'react'
import type { ReactNode } from 'react'
import type { CorridorParting, FairProgress } from '../../core/alignment/index.ts'
import type { Id, Plan } from '../../core/plan/types.ts'
import type { TrackFairAnswer } from '../../engine/fair.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { useEngine } from '../engine.ts'
import { LengthField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import { FactRow } from '../fields/ValueField.tsx'
import { Act, Fields, ParticularsHead } from '../particulars/parts.tsx'
import { planEdit } from '../planEdit.ts'
import { lengthText } from '../../words/measure.ts'
import { recordName } from '../../words/names.ts'
import { bindText, easeProblemText, partingText } from '../../words/easeText.ts'
import { lineAfter } from './lineAfter.ts'
import { usePreview } from './usePreview.ts'

/** Rounds at most: a few seconds for a line of a dozen PIs. */
const roundsMost = 300

type Run =
  | { readonly kind: 'ready' }
  | { readonly kind: 'running'; readonly progress: FairProgress | null }
  | { readonly kind: 'done'; readonly answer: TrackFairAnswer; readonly plan: Plan }
  | { readonly kind: 'failed'; readonly message: string }

/** Eases a track: asks the engine, shows how far it is, and puts the answer into the plan as one step. */
export function EasePanel({ track, onShut }: { readonly track: Id; readonly onShut: () => void }): ReactNode {
  const engine = useEngine()
  const plan = usePlan((state) => state.committed)
  const prefs = usePrefs((state) => state)
  const [marginMm, setMargin] = useState<number | null>(null)
  const [run, setRun] = useState<Run>({ kind: 'ready' })
  const goesOn = useRef(false)
  useEffect(
    () => () => {
      goesOn.current = false
    },
    [],
  )

  function start(edgeMarginMm: number | null): void {
    goesOn.current = true
    setMargin(edgeMarginMm)
    setRun({ kind: 'running', progress: null })
    const options = { edgeMarginMm, centresMm: null, nearness: 'asGiven', roundsMost } as const
    engine
      .fair(plan, track, options, (progress) => {
        if (goesOn.current) setRun({ kind: 'running', progress })
        return goesOn.current
      })
      .then(
        (answer) => setRun({ kind: 'done', answer, plan }),
        (error: unknown) => setRun({ kind: 'failed', message: error instanceof Error ? error.message : String(error) }),
      )
  }

  return (
    <>
      <ParticularsHead title="Ease this line" sub={recordName(plan, 'tracks', track)} />
      <p className="lead">Moves the PIs inside the benchwork until the least radius is as large as it can be. Ends and turnouts stay.</p>
      <Fields>
        <LengthField
          label="Margin"
          range="zeroUp"
          value={marginMm ?? plan.railway.edgeMarginMm}
          origin={marginMm === null ? 'of the railway' : 'to edges and walls'}
          keep={keepIn(setMargin)}
        />
      </Fields>
      {run.kind === 'running' ? (
        <div className="ease-run" role="status">
          <progress aria-label="Rounds" max={roundsMost} value={run.progress?.rounds ?? 0} />
          <p>{run.progress === null ? 'Looking at the corridor.' : `Least radius ${lengthText(run.progress.minRadiusMm, prefs)} so far`}</p>
        </div>
      ) : null}
      <div className="acts is-column">
        {run.kind === 'running' ? (
          <Act
            onClick={() => {
              goesOn.current = false
            }}
          >
            Stop with the best so far
          </Act>
        ) : (
          <Act isMain={run.kind !== 'done'} onClick={() => start(marginMm)}>
            {run.kind === 'done' ? 'Ease it again' : 'Ease it'}
          </Act>
        )}
      </div>
      {run.kind === 'failed' ? (
        <p className="problems" role="alert">
          {run.message}
        </p>
      ) : null}
      {run.kind === 'done' ? <Outcome answer={run.answer} asked={run.plan} onMargin={(mm) => start(mm)} onShut={onShut} /> : null}
    </>
  )
}

function Outcome(props: {
  readonly answer: TrackFairAnswer
  readonly asked: Plan
  /** Eases it again with another margin. */
  readonly onMargin: (mm: number) => void
  readonly onShut: () => void
}): ReactNode {
  const { answer, asked, onMargin, onShut } = props
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const plan = usePlan((state) => state.committed)
  const path = useMemo(
    () => (answer.ok && answer.command.commands.length > 0 ? lineAfter(asked, answer.command, answer.track) : null),
    [asked, answer],
  )
  usePreview(path)
  if (!answer.ok)
    return (
      <div className="problems" role="alert">
        <p>{easeProblemText(answer.problem, asked, prefs)}</p>
        {answer.problem.kind === 'corridorParted' ? <MarginAct parting={answer.problem.parting} onMargin={onMargin} /> : null}
      </div>
    )
  const { before, after, bound, binds, command, ended, track } = answer
  const radius = (mm: number): string => `R ${lengthText(mm, prefs)}`
  const isBetter = command.commands.length > 0
  return (
    <section aria-label="Eased line">
      <Fields title="Eased">
        <FactRow label="Least radius" value={radius(after.minRadiusMm)} origin={`was ${radius(before.minRadiusMm)}`} />
        <FactRow
          label="Length"
          value={lengthText(after.lengthMm, prefs, 'room')}
          origin={`was ${lengthText(before.lengthMm, prefs, 'room')}`}
        />
        <FactRow label="PIs" value={String(after.corners)} origin={`was ${before.corners}`} />
        {bound === null ? null : (
          <FactRow
            label="No line beyond"
            value={radius(bound.radiusMm)}
            origin={`${((100 * after.minRadiusMm) / bound.radiusMm).toFixed(1)} % reached`}
          />
        )}
      </Fields>
      {answer.parting === null ? null : (
        <>
          <p className="soft small">{partingText(answer.parting, prefs)}</p>
          <MarginAct parting={answer.parting} onMargin={onMargin} />
        </>
      )}
      {ended === 'settled' ? null : <p className="soft small">Ended before it settled; easing it again may find more.</p>}
      {binds.length === 0 ? null : (
        <section className="record-list">
          <h3>What holds it</h3>
          <ul>
            {binds.map((bind) => (
              <li key={`${bind.kind} ${bind.fromMm}`}>
                <button
                  type="button"
                  onClick={() => stores.session.getState().setHover({ track, stationMm: (bind.fromMm + bind.toMm) / 2 })}
                >
                  <span>{bindText(bind, asked)}</span>
                  <span className="note">station {lengthText((bind.fromMm + bind.toMm) / 2, prefs, 'room')}</span>
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
      {!isBetter ? (
        <p className="lead" role="status">
          It is as good as it gets.
        </p>
      ) : plan === asked ? (
        <div className="acts is-column">
          <Act
            isMain
            onClick={() => {
              if (planEdit(stores, command).problem === null) onShut()
            }}
          >
            Take the eased line
          </Act>
        </div>
      ) : (
        <p className="problems" role="status">
          The plan has changed since; ease it again.
        </p>
      )}
    </section>
  )
}

/** Takes the margin that would do. */
function MarginAct({ parting, onMargin }: { readonly parting: CorridorParting; readonly onMargin: (mm: number) => void }): ReactNode {
  const { mostMm } = parting
  if (mostMm === null) return null
  return (
    <div className="acts">
      <Act onClick={() => onMargin(mostMm)}>Ease it with this margin</Act>
    </div>
  )
}
