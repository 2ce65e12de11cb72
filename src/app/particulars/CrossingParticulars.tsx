import type { ReactNode } from 'react'
import { planNextId, recordFind, standardCrossingBuild } from '../../core/plan/index.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { NetworkCrossing } from '../../core/network/types.ts'
import type { Crossing, Id, Plan } from '../../core/plan/types.ts'
import type { CrossingGeometry } from '../../core/turnout/crossing/types.ts'
import { nextName } from '../../tools/index.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { NameField } from '../fields/fields.tsx'
import { ChoiceField, FactRow } from '../fields/ValueField.tsx'
import { planEdit } from '../planEdit.ts'
import { angleText, fineText, frogText, lengthText } from '../../words/measure.ts'
import { recordName, upperFirst } from '../../words/names.ts'
import { crossingProblemText } from '../../words/problemText.ts'
import { slipChoices } from '../../words/turnoutText.ts'
import { Act, Fields, FindingsOf, ParticularsHead, RemoveAct } from './parts.tsx'

/** A place where two tracks cross: what the builder chose for it, and what comes of it. `id` is the network's name for it. */
export function CrossingParticulars({ id }: { readonly id: Id }): ReactNode {
  const stores = useStores()
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const crossing = useDerived((state) => state.derived.network.crossings.get(id))
  const record = recordFind(plan, 'crossings', id)
  if (crossing === undefined) {
    return record === null ? (
      <p className="lead">This crossing is no longer there.</p>
    ) : (
      <>
        <ParticularsHead title={record.name} sub="Crossing" />
        <p className="problems">Its tracks do not cross any more. What was chosen here waits for them to.</p>
        <div className="acts is-column">
          <RemoveAct table="crossings" id={id} />
        </div>
      </>
    )
  }
  const { result } = crossing
  return (
    <>
      <ParticularsHead
        title={record?.name ?? 'Crossing'}
        sub={`Crossing of ${recordName(plan, 'tracks', crossing.track)} and ${recordName(plan, 'tracks', crossing.other)}`}
      />
      <FindingsOf table="crossings" id={id} />
      {result.ok ? null : <p className="problems">{crossingProblemText(result.problem, prefs)}</p>}
      <ChoiceFields crossing={crossing} plan={plan} />
      {result.ok ? <CrossingFacts geometry={result.crossing} /> : null}
      <div className="acts is-column">
        {[crossing.track, crossing.other].map((track) => (
          <Act key={track} onClick={() => stores.session.getState().select({ kind: 'record', table: 'tracks', id: track })}>
            Go to {upperFirst(recordName(plan, 'tracks', track))}
          </Act>
        ))}
        {record === null ? null : (
          <Act onClick={() => planEdit(stores, { kind: 'remove', table: 'crossings', id })}>Choose nothing here</Act>
        )}
      </div>
    </>
  )
}

/** The first choice makes the record; later ones change it. */
function ChoiceFields({ crossing, plan }: { readonly crossing: NetworkCrossing; readonly plan: Plan }): ReactNode {
  const stores = useStores()
  const { record } = crossing
  const choose = (change: Partial<Omit<Crossing, 'id'>>): string | null => {
    const id = record?.id ?? planNextId(plan, 'crossings')
    const command: PlanCommand =
      record === null
        ? { kind: 'crossing.add', record: { ...crossingAsFound(crossing, plan), id, ...change } }
        : { kind: 'crossing.set', id, change }
    const done = planEdit(stores, command)
    if (done.problem === null) stores.session.getState().select({ kind: 'record', table: 'crossings', id })
    return done.problem
  }
  const build = record?.build ?? standardCrossingBuild
  return (
    <Fields>
      <NameField label="Name" value={record?.name ?? 'Crossing'} keep={{ commit: (name) => choose({ name }) }} />
      <ChoiceField label="Slips" value={record?.slip ?? 'none'} choices={slipChoices} onChoose={(slip) => choose({ slip })} />
      <ChoiceField
        label="Elbow frogs"
        value={build.elbow}
        choices={[
          { value: 'fixed', text: 'fixed' },
          { value: 'movable', text: 'movable' },
        ]}
        onChoose={(elbow) => choose({ build: { ...build, elbow } })}
      />
    </Fields>
  )
}

function crossingAsFound({ track, other, stationMm, otherStationMm }: NetworkCrossing, plan: Plan): Omit<Crossing, 'id'> {
  const name = nextName('Crossing', Object.values(plan.crossings))
  return { name, track, other, stationMm, otherStationMm, slip: 'none', build: standardCrossingBuild }
}

function CrossingFacts({ geometry }: { readonly geometry: CrossingGeometry }): ReactNode {
  const prefs = usePrefs((state) => state)
  const { angleRad, number, slips, ties, gaps, extents, unguardedMm, guidedMm } = geometry
  return (
    <Fields title="As it comes out">
      <FactRow label="Angle" value={angleText(angleRad)} origin={frogText(number)} />
      <FactRow label="Over all" value={lengthText(extents.first.toMm - extents.first.fromMm, prefs)} origin="along the first track" />
      {slips.map(({ side, radiusMm, throwMm }) => (
        <FactRow
          key={side}
          label={`Slip ${side}`}
          value={`R ${lengthText(radiusMm, prefs)}`}
          origin={`throw ${fineText(throwMm, prefs)}`}
        />
      ))}
      {unguardedMm > 0 ? (
        <FactRow label="Elbow open" value={fineText(unguardedMm, prefs)} origin={`wheel held over ${fineText(guidedMm, prefs)}`} />
      ) : null}
      <FactRow label="Ties" value={String(ties.length)} origin={`${gaps.length} gaps`} />
    </Fields>
  )
}
