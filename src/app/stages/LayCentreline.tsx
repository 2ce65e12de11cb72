import type { ReactNode } from 'react'
import { ToolHint, ToolWord } from './ToolWord.tsx'

/** Begins a line, wherever a stage has nothing to show before there is one. */
export function LayCentreline(): ReactNode {
  return (
    <>
      <ToolWord tool="track">Lay a centreline</ToolWord>
      <ToolHint tool="track">
        Click where the track starts, at each corner and at its end; Enter or a second click ends it. Click the start again to close a loop.
      </ToolHint>
    </>
  )
}
