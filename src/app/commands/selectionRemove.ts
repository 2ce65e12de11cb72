import { editRemoveAllCommand, editRemoveCommand } from '../../core/edit/index.ts'
import type { Pose } from '../../core/geom/types.ts'
import { legPose } from '../../core/network/index.ts'
import type { Id, TableName, TurnoutLeg } from '../../core/plan/types.ts'
import type { Stores } from '../context.ts'
import { planEdit } from '../planEdit.ts'
import { goesAlong, removedWords } from '../../words/editLabel.ts'
import { upperFirst } from '../../words/names.ts'

/** Takes a record out; what hangs on it is set free where it lies. It asks nothing: undo brings it back. */
export function recordRemove(stores: Stores, table: TableName, id: Id): void {
  const { plan } = stores.plan.getState()
  const session = stores.session.getState()
  if (planEdit(stores, editRemoveCommand(plan, table, id, poseFinder(stores))).problem !== null) return
  session.select({ kind: 'none' })
  if (goesAlong(plan, table, id).length > 0)
    session.setNotice(`${upperFirst(removedWords(plan, table, id))} are taken out. Undo brings all of it back.`)
}

/** Where the legs of turnouts are now. */
export function poseFinder(stores: Stores): (turnout: Id, leg: TurnoutLeg) => Pose | null {
  const placed = stores.derived.getState().derived.network.turnouts
  return (turnout, leg) => {
    const result = placed.get(turnout)?.result
    return result === undefined ? null : legPose(result, leg)
  }
}

/** Takes out what is selected. It asks nothing: undo brings it back. */
export function selectionRemove(stores: Stores): void {
  const session = stores.session.getState()
  const { selection } = session
  switch (selection.kind) {
    case 'none':
      return
    case 'several': {
      const command = editRemoveAllCommand(stores.plan.getState().plan, selection.members, poseFinder(stores))
      if (planEdit(stores, command).problem === null) session.select({ kind: 'none' })
      return
    }
    case 'record':
      recordRemove(stores, selection.table, selection.id)
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
