import type { ReactNode } from 'react'
import type { ToolName } from '../../store/types.ts'
import { useCanvas } from './canvasContext.ts'

/** What Enter keeps of each tool that draws. */
const keepWords: { readonly [T in ToolName]?: string } = {
  track: 'Keep this line',
  benchwork: 'Keep this benchwork',
  hole: 'Keep this hole',
  wall: 'Keep this wall',
  hatch: 'Keep this hatch',
  joist: 'Keep this joist',
  guide: 'Keep this guide',
  survey: 'Keep these points',
}

interface EndPairProps {
  readonly tool: ToolName
  /** Something has been drawn or pointed at. */
  readonly isAny: boolean
  /** It can be kept as it is. */
  readonly canKeep: boolean
  /** What was pointed at stays either way. */
  readonly isKeptAnyway?: boolean
}

/** How a drawing ends, the same in every tool: kept by Enter, or discarded by Escape; before anything is drawn the tool can be put away. */
export function EndPair({ tool, isAny, canKeep, isKeptAnyway = false }: EndPairProps): ReactNode {
  const { host } = useCanvas()
  const discard = (): void => host.send({ kind: 'cancel' })
  if (!isAny) return <EndWord word="Put the tool away" keyName="Escape" cap="Esc" onPress={discard} />
  return (
    <>
      <EndWord
        word={keepWords[tool] ?? 'Keep it'}
        keyName="Enter"
        cap="Enter"
        isOff={!canKeep}
        onPress={() => host.send({ kind: 'complete' })}
      />
      {isKeptAnyway ? null : <EndWord word="Discard" keyName="Escape" cap="Esc" onPress={discard} />}
    </>
  )
}

function EndWord(props: {
  readonly word: string
  readonly keyName: string
  readonly cap: string
  readonly isOff?: boolean
  readonly onPress: () => void
}): ReactNode {
  const { word, keyName, cap, isOff = false, onPress } = props
  return (
    <button type="button" className="end-word" aria-keyshortcuts={keyName} disabled={isOff} onClick={onPress}>
      {word} <kbd aria-hidden="true">{cap}</kbd>
    </button>
  )
}
