import type { ReactNode } from 'react'
import type { LineClass } from '../../core/plan/types.ts'
import { classRules, toldChoices, type RuleTold } from '../../words/ruleText.ts'
import { ChoiceField } from '../fields/ValueField.tsx'

/** How each rule is told on the tracks of a class. */
export function ClassRules({
  lineClass,
  onRules,
}: {
  readonly lineClass: LineClass
  readonly onRules: (rules: LineClass['rules']) => void
}): ReactNode {
  const { rules } = lineClass
  const changed = Object.keys(rules).length
  const known = new Set<string>(classRules.map(({ rule }) => rule))
  // A rule that a plan names and we do not is shown by its name, so that it can be taken back.
  const rows = [...classRules, ...Object.keys(rules).flatMap((rule) => (known.has(rule) ? [] : [{ rule, text: rule }]))]
  function choose(rule: string, told: RuleTold): void {
    const { [rule]: _before, ...rest } = rules
    onRules(told === 'usual' ? rest : { ...rest, [rule]: told })
  }
  return (
    <details className="fields-part">
      <summary>How rules are told{changed === 0 ? '' : `, ${changed} not as usual`}</summary>
      <div className="fields">
        {rows.map(({ rule, text }) => (
          <ChoiceField
            key={rule}
            label={text}
            value={rules[rule] ?? 'usual'}
            choices={toldChoices}
            onChoose={(told) => choose(rule, told)}
          />
        ))}
      </div>
    </details>
  )
}
