import type { ReactNode } from 'react'
import type { RailPlace } from '../../core/rails/types.ts'
import { jointCommand } from '../../tools/joints/jointDrag.ts'
import { lengthText } from '../../words/measure.ts'
import { recordName } from '../../words/names.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { planBoxOfRecord } from '../places.ts'
import { planEdit } from '../planEdit.ts'
import { RecordList } from '../stages/RecordList.tsx'
import { viewportShow } from '../viewportShow.ts'
import type { ListsNow } from './useLists.ts'

/** Every joint without a pointer: the builder's own by name, and those of the rules, each of which can be made an own one. */
export function JointList({ lists }: { readonly lists: ListsNow }): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const plan = usePlan((state) => state.plan)
  const own = Object.values(plan.railJoints)
  const byRules = lists.lists.rails.joints.filter(({ isOwn }) => isOwn === null)
  const name = ({ track, rail }: Pick<RailPlace, 'track' | 'rail'>): string => `${recordName(plan, 'tracks', track)}, ${rail} rail`
  const station = ({ stationMm }: Pick<RailPlace, 'stationMm'>): string => lengthText(stationMm, prefs, 'room')

  function hold({ track, rail, stationMm }: RailPlace): void {
    const { added } = planEdit(stores, jointCommand(null, { track, rail, stationMm }))
    if (added === null) return
    stores.session.getState().select({ kind: 'record', table: 'railJoints', id: added })
    viewportShow(stores, planBoxOfRecord(stores, 'railJoints', added))
  }

  return (
    <>
      <RecordList
        table="railJoints"
        title="Joints of your own"
        records={own.map((joint) => ({ id: joint.id, name: name(joint), note: station(joint) }))}
      />
      {byRules.length === 0 ? null : (
        <details className="record-list">
          <summary>Joints by the rules ({byRules.length})</summary>
          <p className="soft small">Drag one on the plan, or choose it here, to make it your own and put it elsewhere.</p>
          <ul>
            {byRules.map(({ run, atMm, place }) => (
              <li key={`${run} ${atMm}`}>
                <button type="button" onClick={() => hold(place)}>
                  <span>{name(place)}</span>
                  <span className="note">{station(place)}</span>
                </button>
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  )
}
