import { useState } from 'react'
import type { ReactNode } from 'react'
import { roomUsual } from '../../core/room/index.ts'
import { shelfProblemText } from '../../words/roomText.ts'
import { usePrefs, useStores } from '../context.ts'
import { LengthField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import { benchAdd, benchOutline, placeBeside } from './benchAdd.ts'
import type { BenchHeld } from './benchAdd.ts'
import { useBenchGhost } from './benchGhost.ts'
import { BySizeFoot } from './BySizeFoot.tsx'

/** A plain table by its two sides: the quickest start, and the way that needs no pointer. */
export function TableBySize({ isFirst, shut }: { readonly isFirst: boolean; readonly shut: () => void }): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const usual = roomUsual(prefs.units)
  const [long, setLong] = useState(usual.tableLongMm)
  const [deep, setDeep] = useState(usual.tableDeepMm)
  const [wrong, setWrong] = useState<string | null>(null)
  const held: BenchHeld = {
    word: 'Table',
    lengthsMm: [long],
    depthsMm: [deep],
    inner: { kind: 'square' },
    heightMm: usual.topMm,
    alongRad: 0,
  }
  const shelf = benchOutline(held, placeBeside(stores, held))
  useBenchGhost({ outline: shelf.ok ? shelf.outline : [], legs: [], corners: [] })
  function add(): void {
    const problem = shelf.ok ? benchAdd(stores, held, shelf.outline) : shelfProblemText(shelf.problem, prefs)
    setWrong(problem)
    if (problem === null) shut()
  }
  return (
    <>
      <LengthField label="Along" kind="room" value={long} keep={keepIn(setLong)} />
      <LengthField label="Deep" kind="room" value={deep} keep={keepIn(setDeep)} />
      <BySizeFoot wrong={wrong} word="Add this table" isMain={isFirst} onMake={add} shut={shut} />
    </>
  )
}
