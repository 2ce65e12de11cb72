import { useEffect, useMemo, useState } from 'react'
import type { ReactNode } from 'react'
import { isSameEnd, joinLimits, joinLines, openEnds } from '../../core/pipeline/index.ts'
import type { JoinEnd, JoinLine, JoinLines, JoinTo } from '../../core/pipeline/index.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import { LengthField } from '../fields/fields.tsx'
import { ChoiceField, FactRow } from '../fields/ValueField.tsx'
import { Fields, ParticularsHead } from '../particulars/parts.tsx'
import { planEdit } from '../planEdit.ts'
import { lengthText } from '../../words/measure.ts'
import { joinFindingText, joinLineText, joinProblemText, joinStopText } from '../../words/joinText.ts'
import { joinCommand } from './joinAsk.ts'
import { joinKey, joinToSelected, joinToText } from './joinEnds.ts'

/** Joins an end to another one: where to, which line, and done as one step. */
export function JoinPanel({ from: asked, onShut }: { readonly from: JoinEnd; readonly onShut: () => void }): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const setDesk = useDesk((state) => state.set)
  const prefs = usePrefs((state) => state)
  const plan = usePlan((state) => state.plan)
  const network = useDerived((state) => state.derived.network)
  const [to, setTo] = useState<JoinTo | null>(null)
  const [classId, setClass] = useState<string | null>(null)
  const [tangentMm, setTangent] = useState<number | null>(null)
  const [shown, setShown] = useState(0)

  const ends = useMemo(() => openEnds(network), [network])
  const from = ends.find(({ end }) => isSameEnd(end, asked))
  const lineClass = plan.lineClasses[classId ?? ''] ?? from?.lineClass
  const limits = lineClass === undefined ? null : joinLimits(plan, lineClass, tangentMm)
  const answer = useMemo(
    () =>
      from === undefined || to === null || lineClass === undefined
        ? null
        : joinLines({ plan: network.plan, network }, from, to, { limits: joinLimits(plan, lineClass, tangentMm), frog: null, lineClass }),
    [network, from, to, plan, lineClass, tangentMm],
  )

  // What is pointed at on the plan while the panel is open is the other end.
  useEffect(
    () =>
      stores.session.subscribe((state, before) => {
        if (state.selection === before.selection) return
        const pointed = joinToSelected(state.selection, network, state.hover?.stationMm ?? null)
        if (pointed !== null && !isSameEnd(asked, pointed)) {
          setTo(pointed)
          setShown(0)
        }
      }),
    [stores, network, asked],
  )
  useEffect(() => {
    const lines = answer?.ok === true ? answer.lines.map(({ line }) => line.path) : []
    setDesk({
      trial: {
        chosen: lines[shown] ?? null,
        others: lines.filter((_, i) => i !== shown),
        ends: to === null ? ends.filter(({ end }) => !isSameEnd(end, asked)).map(({ pose }) => pose) : [],
      },
    })
  }, [answer, shown, ends, to, asked, setDesk])
  useEffect(() => () => desk.getState().set({ trial: null }), [desk])

  if (from === undefined || lineClass === undefined || limits === null) return <p className="lead">This end is not open any more.</p>
  const others = ends.filter(({ end }) => !isSameEnd(end, asked)).map(({ end }): JoinTo => end)
  const tracks = Object.keys(plan.tracks)
    .filter((track) => asked.kind !== 'trackEnd' || asked.track !== track)
    .map((track): JoinTo => ({ kind: 'onTrack', track }))
  const choices = [...others, ...tracks]

  function make(line: JoinLine): void {
    if (from === undefined || to === null || lineClass === undefined) return
    const done = planEdit(stores, joinCommand(plan, from, to, line, lineClass))
    if (done.problem === null) onShut()
  }

  return (
    <>
      <ParticularsHead title="Join" sub={`From the ${joinToText(asked, plan)}`} />
      <Fields>
        <ChoiceField
          label="To"
          value={to === null ? '' : joinKey(to)}
          choices={[
            ...(to === null ? [{ value: '', text: 'choose, or point at it' }] : []),
            ...choices.map((one) => ({ value: joinKey(one), text: joinToText(one, plan) })),
          ]}
          onChoose={(key) => {
            setTo(choices.find((one) => joinKey(one) === key) ?? null)
            setShown(0)
          }}
        />
        <ChoiceField
          label="Line class"
          value={lineClass.id}
          choices={Object.values(plan.lineClasses).map(({ id, name }) => ({ value: id, text: name }))}
          onChoose={setClass}
        />
        <FactRow label="Least radius" value={lengthText(limits.minRadiusMm, prefs)} origin="by class" />
        <LengthField
          label="Tangent"
          range="zeroUp"
          value={limits.tangentBetweenMm}
          origin={tangentMm === null ? 'longest car' : 'between reverses'}
          keep={{
            commit: (mm) => {
              setTangent(mm)
              return null
            },
          }}
        />
      </Fields>
      {answer === null ? null : <Lines answer={answer} shown={shown} onShow={setShown} onMake={make} />}
    </>
  )
}

function Lines(props: {
  readonly answer: JoinLines
  readonly shown: number
  readonly onShow: (i: number) => void
  readonly onMake: (line: JoinLine) => void
}): ReactNode {
  const { answer, shown, onShow, onMake } = props
  const prefs = usePrefs((state) => state)
  const plan = usePlan((state) => state.plan)
  if (!answer.ok)
    return (
      <p className="problems" role="status">
        {joinProblemText(answer.problem, plan, prefs)}
      </p>
    )
  return (
    <section className="join-lines" aria-label="Lines that join">
      {answer.stopped.length === 0 ? null : (
        <div className="problems" role="status">
          <p>No line keeps all limits.</p>
          {answer.stopped.map((stop) => (
            <p key={stop.limit}>{joinStopText(stop, prefs)}</p>
          ))}
        </div>
      )}
      {answer.lines.length === 0 && answer.stopped.length === 0 ? <p role="status">No line leads there.</p> : null}
      <ol>
        {answer.lines.map((line, i) => {
          const { what, measures, limits } = joinLineText(line, prefs)
          const findings = line.findings.map((finding) => joinFindingText(finding, plan, prefs))
          return (
            <li key={`${what} ${measures}`}>
              <button
                type="button"
                aria-current={i === shown ? true : undefined}
                onMouseEnter={() => onShow(i)}
                onFocus={() => onShow(i)}
                onClick={() => onMake(line)}
              >
                <span className="join-what">{what}</span>
                <span>{measures}</span>
                <span className={line.line.meetsLimits ? 'join-kept' : 'join-broken'}>{limits}</span>
                {findings.map((text) => (
                  <span className="join-broken" key={text}>
                    {text}
                  </span>
                ))}
              </button>
            </li>
          )
        })}
      </ol>
    </section>
  )
}
