import { editLate, late } from '../store/index.ts'
import type { ToolName } from '../store/types.ts'
import type { drawingTools } from './drawing.ts'
import { running, type RunningTool } from './running.ts'

/* Nothing can be drawn before there is a picture: the tools come behind it, first the one that is in the hand when the page opens. */

// With it comes what edits: from the first moment in which a hand can do something, what it did is kept in the same breath.
const selecting = late(async () => {
  const [{ selectTool }] = await Promise.all([import('./select/tool.ts'), editLate.bring()])
  return selectTool
})
const drawing = late(async () => (await import('./drawing.ts')).drawingTools)

/** The tools of one host, each with its own state; null: not here yet. */
export interface ToolBox {
  now(name: ToolName): RunningTool | null
  bring(name: ToolName): Promise<unknown>
}

export function toolBox(): ToolBox {
  let select: RunningTool | null = null
  let others: ReturnType<typeof drawingTools> | null = null
  return {
    now(name) {
      if (name !== 'select') {
        others ??= drawing.now()?.() ?? null
        return others?.[name] ?? null
      }
      const tool = selecting.now()
      select ??= tool === null ? null : running(tool)
      return select
    },
    bring: (name) => (name === 'select' ? selecting : drawing).bring(),
  }
}

/** All tools, before one of them is taken up. */
export async function toolsBring(): Promise<void> {
  await Promise.all([selecting.bring(), drawing.bring()])
}
