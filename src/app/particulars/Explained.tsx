import { useRef, useState } from 'react'
import type { ReactNode } from 'react'
import './explained.css'
import type { Explanation, ExplainedIn } from '../../words/explained.ts'

type Shown = readonly (Explanation & { readonly label: string })[]

/** What the numbers of this column mean: said when it is asked for, of those that stand there. */
export function Explained({ of }: { readonly of: ExplainedIn }): ReactNode {
  const details = useRef<HTMLDetailsElement>(null)
  const [shown, setShown] = useState<Shown>([])
  const open = async (): Promise<void> => {
    const column = details.current?.parentElement
    if (details.current?.open !== true || column === null || column === undefined) return
    const labels = Array.from(column.querySelectorAll('.field-label'), ({ textContent }) => textContent.trim())
    const { explained } = await import('../../words/explained.ts')
    setShown(explained(of, labels))
  }
  return (
    <details ref={details} className="explained" onToggle={() => void open()}>
      <summary>What these numbers mean</summary>
      <dl>
        {shown.map(({ label, what, formula, source }) => (
          <div key={label}>
            <dt>{label}</dt>
            <dd>
              {what}
              {formula === undefined ? null : <span className="formula">{formula}</span>}
              {source === undefined ? null : <span className="soft small">{source}</span>}
            </dd>
          </div>
        ))}
      </dl>
    </details>
  )
}
