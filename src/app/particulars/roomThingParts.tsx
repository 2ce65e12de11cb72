import type { ReactNode } from 'react'
import type { Id } from '../../core/plan/types.ts'
import { tableWord, upperFirst } from '../../words/names.ts'
import { ParticularsHead } from './parts.tsx'
import { FindingsOf } from './recordParts.tsx'

type RoomThing = 'openings' | 'hatches' | 'joists' | 'portals'

export const gone = (table: RoomThing): ReactNode => <p className="lead">This {tableWord(table)} is no longer there.</p>

export function RoomThingHead({
  table,
  id,
  name,
  sub,
}: {
  readonly table: RoomThing
  readonly id: Id
  readonly name: string
  readonly sub: string
}): ReactNode {
  return (
    <>
      <ParticularsHead title={name.trim() === '' ? upperFirst(tableWord(table)) : name} sub={sub} />
      <FindingsOf table={table} id={id} />
    </>
  )
}
