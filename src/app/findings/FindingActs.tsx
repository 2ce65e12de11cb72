import { Suspense, lazy, useMemo, useRef, useState } from 'react'
import type { ReactNode } from 'react'
import { curesOffered, findingClass } from '../../core/checks/index.ts'
import type { Finding } from '../../core/checks/types.ts'
import type { FindingWords } from '../../words/findingText.ts'
import { usePlan, useStores } from '../context.ts'
import { viewportShow } from '../viewportShow.ts'
import { CauseLink } from './CauseLink.tsx'
import type { FindingPanelKind } from './FindingPanel.tsx'

const FindingPanel = lazy(() => import('./FindingPanel.tsx'))
const SeveralCures = lazy(() => import('./SeveralCures.tsx'))

/** What is open below a finding: one of its cures by its place, or one of the two other ways out. */
type Open = number | Exclude<FindingPanelKind, 'cure'>

/**
 * What can be done about a finding: cure it, live with it here, or have its rule told otherwise; where nothing cures it, what a hand would do.
 * The card beside its place has room for the first two, the chart for its cures.
 */
export function FindingActs({
  finding,
  words,
  on = 'list',
}: {
  readonly finding: Finding
  readonly words: FindingWords
  readonly on?: 'list' | 'card' | 'chart'
}): ReactNode {
  const stores = useStores()
  const lineClass = usePlan((state) => findingClass(state.plan, finding))
  const [open, setOpen] = useState<Open | null>(null)
  const buttons = useRef<HTMLDivElement>(null)
  const { waitsFor } = finding
  const plan = usePlan((state) => state.plan)
  const cures = useMemo(() => curesOffered(finding, plan), [finding, plan])
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
  const cureAct = (at: number): ReactNode => act(at, words.cures[at] ?? '', 'act')
  const plain = words.cures.map((_, at) => cureAct(at))
  const leave = on === 'card' ? 'Leave this one be' : 'Leave this one be, with a reason'
  const change = lineClass === null ? null : `Set how it is told on all of ${lineClass.name}`
  if (on === 'chart' && words.cures.length === 0 && waitsFor === undefined) return null
  return (
    <>
      {words.byHand === null || on !== 'list' ? null : <p className="by-hand small">{words.byHand}</p>}
      <div className="finding-acts" ref={buttons}>
        {cures.length < 2 ? (
          plain
        ) : (
          <Suspense fallback={plain}>
            <SeveralCures finding={finding} cures={cures} act={cureAct} />
          </Suspense>
        )}
        {waitsFor === undefined ? null : <CauseLink id={waitsFor.id} />}
        {on === 'chart' || waitsFor !== undefined ? null : act('silence', leave, 'word', `${leave}: ${words.title}`)}
        {on !== 'list' || waitsFor !== undefined || change === null ? null : act('rule', change, 'word', `${change}: ${words.title}`)}
      </div>
      {open === null ? null : (
        <Suspense fallback={null}>
          <FindingPanel
            key={open}
            kind={typeof open === 'number' ? 'cure' : open}
            cure={typeof open === 'number' ? (cures[open] ?? null) : null}
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

const panelName = (open: Open): string => (typeof open === 'string' ? open : open === 0 ? 'cure' : `cure-${open}`)
