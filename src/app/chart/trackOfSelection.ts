import type { Id } from '../../core/plan/types.ts'
import type { Selection } from '../../store/types.ts'

/** The track that the selection is about. */
export function trackOfSelection(selection: Selection, hostOf: (turnout: Id) => Id | null): Id | null {
  switch (selection.kind) {
    case 'corner':
    case 'trackEnd':
      return selection.track
    case 'record':
      return selection.table === 'tracks' ? selection.id : selection.table === 'turnouts' ? hostOf(selection.id) : null
    case 'several':
      return selection.members.find(({ table }) => table === 'tracks')?.id ?? null
    case 'none':
    case 'ringPoint':
      return null
  }
}
