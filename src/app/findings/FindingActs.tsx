import { Suspense, lazy, useRef, useState } from 'react'
import type { ReactNode } from 'react'
import { findingClass } from '../../core/checks/index.ts'
import type { Cure, Finding } from '../../core/checks/types.ts'
import type { FindingWords } from '../../words/findingText.ts'
import { usePlan, useStores } from '../context.ts'
import { viewportShow } from '../viewportShow.ts'
import type { FindingPanelKind } from './FindingPanel.tsx'

const FindingPanel = lazy(() => import('./FindingPanel.tsx'))

/** What is open below a finding: one of its cures by its place, or one of the two other ways out. */
type Open = number | Exclude<FindingPanelKind, 'cure'>

/** What can be done about a finding: cure it, live with it here, or have its rule told otherwise; where nothing cures it, what a hand would do. */
export function FindingActs({
  finding,
  words,
  isCureOnly = false,
}: {
  readonly finding: Finding
  readonly words: FindingWords
  readonly isCureOnly?: boolean
}): ReactNode {
  const stores = useStores()
  const lineClass = usePlan((state) => findingClass(state.plan, finding))
  const [open, setOpen] = useState<Open | null>(null)
  const buttons = useRef<HTMLDivElement>(null)
  const act = (kind: Open, text: string, look: string, label?: string): ReactNode => (
    <button
      key={kind}
      type="button"
      className={look}
      aria-label={label}
      aria-expanded={open === kind}
      data-panel={panelName(kind)}
      onClick={() => {
        // The place comes into view; what is chosen stays, for the panel that this stands in may be that of what is chosen.
        if (typeof kind === 'number' && open !== kind)
          viewportShow(stores, { minX: finding.x, maxX: finding.x, minY: finding.y, maxY: finding.y })
        setOpen(open === kind ? null : kind)
      }}
    >
      {text}
    </button>
  )
  const leave = 'Leave this one be, with a reason'
  const change = lineClass === null ? null : `Change it for all of ${lineClass.name}`
  if (isCureOnly && words.cures.length === 0) return null
  return (
    <>
      {words.byHand === null || isCureOnly ? null : <p className="by-hand small">{words.byHand}</p>}
      <div className="finding-acts" ref={buttons}>
        {words.cures.map((text, at) => act(at, text, 'act'))}
        {isCureOnly ? null : act('silence', leave, 'word', `${leave}: ${words.title}`)}
        {isCureOnly || change === null ? null : act('rule', change, 'word', `${change}: ${words.title}`)}
      </div>
      {open === null ? null : (
        <Suspense fallback={null}>
          <FindingPanel
            key={open}
            kind={typeof open === 'number' ? 'cure' : open}
            cure={typeof open === 'number' ? cureAt(finding, open) : null}
            finding={finding}
            lineClass={lineClass}
            onShut={() => {
              // Back to the word that it was opened by.
              buttons.current?.querySelector<HTMLElement>(`[data-panel="${panelName(open)}"]`)?.focus()
              setOpen(null)
            }}
          />
        </Suspense>
      )}
    </>
  )
}

const cureAt = ({ cure, others = [] }: Finding, at: number): Cure | null => (at === 0 ? cure : (others[at - 1] ?? null))

const panelName = (open: Open): string => (typeof open === 'string' ? open : open === 0 ? 'cure' : `cure-${open}`)
