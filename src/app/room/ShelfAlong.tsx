import { useState } from 'react'
import type { ReactNode } from 'react'
import { insideOf, roomUsual, shelfAlong, wallRun } from '../../core/room/index.ts'
import type { InnerCorner } from '../../core/room/index.ts'
import type { Wall } from '../../core/plan/types.ts'
import { nextName } from '../../tools/index.ts'
import { shelfProblemText } from '../../words/roomText.ts'
import { usePrefs, useStores } from '../context.ts'
import { LengthField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { planEdit } from '../planEdit.ts'
import { useBenchGhost } from './benchGhost.ts'
import { BySize } from './BySize.tsx'
import { BySizeFoot } from './BySizeFoot.tsx'
import { InnerCornerFields } from './InnerCornerFields.tsx'

/** Benchwork as a shelf along a wall, from one of its corners to another. */
export default function ShelfAlong({ wall }: { readonly wall: Wall }): ReactNode {
  return (
    <BySize form="shelf" word="Run a shelf along it" label="A shelf along this wall">
      {(shut) => <ShelfFields wall={wall} shut={shut} />}
    </BySize>
  )
}

function ShelfFields({ wall, shut }: { readonly wall: Wall; readonly shut: () => void }): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const usual = roomUsual(prefs.units)
  const [from, setFrom] = useState(0)
  const [to, setTo] = useState(1)
  const [depthMm, setDepth] = useState(usual.shelfDeepMm)
  const [heightMm, setHeight] = useState(usual.topMm)
  const [side, setSide] = useState<'left' | 'right'>(() => (wall.isClosed ? insideOf(wall.points) : 'left'))
  const [inner, setInner] = useState<InnerCorner>({ kind: 'square' })
  const [wrong, setWrong] = useState<string | null>(null)
  const corners = wall.points.map((_, i) => ({ value: `${i}`, text: `point ${i + 1}` }))
  const run = wallRun(wall.points, wall.isClosed, from, to)
  const shelf = shelfAlong(run.points, { side, depthMm, inner, beyond: run.beyond })
  useBenchGhost({
    outline: shelf.ok ? shelf.outline : [],
    legs: [],
    corners: wall.points.map((at, i) => ({ number: i + 1, at, isTaken: i === from || i === to, onTake: () => setTo(i) })),
  })
  function add(): void {
    if (!shelf.ok) return setWrong(shelfProblemText(shelf.problem, prefs))
    const pieces = Object.values(stores.plan.getState().plan.benchworks)
    const record = { name: nextName('Shelf', pieces), outline: shelf.outline, holes: [], heightMm }
    const { added, problem } = planEdit(stores, { kind: 'benchwork.add', record })
    setWrong(problem)
    if (added === null) return
    shut()
    stores.session.getState().select({ kind: 'record', table: 'benchworks', id: added })
  }
  return (
    <>
      <ChoiceField label="From" value={`${from}`} choices={corners} onChoose={(at) => setFrom(Number(at))} />
      <ChoiceField label="To" value={`${to}`} choices={corners} onChoose={(at) => setTo(Number(at))} />
      <LengthField label="Deep" kind="room" value={depthMm} keep={keepIn(setDepth)} />
      <LengthField label="Height" kind="room" range="zeroUp" value={heightMm} keep={keepIn(setHeight)} />
      <ChoiceField<'left' | 'right'>
        label="Lies"
        value={side}
        choices={[
          { value: 'left', text: 'left of the wall’s line' },
          { value: 'right', text: 'right of the wall’s line' },
        ]}
        onChoose={setSide}
      />
      <InnerCornerFields inner={inner} onChange={setInner} />
      <BySizeFoot wrong={wrong} word="Add this shelf" onMake={add} shut={shut} />
    </>
  )
}
