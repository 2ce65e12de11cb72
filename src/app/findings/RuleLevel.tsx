import type { ReactNode } from 'react'
import type { Finding } from '../../core/checks/types.ts'
import type { LineClass, RuleLevel as Level } from '../../core/plan/types.ts'
import { useStores } from '../context.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { Act } from '../particulars/acts.tsx'
import { planEdit } from '../planEdit.ts'

const choices: readonly { readonly value: Level | 'usual'; readonly text: string }[] = [
  { value: 'usual', text: 'as usual' },
  { value: 'error', text: 'as an error' },
  { value: 'warning', text: 'as a warning' },
  { value: 'off', text: 'not at all' },
]

/** How the rule of a finding is told on all tracks of its class. */
export function RuleLevel({ finding, lineClass }: { readonly finding: Finding; readonly lineClass: LineClass }): ReactNode {
  const stores = useStores()
  const { [finding.rule]: level = 'usual', ...others } = lineClass.rules
  return (
    <div className="finding-panel">
      <ChoiceField
        label={`On ${lineClass.name}, tell it`}
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
        So it is told on every track of {lineClass.name}. What the class asks (radius, easements, frogs, track centres) is changed with its
        limits.
      </p>
      <div className="acts">
        <Act onClick={() => stores.session.getState().select({ kind: 'record', table: 'lineClasses', id: lineClass.id })}>
          Open the limits of {lineClass.name}
        </Act>
      </div>
    </div>
  )
}
