import { useMemo, type ReactNode } from 'react'
import { planNextId, recordFind, standardCrossingBuild } from '../../core/plan/index.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { NetworkCrossing } from '../../core/network/types.ts'
import type { Crossing, Id, Plan, Railway } from '../../core/plan/types.ts'
import type { CrossingGeometry } from '../../core/turnout/crossing/types.ts'
import { crossingChecked } from '../../core/turnout/index.ts'
import { nextName } from '../../tools/index.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { BuildAct } from '../build/BuildAct.tsx'
import { useDesk } from '../desk.ts'
import { NameField } from '../fields/fields.tsx'
import { ChoiceField, FactRow } from '../fields/ValueField.tsx'
import { planEdit } from '../planEdit.ts'
import { angleText, fineText, frogText, lengthText } from '../../words/measure.ts'
import { recordName, upperFirst } from '../../words/names.ts'
import { slipChoices } from '../../words/turnoutText.ts'
import { CheckDimensions } from './CheckDimensions.tsx'
import { Act, Fields, ParticularsHead } from './parts.tsx'
import { FindingsOf, RemoveAct } from './recordParts.tsx'

/** A place where two tracks cross: what the builder chose for it, and what comes of it. `id` is the network's name for it. */
export function CrossingParticulars({ id }: { readonly id: Id }): ReactNode {
  const stores = useStores()
  const plan = usePlan((state) => state.plan)
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
      <ChoiceFields crossing={crossing} plan={plan} />
      {result.ok ? <CrossingWork geometry={result.crossing} railway={plan.railway} /> : null}
      <div className="acts is-column">
        {result.ok ? <CrossingBench id={id} /> : null}
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

function CrossingWork({ geometry, railway }: { readonly geometry: CrossingGeometry; readonly railway: Railway }): ReactNode {
  const checked = useMemo(() => crossingChecked(geometry), [geometry])
  return (
    <>
      <CrossingFacts geometry={geometry} />
      <CheckDimensions work={checked} railway={railway} />
    </>
  )
}

function CrossingBench({ id }: { readonly id: Id }): ReactNode {
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  return (
    <>
      <Act
        isMain
        onClick={() => {
          setDesk({ sheetSubject: { kind: 'crossing', id } })
          stores.session.getState().setStage('sheets')
        }}
      >
        Print its sheets
      </Act>
      <BuildAct of="crossing" id={id} />
    </>
  )
}

function CrossingFacts({ geometry }: { readonly geometry: CrossingGeometry }): ReactNode {
  const prefs = usePrefs((state) => state)
  const { angleRad, number, frogs, rails, slips, ties, gaps, extents, unguardedMm, guidedMm, request } = geometry
  const guards = rails.filter(({ role }) => role.startsWith('guard') || role.startsWith('check'))
  const holds = unguardedMm <= guidedMm
  return (
    <Fields title="As it comes out">
      <FactRow label="Angle" value={angleText(angleRad)} origin={frogText(number)} />
      <FactRow label="Over all" value={lengthText(extents.first.toMm - extents.first.fromMm, prefs)} origin="along the first track" />
      <FactRow label="Over all" value={lengthText(extents.second.toMm - extents.second.fromMm, prefs)} origin="along the second" />
      {(['vee', 'elbow'] as const).map((kind) => {
        const own = frogs.filter((frog) => frog.kind === kind)
        const numbers = [...new Set(own.map((frog) => frogText(frog.number)))]
        return own.length === 0 ? null : (
          <FactRow key={kind} label={kind === 'vee' ? 'End frogs' : 'Elbow frogs'} value={String(own.length)} origin={numbers.join(', ')} />
        )
      })}
      {unguardedMm > 0 ? (
        <FactRow
          label="Elbows guard"
          value={holds ? 'yes' : 'no'}
          origin={`open over ${fineText(unguardedMm, prefs)}, a wheel is held over ${fineText(guidedMm, prefs)}${holds ? '' : ': make them movable, or cross steeper'}`}
          isOver={!holds}
        />
      ) : (
        <FactRow
          label="Elbows guard"
          value="yes"
          origin={request.elbow === 'movable' ? 'their points move' : 'check rails hold all along'}
        />
      )}
      <FactRow label="Guards" value={String(guards.length)} origin="guard and check rails" />
      {slips.map(({ side, radiusMm, throwMm }) => (
        <FactRow
          key={side}
          label={`Slip ${side}`}
          value={`R ${lengthText(radiusMm, prefs)}`}
          origin={`throw ${fineText(throwMm, prefs)}`}
        />
      ))}
      <FactRow label="Ties" value={String(ties.length)} origin={`${gaps.length} gaps`} />
      {slips.length < 2 ? null : (
        <p className="small soft">
          While one track is used, the points at its far end lie for that track too: open, they would foul the wheels.
        </p>
      )}
    </Fields>
  )
}
