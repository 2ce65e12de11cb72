import { Fragment, useMemo } from 'react'
import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import { turnoutSwap } from '../../core/makers/index.ts'
import { turnoutRoom } from '../../core/network/index.ts'
import type { Stretch } from '../../core/network/index.ts'
import { railwayOfClass } from '../../core/plan/index.ts'
import type { Id, Plan, Railway, Turnout, TurnoutBuild, TurnoutLeg } from '../../core/plan/types.ts'
import { turnoutRequest, turnoutSolve } from '../../core/turnout/index.ts'
import type { TurnoutGeometry, TurnoutRequest } from '../../core/turnout/types.ts'
import { MM_PER_INCH } from '../../core/units/index.ts'
import { BuildAct } from '../build/BuildAct.tsx'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { FrogField, LengthField, NameField, StandardLengthField } from '../fields/fields.tsx'
import type { LengthBounds } from '../fields/fields.tsx'
import { ChoiceField, FactRow } from '../fields/ValueField.tsx'
import { MadeBy } from '../makers/MadeBy.tsx'
import { planEdit, useKeepInPlan } from '../planEdit.ts'
import { trackAtLeg, trackStartFromLeg } from '../turnoutAdd.ts'
import { angleText, fineText, frogText, lengthText } from '../../words/measure.ts'
import type { MeasurePrefs } from '../../words/measure.ts'
import { turnoutProblemText } from '../../words/problemText.ts'
import { CheckDimensions } from './CheckDimensions.tsx'
import { hasTwoLegs, legWord } from '../../words/turnoutText.ts'
import { Act, Fields, ParticularsHead } from './parts.tsx'
import { FindingsOf, RemoveAct } from './recordParts.tsx'
import { TurnoutKindFields } from './TurnoutKindFields.tsx'
import { WhatFits } from './WhatFits.tsx'

export function TurnoutParticulars({ id }: { readonly id: Id }): ReactNode {
  const turnout = usePlan((state) => state.plan.turnouts[id])
  const plan = usePlan((state) => state.plan)
  const network = useDerived((state) => state.derived.network)
  const placed = network.turnouts.get(id)
  if (turnout === undefined) return <p className="lead">This turnout is no longer there.</p>
  const room = placed === undefined ? null : turnoutRoom(network, placed)
  const host = plan.tracks[turnout.track]
  const geometry = placed === undefined ? null : placed.result.geometry
  return (
    <>
      <ParticularsHead title={turnout.name} sub={host === undefined ? 'Turnout' : `Turnout on ${host.name}`} />
      <MadeBy table="turnouts" id={id} />
      <FindingsOf table="turnouts" id={id} />
      <PlaceFields turnout={turnout} plan={plan} />
      <TurnoutActs turnout={turnout} />
      <div className="acts is-column">
        <WhatFits id={id} />
      </div>
      <BuildFields turnout={turnout} plan={plan} />
      {geometry === null ? null : <TurnoutFacts geometry={geometry} room={room} />}
      {geometry === null ? null : <TurnoutChecks geometry={geometry} railway={plan.railway} />}
      <div className="acts is-column">
        <RemoveAct table="turnouts" id={id} />
      </div>
    </>
  )
}

function TurnoutChecks({ geometry, railway }: { readonly geometry: TurnoutGeometry; readonly railway: Railway }): ReactNode {
  const work = useMemo(() => ({ ...geometry, measures: geometry.request }), [geometry])
  return <CheckDimensions work={work} railway={railway} />
}

function PlaceFields({ turnout, plan }: { readonly turnout: Turnout; readonly plan: Plan }): ReactNode {
  const stores = useStores()
  const keep = useKeepInPlan()
  const network = useDerived((state) => state.derived.network)
  const set = (change: Partial<Omit<Turnout, 'id'>>): PlanCommand => ({ kind: 'turnout.set', id: turnout.id, change })
  const host = plan.tracks[turnout.track]
  const lineClass = host === undefined ? undefined : plan.lineClasses[host.lineClass]
  return (
    <Fields>
      <NameField label="Name" value={turnout.name} keep={keep((name) => set({ name }))} />
      <TurnoutKindFields turnout={turnout} />
      <FrogField
        label="Frog"
        value={turnout.frog}
        isOver={lineClass !== undefined && turnout.frog < lineClass.minFrog}
        origin={lineClass === undefined ? null : `≥ ${frogText(lineClass.minFrog)}`}
        keep={keep((frog) => set({ frog }))}
      />
      <ChoiceField
        label="Hand"
        value={turnout.hand}
        choices={[
          { value: 'left', text: 'left' },
          { value: 'right', text: 'right' },
        ]}
        onChoose={(hand) => planEdit(stores, turnoutSwap(plan, network, turnout.id, { hand }))}
        origin="facing the points"
      />
      <ChoiceField
        label="Faces"
        value={turnout.facing}
        choices={[
          { value: 'rising', text: 'rising station' },
          { value: 'falling', text: 'falling station' },
        ]}
        onChoose={(facing) => planEdit(stores, turnoutSwap(plan, network, turnout.id, { facing }))}
      />
      <LengthField
        label="Station"
        kind="room"
        range="zeroUp"
        value={turnout.stationMm}
        origin="of the points"
        keep={keep((stationMm) => set({ stationMm }))}
      />
    </Fields>
  )
}

/** What a turnout is computed from when nothing is typed: shown so that 'standard' is a number and no secret. */
function standardRequest(turnout: Turnout, plan: Plan): TurnoutRequest | null {
  const build: TurnoutBuild = {
    points: turnout.build.points,
    pointLengthMm: 'standard',
    pointThicknessMm: 'standard',
    heelSpreadMm: 'standard',
    toeLengthMm: 'standard',
    heelLengthMm: 'standard',
  }
  return requestOf(turnout, plan, build)
}

/** Of its kind no more than its points and its frog, on straight track. */
function requestOf({ track, hand, frog }: Turnout, plan: Plan, build: TurnoutBuild): TurnoutRequest | null {
  const lineClass = plan.lineClasses[plan.tracks[track]?.lineClass ?? '']
  return lineClass === undefined ? null : turnoutRequest(railwayOfClass(plan.railway, lineClass), lineClass, { hand, frog, build })
}

/** Why a turnout that can be built cannot be built so, even on straight track; null: it can, or could not before. */
function buildRefused(turnout: Turnout, plan: Plan, build: TurnoutBuild, prefs: MeasurePrefs): string | null {
  const [before, after] = [requestOf(turnout, plan, turnout.build), requestOf(turnout, plan, build)]
  if (before === null || after === null || !turnoutSolve(before).ok) return null
  const solved = turnoutSolve(after)
  return solved.ok ? null : turnoutProblemText(solved.problem, prefs)
}

/** Point rails at full size, in feet: shorter and longer than any that is filed for a turnout. From memory. */
const fullPointFeet = { least: 4, most: 60 }

function pointBounds(ratio: number): LengthBounds {
  const mm = (feet: number): number => (feet * 12 * MM_PER_INCH) / ratio
  const { least, most } = fullPointFeet
  return { leastMm: mm(least), mostMm: mm(most), because: `At full size that is ${least} to ${most} ft.` }
}

const buildRows = [
  { key: 'pointLengthMm', label: 'Point length' },
  { key: 'pointThicknessMm', label: 'Point thickness' },
  { key: 'heelSpreadMm', label: 'Heel spread' },
  { key: 'toeLengthMm', label: 'Toe length' },
  { key: 'heelLengthMm', label: 'Heel length' },
] as const

function BuildFields({ turnout, plan }: { readonly turnout: Turnout; readonly plan: Plan }): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const keep = useKeepInPlan()
  const standard = standardRequest(turnout, plan)
  const set = (change: Partial<TurnoutBuild>): PlanCommand => ({
    kind: 'turnout.set',
    id: turnout.id,
    change: { build: { ...turnout.build, ...change } },
  })
  return (
    <Fields title="Build">
      <ChoiceField
        label="Points"
        value={turnout.build.points}
        choices={[
          { value: 'straight', text: 'straight' },
          { value: 'curved', text: 'curved' },
        ]}
        onChoose={(points) => planEdit(stores, set({ points }))}
      />
      {buildRows.map(({ key, label }) => (
        <StandardLengthField
          key={key}
          label={label}
          value={turnout.build[key]}
          standardMm={standard === null ? null : standard[key]}
          bounds={key === 'pointLengthMm' ? pointBounds(plan.railway.ratio) : undefined}
          keep={{
            commit: (value) =>
              buildRefused(turnout, plan, { ...turnout.build, [key]: value }, prefs) ??
              keep((given: typeof value) => set({ [key]: given })).commit(value),
          }}
        />
      ))}
    </Fields>
  )
}

function TurnoutFacts({ geometry, room }: { readonly geometry: TurnoutGeometry; readonly room: Stretch | null }): ReactNode {
  const prefs = usePrefs((state) => state)
  const length = (mm: number): string => lengthText(mm, prefs)
  return (
    <Fields title="As it comes out">
      <FactRow label="Frog angle" value={angleText(geometry.frogAngleRad)} />
      <FactRow label="Switch angle" value={angleText(geometry.switchAngleRad)} />
      <FactRow label="Lead" value={length(geometry.leadMm)} origin="points to frog" />
      <FactRow label="Closure" value={`R ${length(geometry.closureRadiusMm)}`} origin="centreline" />
      {geometry.divergences.map(({ route, radiusMm }) => (
        <FactRow
          key={route}
          label="Sharpest"
          value={`R ${length(radiusMm)}`}
          origin={geometry.divergences.length === 1 ? 'diverging route' : route === 'curved' ? 'to its hand' : 'to the other hand'}
        />
      ))}
      {geometry.divergences
        .filter(({ wideningAskedMm }) => wideningAskedMm > 0)
        .map(({ route, widening, wideningAskedMm }) => (
          <FactRow
            key={route}
            label="Gauge wider"
            value={widening === null ? 'no' : `by ${fineText(wideningAskedMm, prefs)}`}
            origin={
              widening === null
                ? 'asked for, but there is no room, or it bends away from its hand'
                : `${length(widening.fromMm)} to ${length(widening.toMm)} behind the points, ramps of ${fineText(widening.rampMm, prefs)}`
            }
          />
        ))}
      <FactRow label="Throat" value={fineText(geometry.throatMm, prefs)} origin="before frog" />
      <FactRow
        label="Throw"
        value={fineText(geometry.throwMm, prefs)}
        origin={geometry.throwHoles.length > 1 ? `of each of ${geometry.throwHoles.length} switches` : undefined}
      />
      {geometry.frogs
        .filter(({ unguardedMm }) => unguardedMm > 0)
        .map(({ number, unguardedMm, at }) => (
          <FactRow
            key={`${at.x} ${at.y}`}
            label="Guard cut"
            value={fineText(unguardedMm, prefs)}
            origin={`at ${frogText(number)}, ${length(at.x)} behind the points: the next frog stands in its way`}
          />
        ))}
      <FactRow label="Over all" value={length(geometry.overallMm)} origin="points to heel" />
      {room === null ? null : (
        <FactRow
          label="Has room"
          value={`${lengthText(room.fromMm, prefs, 'room')} to ${lengthText(room.toMm, prefs, 'room')}`}
          origin="stations of its points"
        />
      )}
      <FactRow label="Fouling" value={length(geometry.foulingMm)} origin="past the frog" />
      <FactRow label="Ties" value={String(geometry.ties.length)} origin={`${geometry.gaps.length} gaps`} />
    </Fields>
  )
}

function TurnoutActs({ turnout }: { readonly turnout: Turnout }): ReactNode {
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  const tracks = usePlan((state) => state.plan.tracks)
  const legs: readonly TurnoutLeg[] = hasTwoLegs(turnout.kind) ? ['diverging', 'other'] : ['diverging']
  return (
    <div className="acts is-column">
      {legs.map((leg) => {
        const leaving = trackAtLeg(tracks, turnout.id, leg)
        const word = legs.length === 1 ? 'leg' : legWord(leg, turnout.hand)
        return leaving === null ? (
          <Fragment key={leg}>
            <Act isMain={leg === 'diverging'} onClick={() => trackStartFromLeg(stores, turnout.id, leg)}>
              Start a track from its {word}
            </Act>
            <Act onClick={() => setDesk({ lineAct: { kind: 'join', from: { kind: 'leg', turnout: turnout.id, leg } } })}>
              Join its {word} to…
            </Act>
          </Fragment>
        ) : (
          <Act key={leg} onClick={() => stores.session.getState().select({ kind: 'record', table: 'tracks', id: leaving.id })}>
            Go to {leaving.name}
          </Act>
        )
      })}
      <Act
        onClick={() => {
          setDesk({ sheetSubject: { kind: 'turnout', id: turnout.id } })
          stores.session.getState().setStage('sheets')
        }}
      >
        Print its sheets
      </Act>
      <BuildAct of="turnout" id={turnout.id} />
    </div>
  )
}
