import type { History } from './types.ts'

export const historyNone: History = { undo: [], redo: [] }

/** So many steps each way are kept with the plan: each write copies them, and a person seldom goes back fifty. */
const keptLimit = 100

export function historyToKeep({ undo, redo }: History): History {
  return { undo: undo.slice(-keptLimit), redo: redo.slice(-keptLimit) }
}
