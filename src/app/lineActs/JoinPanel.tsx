import { useEffect, useMemo, useState } from 'react'
import type { ReactNode } from 'react'
import { isSameEnd, joinLimits, openEnds } from '../../core/pipeline/index.ts'
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
import { useJoin } from './useJoin.ts'
import type { Joining } from './useJoin.ts'

/** Joins an end to another one: where to, which line, and done as one step. */
export function JoinPanel({ from: end, onShut }: { readonly from: JoinEnd; readonly onShut: () => void }): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const setDesk = useDesk((state) => state.set)
  const prefs = usePrefs((state) => state)
  const plan = usePlan((state) => state.plan)
  const network = useDerived((state) => state.derived.network)
  const [to, setTo] = useState<JoinTo | null>(null)
  const [classId, setClass] = useState<string | null>(null)
  const [tangentMm, setTangent] = useState<number | null>(null)
  const [shortestMm, setShortest] = useState<number | null>(null)
  const [shown, setShown] = useState(0)

  const ends = useMemo(() => openEnds(network), [network])
  const from = ends.find((one) => isSameEnd(one.end, end))
  const lineClass = plan.lineClasses[classId ?? ''] ?? from?.lineClass
  const limits = useMemo(
    () => (lineClass === undefined ? null : joinLimits(plan, lineClass, { tangentMm, shortestMm })),
    [plan, lineClass, tangentMm, shortestMm],
  )
  const asked = useMemo(
    () =>
      from === undefined || to === null || lineClass === undefined || limits === null
        ? null
        : { network, from, to, ask: { limits, frog: null, lineClass } },
    [network, from, to, limits, lineClass],
  )
  const joining = useJoin(asked)
  const { answer } = joining

  // What is pointed at on the plan while the panel is open is the other end.
  useEffect(
    () =>
      stores.session.subscribe((state, before) => {
        if (state.selection === before.selection) return
        const pointed = joinToSelected(state.selection, network, state.hover?.stationMm ?? null)
        if (pointed !== null && !isSameEnd(end, pointed)) {
          setTo(pointed)
          setShown(0)
        }
      }),
    [stores, network, end],
  )
  useEffect(() => {
    const lines = answer?.ok === true ? answer.lines.map(({ line }) => line.path) : []
    setDesk({
      trial: {
        chosen: lines[shown] ?? null,
        others: lines.filter((_, i) => i !== shown),
        ends: to === null ? ends.filter((one) => !isSameEnd(one.end, end)).map(({ pose }) => pose) : [],
      },
    })
  }, [answer, shown, ends, to, end, setDesk])
  useEffect(() => () => desk.getState().set({ trial: null }), [desk])

  if (from === undefined || lineClass === undefined || limits === null) return <p className="lead">This end is not open any more.</p>
  const others = ends.filter((one) => !isSameEnd(one.end, end)).map((one): JoinTo => one.end)
  const tracks = Object.keys(plan.tracks)
    .filter((track) => end.kind !== 'trackEnd' || end.track !== track)
    .map((track): JoinTo => ({ kind: 'onTrack', track, stationMm: null }))
  const choices = [...others, ...tracks]

  function make(line: JoinLine): void {
    if (from === undefined || to === null || lineClass === undefined) return
    const done = planEdit(stores, joinCommand(plan, from, to, line, lineClass))
    if (done.problem === null) onShut()
  }

  return (
    <>
      <ParticularsHead title="Join" sub={`From the ${joinToText(end, plan)}`} />
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
        {to?.kind === 'onTrack' ? (
          <StationField
            to={to}
            onChange={(next) => {
              setTo(next)
              setShown(0)
            }}
          />
        ) : null}
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
        <LengthField
          label="Shortest curve"
          range="zeroUp"
          value={limits.shortestCurveMm}
          origin={shortestMm === null ? 'by class' : 'with its easements'}
          keep={{
            commit: (mm) => {
              setShortest(mm)
              return null
            },
          }}
        />
      </Fields>
      <Running joining={joining} />
      {answer === null ? null : <Lines answer={answer} isAll={joining.running === null} shown={shown} onShow={setShown} onMake={make} />}
    </>
  )
}

/** Where the turnout's points are to lie: anywhere that suits, or at a station. */
function StationField({
  to,
  onChange,
}: {
  readonly to: JoinTo & { readonly kind: 'onTrack' }
  readonly onChange: (to: JoinTo) => void
}): ReactNode {
  const { stationMm } = to
  if (stationMm === null) return null
  return (
    <LengthField
      label="Points at"
      kind="room"
      range="zeroUp"
      value={stationMm}
      origin={
        <button type="button" className="word" onClick={() => onChange({ ...to, stationMm: null })}>
          anywhere
        </button>
      }
      keep={{
        commit: (mm) => {
          onChange({ ...to, stationMm: mm })
          return null
        },
      }}
    />
  )
}

/** How far the looking is, where it takes long. */
function Running({ joining: { running } }: { readonly joining: Joining }): ReactNode {
  if (running === null) return null
  return (
    <p className="soft small" role="status">
      {running.done < running.of ? `${running.done} of ${running.of} places for the turnout looked at` : 'Held against the room…'}
    </p>
  )
}

function Lines(props: {
  readonly answer: JoinLines
  readonly isAll: boolean
  readonly shown: number
  readonly onShow: (i: number) => void
  readonly onMake: (line: JoinLine) => void
}): ReactNode {
  const { answer, isAll, shown, onShow, onMake } = props
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
      {answer.stopped.length === 0 || !isAll ? null : (
        <div className="problems" role="status">
          <p>No line keeps all limits.</p>
          {answer.stopped.map((stop) => (
            <p key={stop.limit}>{joinStopText(stop, prefs)}</p>
          ))}
        </div>
      )}
      {answer.lines.length === 0 && answer.stopped.length === 0 && isAll ? <p role="status">No line leads there.</p> : null}
      <ol>
        {answer.lines.map((line, i) => {
          const { what, measures, limits } = joinLineText(line, prefs)
          const findings = (line.findings ?? []).map((finding) => joinFindingText(finding, plan, prefs))
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
