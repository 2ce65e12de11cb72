import type { ReactNode } from 'react'
import { trackPath } from '../../core/network/index.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { Id, Plan, Track } from '../../core/plan/types.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { NameField } from '../fields/fields.tsx'
import { ChoiceField, FactRow } from '../fields/ValueField.tsx'
import { MadeBy } from '../makers/MadeBy.tsx'
import { DrawOnAct, NextActs } from '../lineActs/NextActs.tsx'
import { isStub } from '../lineActs/stub.ts'
import { TrackLineActs } from '../lineActs/TrackLineActs.tsx'
import { portalAddOn } from '../roomThingAdd.ts'
import { planEdit, useKeepInPlan } from '../planEdit.ts'
import { SetoutAct } from '../setout/SetoutAct.tsx'
import { turnoutAddOn } from '../turnoutAdd.ts'
import { endText } from '../../words/endText.ts'
import { lengthText, turnText } from '../../words/measure.ts'
import { cornerName } from '../../words/names.ts'
import { BesideTrack } from './BesideTrack.tsx'
import { GradeRow } from './GradeRow.tsx'
import { MetTrackWord } from './MetTrackWord.tsx'
import { RoomToStand } from './RoomToStand.tsx'
import { cornerAdd, longestSide } from './cornerAdd.ts'
import { Act, Fields, ParticularsHead } from './parts.tsx'
import { FindingsOf, RemoveAct } from './recordParts.tsx'
import { useJoint } from './useJoint.ts'

export function TrackParticulars({ id }: { readonly id: Id }): ReactNode {
  const track = usePlan((state) => recordFind(state.plan, 'tracks', id))
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const alignment = useDerived((state) => state.derived.network.tracks.get(id)?.alignment)
  const stores = useStores()
  const keep = useKeepInPlan()
  if (track === null) return <p className="lead">This track is no longer there.</p>
  return (
    <>
      <ParticularsHead title={track.name} sub="Track, from start to end along rising station" />
      <MadeBy table="tracks" id={id} />
      <FindingsOf table="tracks" id={id} />
      <NextActs track={track} />
      <Fields>
        <NameField label="Name" value={track.name} keep={keep((name) => ({ kind: 'track.set', id, change: { name } }))} />
        <ChoiceField
          label="Line class"
          value={track.lineClass}
          choices={Object.values(plan.lineClasses).map((lineClass) => ({ value: lineClass.id, text: lineClass.name }))}
          onChoose={(lineClass) => planEdit(stores, { kind: 'track.set', id, change: { lineClass } })}
          origin={
            <button
              type="button"
              className="word"
              onClick={() => stores.session.getState().select({ kind: 'record', table: 'lineClasses', id: track.lineClass })}
            >
              its limits
            </button>
          }
        />
        <FactRow
          label="Length"
          value={alignment === undefined || !alignment.ok ? 'not solved' : lengthText(alignment.path.lengthMm, prefs, 'room')}
        />
        <GradeRow id={id} />
        <EndRow track={track} end="start" plan={plan} />
        <EndRow track={track} end="end" plan={plan} />
        <BesideTrack id={id} />
      </Fields>
      <CornerList track={track} plan={plan} />
      <TrackActs track={track} />
      {/* Known later than the rest: above the acts it would push them from under a hand. */}
      <RoomToStand id={id} />
    </>
  )
}

function EndRow({ track, end, plan }: { readonly track: Track; readonly end: 'start' | 'end'; readonly plan: Plan }): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const joint = useJoint(track.id, end)
  const place = end === 'start' ? track.start : track.end
  return (
    <FactRow
      label={end === 'start' ? 'Start' : 'End'}
      value={endText(place, joint?.met ?? null, plan, prefs)}
      origin={
        place.kind === 'closed' ? null : (
          <>
            <button
              type="button"
              className="word"
              aria-label={`The ${end}: its place`}
              onClick={() => stores.session.getState().select({ kind: 'trackEnd', track: track.id, end })}
            >
              its place
            </button>
            {joint === null ? null : (
              <>
                {' · '}
                <MetTrackWord track={joint.met.track} />
              </>
            )}
          </>
        )
      }
    />
  )
}

function CornerList({ track, plan }: { readonly track: Track; readonly plan: Plan }): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const alignment = useDerived((state) => state.derived.network.tracks.get(track.id)?.alignment)
  const lineClass = plan.lineClasses[track.lineClass]
  if (track.corners.length === 0) return isStub(track) ? null : <p className="lead">A straight so far. Add a corner to turn it.</p>
  return (
    <section className="record-list">
      <h3>Corners</h3>
      <ol>
        {track.corners.map((corner, index) => {
          const solution = alignment?.ok === true ? alignment.corners.find((place) => place.cornerId === corner.id)?.solution : undefined
          const given = corner.radius === 'class' ? lineClass?.usualRadiusMm : corner.radius
          const radius = solution?.radiusMm ?? (typeof given === 'number' ? given : null)
          const count = typeof corner.radius === 'object' ? corner.radius.next.length + 1 : 1
          const shape = corner.radius === 'easement-only' ? 'easements only' : `${count} radii`
          return (
            <li key={corner.id}>
              <button
                type="button"
                onClick={() => stores.session.getState().select({ kind: 'corner', track: track.id, corner: corner.id })}
              >
                <span>{cornerName(track, index)}</span>
                <span className="note">
                  {radius === null ? shape : `${count > 1 ? `${shape}, least ` : ''}R ${lengthText(radius, prefs)}`}
                  {solution === undefined ? '' : ` · ${turnText(solution.deflectionRad)}`}
                </span>
              </button>
            </li>
          )
        })}
      </ol>
    </section>
  )
}

function TrackActs({ track }: { readonly track: Track }): ReactNode {
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  const id = track.id
  const canClose = track.end.kind !== 'closed' && track.start.kind === 'free' && track.corners.length >= 3
  return (
    <div className="acts is-column">
      <Act onClick={() => cornerAdd(stores, track, longestSide(stores, track))}>Add a corner</Act>
      {isStub(track) ? null : <DrawOnAct track={id} end="end" />}
      <DrawOnAct track={id} end="start" />
      <Act onClick={() => turnoutAddOn(stores, track)}>Place a turnout on it</Act>
      <Act onClick={() => portalAddOn(stores, track)}>Set a portal over it</Act>
      <TrackLineActs track={id} />
      {canClose ? (
        <Act onClick={() => planEdit(stores, { kind: 'track.setEnd', id, end: { kind: 'closed' } })}>Close it into a loop</Act>
      ) : null}
      {track.end.kind === 'closed' ? <OpenLoop track={track} /> : null}
      <Act
        onClick={() => {
          setDesk({ sheetSubject: { kind: 'track', id } })
          stores.session.getState().setStage('sheets')
        }}
      >
        Sheets of this track
      </Act>
      <SetoutAct track={id} />
      <RemoveAct table="tracks" id={id} />
    </div>
  )
}

/** Opening a loop needs an end: just short of the start, on the side that returns to it. */
function OpenLoop({ track }: { readonly track: Track }): ReactNode {
  const stores = useStores()
  const path = useDerived((state) => trackPath(state.derived.network, track.id))
  if (path === null || track.start.kind !== 'free') return null
  return (
    <Act
      onClick={() => {
        const { x, y, headingRad } = path.end
        const gap = Math.min(150, path.lengthMm / 10)
        planEdit(stores, {
          kind: 'track.setEnd',
          id: track.id,
          end: { kind: 'free', x: x - gap * Math.cos(headingRad), y: y - gap * Math.sin(headingRad) },
        })
      }}
    >
      Open the loop
    </Act>
  )
}
