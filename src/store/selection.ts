import type { Id } from '../core/plan/types.ts'
import type { Member } from '../core/stretch/index.ts'
import type { Selection } from './types.ts'

/** The records that a selection is about: of a part of one, that one. */
export function selectionMembers(selection: Selection): readonly Member[] {
  switch (selection.kind) {
    case 'none':
      return []
    case 'record':
      return [{ table: selection.table, id: selection.id }]
    case 'corner':
    case 'trackEnd':
      return [{ table: 'tracks', id: selection.track }]
    case 'ringPoint':
      return [{ table: 'benchworks', id: selection.benchwork }]
    case 'several':
      return selection.members
  }
}

/** The track that is selected, or a part of it; null: something else, or several. */
export function selectedTrack(selection: Selection): Id | null {
  const [one] = selection.kind === 'several' ? [] : selectionMembers(selection)
  return one?.table === 'tracks' ? one.id : null
}

/** A selection of records, each once. */
export function selectionOfMembers(members: readonly Member[]): Selection {
  const once = members.filter((one, i) => members.findIndex((other) => isSame(one, other)) === i)
  const [first] = once
  if (first === undefined) return { kind: 'none' }
  return once.length === 1 ? { kind: 'record', ...first } : { kind: 'several', members: once }
}

/** The selection with a record taken in, or left out where it was in. */
export function selectionToggled(selection: Selection, member: Member): Selection {
  const members = selectionMembers(selection)
  const without = members.filter((one) => !isSame(one, member))
  return selectionOfMembers(without.length < members.length ? without : [...members, member])
}

function isSame(a: Member, b: Member): boolean {
  return a.table === b.table && a.id === b.id
}
