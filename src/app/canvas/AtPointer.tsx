import { boxOfPoints } from '../../core/geom/index.ts'
import { useLayoutEffect, useRef } from 'react'
import type { KeyboardEvent, ReactNode } from 'react'
import type { Box } from '../../core/geom/types.ts'
import type { SketchItem } from '../../tools/index.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { viewportShow } from '../viewportShow.ts'
import { useCanvas, useLive, useToolView } from './canvasContext.ts'
import { hintText } from './hintWords.ts'

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
  const style = {
    left: Math.max(8, Math.min(place.left + 18, size.width - 268)),
    top: Math.max(8, Math.min(place.top + 18, size.height - 88)),
  }
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
  along: 'Step along it',
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
  const field = useRef<HTMLInputElement>(null)
  useLayoutEffect(() => {
    const input = field.current
    input?.focus({ preventScroll: true })
    // What opened the field is its first character: typing goes on behind it.
    input?.setSelectionRange(input.value.length, input.value.length)
  }, [])

  function onKeyDown(event: KeyboardEvent): void {
    if (event.key === 'Enter') {
      host.send({ kind: 'entry', text })
      if (host.view().entry === null) {
        onShut()
        viewportShow(stores, sketchBox(host.sketch()))
      }
    } else if (event.key === 'Escape' || (event.key === 'Backspace' && text === '')) {
      host.entryShut()
      onShut()
    } else return
    event.preventDefault()
    event.stopPropagation()
  }

  return (
    <label className="entry">
      <span>{label}</span>
      <input
        ref={field}
        value={text}
        size={14}
        autoComplete="off"
        spellCheck={false}
        data-draft="true"
        aria-invalid={isRefused}
        onChange={(event) => host.entryOpen(event.target.value)}
        onKeyDown={onKeyDown}
        onBlur={() => host.entryShut()}
      />
    </label>
  )
}

/** Where what is being drawn has got to: a typed side may well end outside of the view. */
function sketchBox(items: readonly SketchItem[]): Box | null {
  return boxOfPoints(items.flatMap((item) => (item.kind === 'chain' ? item.points : [])))
}
