import { boxOfPoints } from '../../core/geom/index.ts'
import type { ReactNode } from 'react'
import type { Box } from '../../core/geom/types.ts'
import type { SketchItem } from '../../tools/index.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { viewportShow } from '../viewportShow.ts'
import { useCanvas, useLive, useToolView } from './canvasContext.ts'
import { hintText } from './hintWords.ts'
import { TypedField } from './TypedField.tsx'

/** A field and a reason of four lines, px. */
const mostHighPx = 150

/** What stands beside the pointer: the field that a typed digit opens, and what the tool has to say. */
export function AtPointer({ onShut }: { readonly onShut: () => void }): ReactNode {
  const { hint, entry } = useToolView()
  const { host } = useCanvas()
  const pointer = useLive((live) => live.pointer)
  const size = useLive((live) => live.size)
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  if (hint === null && entry === null) return null
  const place = pointer ?? { left: size.width / 2, top: size.height / 2 }
  const words = hint === null ? '' : hintText(hint, plan, prefs)
  const left = Math.max(8, Math.min(place.left + 18, size.width - 268))
  // Near the foot it stands above the pointer: what is said there may take several lines.
  const isLow = place.top + 18 + mostHighPx > size.height && place.top > size.height / 2
  const style = isLow
    ? { left, bottom: Math.max(8, size.height - place.top + 18) }
    : { left, top: Math.max(8, Math.min(place.top + 18, size.height - mostHighPx)) }
  return (
    <div className="at-pointer" style={style} data-own-pointer="">
      {entry === null ? null : (
        <EntryField text={entry} isRefused={hint?.kind === 'entry'} onShut={onShut} label={entryLabel[host.entryKind() ?? 'point']} />
      )}
      <p role="status" className={words === '' ? 'visually-hidden' : 'pointer-hint'}>
        {words}
      </p>
    </div>
  )
}

const entryLabel = {
  point: 'Length, angle',
  pi: 'Length, angle, r radius',
  frog: 'Frog number',
  step: 'Step: length, angle',
  piStep: 'Step: length, angle, r radius',
  along: 'Step, sta station',
  turn: 'Turn by',
  station: 'Along the track',
} as const

function EntryField({
  text,
  isRefused,
  onShut,
  label,
}: {
  readonly text: string
  readonly isRefused: boolean
  readonly onShut: () => void
  readonly label: string
}): ReactNode {
  const { host } = useCanvas()
  const stores = useStores()

  function enter(): void {
    host.send({ kind: 'entry', text })
    if (host.view().entry !== null) return
    onShut()
    viewportShow(stores, sketchBox(host.sketch()))
  }
  function leave(by: 'Escape' | 'Backspace'): void {
    // What is dragged is given up with what was typed for it.
    if (by === 'Escape' && stores.plan.getState().transaction !== null) host.send({ kind: 'cancel' })
    else host.entryShut()
    onShut()
  }

  return (
    <TypedField
      label={label}
      text={text}
      isRefused={isRefused}
      onText={(next) => host.entryOpen(next)}
      onEnter={enter}
      onLeave={leave}
      onBlur={() => host.entryShut()}
    />
  )
}

/** Where what is being drawn has got to: a typed side may well end outside of the view. */
function sketchBox(items: readonly SketchItem[]): Box | null {
  return boxOfPoints(items.flatMap((item) => (item.kind === 'chain' ? item.points : [])))
}
