import type { ReactNode } from 'react'
import type { Finding } from '../../core/checks/types.ts'
import type { LineClass, RuleLevel as Level } from '../../core/plan/types.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { Act } from '../particulars/acts.tsx'
import { planEdit } from '../planEdit.ts'
import { classLimitOf } from './classLimit.ts'
import { useInSight } from './useInSight.ts'

const choices: readonly { readonly value: Level | 'usual'; readonly text: string }[] = [
  { value: 'usual', text: 'as usual' },
  { value: 'error', text: 'as an error' },
  { value: 'warning', text: 'as a warning' },
  { value: 'off', text: 'not at all' },
]

/** How the rule of a finding is told on all tracks of its class, and the limit of the class that it breaks. */
export function RuleLevel({ finding, lineClass }: { readonly finding: Finding; readonly lineClass: LineClass }): ReactNode {
  const stores = useStores()
  const acts = useInSight()
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const limit = classLimitOf(finding, plan, prefs)
  const { [finding.rule]: level = 'usual', ...others } = lineClass.rules
  return (
    <div className="finding-panel">
      <ChoiceField
        label={`Tell it on all of ${lineClass.name}`}
        value={level}
        choices={choices}
        onChoose={(chosen) =>
          planEdit(stores, {
            kind: 'lineClass.set',
            id: lineClass.id,
            change: { rules: chosen === 'usual' ? others : { ...others, [finding.rule]: chosen } },
          })
        }
      />
      <p className="soft small">
        How loudly it is told on every track of {lineClass.name}; what is asked stays as it is. The limit itself, for all of{' '}
        {lineClass.name}:
      </p>
      <div className="acts" ref={acts}>
        {limit === null ? null : (
          <Act onClick={() => planEdit(stores, { kind: 'lineClass.set', id: limit.lineClass.id, change: limit.change })}>{limit.words}</Act>
        )}
        <Act onClick={() => stores.session.getState().select({ kind: 'record', table: 'lineClasses', id: lineClass.id })}>
          Open the limits of {lineClass.name}
        </Act>
      </div>
    </div>
  )
}
