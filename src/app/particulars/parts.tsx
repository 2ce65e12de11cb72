import { memo } from 'react'
import type { ReactNode } from 'react'
import { ShortForms } from '../fields/ShortForms.tsx'
export { Act } from './acts.tsx'

export const ParticularsHead = memo(function ParticularsHead({
  title,
  sub,
}: {
  readonly title: string
  readonly sub?: ReactNode
}): ReactNode {
  return (
    <header className="particulars-head">
      <h2>
        <ShortForms text={title} />
      </h2>
      {sub === undefined ? null : <p className="soft small">{sub}</p>}
    </header>
  )
})

export function Fields({ title, children }: { readonly title?: string; readonly children: ReactNode }): ReactNode {
  return (
    <section className="fields-part">
      {title === undefined ? null : <h3>{title}</h3>}
      <div className="fields">{children}</div>
    </section>
  )
}
