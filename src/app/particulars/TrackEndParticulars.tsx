import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { FreeEnd, Id } from '../../core/plan/types.ts'
import { jointMove } from '../../tools/index.ts'
import { endText } from '../../words/endText.ts'
import { recordName } from '../../words/names.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { LengthField } from '../fields/fields.tsx'
import { FactRow } from '../fields/ValueField.tsx'
import { DrawOnAct, NextActs } from '../lineActs/NextActs.tsx'
import { isStub } from '../lineActs/stub.ts'
import { planEdit, useKeepInPlan } from '../planEdit.ts'
import { cornerAdd } from './cornerAdd.ts'
import { Act, Fields, ParticularsHead } from './parts.tsx'
import { FindingsOf } from './recordParts.tsx'
import { JointActs } from './JointActs.tsx'
import { MetTrackWord } from './MetTrackWord.tsx'
import { isHeld, useJoint } from './useJoint.ts'

export function TrackEndParticulars({ trackId, end }: { readonly trackId: Id; readonly end: 'start' | 'end' }): ReactNode {
  const track = usePlan((state) => recordFind(state.plan, 'tracks', trackId))
  const plan = usePlan((state) => state.plan)
  const polygon = useDerived((state) => state.derived.network.tracks.get(trackId)?.alignment.polygon)
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  const keep = useKeepInPlan()
  const prefs = usePrefs((state) => state)
  const joint = useJoint(trackId, end)
  if (track === null) return <p className="lead">This track is no longer there.</p>
  const place = end === 'start' ? track.start : track.end
  const held = joint !== null && isHeld(joint) ? joint : null
  const put = (to: FreeEnd): PlanCommand =>
    held !== null
      ? jointMove(held, to, `Move the joint of ${track.name} and ${recordName(plan, 'tracks', held.met.track)}`)
      : end === 'start'
        ? { kind: 'track.setStart', id: trackId, start: to }
        : { kind: 'track.setEnd', id: trackId, end: to }
  const drawn = end === 'start' ? polygon?.[0] : polygon?.at(-1)
  return (
    <>
      <ParticularsHead title={end === 'start' ? 'Start of the track' : 'End of the track'} sub={track.name} />
      <FindingsOf table="tracks" id={trackId} />
      {end === 'end' && held === null ? <NextActs track={track} /> : null}
      <Fields>
        <FactRow
          label="Held by"
          value={endText(place, joint?.met ?? null, plan, prefs)}
          origin={joint === null ? null : <MetTrackWord track={joint.met.track} />}
        />
        {place.kind === 'free' ? (
          <>
            <LengthField
              label="Right"
              kind="room"
              range="any"
              value={place.x}
              origin="from the origin"
              keep={keep((x) => put({ ...place, x }))}
            />
            <LengthField label="Up" kind="room" range="any" value={place.y} keep={keep((y) => put({ ...place, y }))} />
          </>
        ) : null}
      </Fields>
      <div className="acts is-column">
        {joint === null ? null : <JointActs joint={joint} />}
        {place.kind === 'free' && held === null ? (
          <Act onClick={() => setDesk({ lineAct: { kind: 'join', from: { kind: 'trackEnd', track: trackId, end } } })}>
            Join this end to…
          </Act>
        ) : null}
        {end === 'end' && isStub(track) ? null : <DrawOnAct track={trackId} end={end} />}
        {place.kind === 'free' ? (
          <Act onClick={() => cornerAdd(stores, track, end === 'start' ? 0 : track.corners.length)}>
            {end === 'start' ? 'Add a corner after it' : 'Add a corner before it'}
          </Act>
        ) : null}
        {place.kind === 'leg' && drawn !== undefined ? (
          <Act onClick={() => planEdit(stores, put({ kind: 'free', x: drawn.x, y: drawn.y }))}>Set it free here</Act>
        ) : null}
        <Act onClick={() => stores.session.getState().select({ kind: 'record', table: 'tracks', id: trackId })}>The whole track</Act>
      </div>
    </>
  )
}
