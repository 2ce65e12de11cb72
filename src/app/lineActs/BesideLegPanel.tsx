import { useMemo, useState } from 'react'
import type { ReactNode } from 'react'
import type { Id } from '../../core/plan/types.ts'
import { makerProblemText } from '../../words/makerText.ts'
import { lengthText } from '../../words/measure.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { LengthField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import { ChoiceField, FactRow } from '../fields/ValueField.tsx'
import type { Keep } from '../fields/ValueField.tsx'
import { Act, Fields, ParticularsHead } from '../particulars/parts.tsx'
import { planEdit } from '../planEdit.ts'
import { besideSolve, besideStart } from './besideLeg.ts'
import type { BesideWish } from './besideLeg.ts'
import { lineAfter } from './lineAfter.ts'
import { stubOf } from './stub.ts'
import type { Stub } from './stub.ts'
import { usePreview } from './usePreview.ts'

/** Takes a track that has just left its host on beside it. */
export function BesideLegPanel({ track, onShut }: { readonly track: Id; readonly onShut: () => void }): ReactNode {
  const network = useDerived((state) => state.derived.network)
  const stub = useMemo(() => stubOf(network, track), [network, track])
  return stub === null ? <p className="lead">This track goes on already.</p> : <Asked stub={stub} onShut={onShut} />
}

function Asked({ stub, onShut }: { readonly stub: Stub; readonly onShut: () => void }): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const plan = usePlan((state) => state.plan)
  const network = useDerived((state) => state.derived.network)
  const [wish, setWish] = useState<BesideWish>(() => besideStart(stub, plan, 'ends', prefs.units))
  const answer = useMemo(() => besideSolve(network, stub, wish), [network, stub, wish])
  const path = useMemo(() => (answer.ok ? lineAfter(network.plan, answer.command, stub.track.id) : null), [network, answer, stub])
  usePreview(path)
  const { far } = wish
  const host = stub.host.track.name
  const keep = (change: (mm: number) => Partial<BesideWish>): Keep<number> => keepIn((mm) => setWish({ ...wish, ...change(mm) }))

  function lay(): void {
    if (!answer.ok || planEdit(stores, answer.command).problem !== null) return
    onShut()
    stores.session.getState().select({ kind: 'record', table: 'tracks', id: stub.track.id })
  }

  return (
    <>
      <ParticularsHead title="Lay a parallel from the leg" sub={`${stub.track.name}, beside ${host}`} />
      <Fields>
        <ChoiceField
          label="Its far end"
          value={far.kind}
          choices={[
            { value: 'ends', text: 'ends beside it' },
            { value: 'comesBack', text: 'comes back by a turnout' },
          ]}
          onChoose={(kind) => setWish({ ...wish, far: besideStart(stub, plan, kind, prefs.units).far })}
        />
        <ChoiceField
          label="Line class"
          value={wish.lineClass}
          choices={Object.values(plan.lineClasses).map(({ id, name }) => ({ value: id, text: name }))}
          onChoose={(lineClass) => {
            const { centresMm, curveCentresMm } = besideStart({ ...stub, track: { ...stub.track, lineClass } }, plan, far.kind, prefs.units)
            setWish({ ...wish, lineClass, centresMm, curveCentresMm })
          }}
        />
        <LengthField label="Centres" value={wish.centresMm} keep={keep((centresMm) => ({ centresMm }))} />
        {far.kind === 'ends' ? (
          <LengthField
            label="Straight"
            kind="room"
            value={far.lengthMm}
            origin="behind its curve"
            keep={keep((lengthMm) => ({ far: { kind: 'ends', lengthMm } }))}
          />
        ) : (
          <>
            <LengthField label="On curves" value={wish.curveCentresMm} keep={keep((curveCentresMm) => ({ curveCentresMm }))} />
            <LengthField
              label="Back at"
              kind="room"
              range="zeroUp"
              value={far.stationMm}
              origin="station of its points"
              keep={keep((stationMm) => ({ far: { kind: 'comesBack', stationMm } }))}
            />
          </>
        )}
        {path === null ? null : <FactRow label="Length" value={lengthText(path.lengthMm, prefs, 'room')} />}
      </Fields>
      {answer.ok ? (
        <div className="acts is-column">
          <Act isMain onClick={lay}>
            Lay this line
          </Act>
        </div>
      ) : (
        <Hindered text={makerProblemText(answer.problem, plan, prefs)} would={answer.would} onTake={setWish} />
      )}
    </>
  )
}

function Hindered(props: {
  readonly text: string
  readonly would: BesideWish | null
  readonly onTake: (wish: BesideWish) => void
}): ReactNode {
  const { text, would, onTake } = props
  return (
    <div className="problems" role="status">
      <p>{text}</p>
      {would === null ? null : (
        <div className="acts">
          <Act onClick={() => onTake(would)}>Take what would do</Act>
        </div>
      )}
    </div>
  )
}
