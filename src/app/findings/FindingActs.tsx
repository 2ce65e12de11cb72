import { Suspense, lazy, useRef, useState } from 'react'
import type { ReactNode } from 'react'
import { findingClass } from '../../core/checks/index.ts'
import type { Finding } from '../../core/checks/types.ts'
import { usePlan, useStores } from '../context.ts'
import { viewportShow } from '../viewportShow.ts'
import type { FindingPanelKind } from './FindingPanel.tsx'

const FindingPanel = lazy(() => import('./FindingPanel.tsx'))

/** What can be done about a finding: cure it, live with it here, or have its rule told otherwise. cureText null: there is no cure. */
export function FindingActs({
  finding,
  title,
  cureText,
  isCureOnly = false,
}: {
  readonly finding: Finding
  readonly title: string
  readonly cureText: string | null
  readonly isCureOnly?: boolean
}): ReactNode {
  const stores = useStores()
  const lineClass = usePlan((state) => findingClass(state.plan, finding))
  const [open, setOpen] = useState<FindingPanelKind | null>(null)
  const buttons = useRef<HTMLDivElement>(null)
  const act = (kind: FindingPanelKind, words: string, look: string, label?: string): ReactNode => (
    <button
      type="button"
      className={look}
      aria-label={label}
      aria-expanded={open === kind}
      data-panel={kind}
      onClick={() => {
        // The place comes into view; what is chosen stays, for the panel that this stands in may be that of what is chosen.
        if (kind === 'cure' && open !== 'cure') viewportShow(stores, { minX: finding.x, maxX: finding.x, minY: finding.y, maxY: finding.y })
        setOpen(open === kind ? null : kind)
      }}
    >
      {words}
    </button>
  )
  if (isCureOnly && cureText === null) return null
  return (
    <>
      <div className="finding-acts" ref={buttons}>
        {cureText === null ? null : act('cure', cureText, 'act')}
        {isCureOnly ? null : act('silence', 'Silence', 'word', `Silence: ${title}`)}
        {isCureOnly || lineClass === null ? null : act('rule', 'Rule', 'word', `Rule: ${title}`)}
      </div>
      {open === null ? null : (
        <Suspense fallback={null}>
          <FindingPanel
            kind={open}
            finding={finding}
            lineClass={lineClass}
            onShut={() => {
              // Back to the word that it was opened by.
              buttons.current?.querySelector<HTMLElement>(`[data-panel="${open}"]`)?.focus()
              setOpen(null)
            }}
          />
        </Suspense>
      )}
    </>
  )
}
