import type { ReactNode } from 'react'
import type { Cure, Finding } from '../../core/checks/types.ts'
import { findingText } from '../../words/findingText.ts'
import { usePlan, usePrefs } from '../context.ts'
import { useCuresTried } from './useCuresTried.ts'

/** Several cures: those that bring nothing new first, those that do apart, with what they bring. */
export default function SeveralCures({
  finding,
  cures,
  act,
}: {
  readonly finding: Finding
  readonly cures: readonly Cure[]
  /** The button of a cure by its place. */
  readonly act: (at: number) => ReactNode
}): ReactNode {
  const bring = useCuresTried(finding, cures)
  const all = cures.map((_, at) => ({ at, come: bring?.[at] ?? [] }))
  return (
    <>
      {all.map(({ at, come }) => (come.length === 0 ? act(at) : null))}
      {all.map(({ at, come }) =>
        come.length === 0 ? null : (
          <span key={at} className="finding-brings">
            {act(at)} <Brings come={come} />
          </span>
        ),
      )}
    </>
  )
}

function Brings({ come }: { readonly come: readonly Finding[] }): ReactNode {
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const titles = [...new Set(come.map((finding) => findingText(finding, plan, prefs).title))]
  const count = come.length === 1 ? 'brings a new finding' : `brings ${come.length} new findings`
  return (
    <span className="soft small">
      {count}: {titles.slice(0, 2).join(', ')}
      {titles.length > 2 ? ' and more' : ''}
    </span>
  )
}
