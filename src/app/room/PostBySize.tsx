import { useState } from 'react'
import type { ReactNode } from 'react'
import { roomUsual } from '../../core/room/index.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { LengthField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import { BySizeFoot } from './BySizeFoot.tsx'
import { postAdd, postFrom } from './postAdd.ts'

const shapes = [
  { value: 'square', text: 'square' },
  { value: 'round', text: 'round' },
] as const

/** A post by its size and its place in the room. */
export function PostBySize({ shut }: { readonly shut: () => void }): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const plan = usePlan((state) => state.plan)
  const { postMm } = roomUsual(prefs.units)
  const [shape, setShape] = useState<(typeof shapes)[number]['value']>('square')
  const [acrossMm, setAcross] = useState(postMm)
  const [depthMm, setDepth] = useState(postMm)
  const [rightMm, setRight] = useState(10 * postMm)
  const [upMm, setUp] = useState(10 * postMm)
  const [wrong, setWrong] = useState<string | null>(null)
  function add(): void {
    const from = postFrom(plan)
    const held = { acrossMm, depthMm: shape === 'round' ? null : depthMm }
    const problem = postAdd(stores, held, { x: from.x + rightMm, y: from.y + upMm })
    setWrong(problem)
    if (problem === null) shut()
  }
  return (
    <>
      <ChoiceField label="Shape" value={shape} choices={shapes} onChoose={setShape} />
      <LengthField label={shape === 'round' ? 'Thick' : 'Wide'} value={acrossMm} keep={keepIn(setAcross)} />
      {shape === 'round' ? null : <LengthField label="Deep" value={depthMm} keep={keepIn(setDepth)} />}
      <LengthField label="From the left" kind="room" range="any" value={rightMm} keep={keepIn(setRight)} />
      <LengthField label="From below" kind="room" range="any" value={upMm} keep={keepIn(setUp)} />
      <p className="soft">To its middle, from the lower left corner of the room. It can be dragged afterwards.</p>
      <BySizeFoot wrong={wrong} word="Add this post" onMake={add} shut={shut} />
    </>
  )
}
