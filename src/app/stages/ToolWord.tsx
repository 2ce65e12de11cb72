import type { ReactNode } from 'react'
import type { ToolName } from '../../store/types.ts'
import { useSession } from '../context.ts'
import { useDesk } from '../desk.ts'

/** A tool as a word. Choosing the one in hand lays it down again. */
export function ToolWord({ tool, children }: { readonly tool: ToolName; readonly children: ReactNode }): ReactNode {
  const inHand = useSession((session) => session.tool === tool)
  const setTool = useSession((session) => session.setTool)
  const setDesk = useDesk((desk) => desk.set)
  return (
    <button
      type="button"
      className="act"
      aria-pressed={inHand}
      onClick={() => {
        setTool(inHand ? 'select' : tool)
        // On a narrow screen the plan must be free to draw on.
        setDesk({ drawer: null })
      }}
    >
      {children}
    </button>
  )
}

/** What to do while a tool is in hand; nothing while selecting. */
export function ToolHint({ tool, children }: { readonly tool: ToolName; readonly children: ReactNode }): ReactNode {
  const inHand = useSession((session) => session.tool === tool)
  return inHand ? <p className="hint">{children}</p> : null
}
