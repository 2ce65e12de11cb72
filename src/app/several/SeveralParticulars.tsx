import { useState } from 'react'
import type { ReactNode } from 'react'
import type { TableName } from '../../core/plan/types.ts'
import { motionMirror, motionShift, motionTurn, type Member, type Motion } from '../../core/stretch/index.ts'
import { RAD_PER_DEG } from '../../core/units/index.ts'
import { typedSideExample } from '../../words/measure.ts'
import { tableWord } from '../../words/names.ts'
import { selectionRemove } from '../commands/selectionRemove.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { AngleField, LengthField } from '../fields/fields.tsx'
import { Act, Fields, ParticularsHead } from '../particulars/parts.tsx'
import { areLocked, connectedSelect, selectedCopy, selectedLock, selectedMiddle, selectedMove } from './severalActs.ts'

/** Several records as one piece: moved, turned and mirrored by numbers, laid a second time, locked, taken out. */
export function SeveralParticulars({ members }: { readonly members: readonly Member[] }): ReactNode {
  const stores = useStores()
  const isLocked = usePlan((state) => areLocked(state.plan, members))
  const prefs = usePrefs((state) => state)
  return (
    <>
      <ParticularsHead title={`${members.length} chosen`} sub={counted(members)} />
      <p className="lead">
        Drag any of them to move all; the knob above them turns them. What hangs on their turnouts alone goes along. A step can be typed:{' '}
        {typedSideExample(prefs)}.
      </p>
      <StepPart />
      <TurnPart />
      <div className="acts is-column">
        {members.some(({ table }) => table === 'tracks' || table === 'turnouts') ? (
          <Act onClick={() => connectedSelect(stores)}>Choose all that hangs together</Act>
        ) : null}
        <Act onClick={() => selectedLock(stores)}>{isLocked ? 'Unlock them' : 'Lock them'}</Act>
        <Act onClick={() => selectionRemove(stores)}>Take them out</Act>
      </div>
    </>
  )
}

function counted(members: readonly Member[]): string {
  const counts = new Map<TableName, number>()
  for (const { table } of members) counts.set(table, (counts.get(table) ?? 0) + 1)
  return [...counts].map(([table, count]) => `${count} ${tableWord(table)}${count === 1 || table === 'benchworks' ? '' : 's'}`).join(', ')
}

/** A step to the right and up, for moving and for laying a second one. */
function StepPart(): ReactNode {
  const stores = useStores()
  const units = usePrefs((prefs) => prefs.units)
  const [right, setRight] = useState(units === 'imperial' ? 4 * 25.4 : 100)
  const [up, setUp] = useState(0)
  const step = (): Motion => motionShift({ x: right, y: up })
  return (
    <Fields title="Step">
      <LengthField label="To the right" kind="room" range="any" value={right} keep={kept(setRight)} />
      <LengthField label="Up" kind="room" range="any" value={up} keep={kept(setUp)} />
      <div className="acts">
        <Act onClick={() => void selectedMove(stores, step(), 'Move')}>Move</Act>
        <Act onClick={() => void selectedCopy(stores, step())}>Lay a second one there</Act>
      </div>
    </Fields>
  )
}

/** Turns about the middle; a mirror line through it. */
function TurnPart(): ReactNode {
  const stores = useStores()
  const [turnRad, setTurn] = useState(15 * RAD_PER_DEG)
  const [lineRad, setLine] = useState(90 * RAD_PER_DEG)
  const about = (motionOf: (middle: { readonly x: number; readonly y: number }) => Motion, verb: 'Turn' | 'Mirror'): void => {
    const middle = selectedMiddle(stores)
    if (middle !== null) selectedMove(stores, motionOf(middle), verb)
  }
  return (
    <Fields title="Turn and mirror, about the middle">
      <AngleField label="Turn by" value={turnRad} origin="anticlockwise" keep={kept(setTurn)} />
      <div className="acts">
        <Act onClick={() => about((middle) => motionTurn(middle, turnRad), 'Turn')}>Turn</Act>
        <Act onClick={() => about((middle) => motionTurn(middle, -turnRad), 'Turn')}>Turn back</Act>
      </div>
      <AngleField label="Mirror line at" value={lineRad} origin="from the right" keep={kept(setLine)} />
      <div className="acts">
        <Act onClick={() => about((middle) => motionMirror(middle, lineRad), 'Mirror')}>Mirror</Act>
      </div>
    </Fields>
  )
}

const kept = (set: (value: number) => void): { commit(value: number): null } => ({
  commit(value) {
    set(value)
    return null
  },
})
