import type { Finding } from '../core/checks/types.ts'
import type { Plan } from '../core/plan/types.ts'
import { findingPlace, findingText } from './findingText.ts'
import type { MeasurePrefs } from './measure.ts'

/** What a cure would change among the findings of a plan. */
export interface CureOutcome {
  /** The finding as it then is; null: it is cured. */
  readonly left: Finding | null
  /** Other findings that go with it. */
  readonly gone: readonly Finding[]
  /** Findings that were not there before. */
  readonly come: readonly Finding[]
}

/** The findings before and after a cure, by their ids. */
export function cureOutcome(cured: Finding, before: readonly Finding[], after: readonly Finding[]): CureOutcome {
  const [were, are] = [before, after].map((list) => new Set(list.map(({ id }) => id)))
  return {
    left: after.find(({ id }) => id === cured.id) ?? null,
    gone: before.filter(({ id }) => id !== cured.id && are?.has(id) === false),
    come: after.filter(({ id }) => were?.has(id) === false),
  }
}

/** The outcome of a cure in sentences. plan: as it would be. */
export function cureOutcomeText({ left, gone, come }: CureOutcome, plan: Plan, prefs: MeasurePrefs): readonly string[] {
  const named = (finding: Finding): string => `${findingText(finding, plan, prefs).title} (${findingPlace(finding, plan)})`
  return [
    left === null ? 'It cures this.' : `It does not cure this: ${findingText(left, plan, prefs).body}`,
    ...(gone.length === 0 ? [] : [`It cures ${gone.length === 1 ? 'another finding' : `${gone.length} other findings`} too.`]),
    come.length === 0
      ? 'It brings no new finding.'
      : `It brings ${come.length === 1 ? 'a new finding' : `${come.length} new findings`}: ${come.slice(0, 3).map(named).join('; ')}${come.length > 3 ? '; and more' : ''}.`,
  ]
}
