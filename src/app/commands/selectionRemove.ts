import type { Stores } from '../context.ts'
import { planEdit } from '../planEdit.ts'

/** Takes out what is selected. It asks nothing: undo brings it back. */
export function selectionRemove(stores: Stores): void {
  const session = stores.session.getState()
  const { selection } = session
  switch (selection.kind) {
    case 'none':
      return
    case 'record':
      if (planEdit(stores, { kind: 'remove', table: selection.table, id: selection.id }).problem === null) session.select({ kind: 'none' })
      return
    case 'corner':
      if (planEdit(stores, { kind: 'corner.remove', track: selection.track, corner: selection.corner }).problem === null) {
        session.select({ kind: 'record', table: 'tracks', id: selection.track })
      }
      return
    case 'trackEnd':
      session.setNotice('A track has two ends; take out a corner, or the whole track.')
      return
    case 'ringPoint':
      if (
        planEdit(stores, { kind: 'benchwork.removePoint', id: selection.benchwork, ring: selection.ring, index: selection.index })
          .problem === null
      ) {
        session.select({ kind: 'record', table: 'benchworks', id: selection.benchwork })
      }
  }
}
