import type { ReactNode } from 'react'
import type { Id } from '../../core/plan/types.ts'
import { upperFirst } from '../../words/names.ts'
import { jointKindText } from '../../words/railText.ts'
import { recordRemove } from '../commands/selectionRemove.ts'
import { useLaying, usePlan, usePrefs, useStores } from '../context.ts'
import { LengthField } from '../fields/fields.tsx'
import { ChoiceField, FactRow } from '../fields/ValueField.tsx'
import { planEdit, useKeepInPlan } from '../planEdit.ts'
import { Act, Fields, ParticularsHead } from './parts.tsx'
import { FindingsOf } from './recordParts.tsx'

const rails = [
  { value: 'left', text: 'left' },
  { value: 'right', text: 'right' },
] as const

/** A joint that the builder put somewhere. */
export function RailJointParticulars({ id }: { readonly id: Id }): ReactNode {
  const joint = usePlan((state) => state.plan.railJoints[id])
  const track = usePlan((state) => state.plan.tracks[joint?.track ?? ''])
  const made = useLaying((laying) => laying.answer?.lists.rails.joints.find(({ isOwn }) => isOwn === id))
  const prefs = usePrefs((state) => state)
  const stores = useStores()
  const keep = useKeepInPlan()
  if (joint === undefined) return <p className="lead">The rules place this joint again.</p>
  return (
    <>
      <ParticularsHead title="Rail joint of your own" sub={`In ${track?.name ?? joint.track}`} />
      <FindingsOf table="railJoints" id={id} />
      <Fields>
        <LengthField
          label="Station"
          kind="room"
          range="any"
          value={joint.stationMm}
          origin="along the track"
          keep={keep((stationMm) => ({ kind: 'railJoint.set', id, change: { stationMm } }))}
        />
        <ChoiceField
          label="Rail"
          value={joint.rail}
          choices={rails}
          onChoose={(rail) => planEdit(stores, { kind: 'railJoint.set', id, change: { rail } })}
        />
        {made === undefined ? null : (
          <>
            <FactRow label="Between" value={made.pieces.join(' and ')} />
            <FactRow label="Made as" value={upperFirst(jointKindText(made.kind, made.gapMm, prefs))} />
          </>
        )}
      </Fields>
      <div className="acts is-column">
        <Act onClick={() => recordRemove(stores, 'railJoints', id)}>Give it back to the rules</Act>
      </div>
    </>
  )
}
