import { useCallback, useEffect, useMemo, useState } from 'react'
import type { ReactNode } from 'react'
import { easementByRule } from '../../core/alignment/index.ts'
import { isSameEnd, joinLimits, openEnds } from '../../core/pipeline/index.ts'
import type { JoinEnd, JoinLine, JoinTo } from '../../core/pipeline/index.ts'
import type { ByClass } from '../../core/plan/types.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import { ByClassLengthField, LengthField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import type { Keep } from '../fields/ValueField.tsx'
import { Fields, ParticularsHead } from '../particulars/parts.tsx'
import { planEdit } from '../planEdit.ts'
import { lengthText } from '../../words/measure.ts'
import { joinCommand } from './joinAsk.ts'
import { joinKey, joinToSelected, joinToText } from './joinEnds.ts'
import { JoinLineList } from './JoinLineList.tsx'
import { wishesNone } from './joinWishes.ts'
import type { Wishes } from './joinWishes.ts'
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
  const [wishes, setWishes] = useState<Wishes>(wishesNone)
  const [chosen, setChosen] = useState(0)
  const [looked, setLooked] = useState<number | null>(null)

  const ends = useMemo(() => openEnds(network), [network])
  const from = ends.find((one) => isSameEnd(one.end, end))
  const lineClass = plan.lineClasses[classId ?? ''] ?? from?.lineClass
  const limits = useMemo(() => (lineClass === undefined ? null : joinLimits(plan, lineClass, wishes)), [plan, lineClass, wishes])
  const asked = useMemo(
    () =>
      from === undefined || to === null || lineClass === undefined || limits === null
        ? null
        : { network, from, to, ask: { limits, besideRadiusMm: lineClass.minRadiusMm, frog: null, lineClass } },
    [network, from, to, limits, lineClass],
  )
  const joining = useJoin(asked)
  const { answer } = joining
  const take = useCallback((pointed: JoinTo | null): void => {
    setTo(pointed)
    setChosen(0)
    setLooked(null)
  }, [])

  // What is pointed at on the plan while the panel is open is the other end.
  useEffect(
    () =>
      stores.session.subscribe((state, before) => {
        if (state.selection === before.selection) return
        const pointed = joinToSelected(state.selection, network, state.hover?.stationMm ?? null)
        if (pointed !== null && !isSameEnd(end, pointed)) take(pointed)
      }),
    [stores, network, end, take],
  )
  useEffect(() => {
    const lines = answer?.ok === true ? answer.lines.map(({ line }) => line.path) : []
    const shown = looked ?? chosen
    setDesk({
      trial: {
        chosen: lines[shown] ?? null,
        others: lines.filter((_, i) => i !== shown),
        ends: ends
          .filter((one) => !isSameEnd(one.end, end))
          .map((one) => ({ pose: one.pose, isTaken: to !== null && isSameEnd(one.end, to), onTake: () => take(one.end) })),
      },
    })
  }, [answer, chosen, looked, ends, to, end, take, setDesk])
  useEffect(() => () => desk.getState().set({ trial: null }), [desk])

  if (from === undefined || lineClass === undefined || limits === null) return <p className="lead">This end is not open any more.</p>
  const others = ends.filter((one) => !isSameEnd(one.end, end)).map((one): JoinTo => one.end)
  const tracks = Object.keys(plan.tracks)
    .filter((track) => end.kind !== 'trackEnd' || end.track !== track)
    .map((track): JoinTo => ({ kind: 'onTrack', track, stationMm: null }))
  const choices = [...others, ...tracks]

  function make(line: JoinLine): void {
    if (from === undefined || to === null || lineClass === undefined) return
    const { command, track } = joinCommand(plan, from, to, line, lineClass)
    if (planEdit(stores, command).problem !== null) return
    onShut()
    stores.session.getState().select({ kind: 'record', table: 'tracks', id: track })
  }
  const wish = (change: Partial<Wishes>): void => {
    setWishes({ ...wishes, ...change })
    setChosen(0)
    setLooked(null)
  }
  const byClass = (key: keyof Wishes): Keep<ByClass> => keepIn((given) => wish({ [key]: given === 'class' ? null : given }))
  const easement = easementByRule(lineClass.easement, limits.minRadiusMm)
  const easementMm = easement.ok ? easement.lengthMm : 0

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
          onChoose={(key) => take(choices.find((one) => joinKey(one) === key) ?? null)}
        />
        {to?.kind === 'onTrack' ? <StationField to={to} onChange={take} /> : null}
        <ChoiceField
          label="Line class"
          value={lineClass.id}
          choices={Object.values(plan.lineClasses).map(({ id, name }) => ({ value: id, text: name }))}
          onChoose={setClass}
        />
        <ChoiceField
          label="Curves"
          value={wishes.mostRadiusMm === null ? 'widest' : 'asked'}
          choices={[
            { value: 'widest', text: 'as wide as fits' },
            { value: 'asked', text: 'of a radius I type' },
          ]}
          onChoose={(kind) => wish({ mostRadiusMm: kind === 'asked' ? lineClass.minRadiusMm : null })}
        />
        {wishes.mostRadiusMm === null ? null : (
          <LengthField
            label="Radius"
            value={wishes.mostRadiusMm}
            origin="or sharper, where it has no room"
            isOver={wishes.mostRadiusMm < lineClass.minRadiusMm}
            keep={keepIn((mm) => wish({ mostRadiusMm: mm }))}
          />
        )}
        <ByClassLengthField
          label="No sharper than"
          value={wishes.minRadiusMm ?? 'class'}
          classMm={lineClass.minRadiusMm}
          limit={`≥ ${lengthText(lineClass.minRadiusMm, prefs)}`}
          isOver={limits.minRadiusMm < lineClass.minRadiusMm}
          keep={byClass('minRadiusMm')}
        />
        <ByClassLengthField
          label="Easements"
          range="zeroUp"
          value={wishes.easementMm ?? 'class'}
          classMm={easementMm}
          limit={lengthText(easementMm, prefs)}
          isOver={wishes.easementMm !== null && wishes.easementMm < easementMm}
          keep={byClass('easementMm')}
        />
        <LengthField
          label="Tangent"
          range="zeroUp"
          value={limits.tangentBetweenMm}
          origin={wishes.tangentMm === null ? 'longest car' : 'between reverses'}
          keep={keepIn((mm) => wish({ tangentMm: mm }))}
        />
        <ByClassLengthField
          label="Shortest curve"
          range="zeroUp"
          value={wishes.shortestMm ?? 'class'}
          classMm={lineClass.minCurveMm}
          limit={`≥ ${lengthText(lineClass.minCurveMm, prefs)}`}
          isOver={limits.shortestCurveMm < lineClass.minCurveMm}
          keep={byClass('shortestMm')}
        />
      </Fields>
      <Running joining={joining} />
      {answer === null ? null : (
        <JoinLineList
          answer={answer}
          isAll={joining.running === null}
          isByClass={Object.values(wishes).every((mm) => mm === null)}
          chosen={chosen}
          onChoose={setChosen}
          onLook={setLooked}
          onWish={wish}
          onStation={to?.kind === 'onTrack' ? (stationMm) => take({ ...to, stationMm }) : null}
          onLay={make}
        />
      )}
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
      keep={keepIn((mm) => onChange({ ...to, stationMm: mm }))}
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
