import type { ReactNode } from 'react'
import type { Id, TableName } from '../../core/plan/types.ts'
import { useDerived, useStores } from '../context.ts'
import { planEdit } from '../planEdit.ts'
import { FindingRow } from '../stages/ChecksStage.tsx'
import { tableWord } from '../words/names.ts'

export function ParticularsHead({ title, sub }: { readonly title: string; readonly sub?: ReactNode }): ReactNode {
  return (
    <header className="particulars-head">
      <h2>{title}</h2>
      {sub === undefined ? null : <p className="soft small">{sub}</p>}
    </header>
  )
}

/** What is wrong with the record at hand, before its numbers. With a corner: only what is wrong there. */
export function FindingsOf({ table, id, corner }: { readonly table: TableName; readonly id: Id; readonly corner?: Id }): ReactNode {
  const findings = useDerived((state) => state.findings)
  const here = findings.filter(
    (finding) => finding.table === table && finding.record === id && (corner === undefined || finding.corner === corner),
  )
  if (here.length === 0) return null
  return (
    <ol className="findings-here" aria-label="Findings here">
      {here.map((finding) => (
        <FindingRow key={finding.id} finding={finding} />
      ))}
    </ol>
  )
}

export function Fields({ title, children }: { readonly title?: string; readonly children: ReactNode }): ReactNode {
  return (
    <section className="fields-part">
      {title === undefined ? null : <h3>{title}</h3>}
      <div className="fields">{children}</div>
    </section>
  )
}

export function Act({
  onClick,
  isMain,
  isDisabled,
  children,
}: {
  readonly onClick: () => void
  readonly isMain?: boolean
  readonly isDisabled?: boolean
  readonly children: ReactNode
}): ReactNode {
  return (
    <button type="button" className={`act${isMain === true ? ' is-main' : ''}`} disabled={isDisabled === true} onClick={onClick}>
      {children}
    </button>
  )
}

/** Takes the record out of the plan. It asks nothing: undo brings it back. */
export function RemoveAct({ table, id }: { readonly table: TableName; readonly id: Id }): ReactNode {
  const stores = useStores()
  return (
    <Act
      onClick={() => {
        if (planEdit(stores, { kind: 'remove', table, id }).problem === null) stores.session.getState().select({ kind: 'none' })
      }}
    >
      Take this {tableWord(table)} out
    </Act>
  )
}
