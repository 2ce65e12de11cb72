import type { ReactNode } from 'react'
import { planHasAny } from '../../core/plan/index.ts'
import { useDerived, usePlan } from '../context.ts'
import { useDesk } from '../desk.ts'
import { MakerActs } from '../makers/MakerActs.tsx'
import { crossingSizeText, kindPrefix } from '../../words/turnoutText.ts'
import { recordName, upperFirst } from '../../words/names.ts'
import { frogText } from '../../words/measure.ts'
import { LayCentreline } from './LayCentreline.tsx'
import { RecordList } from './RecordList.tsx'
import { ToolHint, ToolWord } from './ToolWord.tsx'

export function TurnoutsStage(): ReactNode {
  const turnouts = usePlan((state) => state.committed.turnouts)
  const hasTracks = usePlan((state) => planHasAny(state.committed, 'tracks'))
  const setDesk = useDesk((desk) => desk.set)
  const isEmpty = Object.keys(turnouts).length === 0
  return (
    <>
      <p className="lead">
        {!hasTracks
          ? 'A turnout sits on a track. It needs a centreline first.'
          : isEmpty
            ? 'Place a turnout on a track, straight or curved. Every rail, tie and gap follows from gauge and frog number; its diverging leg is where the next track starts.'
            : 'Drag a turnout along its track, or select it and type its station. From its leg the next track starts.'}
      </p>
      <div className="acts is-column">
        {hasTracks ? <ToolWord tool="turnout">Place a turnout</ToolWord> : <LayCentreline />}
        <ToolHint tool="turnout">
          Point at a track and click. H changes the hand, F the way it faces, K the kind; type a number for another frog.
        </ToolHint>
        <button type="button" className="word" onClick={() => setDesk({ dialog: 'gallery' })}>
          Gallery of turnouts and crossings
        </button>
      </div>
      <MakerActs kinds={['crossover', 'spur', 'yard', 'wye']} />
      <RecordList
        table="turnouts"
        title="Turnouts"
        records={Object.values(turnouts).map((turnout) => ({
          id: turnout.id,
          name: turnout.name,
          note: `${kindPrefix(turnout.kind)}${frogText(turnout.frog)} ${turnout.hand}`,
        }))}
      />
      <CrossingList />
    </>
  )
}

/** Places where tracks cross on the level: found, not placed. */
function CrossingList(): ReactNode {
  const crossings = useDerived((state) => state.derived.network.crossings)
  const plan = usePlan((state) => state.committed)
  return (
    <RecordList
      table="crossings"
      title="Crossings"
      records={[...crossings.values()].map(({ id, result }) => ({
        id,
        name: upperFirst(recordName(plan, 'crossings', id)),
        note: result.ok ? crossingSizeText(result.crossing.number, result.crossing.angleRad) : 'cannot be built',
      }))}
    />
  )
}
