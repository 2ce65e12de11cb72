import type { Point } from '../../core/geom/types.ts'
import type { Selection } from '../../store/types.ts'
import { picksAt } from '../shared/pick.ts'
import type { ToolContext } from '../types.ts'
import { selectionOf } from './grip.ts'

/** What can be selected at a place, the most likely meant first, each once. */
export function selectionsAt(context: ToolContext, at: Point): readonly Selection[] {
  const found = new Map<string, Selection>()
  for (const pick of picksAt(context, at)) {
    const selection = selectionOf(pick)
    const key = JSON.stringify(selection)
    if (selection.kind !== 'none' && !found.has(key)) found.set(key, selection)
  }
  return [...found.values()]
}
